/** Which take a piece of the cut is made of. */
import type { Piece } from '../core/film.ts';
import type { Sheets, Take } from '../core/takes.ts';

/** What is called best comes first, then good, then what nobody has seen, then what is kept in reserve. */
const order = ['best', 'good', undefined, 'spare'];

/** The best that there is; of equal ones that which is kept for the piece, then the newest. Undefined where there is none. */
export function takeFor(piece: Piece, sheets: Sheets): Take | undefined {
  const { shot } = piece;
  if (!shot) return undefined;
  const number = shot.pieces.indexOf(piece) + 1;
  const fit = sheets
    .flatMap(({ takes }) => takes)
    .filter((take) => take.shotName.value === shot.name && take.clips.length > 0)
    .filter(({ judged, piece: kept }) => judged?.value !== 'bad' && (kept === undefined || kept.value === number));
  const rank = ({ judged, piece: kept }: Take) => order.indexOf(judged?.value) * 2 + (kept ? 0 : 1);
  return fit.reduceRight<Take | undefined>((best, take) => (best && rank(best) <= rank(take) ? best : take), undefined);
}
