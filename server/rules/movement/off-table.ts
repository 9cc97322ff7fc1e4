/** Where a support and the table are in each other's way: one on the table has none under it, one on the floor has it in its way. */
import { poseInSet } from '../../core/derived/optics.ts';
import { addScaled } from '../../calc/geometry.ts';
import { pastSurface, surfaceOutline } from '../../core/derived/surface-outline.ts';
import type { Film, Shot, Surface, Val } from '../../core/film.ts';
import type { Box, Mm } from '../../core/units.ts';

export interface OffTable {
  readonly table: Surface;
  readonly way: 'before' | 'behind' | 'beside';
  /** From the middle of the product to the lens, level. */
  readonly awayMm: Mm;
  /** How much of that is past the table. */
  readonly overMm: Mm;
}

/** What nobody measures better. */
const leastMm: Mm = 10;

/** The farthest that the lens of a shot is off; the support is never nearer than that, but for its reach. */
export function offTable(shot: Shot, film: Film): OffTable | undefined {
  const { support } = shot.camera;
  const table = tableOf(shot);
  if (!table || support?.standsOn !== 'table') return undefined;
  const reach = support.reach?.value ?? 0;
  const off = [0, 1].flatMap((moment) => {
    const at = poseInSet(shot, moment)?.at;
    if (!at) return [];
    const room = roomOn(shot, film);
    const level = at.z > 0 ? ('behind' as const) : ('before' as const);
    return [
      { table, way: level, awayMm: Math.abs(at.z), overMm: Math.abs(at.z) - reach - room[level] },
      { table, way: 'beside' as const, awayMm: Math.abs(at.x), overMm: Math.abs(at.x) - reach - room.beside },
    ];
  });
  const [worst] = off.sort((a, b) => b.overMm - a.overMm);
  return worst && worst.overMm > leastMm ? worst : undefined;
}

/** Smaller than this a surface is a board that lies on the table, and so is what is soft: common practice, no source. */
const leastTable = { widthMm: 800, depthMm: 500 };
const soft = /cloth|felt|linen|cotton|canvas|velvet|wool|silk|leather|paper|card|mat\b|rug|carpet|blanket|sheet|quilt/i;

function tableOf({ surface }: Shot): Surface | undefined {
  const size = surface?.size?.value;
  if (!size || surface.fields.said('above-table') || soft.test(surface.material?.value ?? '')) return undefined;
  const isTable = size.widthMm >= leastTable.widthMm && (size.depthMm ?? size.heightMm) >= leastTable.depthMm;
  return isTable ? surface : undefined;
}

/** The most table that there may be on each side of the product's middle: where nobody said where it stands, it is at the far edge. */
function roomOn(shot: Shot, { product }: Film): Record<OffTable['way'], Mm> {
  const { halfWidthMm, frontMm, backMm } = surfaceOutline(shot)!;
  const box = product.size?.value;
  const most = backMm - frontMm - (box?.depthMm ?? 0) / 2;
  const isSaid = shot.surface!.front !== undefined;
  return {
    before: isSaid ? -frontMm : most,
    behind: isSaid ? backMm : most,
    beside: 2 * halfWidthMm - (box?.widthMm ?? 0) / 2,
  };
}

export interface InTable {
  /** How much table is said to lie before the product; where nobody says, it stands in the middle. */
  readonly front?: Val<Mm>;
  readonly size: Val<Box>;
  readonly byMm: Mm;
  /** How much table may lie before the product. */
  readonly mostMm: Mm;
}

/** From the front of a lens to the middle of its camera, where the kit does not say: common practice, no source. */
const usualLensMm: Mm = 100;
/** A head leans so far over a table's edge: common practice, no source. */
const overEdgeMm: Mm = 80;
/** And so far it counts where nobody said that the product stands in the middle. */
const overMiddleMm: Mm = 120;
/** What is lower has legs beside it: a step, a plinth. */
const leastHighMm: Mm = 400;

/**
 * How far the camera of a support on the floor is over the table before the product, as `front` says, else with the product in
 * its middle: nothing but an arm holds it there.
 */
export function inTable(shot: Shot, film: Film): InTable | undefined {
  const { surface, camera } = shot;
  if (!surface?.size || (surface.height?.value ?? 0) < leastHighMm || camera.support?.reach) return undefined;
  const { front, size } = surface;
  const over = front || tableOf(shot) ? bodyOver(shot, film) : undefined;
  if (!over || over.byMm <= (front ? overEdgeMm : overMiddleMm)) return undefined;
  return over.mostMm < (film.product.size?.value.depthMm ?? 0) / 2 ? undefined : { front, size, ...over };
}

/** How far the camera is over the surface, of whose edges the front one is nearest, and how much may lie before the product. */
function bodyOver(shot: Shot, film: Film): { byMm: Mm; mostMm: Mm } | undefined {
  const outline = surfaceOutline(shot);
  const pose = poseInSet(shot, 0);
  if (!pose || !outline) return undefined;
  const back = (shot.camera.lens?.frontToSensorMm || usualLensMm) + beforeMiddleMm(shot, film);
  const body = addScaled(pose.at, pose.forward, -back);
  const { asideMm, aheadMm } = pastSurface(outline, body);
  const isBefore = outline.frontMm - body.z >= Math.max(asideMm, body.z - outline.backMm);
  const mostMm = Math.floor(-body.z / 10) * 10;
  return isBefore ? { byMm: -Math.max(asideMm, aheadMm), mostMm } : undefined;
}

/** What is on a side of the product is so much nearer to the camera that looks at it than the middle is. */
function beforeMiddleMm({ subject: { name, faces } }: Shot, { product }: Film): Mm {
  const { widthMm = 0, depthMm = 0 } = product.size?.value ?? {};
  if (name === 'product' || !faces || faces === 'up') return 0;
  return (faces === 'left' || faces === 'right' ? widthMm : depthMm) / 2;
}
