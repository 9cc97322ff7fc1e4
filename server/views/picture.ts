/** What every view makes: a drawing with its findings numbered, and a caption that says them. */
import type { Block, Named } from '../core/film.ts';
import type { Range } from '../core/document/node.ts';
import type { Finding } from '../core/finding.ts';
import { inPrint } from '../core/say.ts';
import type { Seconds } from '../core/units.ts';
import { mark, marksIn, markPitch, marksRow, type Noted } from './marks.ts';
import { textWidth, wrapped } from './measure.ts';
import { fontFamily, letters, type Page, pageFor } from './page.ts';
import { el, type El, from, ink, type Point, text, toText, type SvgStyle } from './svg.ts';

export type { Noted } from './marks.ts';

/** The findings to show, in the order of the text: a checked spec is one. */
export interface Source {
  readonly findings: readonly Finding[];
  /** Their numbers, where another list gives them; else they are counted in each drawing. */
  readonly number?: (finding: Finding) => number;
  /** Shots are also drawn as lit. */
  readonly isLit?: boolean;
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
  /** Where the seconds of the cut lie, in a picture of the film in time. */
  readonly axis?: TimeAxis;
}

/** In units of the drawing. */
export interface TimeAxis {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
  /** From left to right. */
  readonly lengthS: Seconds;
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
  const caption =
    captions && noted.length > 0 ? captionOf(noted, pageFor({ width }), height + 8) : { body: [], bottom: height };
  const attrs = {
    xmlns: 'http://www.w3.org/2000/svg',
    viewBox: `0 0 ${width} ${Math.ceil(caption.bottom)}`,
    width,
    height: Math.ceil(caption.bottom),
    role: 'img',
    'font-family': fontFamily,
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

function captionOf(noted: readonly Noted[], { left, right }: Page, top: number): Drawn {
  const body: El[] = [];
  let y = top + 14;
  for (const { number, finding } of noted) {
    const lines = wrapped(inPrint(finding.message), letters.words, right - left - 34);
    const words = lines.map((one, index) => text({ x: left + 34, y: y + 4 + index * 16 }, one));
    body.push(from(finding, [mark({ x: left + 14, y }, number, finding.severity), ...words]));
    y += Math.max(30, lines.length * 16 + 10);
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
  const held = rangesOf(places);
  for (const finding of findings) {
    if (shot !== undefined && finding.shots && !finding.shots.includes(shot)) continue;
    // The one that holds it most closely.
    const place = held.find(({ start, end }) => start <= finding.start && finding.end <= end)?.place;
    if (!place) continue;
    const one = { number: number?.(finding) ?? noted.length + 1, finding };
    noted.push(one);
    byPlace.set(place, [...(byPlace.get(place) ?? []), one]);
  }
  return { noted, at: (place) => byPlace.get(place) ?? [] };
}

/** All that is in the spec, the shortest first; of equals, in the order of the places. */
function rangesOf<P extends Place>(places: readonly P[]): (Range & { place: P })[] {
  const all = places.flatMap((place) =>
    place.ranges.flatMap((range) =>
      range && range.file === undefined ? [{ start: range.start, end: range.end, place }] : [],
    ),
  );
  return all.sort((a, b) => a.end - a.start - (b.end - b.start));
}

/** All characters of a block, its name included; undefined for one that is not written in the spec. */
export function blockRange(block: Block | Named | undefined): Range | undefined {
  const own = block?.fields.own;
  return own && { start: Math.min(block.start, own.start), end: Math.max(block.end, own.end) };
}

/** Something drawn from the top down, and where it ends. */
export interface Drawn {
  readonly body: readonly El[];
  readonly bottom: number;
}

/** What a paragraph comes from, and how it looks. */
export interface ParagraphStyle {
  readonly range?: (Range & { readonly file?: string }) | undefined;
  readonly noted?: readonly Noted[];
  readonly size?: number;
  readonly bold?: boolean;
  readonly fill?: typeof ink.ink;
  readonly right?: number;
}

/** Words in as many lines as they need from `at`, the left end of the space above them; their marks behind or below. */
export function paragraph(at: Point, page: Page, words: string, style: ParagraphStyle = {}): Drawn {
  const { range, noted = [], size = letters.words, bold = false, fill, right = page.right } = style;
  const pitch = Math.round(size * 1.36);
  const lines = wrapped(words, size, right - at.x, bold);
  const drawn = lines.map((one, index) => text({ x: at.x, y: at.y + size + index * pitch }, one, { size, bold, fill }));
  const bottom = at.y + lines.length * pitch;
  const body = [from(range, drawn)];
  if (noted.length === 0) return { body, bottom };
  const last = lines.at(-1) ?? '';
  const after = at.x + textWidth(last, size, bold) + 18;
  if (lines.length === 1 && after + noted.length * markPitch - 12 <= right) {
    const y = at.y + size / 2 + 2;
    return { body: [...body, ...marksRow({ x: after, y }, noted)], bottom: Math.max(bottom, y + 14) };
  }
  const marks = marksIn({ x: at.x, y: bottom + 2 }, right, noted);
  return { body: [...body, ...marks.body], bottom: marks.bottom };
}

/** The head of a drawing, with a line below for what it is drawn from. */
export function heading(
  page: Page,
  title: string,
  sub: string,
  range: Range | undefined,
  noted: readonly Noted[] = [],
): Drawn {
  const head = paragraph({ x: page.left, y: 12 }, page, title, { range, noted, size: letters.title, bold: true });
  const below = paragraph({ x: page.left, y: head.bottom + 3 }, page, sub, { range, fill: ink.soft });
  return { body: [...head.body, ...below.body], bottom: below.bottom + 8 };
}
