import { atFrame, masterDecoded } from '../../core/derived/decoded-takes.ts';
import { framesText } from '../../core/derived/edit.ts';
import type { PictureMeasured } from '../../core/decoded.ts';
import type { Piece } from '../../core/film.ts';
import { defineRule } from '../../core/rule.ts';

export default defineRule({
  id: 'master-ends-empty',
  family: 'takes',
  summary:
    'An exported film starts or ends with black frames, or with a picture that stands still, which nobody planned.',
  severity: 'warning',
  sources: ['the decoded picture against the plan of the cut'],
  messages: {
    blackStart:
      '{master} starts with {count} of black, and the cut starts with a picture. Start the export at the first frame of the cut.',
    blackEnd:
      '{master} ends with {count} of black, from {at} on, and the cut ends with a picture. End the export with the last frame of the cut.',
    black: '{master} is black from its first frame to its last. See whether the picture was muted.',
    stands:
      '{master} stands still for its last {count}, from {at} on, where {piece} moves on. See whether the take is long enough there.',
  },
  master(master, { film, footage, report }) {
    const found = masterDecoded(master, footage);
    const picture = found?.decoded.picture;
    if (!found || !picture) return;
    const { deliverable } = found;
    const { pieces } = deliverable;
    const [first, last] = [pieces[0], pieces.at(-1)];
    const { black, frames, fps } = picture;
    const data = { master: found.name };
    const common = { at: found.at };
    const place = (frame: number) => atFrame(frame, deliverable, film, fps);
    if (black.start === frames) {
      report({ message: 'black', severity: 'error', data, ...common });
      return;
    }
    if (black.start > planned(first, 'start', fps)) {
      report({ message: 'blackStart', data: { ...data, count: framesText(black.start) }, ...common });
    }
    if (black.end > planned(last, 'end', fps)) {
      const texts = { count: framesText(black.end), at: place(frames - black.end) };
      report({ message: 'blackEnd', data: { ...data, ...texts }, ...common });
      return;
    }
    const still = stillEnd(picture, last);
    if (still === undefined) return;
    const piece = last?.shot ? `\`${last.shot.name}\`` : 'the cut';
    report({
      message: 'stands',
      data: { ...data, count: framesText(frames - still), at: place(still), piece },
      ...common,
    });
  },
});

/** Black frames that the plan has at an end: of a fade, of a colour, or of a picture that is dark. */
function planned(piece: Piece | undefined, end: 'start' | 'end', fps: number): number {
  if (!piece || piece.colour || piece.footage) return Infinity;
  const dark = piece.shot?.onPurpose.some(({ value }) => value === 'low-key' || value === 'silhouette');
  if (dark || piece.shot?.lit.some((lamp) => lamp.changes)) return Infinity;
  const fadeS = end === 'start' ? piece.fadeInS : piece.fadeOutS;
  // Half of a fade may be too dark to tell from black.
  return fadeS > 0 ? Math.ceil((fadeS * fps) / 2) + 1 : 0;
}

/** The frame from which the picture stands to the end, where the last piece is longer and would move. */
function stillEnd({ repeats, frames, fps }: PictureMeasured, last: Piece | undefined): number | undefined {
  const run = repeats.still.at(-1);
  if (!run || run.toFrame < frames - 2 || !last?.shot || last.speed === 0 || last.lengthS === undefined)
    return undefined;
  const pieceFrom = frames - last.lengthS * fps;
  return run.fromFrame > pieceFrom + 2 ? run.fromFrame : undefined;
}
