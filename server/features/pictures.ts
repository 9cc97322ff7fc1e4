/** A picture of the plan for somebody who edits it: which one, what can be chosen, and what of the text is seen in it. */
import type { CheckResult } from '../core/checker.ts';
import type { LineMap } from '../core/document/lines.ts';
import type { Range } from '../core/document/node.ts';
import type { Film, Shot } from '../core/film.ts';
import type { Finding } from '../core/finding.ts';
import { oneLine } from '../formats/escape.ts';
import { draw, type ViewKind, views, viewsFor } from '../views/index.ts';
import { mark } from '../views/marks.ts';
import type { Room } from '../views/page.ts';
import { blockRange, type Picture, pictureElement, pictureText, type TimeAxis } from '../views/picture.ts';
import { el, type El, toText } from '../views/svg.ts';
import type { PositionMap } from './position-map.ts';
import { nodeAt } from './node-at.ts';
import { shotAt } from './solve/solve.ts';

/** All of it may be left out: then it is the set from above of the first shot of the cut. */
export interface PictureRequest {
  readonly view?: string;
  /** A place of the text that was checked. It chooses the shot, where it is at one. */
  readonly offset?: number;
  /** Where `offset` chooses none. */
  readonly shot?: string;
  readonly deliverable?: string;
  /** Frames with their light. */
  readonly isLit?: boolean;
  /** Where it is shown. */
  readonly room?: Room | undefined;
}

export interface DrawnPlace extends Range {
  readonly file?: string;
}

export interface DrawnPart extends DrawnPlace {
  /** Where it is written and what is written there: `lamps › key › distance: 80 cm`. */
  readonly words: string;
}

export interface ShownPicture {
  readonly view: string;
  readonly shot?: string;
  readonly title: string;
  readonly description: string;
  readonly views: readonly ViewKind[];
  readonly shots: readonly string[];
  readonly deliverables: readonly string[];
  /** With colours as custom properties, and every place one of the newest text. */
  readonly svg: string;
  readonly findings: readonly (DrawnPlace &
    Pick<Finding, 'rule' | 'severity' | 'message'> & { number: number; mark: string })[];
  readonly axis?: TimeAxis;
  /** Everything of the plan that is drawn, in the order of the text, kits last. */
  readonly parts: readonly DrawnPart[];
}

/** Undefined where there is nothing to draw: no spec that could be read, or no shot for a picture of one. */
export function shownOf(result: CheckResult, wanted: PictureRequest, positions: PositionMap): ShownPicture | undefined {
  const picked = pick(result, wanted);
  if (!picked) return undefined;
  const { picture, film, shot, view } = picked;
  const style = { themed: true, captions: false };
  const now = (range: DrawnPlace): Range => (range.file === undefined ? positions.about(range) : range);
  return {
    view: view.name,
    ...(shot && { shot: shot.name }),
    title: oneLine(picture.title),
    description: oneLine(picture.description),
    ...(picture.axis && { axis: picture.axis }),
    views: viewsFor(result).map(({ name, title, about, summary }) => ({ name, title, about, summary })),
    shots: [...film.shots.keys()],
    deliverables: [...film.deliverables.keys()],
    svg: toText(carried(pictureElement(picture, style), now), style),
    findings: picture.noted.map(({ number, finding }) => {
      const { rule, severity, message } = finding;
      return { number, rule, severity, message: oneLine(message), ...now(finding), mark: markText(number, severity) };
    }),
    parts: partsOf(picture, result).map((part) => ({ ...part, ...now(part) })),
  };
}

/** The same picture to keep: one file that any viewer of SVG shows, with the findings in words. */
export function standaloneOf(result: CheckResult, wanted: PictureRequest): string | undefined {
  const picked = pick(result, wanted);
  return picked && pictureText(picked.picture);
}

interface Picked {
  readonly picture: Picture;
  readonly film: Film;
  readonly view: ViewKind;
  readonly shot?: Shot;
}

function pick(result: CheckResult, wanted: PictureRequest): Picked | undefined {
  const { film } = result;
  const view = viewsFor(result).find(({ name }) => name === wanted.view) ?? views[0]!;
  if (!film) return undefined;
  const { shot, piece } = view.about === 'shot' ? shotOf(result, film, wanted) : {};
  const deliverable = film.deliverables.has(wanted.deliverable ?? '') ? wanted.deliverable : undefined;
  const picture = draw(view.name, result, {
    shot: shot?.name,
    piece,
    deliverable,
    isLit: wanted.isLit,
    room: wanted.room,
  });
  return picture && { film, view, shot, picture };
}

/** The shot at the place, or that of the piece of the cut there; else the one that is named, else the first of the film. */
function shotOf(result: CheckResult, film: Film, { offset, shot }: PictureRequest): { shot?: Shot; piece?: number } {
  if (offset !== undefined) {
    const here = shotAt(result, offset);
    if (here) return { shot: here };
    const piece = film.cut.find((one) => onLinesOf(blockRange(one) ?? one, offset, result.doc.lines));
    if (piece?.shot) return { shot: piece.shot, piece: piece.index };
  }
  const first = film.cut.find((piece) => piece.shot)?.shot ?? film.shots.values().next().value;
  return { shot: film.shots.get(shot ?? '') ?? first };
}

function onLinesOf({ start, end }: Range, offset: number, lines: LineMap): boolean {
  return lines.line(start) <= lines.line(offset) && lines.line(offset) <= lines.line(end);
}

function markText(number: number, severity: Finding['severity']): string {
  const size = { xmlns: 'http://www.w3.org/2000/svg', viewBox: '0 0 30 30', width: 30, height: 30 };
  return toText(el('svg', size, [mark({ x: 15, y: 16 }, number, severity)]), { themed: true });
}

// -- what is drawn ---------------------------------------------------------------------------------------------------

function spotOf({ attrs }: El): DrawnPlace | undefined {
  const { 'data-start': start, 'data-end': end, 'data-file': file } = attrs;
  if (typeof start !== 'number' || typeof end !== 'number') return undefined;
  return { start, end, ...(typeof file === 'string' && { file }) };
}

/** The drawing with its places moved to the newest text. */
function carried(element: El, now: (range: DrawnPlace) => Range): El {
  const spot = spotOf(element);
  const moved = spot && now(spot);
  const attrs = moved ? { ...element.attrs, 'data-start': moved.start, 'data-end': moved.end } : element.attrs;
  const children = element.children.map((one) => (typeof one === 'string' ? one : carried(one, now)));
  return { name: element.name, attrs, children };
}

function partsOf({ body }: Picture, { doc }: CheckResult): DrawnPart[] {
  const seen = new Map<string, { spot: DrawnPlace; letters: string }>();
  const collect = (element: El): void => {
    const spot = spotOf(element);
    const key = spot && `${spot.start} ${spot.end} ${spot.file ?? ''}`;
    if (spot && key !== undefined && !seen.has(key)) seen.set(key, { spot, letters: lettersIn(element) });
    for (const child of element.children) if (typeof child !== 'string') collect(child);
  };
  body.forEach(collect);
  return [...seen.values()]
    .sort(({ spot: a }, { spot: b }) => order(a.file ?? '', b.file ?? '') || a.start - b.start || b.end - a.end)
    .map(({ spot, letters }) => ({ ...spot, words: oneLine(wordsFor(spot, letters, doc)) }));
}

function order(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

function lettersIn({ name, children }: El): string {
  if (name === 'text') return children.filter((one) => typeof one === 'string').join('');
  const inside = children.flatMap((one) => (typeof one === 'string' ? [] : lettersIn(one)));
  return inside.filter(Boolean).join(' ');
}

const longestWords = 60;

function wordsFor(spot: DrawnPlace, letters: string, { root, text }: CheckResult['doc']): string {
  if (spot.file !== undefined) return shortened(letters ? `${letters} (in ${spot.file})` : `in ${spot.file}`);
  const written = text.slice(spot.start, spot.end);
  const said = written.replace(/\s+/g, ' ').trim();
  const at = nodeAt(root, spot.start);
  if (at) return shortened(pathWords(at.path) + (at.onKey || at.range.start !== spot.start ? '' : `: ${said}`));
  // A block in braces, or a line of a list: its first key is inside.
  const inside = nodeAt(root, spot.start + (/[\p{L}\p{N}"']/u.exec(written)?.index ?? 0));
  return shortened(inside ? `${pathWords(inside.path.slice(0, -1))}: ${said}` : said);
}

function pathWords(path: readonly (string | number)[]): string {
  return path.map((step) => (typeof step === 'number' ? String(step + 1) : step)).join(' › ');
}

function shortened(words: string): string {
  const characters = [...words];
  return characters.length > longestWords ? `${characters.slice(0, longestWords - 1).join('')}…` : words;
}
