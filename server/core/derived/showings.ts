/** What the deliverables show of a shot: piece by piece, those that show the same taken together. */
import type { Deliverable, Film, LampPlace, Piece, Shot, Val } from '../film.ts';
import type { CameraPose } from '../../calc/geometry.ts';
import type { Ends, Seconds } from '../units.ts';
import { type View, viewAt } from './framing.ts';
import { onceIn } from '../memo.ts';
import { productMiddleMm } from '../product-place.ts';
import { showsPiece } from '../resolve/edit.ts';
import { cameraPose } from './optics.ts';
import { cameraMoves, takeMomentS, turnedDeg } from './time.ts';

export interface Showing {
  readonly shot: Shot;
  /** The line of the cut; absent for a shot that the cut does not use yet, which counts as shown whole at zoom 1. */
  readonly piece?: Piece;
  /** Deliverables of one raster that show the same part of the piece with the same zoom and shift. */
  readonly deliverables: readonly [Deliverable, ...Deliverable[]];
  /** Looks along the stretch that is shown, in order; one where nothing changes. */
  readonly views: readonly [View, ...View[]];
  /** Where in the take it is shown first. */
  readonly fromTakeS: Seconds;
  /** Ways in which the product stands while it is shown, in degrees. */
  readonly turns: readonly number[];
}

/** Every way in which the shot is shown; none where its raster, or a deliverable's, is not known. */
export const showingsOf = onceIn((shot: Shot, film: Film): readonly Showing[] => {
  const pieces = shot.pieces.length > 0 ? shot.pieces : [plainPiece(shot)];
  return pieces.flatMap((piece) => {
    const groups = new Map<string, Deliverable[]>();
    for (const one of film.deliverables.values()) {
      const span = shownSpan(piece, one);
      if (!span || !one.raster) continue;
      const { width, height } = one.raster.value;
      const own = [piece.zoomBy.get(one.name)?.value ?? 1, piece.shiftBy.get(one.name)?.value ?? 0];
      const key = [width, height, ...own, span.from, span.to].join();
      const same = groups.get(key);
      if (same) same.push(one);
      else groups.set(key, [one]);
    }
    return [...groups.values()].flatMap((group) => showing(piece, group as [Deliverable, ...Deliverable[]]) ?? []);
  });
});

const byPiece = onceIn((shot: Shot, film: Film) => {
  const all = new Map<Piece, Showing[]>();
  for (const showing of showingsOf(shot, film)) {
    if (!showing.piece) continue;
    const same = all.get(showing.piece);
    if (same) same.push(showing);
    else all.set(showing.piece, [showing]);
  }
  return all;
});

/** Those of one piece of its shot. */
export function showingsOfPiece(piece: Piece, film: Film): readonly Showing[] {
  return (piece.shot && byPiece(piece.shot, film).get(piece)) ?? [];
}

/** One picture of the shot as it is shown, and from where. */
export interface Picture {
  readonly showing: Showing;
  readonly view: View;
  readonly pose: CameraPose;
}

/** One look at the shot as it is shown: from where, and how the product stands. */
export interface Look extends Picture {
  readonly turn: number;
}

/** All pictures in some showings, however the product stands in them; none where the camera's distance is not known. */
export function picturesOf(showings: readonly Showing[]): Picture[] {
  return showings.flatMap((showing) =>
    showing.views.flatMap((view) => {
      const pose = cameraPose(showing.shot, view.actionMoment);
      return pose ? [{ showing, view, pose }] : [];
    }),
  );
}

/** All looks at some showings; none where the camera's distance is not known. */
export function looksOf(showings: readonly Showing[]): Look[] {
  return picturesOf(showings).flatMap(({ showing, view, pose }) =>
    showing.turns.map((turn) => ({ showing, view, pose, turn })),
  );
}

/**
 * The shot as if the whole product were its subject.
 * @param heightMm of the product's middle; its box stands on the surface, or hangs as it is said
 */
export function productAs(shot: Shot, { product }: Film, heightMm = productMiddleMm(product)): Shot {
  if (shot.subject.name === 'product') return shot;
  const box = product.size?.value;
  const { start, end } = product.size ?? product;
  const subject = { start, end, name: 'product', heightMm };
  return { ...shot, subject: box ? { ...subject, box } : subject };
}

/** The same shot with something else on its camera or behind it, to try what a change would do. */
export function tryShot(shot: Shot, changes: { camera?: Partial<Shot['camera']>; backdrop?: Shot['backdrop'] }): Shot {
  const trial = { ...shot, ...changes, camera: { ...shot.camera, ...changes.camera } };
  return { ...trial, pieces: shot.pieces.map((piece) => ({ ...piece, shot: trial })) };
}

/** The same shot with a lamp as it would be elsewhere, whose boards then throw that one's light. */
export function tryLamp(shot: Shot, lamp: LampPlace, changes: Partial<LampPlace>): Shot {
  const moved = { ...lamp, ...changes };
  const lit = shot.lit.map((one) => (one === lamp ? moved : one.bounces === lamp ? { ...one, bounces: moved } : one));
  return { ...shot, lit };
}

/** A made-up value for such a try. */
export function trial<T>(value: T): Val<T> {
  return { value, text: '', start: 0, end: 0 };
}

/** A change whose ends are the same. */
export function still(value: number): Val<Ends> {
  return trial({ from: value, to: value });
}

function showing(piece: Piece, deliverables: readonly [Deliverable, ...Deliverable[]]): Showing | undefined {
  const span = shownSpan(piece, deliverables[0])!;
  const at = (part: number) => span.from + (span.to - span.from) * part;
  const views = partsToLook(piece).flatMap((part) => viewAt(piece, deliverables[0], at(part)) ?? []);
  const [first, ...rest] = views;
  if (!first) return undefined;
  const shot = piece.shot!;
  const used = piece.index < 0 ? undefined : piece;
  const takeS = (part: number) => takeMomentS(piece, at(part));
  const turns = turnsBetween(shot, takeS(0), takeS(1));
  return { shot, piece: used, deliverables, views: [first, ...rest], fromTakeS: takeS(0), turns };
}

/**
 * The parts of a stretch that show all there is to see: the ends where the edit zooms or shifts evenly (nothing between
 * them is wider or tighter), and steps between them where the camera itself moves, which bends what is seen.
 */
function partsToLook(piece: Piece): readonly number[] {
  if (cameraMoves(piece.shot!)) return [0, 0.25, 0.5, 0.75, 1];
  const { zoom, shift } = piece;
  if (zoom.from !== zoom.to && shift.from !== shift.to) return [0, 0.5, 1];
  return zoom.from !== zoom.to || shift.from !== shift.to ? [0, 1] : [0];
}

/** Both ends, and steps of 15° between them; once round is enough. */
function turnsBetween(shot: Shot, fromS: number, toS: number): number[] {
  const [from, to] = [turnedDeg(shot, fromS), turnedDeg(shot, toS)];
  const steps = Math.min(24, Math.ceil(Math.abs(to - from) / 15));
  const size = steps === 24 ? 15 * Math.sign(to - from) : (to - from) / (steps || 1);
  return Array.from({ length: steps + 1 }, (_, index) => from + size * index);
}

/** The part of a piece that a deliverable shows, in moments of the piece; undefined where it shows none of it. */
function shownSpan(piece: Piece, deliverable: Deliverable): Ends | undefined {
  const { startS, lengthS } = piece;
  const { sectionS } = deliverable;
  if (!showsPiece(deliverable, piece)) return undefined;
  if (!sectionS || startS === undefined || !lengthS) return { from: 0, to: 1 };
  const from = Math.max(0, (sectionS.from - startS) / lengthS);
  const to = Math.min(1, (sectionS.to - startS) / lengthS);
  return { from, to };
}

/** All of the shot's action, as it was recorded. */
function plainPiece(shot: Shot): Piece {
  return {
    start: shot.start,
    end: shot.end,
    fields: shot.fields,
    index: -1,
    shot,
    lengthS: shot.actionS,
    fromS: shot.handlesS,
    speed: 1,
    zoom: { from: 1, to: 1 },
    shift: { from: 0, to: 0 },
    zoomBy: new Map(),
    shiftBy: new Map(),
    straightenDeg: 0,
    dissolveS: 0,
    fadeInS: 0,
    fadeOutS: 0,
    sound: 'none',
    pitch: 'shifts',
  };
}
