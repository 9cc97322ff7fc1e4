/** Where the words of a title stand in a deliverable, in pixels of its picture. */
import { halfFrameS, sharedS } from '../../calc/rate.ts';
import { lineWidthPx } from '../../calc/reading.ts';
import { safeMargins } from '../../calc/safe-area.ts';
import type { Deliverable, Film, Piece, Shot, Title } from '../film.ts';
import type { Raster, Share } from '../units.ts';

export interface TitleBox {
  readonly capitalPx: number;
  readonly lines: readonly string[];
  /** Of its longest line, with letters of average width. */
  readonly widthPx: number;
  readonly heightPx: number;
}

/** A line and the gap below it, against its capitals (common practice, no source). */
export const linePitch = 1.7;

/** Height of the capitals: a share of the picture's shorter side. */
export function capitalPx(title: Title, raster: Raster, letters = title.letters): number {
  return letters * Math.min(raster.width, raster.height);
}

export function titleBox(title: Title, raster: Raster, letters = title.letters): TitleBox {
  const capital = capitalPx(title, raster, letters);
  const lines = (title.text?.value ?? '').trim().split(/\n+/);
  return {
    capitalPx: capital,
    lines,
    widthPx: Math.max(...lines.map((line) => lineWidthPx(line, capital))),
    heightPx: capital * (1 + (lines.length - 1) * linePitch),
  };
}

export interface Room {
  readonly widthPx: number;
  readonly heightPx: number;
}

/** Where a room is, from the picture's top left corner. */
export interface PlacedRoom extends Room {
  readonly leftPx: number;
  readonly topPx: number;
}

/** What is left of the picture outside what the player covers; with `safe`, inside the title-safe area too. */
export function titleRoom({ keepClear }: Deliverable, raster: Raster, safe: boolean): PlacedRoom {
  const { sidePx, linePx } = safe
    ? safeMargins({ widthPx: raster.width, heightPx: raster.height }, 'title')
    : { sidePx: 0, linePx: 0 };
  const left = Math.max(sidePx, keepClear.left * raster.width);
  const right = Math.max(sidePx, keepClear.right * raster.width);
  const top = Math.max(linePx, keepClear.top * raster.height);
  const bottom = Math.max(linePx, keepClear.bottom * raster.height);
  return {
    leftPx: left,
    topPx: top,
    widthPx: raster.width - left - right,
    heightPx: raster.height - top - bottom,
  };
}

/** Where a title stands in its room: 0 is at the left or the top, 1 at the right or the bottom. */
export function anchorOf({ place }: Title): { across: Share; down: Share } {
  return {
    across: place.endsWith('left') ? 0 : place.endsWith('right') ? 1 : 0.5,
    down: place.startsWith('top') ? 0 : place.startsWith('bottom') ? 1 : 0.5,
  };
}

/** Where its words stand in a deliverable, with letters of average width. */
export function titlePlace(title: Title, deliverable: Deliverable, raster: Raster): PlacedRoom {
  const room = titleRoom(deliverable, raster, true);
  const { widthPx, heightPx } = titleBox(title, raster);
  const { across, down } = anchorOf(title);
  const leftPx = room.leftPx + (room.widthPx - widthPx) * across;
  return { leftPx, topPx: room.topPx + (room.heightPx - heightPx) * down, widthPx, heightPx };
}

/** Does a title stand over the shot at any time? */
export function hasTitle(shot: Shot, film: Film): boolean {
  return shot.pieces.some((piece) => film.titles.some((title) => standsOver(title, piece, film)));
}

/** Does a title stand over a piece for a frame or more? Of one that says not how long, its first frame counts. */
export function standsOver({ atS, holdS }: Title, { startS, endS }: Piece, { timeline }: Film): boolean {
  if (atS === undefined || startS === undefined || endS === undefined) return false;
  const rate = timeline.rate?.value;
  return sharedS({ from: atS, to: atS + (holdS ?? 2 * halfFrameS(rate)) }, { from: startS, to: endS }, rate) > 0;
}
