/** Stretches that flash. */
import { generalFlashes, mostFlashes, redFlashes } from '../../calc/flash.ts';
import { flashRuns } from '../../core/derived/flashes.ts';
import type { Film } from '../../core/film.ts';
import { showsPiece } from '../../core/resolve/edit.ts';
import { type El, el, ink } from '../svg.ts';
import type { Bar } from './bar.ts';

/** The most flashes in any second of each stretch that flashes, once for each place that it is written. */
export function flashBars(film: Film): Bar[] {
  const seen = new Set<string>();
  return flashRuns(film).flatMap((run): Bar[] => {
    const { source, frames, fps, at } = run;
    const piece =
      source.kind === 'cuts'
        ? source.pieces[0]!.piece
        : source.shot.pieces.find((one) => showsPiece(run.deliverable, one));
    const last = source.kind === 'cuts' ? source.pieces.at(-1)!.piece : piece;
    const key = `${at.start}-${piece?.index}`;
    if (piece?.startS === undefined || last?.endS === undefined || seen.has(key)) return [];
    seen.add(key);
    const [general, red] = [generalFlashes(frames, fps).inOneSecond, redFlashes(frames, fps).inOneSecond];
    const count = Math.max(general, red);
    if (count === 0) return [];
    const over = count > mostFlashes ? `, over ${mostFlashes}` : '';
    const words = `${count} ${count === 1 ? 'flash' : 'flashes'} in a second${red > 0 ? ' (red)' : ''}${over}`;
    const inside = (x: number, width: number, y: number): El[] => {
      const beats = Math.min(60, Math.max(1, Math.round((last.endS! - piece.startS!) * count)));
      const step = width / beats;
      return Array.from({ length: beats }, (_, index) =>
        el('rect', { x: x + index * step, y: y + 19, width: Math.max(0.6, step / 2), height: 7, fill: ink.ink }),
      );
    };
    return [{ fromS: piece.startS, toS: last.endS, words, inside, ranges: [at] }];
  });
}
