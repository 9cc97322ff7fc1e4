/** Where the words of a title stand in a deliverable, in pixels of its picture. */
import { halfFrameS, sharedS } from '../../calc/rate.ts';
import { lineWidthPx } from '../../calc/reading.ts';
import { safeMargins } from '../../calc/safe-area.ts';
import type { Rectangle } from '../../calc/plane.ts';
import type { Deliverable, Film, Piece, Shot, Title } from '../film.ts';
import type { Ends, Raster, Seconds, Share } from '../units.ts';
import { deliverablesOf, shownStretch } from './edit.ts';

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

/** Round the words their panel reaches so many capitals farther (common practice, no source). */
export const panelRoom = 0.7;

/** What they hide: their lines, and the panel round them. */
export function titleArea(title: Title, deliverable: Deliverable, raster: Raster): Rectangle {
  const { leftPx, topPx, widthPx, heightPx } = titlePlace(title, deliverable, raster);
  const room = title.panel ? panelRoom * capitalPx(title, raster) : 0;
  return {
    from: { x: leftPx - room, y: topPx - room },
    to: { x: leftPx + widthPx + room, y: topPx + heightPx + room },
  };
}

/** A stretch of a piece over which a title stands in a deliverable. */
export interface Under {
  readonly piece: Piece;
  readonly shot: Shot;
  readonly deliverable: Deliverable;
  /** In the film. */
  readonly span: Ends<Seconds>;
}

/** Shorter than this a title stands over another picture before anybody reads on. */
const leastS: Seconds = 0.5;

/** The pieces that a title stands over for long, in each deliverable that shows it there. */
export function underTitle(title: Title, film: Film): Under[] {
  const { atS, holdS } = title;
  if (atS === undefined || holdS === undefined) return [];
  const all = deliverablesOf(title, film).map((deliverable) => ({
    deliverable,
    shown: shownStretch(deliverable, film),
  }));
  return film.cut.flatMap((piece) => {
    const { startS, endS, shot } = piece;
    if (!shot || startS === undefined || endS === undefined) return [];
    return all.flatMap(({ deliverable, shown = { from: 0, to: Infinity } }) => {
      const span = { from: Math.max(startS, atS, shown.from), to: Math.min(endS, atS + holdS, shown.to) };
      return span.to - span.from < Math.min(leastS, holdS) - 1e-6 ? [] : [{ piece, shot, deliverable, span }];
    });
  });
}

/** A moment of the film as one of the piece: 0 is its start. */
export function momentOf({ startS, endS }: Piece, filmS: Seconds): number {
  return (filmS - startS!) / (endS! - startS!);
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
