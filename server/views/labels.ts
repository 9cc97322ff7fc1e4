/** Puts words beside the things that they name: off every line and off each other. */
import type { Range } from '../core/document/node.ts';
import type { Ground } from './ground.ts';
import { textWidth } from './measure.ts';
import { letters } from './page.ts';
import { markPitch, marksRow, type Noted } from './marks.ts';
import type { Frame } from './shapes.ts';
import { el, type El, from, ink, line, type Point, text } from './svg.ts';

export interface LabelLine {
  readonly words: string;
  readonly bold?: boolean;
  /** Where it is written. */
  readonly range?: Range & { readonly file?: string };
}

export interface Label {
  readonly at: Point;
  /** How far from the point the words begin. */
  readonly clear: number;
  readonly lines: readonly LabelLine[];
  /** The way, in page directions, in which it would best stand. */
  readonly toward?: Point;
  readonly size?: number;
  /** Left out where it finds no free place near it: something else says it too. */
  readonly spare?: boolean;
  /** Findings about it, marked behind the first line. */
  readonly noted?: readonly Noted[];
}

export interface Labelled {
  readonly drawn: readonly El[];
  /** No word stands on a line. */
  readonly clean: boolean;
}

const pitch = 1.28;
/** How much higher a line with marks is. */
const marksMore = 14;
/** Free paper round the words. */
const rim = 2;

/**
 * A place for each label in turn. One that finds none gets paper of its own to stand on; `orNone` gives up there.
 */
export function placeLabels(labels: readonly Label[], ground: Ground, orNone = false): Labelled {
  let clean = true;
  // Where a thing is, no other's words shall stand: a line may have to go there.
  for (const { at } of labels) ground.line({ x: at.x - 3, y: at.y - 3 }, { x: at.x + 3, y: at.y + 3 });
  const drawn = labels.flatMap((label) => {
    if (orNone && !clean) return [];
    const place = bestPlace(label, ground);
    if (label.spare && (place.taken > 0 || place.crosses)) return [];
    if (place.taken > 0 || place.crosses) clean = false;
    const leader = place.crosses ? undefined : leaderOf(label, place.frame);
    ground.words(grown(place.frame, rim));
    if (leader) ground.line(...leader);
    return draw(label, place, leader);
  });
  return { drawn, clean };
}

interface Place {
  readonly frame: Frame;
  /** Squares with lines under the words. */
  readonly taken: number;
  /** Its line goes over the words of another. */
  readonly crosses: boolean;
}

/** How far from the thing words are looked for a place: close by in small steps, farther out in larger ones. */
const distances = [0, 8, 16, 24, 32, 40, 52, 64, 80, 96, 116, 136, 160, 190, 220, 260, 300];
const ways = Array.from({ length: 24 }, (_, index) => (index * 2 * Math.PI) / 24).map((angle) => ({
  dx: Math.cos(angle),
  dy: Math.sin(angle),
}));
/** What may be left out is, where it would stand farther away: nobody would know what it names. */
const nearPx = 40;

/** The nearest place on its own side that is free; else the one with the fewest lines. */
function bestPlace(label: Label, ground: Ground): Place {
  const { width, height } = sizeOf(label);
  const { at, clear } = label;
  let best: (Place & { cost: number }) | undefined;
  for (const out of distances) {
    if (label.spare && out > nearPx) break;
    const distance = clear + out;
    // A place further out is dearer by its gap alone.
    if (best && out * gapCost >= best.cost) break;
    for (const { dx, dy } of ways) {
      const x = at.x + dx * (distance + width / 2) - width / 2;
      const frame = { x, y: at.y + dy * (distance + height / 2) - height / 2, width, height };
      const price = costOf(frame, label);
      if (best && price >= best.cost) continue;
      const taken = ground.taken(grown(frame, rim), best ? (best.cost - price) / lineCost : Infinity);
      const leader = taken === Infinity ? undefined : leaderOf(label, frame);
      const crosses = leader !== undefined && !ground.misses(...leader);
      const cost = price + taken * lineCost + (crosses ? leaderCost : 0);
      if (taken < Infinity && (!best || cost < best.cost)) best = { frame, taken, crosses, cost };
    }
  }
  return (
    best ?? { frame: held({ x: at.x + clear, y: at.y - height / 2, width, height }, ground), taken: 1, crosses: false }
  );
}

const [gapCost, sideCost, lineCost, leaderCost] = [1.5, 30, 100, 4000];

function costOf(frame: Frame, { at, toward }: Label): number {
  const dx = frame.x + frame.width / 2 - at.x;
  const dy = frame.y + frame.height / 2 - at.y;
  const away = Math.hypot(dx, dy);
  const off = toward && away > 0 ? 1 - (dx * toward.x + dy * toward.y) / away / Math.hypot(toward.x, toward.y) : 0;
  return gap(frame, at) * gapCost + off * sideCost;
}

/** Where no place is left at all: at least on the page. */
function held(frame: Frame, { frame: { x, y, width, height } }: Ground): Frame {
  return {
    ...frame,
    x: Math.max(x, Math.min(x + width - frame.width, frame.x)),
    y: Math.max(y, Math.min(y + height - frame.height, frame.y)),
  };
}

function sizeOf(label: Label): { width: number; height: number } {
  const size = label.size ?? letters.words;
  const width = Math.max(...label.lines.map((_, index) => lineWidth(label, index, size)));
  return { width, height: label.lines.length * size * pitch + (label.noted?.length ? marksMore : 0) };
}

/** The first line has the marks behind it. */
function lineWidth({ lines, noted = [] }: Label, index: number, size: number): number {
  const { words, bold } = lines[index]!;
  return textWidth(words, size, bold) + (index === 0 && noted.length > 0 ? 4 + noted.length * markPitch : 0);
}

/** From a point to the nearest edge of a frame. */
function gap({ x, y, width, height }: Frame, at: Point): number {
  const dx = Math.max(x - at.x, 0, at.x - x - width);
  const dy = Math.max(y - at.y, 0, at.y - y - height);
  return Math.hypot(dx, dy);
}

/** A line from the thing to words that stand away from it. */
function leaderOf({ at, clear }: Label, frame: Frame): [Point, Point] | undefined {
  if (gap(frame, at) <= clear + 14) return undefined;
  const wide = grown(frame, rim);
  const end = {
    x: Math.min(wide.x + wide.width, Math.max(wide.x, at.x)),
    y: Math.min(wide.y + wide.height, Math.max(wide.y, at.y)),
  };
  return [at, end];
}

function draw(label: Label, { frame, taken }: Place, leader: readonly [Point, Point] | undefined): El {
  const size = label.size ?? letters.words;
  const down = (index: number) => (label.noted?.length ? marksMore * (index === 0 ? 0.4 : 1) : 0);
  const { at, lines } = label;
  const middle = frame.x + frame.width / 2;
  const anchor = middle < at.x - frame.width / 3 ? 'end' : middle > at.x + frame.width / 3 ? 'start' : 'middle';
  const x = anchor === 'end' ? frame.x + frame.width : anchor === 'start' ? frame.x : middle;
  const words = lines.flatMap((one, index) => {
    const y = frame.y + down(index) + size * (0.95 + index * pitch);
    const noted = index === 0 ? (label.noted ?? []) : [];
    if (noted.length === 0) return [from(one.range, [text({ x, y }, one.words, { size, bold: one.bold, anchor })])];
    const left = anchor === 'end' ? x - lineWidth(label, index, size) : anchor === 'start' ? x : frame.x;
    const drawn = from(one.range, [text({ x: left, y }, one.words, { size, bold: one.bold })]);
    return [drawn, ...marksRow({ x: left + textWidth(one.words, size, one.bold) + 17, y: y - 4 }, noted)];
  });
  const leaders = leader ? [line(...leader, { stroke: ink.line, 'stroke-width': 0.8 })] : [];
  const paper = taken > 0 ? [el('rect', { ...grown(frame, rim), fill: ink.paper, stroke: 'none' })] : [];
  return from(undefined, [...leaders, ...paper, ...words]);
}

function grown({ x, y, width, height }: Frame, by: number): Frame {
  return { x: x - by, y: y - by, width: width + 2 * by, height: height + 2 * by };
}
