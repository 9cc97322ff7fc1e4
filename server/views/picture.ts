/** What every view makes: a drawing with its findings numbered, and a caption that says them. */
import type { Block, Named } from '../core/film.ts';
import type { Range } from '../core/document/node.ts';
import type { Finding, Severity } from '../core/finding.ts';
import { fitted, textWidth, wrapped } from './measure.ts';
import { el, type El, from, ink, type Point, polygon, text, toText, type SvgStyle } from './svg.ts';

/** Every drawing is so wide, in the unit of its letters. */
export const pageWidth = 960;
export const margin = 24;

/** The findings to show, in the order of the text: a checked spec is one. */
export interface Source {
  readonly findings: readonly Finding[];
  /** Their numbers, where another list gives them; else they are counted in each drawing. */
  readonly number?: (finding: Finding) => number;
}

/** A finding that is numbered in the drawing. */
export interface Noted {
  readonly number: number;
  readonly finding: Finding;
}

export interface Picture {
  readonly view: string;
  readonly title: string;
  /** What is seen, in a sentence or two, for those who don't see it. */
  readonly description: string;
  readonly width: number;
  readonly height: number;
  readonly body: readonly El[];
  readonly noted: readonly Noted[];
}

/** A place of the drawing and what of the spec is seen there. */
export interface Place {
  readonly ranges: readonly ((Range & { readonly file?: string }) | undefined)[];
}

export interface PictureStyle extends SvgStyle {
  /** The findings in words below the drawing. */
  readonly captions?: boolean;
}

export function pictureText(picture: Picture, style: PictureStyle = {}): string {
  return toText(pictureElement(picture, style), style);
}

/** The whole drawing as one element. */
export function pictureElement(picture: Picture, { captions = true }: PictureStyle = {}): El {
  const { width, height, noted, body } = picture;
  const caption = captions && noted.length > 0 ? captionOf(noted, height + 8) : { body: [], bottom: height };
  const attrs = {
    xmlns: 'http://www.w3.org/2000/svg',
    viewBox: `0 0 ${width} ${Math.ceil(caption.bottom)}`,
    width,
    height: Math.ceil(caption.bottom),
    role: 'img',
    'font-family': 'Helvetica, Arial, Liberation Sans, sans-serif',
    'data-view': picture.view,
  };
  return el('svg', attrs, [
    el('title', {}, [picture.title]),
    el('desc', {}, [picture.description]),
    el('rect', { width, height: Math.ceil(caption.bottom), fill: ink.paper }),
    ...body,
    ...caption.body,
  ]);
}

function captionOf(noted: readonly Noted[], top: number): { body: El[]; bottom: number } {
  const body: El[] = [];
  let y = top + 12;
  for (const { number, finding } of noted) {
    const lines = wrapped(finding.message, 12, pageWidth - 2 * margin - 30);
    const words = lines.map((one, index) => text({ x: margin + 28, y: y + 4 + index * 16 }, one));
    body.push(from(finding, [mark({ x: margin + 9, y }, number, finding.severity), ...words]));
    y += Math.max(24, lines.length * 16 + 8);
  }
  return { body, bottom: y };
}

/** Numbers the findings that are seen at some place, in the order of the text, and says which stand at which. */
export function assign<P extends Place>(
  { findings, number }: Source,
  places: readonly P[],
  shot?: string,
): { noted: Noted[]; at: (place: P) => readonly Noted[] } {
  const noted: Noted[] = [];
  const byPlace = new Map<P, Noted[]>();
  for (const finding of findings) {
    if (shot !== undefined && finding.shots && !finding.shots.includes(shot)) continue;
    const place = placeOf(finding, places);
    if (!place) continue;
    const one = { number: number?.(finding) ?? noted.length + 1, finding };
    noted.push(one);
    byPlace.set(place, [...(byPlace.get(place) ?? []), one]);
  }
  return { noted, at: (place) => byPlace.get(place) ?? [] };
}

/** The place whose range holds the finding most closely; the first of equals. */
function placeOf<P extends Place>({ start, end }: Range, places: readonly P[]): P | undefined {
  let best: { place: P; length: number } | undefined;
  for (const place of places) {
    for (const range of place.ranges) {
      if (!range || range.file !== undefined || range.start > start || range.end < end) continue;
      const length = range.end - range.start;
      if (!best || length < best.length) best = { place, length };
    }
  }
  return best?.place;
}

export const markPitch = 25;

/** Marks in a row; `at` is the middle of the first. */
export function marksRow(at: Point, noted: readonly Noted[]): El[] {
  return noted.map(({ number, finding }, index) =>
    from(finding, [mark({ x: at.x + index * markPitch, y: at.y }, number, finding.severity)]),
  );
}

/** A number in the shape of its severity: octagon, triangle, circle, dashed circle. */
export function mark({ x, y }: Point, number: number, severity: Severity): El {
  const words = (dy: number, fill: typeof ink.ink, size = 11) =>
    text({ x, y: y + dy }, String(number), { size, bold: true, anchor: 'middle', fill });
  const ring = (radius: number, corners: number, turn: number) =>
    Array.from({ length: corners }, (_, index) => {
      const angle = ((index + turn) * 2 * Math.PI) / corners;
      return { x: x + radius * Math.sin(angle), y: y - radius * Math.cos(angle) };
    });
  switch (severity) {
    case 'error':
      return from(undefined, [
        polygon(ring(10.5, 8, 0.5), { fill: ink.alarm, stroke: ink.paper, 'stroke-width': 1.5 }),
        words(4, ink.paper),
      ]);
    case 'warning':
      return from(undefined, [
        polygon(ring(13.5, 3, 0), {
          fill: ink.paper,
          stroke: ink.alarm,
          'stroke-width': 2,
          'stroke-linejoin': 'round',
        }),
        words(5, ink.alarm, number > 9 ? 10 : 11),
      ]);
    default: {
      const dashes = severity === 'hint' ? '3 2' : undefined;
      return from(undefined, [
        el('circle', {
          cx: x,
          cy: y,
          r: 9.5,
          fill: ink.paper,
          stroke: ink.ink,
          'stroke-width': 1.6,
          'stroke-dasharray': dashes,
        }),
        words(4, ink.ink),
      ]);
    }
  }
}

/** All characters of a block, its name included; undefined for one that is not written in the spec. */
export function blockRange(block: Block | Named | undefined): Range | undefined {
  const own = block?.fields.own;
  return own && { start: Math.min(block.start, own.start), end: Math.max(block.end, own.end) };
}

/** The head line of a drawing, with a line below for what it is drawn from. */
export function heading(title: string, sub: string, range: Range | undefined, noted: readonly Noted[] = []): El {
  const marksX = margin + textWidth(title, 18, true) + 18;
  return from(undefined, [
    from(range, [
      text({ x: margin, y: 32 }, title, { size: 18, bold: true }),
      text({ x: margin, y: 52 }, fitted(sub, 12.5, pageWidth - 2 * margin), { size: 12.5, fill: ink.soft }),
    ]),
    ...marksRow({ x: marksX, y: 26 }, noted),
  ]);
}
