/** A stretch of time as a bar in a row, and its words: inside, beside it, or above. */
import type { Seconds } from '../../core/units.ts';
import { fitted, textWidth, wrapped } from '../measure.ts';
import { letters } from '../page.ts';
import { markPitch, marksRow } from '../marks.ts';
import { type Drawn, type Noted, paragraph, type Place } from '../picture.ts';
import { el, type El, from, ink, polygon, text } from '../svg.ts';
import type { Axis } from './axis.ts';

export interface Bar extends Place {
  readonly fromS: Seconds;
  readonly toS: Seconds;
  readonly words: string;
  /** Drawn inside, over the bar's ground. */
  readonly inside?: (x: number, width: number, y: number) => readonly El[];
  /** What of its ends has no words in it. */
  readonly clear?: { readonly fromS: Seconds; readonly toS: Seconds };
  /** A flag at a moment, with its words. */
  readonly plain?: boolean;
}

export interface Row {
  readonly name: string;
  readonly height: number;
  readonly bars: readonly Bar[];
  /** Words that a bar has no room for are cut, not put beside it. */
  readonly cutsWords?: boolean;
  /** Said below its bars. */
  readonly below?: string;
}

const [laneGap, pad, linePitch] = [3, 5, 16];
/** A row of more bars than this shows the words that fit, so that it stays a row. */
const mostBeside = 24;

export function drawRow(row: Row, axis: Axis, top: number, at: (bar: Bar) => readonly Noted[]): Drawn {
  const { page } = axis;
  const name = text({ x: page.left, y: top + 13 }, row.name, { size: letters.words, bold: true });
  const marks = marksAbove(row, axis, page.narrow ? top + 18 : top - 4, at);
  const bars = drawBars(row, axis, marks.bottom);
  const below = row.below ? onPaper(row.below, axis, bars.bottom + 1) : { body: [], bottom: bars.bottom };
  const bottom = Math.max(below.bottom, top + 18) + 8;
  return { body: [name, ...marks.body, ...bars.body, ...below.body], bottom };
}

/** Words below bars, in front of the cuts that run through all rows. */
function onPaper(words: string, { left, right, page }: Axis, y: number): Drawn {
  const said = paragraph({ x: left, y }, page, words, { size: letters.small });
  const sheet = el('rect', { x: left, y, width: right - left, height: said.bottom - y + 3, fill: ink.paper });
  return { body: [sheet, ...said.body], bottom: said.bottom };
}

/** Marks above their bars, pushed aside where they would touch. */
function marksAbove(row: Row, axis: Axis, top: number, at: (bar: Bar) => readonly Noted[]): Drawn {
  const body: El[] = [];
  let [free, y, isMarked] = [axis.left, top, false];
  for (const bar of row.bars) {
    for (const one of at(bar)) {
      if (free + markPitch > axis.right) [free, y] = [axis.left, y + markPitch];
      const x = Math.max(free, Math.min(axis.x(bar.fromS), axis.right - markPitch));
      body.push(...marksRow({ x: x + markPitch / 2, y: y + markPitch / 2 }, [one]));
      [free, isMarked] = [x + markPitch, true];
    }
  }
  return { body, bottom: isMarked ? y + markPitch + 3 : Math.max(top, axis.page.narrow ? top : top + 4) };
}

function drawBars(row: Row, axis: Axis, top: number): Drawn {
  const isShort = row.cutsWords || row.bars.length > mostBeside;
  const own = isShort ? [] : row.bars.filter((bar) => !hasRoom(bar, axis));
  const shared = row.bars.filter((bar) => !own.includes(bar));
  const lanes = lanesOf(shared);
  const body = shared.flatMap((bar, index) =>
    drawBar(bar, axis, top + lanes[index]! * (row.height + laneGap), row.height),
  );
  let y = top + (lanes.reduce((most, lane) => Math.max(most, lane), -1) + 1) * (row.height + laneGap);
  for (const bar of own) {
    const drawn = drawBeside(bar, axis, y, row.height);
    body.push(...drawn.body);
    y = drawn.bottom + laneGap;
  }
  return { body, bottom: y };
}

function hasRoom(bar: Bar, axis: Axis): boolean {
  return !bar.plain && textWidth(bar.words, letters.words) <= wordsRoom(bar, axis).width;
}

/** Where words may stand in a bar. */
function wordsRoom({ fromS, toS, clear }: Bar, axis: Axis): { x: number; width: number } {
  const [x, end] = [axis.x(fromS + (clear?.fromS ?? 0)) + pad, axis.x(toS - (clear?.toS ?? 0)) - pad];
  return { x, width: end - x };
}

/** Bars that overlap in time go below each other. */
function lanesOf(bars: readonly Bar[]): number[] {
  const ends: number[] = [];
  return bars.map(({ fromS, toS }) => {
    const free = ends.findIndex((end) => end <= fromS + 1e-6);
    const lane = free < 0 ? ends.length : free;
    ends[lane] = Math.max(toS, fromS + 1e-6);
    return lane;
  });
}

function drawBar(bar: Bar, axis: Axis, y: number, height: number): El[] {
  const x = axis.x(bar.fromS);
  const width = Math.max(axis.x(bar.toS) - x, 1);
  const space = wordsRoom(bar, axis);
  const words = fitted(bar.words, letters.words, space.width);
  const drawn = words ? [text({ x: space.x, y: y + Math.min(15, height / 2 + 5) }, words)] : [];
  return [from(rangeOf(bar), [...ground(bar, x, width, y, height), ...drawn, el('title', {}, [bar.words])])];
}

function ground(bar: Bar, x: number, width: number, y: number, height: number): readonly El[] {
  if (bar.plain) return [flag(x, y + (height - 12) / 2)];
  const box = el('rect', { x, y, width, height, fill: ink.shade, stroke: ink.ink, 'stroke-width': 1 });
  return [box, ...(bar.inside?.(x, width, y) ?? [])];
}

const rangeOf = (bar: Bar) => bar.ranges.find((one) => one !== undefined);

/** A bar in a lane of its own, with its words behind it, before it, or in lines above it. */
function drawBeside(bar: Bar, axis: Axis, y: number, height: number): Drawn {
  const x = axis.x(bar.fromS);
  const width = Math.max(axis.x(bar.toS) - x, bar.plain ? 6 : 1);
  const size = letters.words;
  const wide = textWidth(bar.words, size, bar.plain);
  const style = { size, ...(bar.plain && { bold: true, fill: ink.alarm }) };
  const [after, before] = [x + width + 6, x - 6];
  const line = y + height / 2 + 4;
  if (after + wide <= axis.right) return beside(after, line);
  if (before - wide >= axis.left) return beside(before - wide, line);
  const lines = wrapped(bar.words, size, axis.right - axis.left, bar.plain);
  const barY = y + lines.length * linePitch;
  const left = Math.max(axis.left, Math.min(x, axis.right - Math.min(wide, axis.right - axis.left)));
  const words = lines.flatMap((one, index) => [
    paper(left, y + 12 + index * linePitch, textWidth(one, size, bar.plain)),
    text({ x: left, y: y + 12 + index * linePitch }, one, style),
  ]);
  return {
    body: [from(rangeOf(bar), [...ground(bar, x, width, barY, height), ...words])],
    bottom: barY + height,
  };

  function beside(at: number, foot: number): Drawn {
    const said = [paper(at, foot, wide), text({ x: at, y: foot }, bar.words, style)];
    return { body: [from(rangeOf(bar), [...ground(bar, x, width, y, height), ...said])], bottom: y + height };
  }
}

/** Cuts run through all rows; words beside a bar stand on paper. */
function paper(x: number, foot: number, width: number): El {
  return el('rect', { x: x - 2, y: foot - 12, width: width + 4, height: 16, fill: ink.paper });
}

function flag(x: number, y: number): El {
  const points = [
    { x, y },
    { x: x + 6, y: y + 6 },
    { x, y: y + 12 },
  ];
  return polygon(points, { fill: ink.alarm, stroke: ink.alarm });
}
