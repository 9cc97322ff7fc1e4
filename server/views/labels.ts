/** Puts words beside the things that they name, without covering each other. */
import { textWidth } from './measure.ts';
import { markPitch, marksRow, type Noted } from './picture.ts';
import { type Frame, overlap } from './shapes.ts';
import { type El, from, ink, line, type Point, text } from './svg.ts';
import type { Range } from '../core/document/node.ts';

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
  /** Findings about it, marked behind the first line. */
  readonly noted?: readonly Noted[];
}

export interface Placed extends Frame {
  readonly label: Label;
  readonly drawn: El;
}

/** What words should not cover; a weight under 1 for what they may, if need be. */
export interface Cover extends Frame {
  readonly weight?: number;
}

const pitch = 1.28;

/** Chooses a place for each label in turn: off what must stay clear, inside the page, near its thing and its side. */
export function placeLabels(labels: readonly Label[], clear: readonly Cover[], page: Frame): Placed[] {
  const taken: Cover[] = [...clear];
  return labels.map((label) => {
    const size = label.size ?? 12;
    const width = Math.max(...label.lines.map((_, index) => lineWidth(label, index, size)));
    const height = label.lines.length * size * pitch;
    const best = candidates(label, width, height)
      .map((frame) => ({ frame, cost: cost(frame, label, taken, page) }))
      .reduce((one, other) => (other.cost < one.cost ? other : one)).frame;
    taken.push(grown(best, 3));
    return { ...best, label, drawn: draw(label, best, size) };
  });
}

/** The first line has the marks behind it. */
function lineWidth({ lines, noted = [] }: Label, index: number, size: number): number {
  const { words, bold } = lines[index]!;
  return textWidth(words, size, bold) + (index === 0 && noted.length > 0 ? 8 + noted.length * markPitch : 0);
}

function candidates({ at, clear }: Label, width: number, height: number): Frame[] {
  const frames: Frame[] = [];
  for (const distance of [clear, clear + 14, clear + 34, clear + 64]) {
    for (let step = 0; step < 16; step++) {
      const [dx, dy] = [Math.cos((step * Math.PI) / 8), Math.sin((step * Math.PI) / 8)];
      // The frame's nearest point lies `distance` away: its middle is moved by its own half size too.
      const x = at.x + dx * (distance + width / 2) - width / 2;
      frames.push({ x, y: at.y + dy * (distance + height / 2) - height / 2, width, height });
    }
  }
  return frames;
}

function cost(frame: Frame, { at, toward }: Label, taken: readonly Cover[], page: Frame): number {
  const covered = taken.reduce((sum, other) => sum + overlap(frame, other) * (other.weight ?? 1), 0);
  const inside = overlap(frame, page);
  const outside = frame.width * frame.height - inside;
  const middle = { x: frame.x + frame.width / 2, y: frame.y + frame.height / 2 };
  const [dx, dy] = [middle.x - at.x, middle.y - at.y];
  const away = Math.hypot(dx, dy);
  const off = toward && away > 0 ? 1 - (dx * toward.x + dy * toward.y) / away : 0;
  return covered * 4 + outside * 40 + gap(frame, at) * 1.5 + off * 30;
}

/** From a point to the nearest edge of a frame. */
function gap({ x, y, width, height }: Frame, at: Point): number {
  const dx = Math.max(x - at.x, 0, at.x - x - width);
  const dy = Math.max(y - at.y, 0, at.y - y - height);
  return Math.hypot(dx, dy);
}

function draw(label: Label, frame: Frame, size: number): El {
  const { at, lines, clear } = label;
  const middle = frame.x + frame.width / 2;
  const anchor = middle < at.x - frame.width / 3 ? 'end' : middle > at.x + frame.width / 3 ? 'start' : 'middle';
  const x = anchor === 'end' ? frame.x + frame.width : anchor === 'start' ? frame.x : middle;
  const words = lines.flatMap((one, index) => {
    const width = lineWidth(label, index, size);
    const left = anchor === 'end' ? x - width : anchor === 'start' ? x : x - width / 2;
    const y = frame.y + size * (0.95 + index * pitch);
    const noted = index === 0 ? (label.noted ?? []) : [];
    const style = { size, bold: one.bold, halo: true };
    // Letters are narrower than they are reckoned, so a line keeps to the side of its thing.
    if (noted.length === 0) return [from(one.range, [text({ x, y }, one.words, { ...style, anchor })])];
    const drawn = from(one.range, [text({ x: left, y }, one.words, style)]);
    return [drawn, ...marksRow({ x: left + textWidth(one.words, size, one.bold) + 16, y: y - 4 }, noted)];
  });
  if (gap(frame, at) <= clear + 10) return from(undefined, words);
  const end = {
    x: Math.min(frame.x + frame.width, Math.max(frame.x, at.x)),
    y: Math.min(frame.y + frame.height, Math.max(frame.y, at.y)),
  };
  return from(undefined, [line(at, end, { stroke: ink.line, 'stroke-width': 0.8 }), ...words]);
}

function grown({ x, y, width, height }: Frame, by: number): Frame {
  return { x: x - by, y: y - by, width: width + 2 * by, height: height + 2 * by };
}
