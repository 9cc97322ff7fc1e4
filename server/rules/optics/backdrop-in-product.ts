import { deepestSeenMm, sweepMm } from '../../calc/box.ts';
import { roundFrom } from '../../core/derived/outline.ts';
import { turnedDeg, turningRpm } from '../../core/derived/time.ts';
import type { Film, Shot } from '../../core/film.ts';
import { isHungOrOpened, productFootMm } from '../../core/product-place.ts';
import { defineRule, set } from '../../core/rule.ts';
import { num } from '../../core/say.ts';
import type { Mm } from '../../core/units.ts';

export default defineRule({
  id: 'backdrop-in-product',
  family: 'optics',
  summary: 'The product reaches farther back than the backdrop hangs, as it stands or as it turns.',
  severity: 'error',
  sources: ['geometry'],
  messages: {
    through:
      '{shot}: the backdrop hangs {behind} behind the middle of the product, which reaches {reach} back{turning}: it would have to go through it. Hang it farther back.',
  },
  shot(shot, { film, report }) {
    const { backdrop } = shot;
    const behindMm = backdrop?.behind?.value;
    const reachMm = reachBackMm(shot, film);
    if (!behindMm || reachMm === undefined || reachMm <= behindMm + touchMm) return;
    if (isClearOf(shot, film) || isHungOrOpened(film.product, shot.subject)) return;
    const behind = `${Math.ceil((reachMm + spareMm) / 10 - 1e-6)} cm`;
    report({
      message: 'through',
      data: {
        shot: shot.name,
        behind: backdrop!.behind!.text,
        reach: `${num(reachMm / 10, 1)} cm`,
        turning: turningRpm(shot) === 0 ? '' : ' as it turns',
      },
      at: backdrop!.behind!,
      fixes: [set(`Hang the backdrop ${behind} behind (clear of the product)`, [backdrop!, 'behind', behind])],
    });
  },
});

/** What touches is no harm: cloth gives, and nobody measures better. */
const touchMm = 1;
/** Room that the fix leaves. */
const spareMm = 10;

/** From the middle of the product to its hindmost point, over all that the take turns it; undefined without its size. */
function reachBackMm(shot: Shot, { product }: Film): Mm | undefined {
  const box = product.size?.value;
  if (!box) return undefined;
  const mm = { widthMm: box.widthMm, depthMm: box.depthMm ?? 0, heightMm: box.heightMm };
  if ((product.symmetry?.value ?? 1) >= roundFrom) return Math.max(mm.widthMm, mm.depthMm) / 2;
  if (shot.turn?.speed?.value && !shot.record) return sweepMm(mm) / 2;
  return deepestSeenMm(mm, 0, turnedDeg(shot, 0), turnedDeg(shot, shot.record?.value ?? 0)) / 2;
}

/** A backdrop that begins above the product. */
function isClearOf({ backdrop }: Shot, { product }: Film): boolean {
  const bottomMm = backdrop?.bottom?.value;
  return bottomMm !== undefined && bottomMm >= productFootMm(product) + (product.size?.value.heightMm ?? 0);
}
