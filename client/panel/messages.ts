/** What the panel and the extension say to each other, and what the server answers. Plain data only. */
import type { Reel } from '../../server/film/reel.ts';
import type { TimeAxis } from '../../server/views/picture.ts';
import type { AskedScene, SceneAnswer } from './play/drawings.ts';

/** A place of a text: of the spec, or of the kit that `file` names by its path from the repo's root. */
export interface TextPlace {
  readonly start: number;
  readonly end: number;
  readonly file?: string;
}

/** Something of the spec that is drawn, in words. */
export interface Part extends TextPlace {
  readonly words: string;
}

export interface Found extends TextPlace {
  readonly number: number;
  readonly severity: 'error' | 'warning' | 'info' | 'hint';
  readonly rule: string;
  readonly message: string;
  /** Its mark as it stands in the picture, as SVG. */
  readonly mark: string;
}

/** A way of looking at the plan. */
export interface View {
  readonly name: string;
  readonly title: string;
  readonly about: 'shot' | 'film';
  readonly summary: string;
}

/** The place where pictures are shown, in CSS pixels. */
export interface Room {
  readonly width: number;
  readonly height: number;
}

/** What the server draws of a plan. Every place is one of the newest text. */
export interface Picture {
  readonly version: number;
  /** Changes whenever what is drawn may. */
  readonly stamp: string;
  /** The text can't be read just now, and this is drawn from the last one that could. */
  readonly old: boolean;
  readonly view: string;
  readonly title: string;
  readonly description: string;
  readonly svg: string;
  readonly shot?: string;
  readonly views: readonly View[];
  readonly shots: readonly string[];
  readonly deliverables: readonly string[];
  readonly findings: readonly Found[];
  readonly parts: readonly Part[];
  /** Where the seconds lie in a picture of the film in time. */
  readonly axis?: TimeAxis;
  /** The cursor in the text. */
  readonly here?: number;
  readonly root: string;
}

/** What the person chose, kept over reloads. */
export interface Kept {
  readonly uri?: string;
  readonly view?: string;
  /** A shot to stay at; without it the cursor is followed. */
  readonly shot?: string;
  readonly deliverable?: string;
  /** Frames with their light, in place of lines. */
  readonly isLit?: boolean;
  readonly zoom: number;
}

export type ToPanel =
  | { readonly kind: 'show'; readonly picture: Picture; readonly kept: Kept; readonly file: string }
  /** There is nothing to draw; `words` say why. */
  | { readonly kind: 'empty'; readonly words: string }
  /** The film to play, or why there is none. */
  | { readonly kind: 'reel'; readonly reel?: Reel | undefined; readonly why?: string | undefined }
  | { readonly kind: 'scene'; readonly answer: SceneAnswer }
  | { readonly kind: 'sound'; readonly sound: SoundFile };

/** A file that is heard; without its bytes where it can't be read. */
export interface SoundFile {
  readonly file: string;
  readonly bytes?: ArrayBuffer | undefined;
}

export type FromPanel =
  | { readonly kind: 'ready' }
  | { readonly kind: 'kept'; readonly kept: Kept }
  | { readonly kind: 'go'; readonly spot: TextPlace }
  | { readonly kind: 'save' }
  /** How large a picture may be, in CSS pixels. */
  | { readonly kind: 'room'; readonly room: Room }
  /** A moment of a piece to be drawn. */
  | { readonly kind: 'scene'; readonly scene: AskedScene }
  /** One of the files that the reel names. */
  | { readonly kind: 'sound'; readonly file: string }
  /** Shows a place of the spec in the text without leaving the panel. */
  | { readonly kind: 'follow'; readonly spot: TextPlace };

/** What was kept, from wherever it was kept: what is not as it should be counts as not said. */
export function readKept(from: unknown): Kept {
  const { uri, view, shot, deliverable, isLit, zoom } = isObject(from) ? from : {};
  const word = (value: unknown) => (typeof value === 'string' ? value : undefined);
  return {
    uri: word(uri),
    view: word(view),
    shot: word(shot),
    deliverable: word(deliverable),
    ...(isLit === true && { isLit }),
    zoom: typeof zoom === 'number' ? nearestZoom(zoom) : 1,
  };
}

/** A message of the panel; undefined for what is none. */
export function readMessage(from: unknown): FromPanel | undefined {
  if (!isObject(from)) return undefined;
  const { kind } = from;
  if (kind === 'ready' || kind === 'save') return { kind };
  if (kind === 'kept') return { kind, kept: readKept(from['kept']) };
  if (kind === 'room') {
    const room = readRoom(from['room']);
    return room && { kind, room };
  }
  if (kind === 'scene') {
    const scene = readScene(from['scene']);
    return scene && { kind, scene };
  }
  if (kind === 'sound') {
    const { file } = from;
    return typeof file === 'string' ? { kind, file } : undefined;
  }
  if (kind !== 'go' && kind !== 'follow') return undefined;
  const spot = readSpot(from['spot']);
  return spot && { kind, spot };
}

function readScene(from: unknown): AskedScene | undefined {
  if (!isObject(from)) return undefined;
  const { id, piece, atS, without, tellsMoves } = from;
  if (!isOffset(id) || !isOffset(piece) || typeof atS !== 'number' || !Number.isFinite(atS)) return undefined;
  return {
    id,
    piece,
    atS,
    ...(isOffset(without) && { without }),
    ...(tellsMoves === true && { tellsMoves }),
  };
}

function readRoom(from: unknown): Room | undefined {
  if (!isObject(from)) return undefined;
  const { width, height } = from;
  return isOffset(width) && isOffset(height) ? { width, height } : undefined;
}

/** Only places inside the repo: a path that climbs or starts at a root is none. */
function readSpot(from: unknown): TextPlace | undefined {
  if (!isObject(from)) return undefined;
  const { start, end, file } = from;
  if (!isOffset(start) || !isOffset(end)) return undefined;
  if (file === undefined) return { start, end };
  const inside = typeof file === 'string' && file.endsWith('.yaml') && !/^[/\\]|\\|:|(^|\/)\.\.(\/|$)/.test(file);
  return inside ? { start, end, file } : undefined;
}

function isOffset(value: unknown): value is number {
  return typeof value === 'number' && Number.isInteger(value) && value >= 0;
}

function isObject(value: unknown): value is Record<string, unknown> {
  return value !== null && typeof value === 'object';
}

/** 1 is as wide as the panel. */
const zooms = [0.5, 0.67, 0.8, 1, 1.25, 1.5, 2, 2.5, 3, 4, 6, 8] as const;

/** The next larger (`way` 1) or smaller (−1) zoom; the largest and the smallest stay. */
export function nextZoom(zoom: number, way: 1 | -1): number {
  const next = way > 0 ? zooms.find((one) => one > zoom + 1e-6) : zooms.findLast((one) => one < zoom - 1e-6);
  return next ?? nearestZoom(zoom);
}

function nearestZoom(zoom: number): number {
  const off = (one: number) => Math.abs(Math.log(one / zoom));
  return zoom > 0 ? zooms.reduce((best: number, one) => (off(one) < off(best) ? one : best), 1) : 1;
}
