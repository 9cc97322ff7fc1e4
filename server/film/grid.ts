/** The cut on the frames of a deliverable: where each piece starts, what mixes, what fades. */
import { nearestFrame, type Rate } from '../calc/rate.ts';
import { framesText } from '../core/derived/edit.ts';
import type { Piece } from '../core/film.ts';
import type { Ends, Seconds } from '../core/units.ts';

/** A piece on the frames of the film, which count from the start of the deliverable. */
export interface PieceOn {
  readonly piece: Piece;
  /** The first frame, and the one after the last. */
  readonly start: number;
  readonly end: number;
  /** With the halves of its dissolves, which lie outside. */
  readonly outerStart: number;
  readonly outerEnd: number;
  /** Frames in which it comes up from black, and in which it goes down. */
  readonly fadeIn: number;
  readonly fadeOut: number;
  /** Frames in which the piece before turns into it. */
  readonly dissolve: number;
}

/** One piece alone, or two of which the first turns into the second; black where there is none. */
export interface Stretch {
  readonly start: number;
  readonly end: number;
  readonly piece?: PieceOn;
  readonly into?: { readonly piece?: PieceOn; readonly share: number; readonly step: number };
}

/** The pieces that have at least one frame. A piece without a length ends the cut: nothing after it has a place. */
export function piecesOn(cut: readonly Piece[], { from }: Ends<Seconds>, rate: Rate): PieceOn[] {
  const frame = (s: Seconds) => nearestFrame(s - from, rate);
  const placed = cut.flatMap((piece) => {
    if (piece.startS === undefined || piece.endS === undefined) return [];
    const [start, end] = [frame(piece.startS), frame(piece.endS)];
    const dissolve = nearestFrame(piece.dissolveS, rate);
    return end > start ? [{ piece, start, end, dissolve }] : [];
  });
  return placed.map(({ piece, start, end, dissolve }, index) => {
    const next = placed[index + 1]?.dissolve ?? 0;
    return {
      piece,
      start,
      end,
      outerStart: start - before(dissolve),
      outerEnd: end + after(next),
      fadeIn: nearestFrame(piece.fadeInS, rate),
      fadeOut: nearestFrame(piece.fadeOutS, rate),
      dissolve,
    };
  });
}

/** Of a dissolve with an odd number of frames the larger half comes after the cut. */
function before(dissolve: number): number {
  return Math.floor(dissolve / 2);
}

function after(dissolve: number): number {
  return dissolve - before(dissolve);
}

/** What stands in the way of showing the pieces as they are cut, in words. */
export function cutFaults(pieces: readonly PieceOn[]): string[] {
  return pieces.flatMap((one, index) => {
    const previous = pieces[index - 1];
    const next = pieces[index + 1];
    const name = pieceName(one.piece);
    if (one.dissolve > 0 && !previous) return [`${name} dissolves, and no piece stands before it. Use \`fade-in\`.`];
    if (one.dissolve > 0 && (one.fadeIn > 0 || previous!.fadeOut > 0))
      return [`${name} dissolves from the piece before and fades too. Keep one of the two.`];
    const taken = Math.max(one.fadeIn, after(one.dissolve)) + Math.max(one.fadeOut, before(next?.dissolve ?? 0));
    const has = one.end - one.start;
    return taken > has
      ? [`${name} has ${framesText(has)}, and its fades and dissolves take ${framesText(taken)}. Make them shorter.`]
      : [];
  });
}

/** `Piece 3 (\`teeth\`)`. */
export function pieceName({ index, shotName, footage, colour }: Piece): string {
  const what = (shotName ?? footage ?? colour)?.value;
  return `Piece ${index + 1}${what === undefined ? '' : ` (\`${what}\`)`}`;
}

/** The frames from 0 to before `frames`, each shown by one stretch. */
export function stretchesOf(pieces: readonly PieceOn[], frames: number): Stretch[] {
  return pieces
    .flatMap((piece, index) => stretchesOfPiece(piece, pieces[index - 1], pieces[index + 1]))
    .flatMap((stretch) => clipped(stretch, frames));
}

/** A dissolve is made with the piece that it leads to. */
function stretchesOfPiece(piece: PieceOn, previous: PieceOn | undefined, next: PieceOn | undefined): Stretch[] {
  const { start, end, fadeIn, fadeOut, dissolve } = piece;
  const comes =
    dissolve > 0 ? mixed(previous, piece, start - before(dissolve), dissolve) : mixed(undefined, piece, start, fadeIn);
  const own = comes.at(-1)?.end ?? start;
  if (next && next.dissolve > 0) return [...comes, { start: own, end: end - before(next.dissolve), piece }];
  const last = end - fadeOut;
  return [...comes, { start: own, end: last, piece }, ...mixed(piece, undefined, last, fadeOut)];
}

/** Evenly, each frame at its middle: none is all of the one or the other. */
function mixed(from: PieceOn | undefined, to: PieceOn | undefined, start: number, frames: number): Stretch[] {
  if (frames <= 0) return [];
  const into = { ...(to && { piece: to }), share: 0.5 / frames, step: 1 / frames };
  return [{ start, end: start + frames, ...(from && { piece: from }), into }];
}

/** Within the film, and cut in two where asked. */
function clipped(stretch: Stretch, frames: number): Stretch[] {
  return cutStretch(stretch, Math.max(0, stretch.start), Math.min(frames, stretch.end));
}

export function cutStretch(stretch: Stretch, start: number, end: number): Stretch[] {
  if (end <= start) return [];
  const { into } = stretch;
  const share = into && into.share + (start - stretch.start) * into.step;
  return [{ ...stretch, start, end, ...(into && { into: { ...into, share: share! } }) }];
}
