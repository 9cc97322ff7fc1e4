/** How far into the action of a shot the deliverables follow it. */
import type { Deliverable, Film, Piece, Shot } from '../film.ts';
import { shownStretch } from './edit.ts';
import { actionMoment } from './time.ts';
import { momentOf } from './titles.ts';

export interface Reached {
  readonly piece: Piece;
  /** Of the action: 0 its start, 1 its end. */
  readonly moment: number;
}

/** The piece that goes farthest into the action, in whichever deliverable shows most of it; undefined where none shows any. */
export function farthestShown(shot: Shot, film: Film): Reached | undefined {
  const shown = shot.pieces.flatMap((piece) => {
    const moments = [...film.deliverables.values()].flatMap((one) => reachedIn(piece, one, film) ?? []);
    return moments.length > 0 ? [{ piece, moment: Math.max(...moments) }] : [];
  });
  return shown.sort((a, b) => b.moment - a.moment)[0];
}

function reachedIn(piece: Piece, deliverable: Deliverable, film: Film): number | undefined {
  const { startS, endS } = piece;
  if (startS === undefined || endS === undefined || endS <= startS || !deliverable.pieces.includes(piece))
    return undefined;
  const shown = shownStretch(deliverable, film) ?? { from: startS, to: endS };
  const ends = [Math.max(startS, shown.from), Math.min(endS, shown.to)];
  return Math.max(...ends.map((filmS) => actionMoment(piece, momentOf(piece, filmS))));
}
