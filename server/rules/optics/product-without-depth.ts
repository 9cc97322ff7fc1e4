import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { num } from '../../core/say.ts';

export default defineRule({
  id: 'product-without-depth',
  family: 'optics',
  summary: 'The product has no depth, so that nothing can be said of how much of it is sharp.',
  severity: 'warning',
  sources: ['geometry'],
  messages: {
    flat: '{size} says how wide and how high the product is, and not how deep: it is taken as flat, so all of it lies in one plane of focus, turns on the spot and clears the backdrop. Write wide x deep x high.',
  },
  film({ product }, { report }) {
    const { size } = product;
    if (!size || size.value.depthMm !== undefined) return;
    const write = (depthMm: number, what: string): FixIdea => {
      const text = withDepth(size.text, depthMm);
      return set(`Write ${text} (${what})`, [product, 'size', text]);
    };
    report({
      message: 'flat',
      data: { size: size.text },
      at: size,
      fixes: [
        write(size.value.widthMm, 'as deep as wide: put in what you measure'),
        write(flatMm, `a flat thing, ${flatMm} mm deep`),
      ],
    });
  },
});

/** A card, a plate, a sheet of glass. */
const flatMm = 2;

const unitsMm: Readonly<Record<string, number>> = { mm: 1, cm: 10, m: 1000, in: 25.4, ft: 304.8 };

/** `18 x 9 cm` with a depth in its own unit between its two numbers. */
function withDepth(text: string, depthMm: number): string {
  const [width = '', heightAndUnit = ''] = text.split(' x ');
  const unit = heightAndUnit.split(' ')[1] ?? '';
  return `${width} x ${num(depthMm / (unitsMm[unit] ?? 1), 4)} x ${heightAndUnit}`;
}
