/** What stands at a frame of a reel: pictures with the part of them that is seen, how solid they are, and titles. */
import type { Seconds } from '../../../server/core/units.ts';
import type {
  ReelBeats,
  Look,
  Reel,
  ReelFlash,
  ReelPicture,
  ReelPiece,
  ReelStretch,
} from '../../../server/film/reel.ts';

export interface HowShown {
  /** What flashes does; else it is held still. */
  readonly flashes: boolean;
  /** Each piece is one picture, for people who want no movement. */
  readonly stills: boolean;
}

/** A drawing of a moment of a take. */
export interface Wanted {
  readonly piece: ReelPiece;
  /** The frame of the film, and its moment in the take. */
  readonly frame: number;
  readonly atS: Seconds;
  /** Seconds of the take for each frame. */
  readonly stepS: Seconds;
  /** What flashes, by its number, is off. */
  readonly without?: number;
}

export type Layer =
  | { readonly kind: 'drawing'; readonly wanted: Wanted; readonly part: Part; readonly solid: number }
  | { readonly kind: 'plain'; readonly colour: string; readonly solid: number };

/** Of a drawing, as shares of its width and height. */
export interface Part {
  readonly x: number;
  readonly y: number;
  readonly size: number;
}

export interface Shown {
  /** From the lowest to the uppermost. */
  readonly layers: readonly Layer[];
  readonly titles: readonly { readonly index: number; readonly solid: number }[];
}

export function shownAt(reel: Reel, frame: number, how: HowShown): Shown {
  const flash = flashAt(reel, frame);
  const held = flash && !how.flashes && flash.of === 'colours' ? flash.from : frame;
  const at = how.stills ? stillFrame(reel, held) : held;
  const stretch = stretchAt(reel, at);
  const off = flash && how.flashes && flash.of === 'light' ? flash : undefined;
  return {
    layers: stretch ? layersOf(reel, stretch, at, off && { flash: off, frame }) : [],
    titles: titlesAt(reel, frame, how),
  };
}

export function pieceAt({ pieces }: Reel, frame: number): ReelPiece | undefined {
  return pieces.find(({ start, end }) => start <= frame && frame < end);
}

export function flashAt({ flashes }: Reel, frame: number): ReelFlash | undefined {
  return flashes.find(({ from, to }) => from <= frame && frame < to);
}

function stretchAt({ stretches }: Reel, frame: number): ReelStretch | undefined {
  return stretches.find(({ start, end }) => start <= frame && frame < end);
}

/** The first frame of its piece that shows it alone. */
function stillFrame(reel: Reel, frame: number): number {
  const piece = pieceAt(reel, frame);
  if (!piece) return frame;
  const alone = reel.stretches.find(({ start, end, into }) => !into && start >= piece.start && end <= piece.end);
  return alone?.start ?? piece.start;
}

function layersOf(
  reel: Reel,
  stretch: ReelStretch,
  frame: number,
  flashing: { readonly flash: ReelFlash; readonly frame: number } | undefined,
): Layer[] {
  const lower = pictureLayers(reel, stretch, stretch.picture, frame, 1);
  const { into } = stretch;
  const upper = into
    ? pictureLayers(reel, stretch, into.picture, frame, into.share + into.step * (frame - stretch.start))
    : [];
  const layers = [...lower, ...upper];
  if (!flashing) return layers;
  const { flash } = flashing;
  const dark = 1 - (flash.on[flashing.frame - flash.from] ?? 1);
  return layers.flatMap((layer) => {
    const isLit =
      layer.kind === 'drawing' && layer.wanted.piece.start < flash.to && layer.wanted.piece.end > flash.from;
    if (!isLit || dark <= 0) return [layer];
    return [layer, { ...layer, wanted: { ...layer.wanted, without: flash.light }, solid: layer.solid * dark }];
  });
}

function pictureLayers(
  { pieces }: Reel,
  { start, end }: ReelStretch,
  picture: ReelPicture,
  frame: number,
  solid: number,
): Layer[] {
  if (picture.kind === 'plain') return [{ kind: 'plain', colour: picture.colour, solid }];
  const piece = pieces.find(({ index }) => index === picture.piece);
  if (!piece) return [];
  const share = end - start > 1 ? (frame - start) / (end - 1 - start) : 0;
  const look = {
    zoom: picture.zoom.from + (picture.zoom.to - picture.zoom.from) * share,
    shift: picture.shift.from + (picture.shift.to - picture.shift.from) * share,
  };
  const { fromS, stepS } = picture;
  const wanted = { piece, frame, atS: fromS + stepS * (frame - start), stepS };
  return [{ kind: 'drawing', wanted, part: partOf(piece.around, look), solid }];
}

/** What a look has of a drawing that was made with another, wider one. */
export function partOf(around: Look, { zoom, shift }: Look): Part {
  const size = around.zoom / zoom;
  return { x: around.zoom * ((-shift - 0.5) / zoom) + around.shift + 0.5, y: (1 - size) / 2, size };
}

function titlesAt({ titles }: Reel, frame: number, { stills }: HowShown): Shown['titles'] {
  return titles.flatMap(({ startFrame, frames, skip, all, fadeFrames }, index) => {
    const at = frame - startFrame;
    if (at < 0 || at >= frames) return [];
    const fades = Math.min((at + skip) / fadeFrames, (all - at - skip) / fadeFrames);
    return [{ index, solid: stills || fadeFrames === 0 ? 1 : Math.max(0, Math.min(1, fades)) }];
  });
}

/** The number of the beat at a frame, and how far it is gone, 0 to 1; undefined before the first and without music. */
export function beatAt({ beats }: Reel, frame: number): { readonly number: number; readonly gone: number } | undefined {
  if (!beats) return undefined;
  if (beats.played) return playedAt(beats, frame);
  const place = (frame - beats.first + 1e-6) / beats.step;
  return place < 0 ? undefined : { number: Math.floor(place), gone: place - Math.floor(place) };
}

function playedAt({ played, step }: ReelBeats, frame: number): { number: number; gone: number } | undefined {
  const { at, number } = played!;
  const index = at.findLastIndex((one) => one <= frame + 1e-6);
  if (index < 0 || number + index < 0) return undefined;
  const [here, next] = [at[index]!, at[index + 1] ?? at[index]! + step];
  return { number: number + index, gone: Math.max(0, Math.min(1, (frame - here) / (next - here))) };
}

/** The frame of the next beat, or of the one before. */
export function beatFrom({ beats, frames }: Reel, frame: number, way: 1 | -1): number {
  if (!beats) return frame;
  if (beats.played) {
    const all = beats.played.at.map((one) => Math.ceil(one - 1e-6));
    const to = way > 0 ? all.find((one) => one > frame) : all.findLast((one) => one < frame);
    return Math.max(0, Math.min(frames - 1, to ?? frame));
  }
  const frameOf = (beat: number) => Math.ceil(beats.first + beat * beats.step - 1e-6);
  let beat = Math.floor((frame - beats.first) / beats.step) + (way > 0 ? -1 : 2);
  while (way > 0 ? frameOf(beat) <= frame : frameOf(beat) >= frame) beat += way;
  return Math.max(0, Math.min(frames - 1, frameOf(beat)));
}

/** The start of the piece; a second time that of the one before it, or of the next. */
export function pieceFrom({ pieces, frames }: Reel, frame: number, way: 1 | -1): number {
  const starts = pieces.map(({ start }) => start);
  const to = way > 0 ? starts.find((one) => one > frame) : starts.findLast((one) => one < frame);
  return to ?? (way > 0 ? frames - 1 : 0);
}
