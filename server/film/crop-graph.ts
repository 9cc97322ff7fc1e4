/**
 * The filters that turn, straighten, zoom and shift. Where nothing moves the picture is cropped and scaled. Where it does it
 * is scaled first, and then each frame is taken from it at fractions of pixels, so that slow moves do not step.
 */
import { uprightCrop } from '../calc/framing.ts';
import type { Ends } from '../core/units.ts';
import type { Framing, Output } from './assembly.ts';
import { moves, type Point, sourcePoint, turn } from './framing.ts';
import { num } from './graph-number.ts';

export interface CropGraph {
  /** Until all is there that is seen. */
  readonly before: readonly string[];
  /** What must be done in the order of the film: a reversed picture is turned round before it. */
  readonly after: readonly string[];
}

interface Around {
  readonly output: Output;
  readonly frames: number;
  /** What stands behind the size where the picture is scaled. */
  readonly scaled: string;
  readonly pixelAspect: number;
  /** More than 8 bits, or not known: `crop` cuts such chroma in the middle of a sample where it begins at an odd column. */
  readonly isDeep: boolean;
}

interface Size {
  readonly width: number;
  readonly height: number;
}

/** A whole area of the upright picture, in pixels. */
interface Area extends Size {
  readonly x: number;
  readonly y: number;
}

const good = 'flags=bicubic+accurate_rnd+full_chroma_int';

export function cropGraph(framing: Framing, around: Around): CropGraph {
  const { output, scaled, pixelAspect, isDeep } = around;
  const columns = isDeep ? 2 : 1;
  const { width, height } = output.raster;
  const flags = output.isDraft ? 'flags=bilinear' : good;
  const upright = [...turned(framing), ...squared(framing, pixelAspect)];
  const crop = ({ x, y, width, height }: Area) => `crop=${width}:${height}:${x}:${y}:exact=1`;
  const toSize = (size: Size) => `scale=${size.width}:${size.height}:${flags}${scaled}`;
  const seen = areaSeen(framing, width / height);
  if (!moves(framing) && framing.straightenDeg === 0)
    return {
      before: [...upright, crop(rounded(seen, framing, { room: 0, columns })), toSize(output.raster)],
      after: [],
    };
  const area = rounded(seen, framing, { room: 2, columns });
  const size = workSize(framing, area, output);
  const last = size.width === width ? [] : [`scale=${width}:${height}:${flags}`];
  // That which is quick knows 8 bits only.
  const warp = output.bits === 8 ? perspective(framing, area, size, around) : expressed(framing, area, around);
  return { before: [...upright, crop(area), toSize(size)], after: [warp, ...last] };
}

function turned({ turnDeg, mirror }: Framing): string[] {
  const turn = { 0: [], 90: ['transpose=clock'], 180: ['hflip', 'vflip'], 270: ['transpose=cclock'] }[turnDeg];
  return [...turn, ...(mirror ? ['hflip'] : [])];
}

/** Pixels that are not square are made so before anything is measured in them. */
function squared({ raster }: Framing, pixelAspect: number): string[] {
  if (pixelAspect === 1) return [];
  return [`scale=${Math.round(raster.widthPx)}:${Math.round(raster.heightPx)}:${good}`];
}

/** The smallest upright area that holds all that is seen along the way: edges go evenly or slower and slower, never back. */
function areaSeen(framing: Framing, aspect: number): Area {
  const { zoom, shift } = framing;
  const looks = [
    { zoom: zoom.from, shift: shift.from },
    { zoom: zoom.to, shift: shift.to },
  ];
  const points = looks.flatMap((look) => corners.map((place) => sourcePoint(framing, look, aspect, place)));
  const [left, top] = [Math.min(...points.map(({ x }) => x)), Math.min(...points.map(({ y }) => y))];
  const [right, bottom] = [Math.max(...points.map(({ x }) => x)), Math.max(...points.map(({ y }) => y))];
  return { x: left, y: top, width: right - left, height: bottom - top };
}

const corners: readonly Point[] = [
  { x: -0.5, y: -0.5 },
  { x: 0.5, y: -0.5 },
  { x: -0.5, y: 0.5 },
  { x: 0.5, y: 0.5 },
];

/** In whole pixels within the picture, from a multiple of so many columns on; with room around it no edge is missed. */
function rounded(
  { x, y, width, height }: Area,
  { raster }: Framing,
  { room, columns }: { readonly room: number; readonly columns: number },
): Area {
  const [wide, high] = [Math.round(raster.widthPx), Math.round(raster.heightPx)];
  const span = (from: number, to: number, most: number, step: number) => {
    const nearest = room > 0 ? Math.floor(from / step) * step - room : Math.round(from / step) * step;
    const first = Math.max(0, nearest);
    const length = room > 0 ? Math.ceil(to) + room - first : Math.round(to) - Math.round(from);
    return [first, Math.min(most - first, length)] as const;
  };
  const [left, spanX] = span(x, x + width, wide, columns);
  const [top, spanY] = span(y, y + height, high, 1);
  return { x: left, y: top, width: Math.max(1, spanX), height: Math.max(1, spanY) };
}

/** As large as the film, and larger where the tightest of it would lose pixels that were recorded. */
function workSize({ raster, zoom }: Framing, area: Area, { raster: film, isDraft }: Output): Size {
  const aspect = film.width / film.height;
  const tightest = Math.min(raster.widthPx, raster.heightPx * aspect) / Math.max(zoom.from, zoom.to);
  const times = isDraft ? 1 : Math.max(1, (area.width * Math.min(1, film.width / tightest)) / film.width);
  if (times < 1.02) return film;
  return { width: 2 * Math.round((film.width * times) / 2), height: 2 * Math.round((film.height * times) / 2) };
}

// -- fractions of pixels ---------------------------------------------------------------------------------------------

/** Counts its own frames from 1, and takes the place of a pixel's corner for that of its middle. */
function perspective(framing: Framing, area: Area, size: Size, { output, frames }: Around): string {
  const ends = corners.flatMap((corner, index) => {
    const place = { x: num(corner.x + 0.5 / size.width), y: num(corner.y + 0.5 / size.height) };
    const { x, y } = wayOf(framing, output, place, '(on-1)', frames);
    const inArea = (way: string, from: number, whole: number, px: number) =>
      `((${way})-${num(from)})*${num(px / whole)}-0.5`;
    return [
      `x${index}='${inArea(x, area.x, area.width, size.width)}'`,
      `y${index}='${inArea(y, area.y, area.height, size.height)}'`,
    ];
  });
  const how = `interpolation=${output.isDraft ? 'linear' : 'cubic'}:eval=${moves(framing) ? 'frame' : 'init'}`;
  return `perspective=${ends.join(':')}:${how}`;
}

/** Slower, and keeps all bits. */
function expressed(framing: Framing, area: Area, { output, frames }: Around): string {
  const place = { x: '((X+0.5)/W-0.5)', y: '((Y+0.5)/H-0.5)' };
  const { x, y } = wayOf(framing, output, place, 'N', frames);
  const inPlane = (way: string, from: number, whole: number, side: 'W' | 'H') =>
    `((${way})-${num(from)})*${side}/${num(whole)}-0.5`;
  const value = `p(${inPlane(x, area.x, area.width, 'W')},${inPlane(y, area.y, area.height, 'H')})`;
  return `geq=lum='${value}':cb='${value}':cr='${value}'`;
}

/** `sourcePoint` as expressions of the frame, for a place that is a number or an expression itself. */
function wayOf(
  { raster, straightenDeg, zoom, shift }: Framing,
  { raster: film }: Output,
  place: { readonly x: string; readonly y: string },
  frame: string,
  frames: number,
): { readonly x: string; readonly y: string } {
  const crop = uprightCrop(raster, film.width / film.height);
  const { cos, sin } = turn(straightenDeg);
  const along = ({ from, to }: Ends) => `(${num(from)}+${num((to - from) / Math.max(1, frames - 1))}*${frame})`;
  const across = `(${place.x}-${along(shift)})*${num(crop.widthPx)}`;
  const down = `(${place.y})*${num(crop.heightPx)}`;
  const zoomed = along(zoom);
  return {
    x: `${num(raster.widthPx / 2)}+(${across}*${num(cos)}+${down}*${num(sin)})/${zoomed}`,
    y: `${num(raster.heightPx / 2)}+(${down}*${num(cos)}-${across}*${num(sin)})/${zoomed}`,
  };
}
