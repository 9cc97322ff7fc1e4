/** A side to look at the set from, and how millimetres lie on the page from there. */
import type { Vec3 } from '../../calc/geometry.ts';
import type { Mm } from '../../core/units.ts';
import { type Page, pageFor, usualRoom } from '../page.ts';
import type { Frame } from '../shapes.ts';
import type { Point } from '../svg.ts';

/** How a point in space lies on the page, right and up plus, in millimetres. */
export interface Side {
  readonly view: string;
  readonly words: string;
  readonly from: 'above' | 'side';
  flat(point: Vec3): { readonly right: number; readonly up: number };
}

/** Millimetres to the page. */
export interface Scale {
  readonly pxPerMm: number;
  readonly bottom: number;
  /** Where drawing is allowed. */
  readonly area: Frame;
  place(point: Vec3): Point;
  /** The floor on the page, seen from the side; `isBroken` where it is farther down than it is drawn. */
  readonly floor?: { readonly y: number; readonly isBroken: boolean };
}

/** Room for words round what is drawn. */
function wordsRoom({ width }: Page): { x: number; y: number } {
  return { x: Math.min(140, Math.max(34, width * 0.15)), y: 34 };
}

/** How high the set may be drawn: as the room allows, else in proportion to its width. */
function tallestIn(page: Page, top: number, below: number): number {
  const usual = Math.max(230, Math.min(500, page.width * 0.72));
  return page.height === undefined ? usual : Math.max(150, page.height - top - below - 2 * wordsRoom(page).y);
}

/** A floor that is farther down than this part of all the rest is drawn nearer, with a break. */
const deepest = 0.35;

/** Fits points into the page below `top`, one scale for both directions. */
export function scaleFor(
  points: readonly Vec3[],
  side: Side,
  { page = pageFor(usualRoom), top = 66, below = 0, floorMm }: ScaleRoom = {},
): Scale {
  const flat = points.map((point) => side.flat(point));
  const [rights, ups] = [flat.map((one) => one.right), flat.map((one) => one.up)];
  const [left, right, lowest, high] = [
    least(rights),
    -least(rights.map((x) => -x)),
    least(ups),
    -least(ups.map((y) => -y)),
  ];
  const hasFloor = side.from === 'side' && floorMm !== undefined;
  const isBroken = hasFloor && lowest - floorMm > deepest * (high - lowest);
  const low = hasFloor && !isBroken ? Math.min(lowest, floorMm) : lowest;
  const space = wordsRoom(page);
  const cut = isBroken ? 46 : 0;
  const width = page.inner - 2 * space.x;
  const tallest = tallestIn(page, top, below) - cut;
  const pxPerMm = Math.min(width / Math.max(right - left, 1), tallest / Math.max(high - low, 1));
  const middle = (left + right) / 2;
  const place = (point: Vec3) => {
    const { right: x, up } = side.flat(point);
    return { x: page.width / 2 + (x - middle) * pxPerMm, y: top + space.y + (high - up) * pxPerMm };
  };
  const end = top + space.y + (high - low) * pxPerMm + cut;
  const bottom = end + (hasFloor ? 8 : space.y);
  return {
    pxPerMm,
    place,
    bottom,
    area: { x: page.left, y: top, width: page.inner, height: (isBroken ? end : bottom) - top },
    ...(hasFloor && { floor: { y: end, isBroken } }),
  };
}

export interface ScaleRoom {
  readonly page?: Page;
  /** Where the head ends. */
  readonly top?: number;
  /** What stands below the drawing. */
  readonly below?: number;
  readonly floorMm?: Mm | undefined;
}

function least(all: readonly number[]): number {
  return all.reduce((a, b) => Math.min(a, b), Infinity);
}
