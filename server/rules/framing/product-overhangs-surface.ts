import { outlineWidthMm } from '../../calc/box.ts';
import { roundFrom } from '../../core/derived/outline.ts';
import { surfaceOutline } from '../../core/derived/surface-outline.ts';
import { turningRpm } from '../../core/derived/time.ts';
import type { Film, Shot } from '../../core/film.ts';
import { defineRule } from '../../core/rule.ts';
import { lengthText } from '../../core/say.ts';
import type { Mm } from '../../core/units.ts';

export default defineRule({
  id: 'product-overhangs-surface',
  family: 'framing',
  summary: 'The surface is smaller than the product that stands on it.',
  severity: 'warning',
  sources: ['geometry', 'common practice, no source (more than half of it over the support)'],
  messages: {
    over: '{shot}: the product, {product}, reaches {over} past the {edges} of the surface, {surface}. Is that the size of what it stands on? If so, mind that it can tip.',
  },
  shot(shot, { film, report }) {
    const size = shot.surface?.size;
    const product = film.product.size;
    const foot = footprint(shot, film);
    // As it turns, it is the plate that must be large enough; what hangs stands on nothing.
    if (film.product.hangs || !size || !product || !foot || (shot.turn?.table && turningRpm(shot) !== 0)) return;
    const across = (foot.widthMm - size.value.widthMm) / 2;
    const { frontMm, backMm } = surfaceOutline(shot)!;
    const along = foot.depthMm / 2 - Math.min(-frontMm, backMm);
    const overMm = Math.max(across, along);
    if (overMm <= leastMm) return;
    const whole = across > along ? foot.widthMm : foot.depthMm;
    const ends = frontMm + backMm === 0 ? 'front and back' : -frontMm < backMm ? 'front' : 'back';
    const edges = across > leastMm && along > leastMm ? 'edges' : across > along ? 'sides' : ends;
    report({
      message: 'over',
      data: { shot: shot.name, product: product.text, surface: size.text, over: lengthText(overMm), edges },
      at: size,
      ...(overMm < whole / 4 - 1e-6 && { severity: 'sheet' as const }),
    });
  },
});

/** What nobody sees, and nobody measures better. */
const leastMm: Mm = 2;

/** How wide and how deep the product stands, seen from above; undefined without its size or its depth. */
function footprint({ turn }: Shot, { product }: Film): { widthMm: Mm; depthMm: Mm } | undefined {
  const box = product.size?.value;
  if (box?.depthMm === undefined) return undefined;
  const mm = { widthMm: box.widthMm, depthMm: box.depthMm, heightMm: box.heightMm };
  if ((product.symmetry?.value ?? 1) >= roundFrom) return mm;
  const starts = turn?.starts?.value ?? 0;
  return { widthMm: outlineWidthMm(mm, starts), depthMm: outlineWidthMm(mm, starts + 90) };
}
