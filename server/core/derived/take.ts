/** What the cut takes out of each take, in seconds from the start of the take. */
import type { Film, Piece, Shot } from '../film.ts';
import type { Seconds } from '../units.ts';
import { dissolveHalves, takenS } from './time.ts';

export interface UsedStretch {
  /** The piece itself. */
  readonly fromS: Seconds;
  readonly toS: Seconds;
  /** With the halves of its dissolves, which lie outside it. */
  readonly outerFromS: Seconds;
  readonly outerToS: Seconds;
}

/** The stretch of its take that a piece uses, whichever way it plays; undefined without a shot or a length. */
export function usedStretch(piece: Piece, film: Film): UsedStretch | undefined {
  const taken = takenS(piece);
  if (!piece.shot || taken === undefined) return undefined;
  const halves = dissolveHalves(piece, film);
  const pace = Math.abs(piece.speed);
  const [before, after] = piece.speed < 0 ? [halves.endS, halves.startS] : [halves.startS, halves.endS];
  const fromS = piece.fromS;
  const toS = piece.fromS + taken;
  return { fromS, toS, outerFromS: fromS - before * pace, outerToS: toS + after * pace };
}

/** The last moment of a shot's take that the cut uses, and the piece that does. */
export function lastUsed(shot: Shot, film: Film): { piece: Piece; used: UsedStretch } | undefined {
  return shot.pieces
    .flatMap((piece) => {
      const used = usedStretch(piece, film);
      return used ? [{ piece, used }] : [];
    })
    .reduce<{ piece: Piece; used: UsedStretch } | undefined>(
      (last, one) => (!last || one.used.outerToS > last.used.outerToS ? one : last),
      undefined,
    );
}
