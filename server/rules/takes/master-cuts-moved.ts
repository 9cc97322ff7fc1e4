import { rateFps } from '../../calc/rate.ts';
import { atFrame, masterDecoded } from '../../core/derived/decoded-takes.ts';
import { framesText, shownStretch } from '../../core/derived/edit.ts';
import type { Deliverable, Film, Piece } from '../../core/film.ts';
import { defineRule } from '../../core/rule.ts';
import { quoted } from '../../core/say.ts';

export default defineRule({
  id: 'master-cuts-moved',
  family: 'takes',
  summary: 'A cut of an exported film lies elsewhere than planned.',
  severity: 'warning',
  sources: ['a jump in the decoded picture against the plan of the cut'],
  limits: {
    allow: { quantity: 'number', default: '2', meaning: 'Frames by which a cut may lie elsewhere.' },
  },
  messages: {
    one: '{master}: the cut to {piece} lies at {found}, and {planned} is planned: {off} too {way}. Move it there, or write in the spec where it is now.',
    several:
      '{master}: {count} cuts lie elsewhere than planned, the first of them to {piece}: at {found}, where {planned} is planned ({off} too {way}). If all that follows has moved as far, the piece before it is as much too {length}.',
  },
  master(master, { film, footage, limits, report }) {
    const found = masterDecoded(master, footage);
    const picture = found?.decoded.picture;
    const rate = found?.deliverable.rate?.value ?? film.timeline.rate?.value;
    // At another rate no frame lies where it is planned: that is said by itself.
    if (!found || !picture || !rate || Math.abs(picture.fps / rateFps(rate) - 1) > 0.002) return;
    const moved = movedCuts(
      plannedCuts(found.deliverable, film, picture.fps),
      picture.jumps,
      limits.allow,
      picture.fps,
    );
    const [first] = moved;
    if (!first) return;
    const off = first.found - first.planned;
    const place = (frame: number) => atFrame(frame, found.deliverable, film, picture.fps);
    const data = {
      master: found.name,
      count: moved.length,
      piece: nameOf(first.piece),
      found: place(first.found),
      planned: place(first.planned),
      off: framesText(Math.abs(off)),
      way: off > 0 ? 'late' : 'early',
      length: off > 0 ? 'long' : 'short',
    };
    const { start, end } = first.piece;
    const related = [{ start, end, file: film.fields.file, message: 'planned here' }];
    report({ message: moved.length > 1 ? 'several' : 'one', data, at: found.at, excess: Math.abs(off), related });
  },
});

interface PlannedCut {
  readonly piece: Piece;
  readonly frame: number;
}

/** Cuts without dissolve or fade between different shots, in frames of the deliverable. */
function plannedCuts(deliverable: Deliverable, film: Film, fps: number): PlannedCut[] {
  const stretch = shownStretch(deliverable, film);
  if (!stretch) return [];
  return deliverable.pieces.flatMap((piece, index) => {
    const before = deliverable.pieces[index - 1];
    if (!before || piece.startS === undefined || piece.startS <= stretch.from) return [];
    if (
      piece.dissolveS > 0 ||
      piece.fadeInS > 0 ||
      before.fadeOutS > 0 ||
      before.shotName?.value === piece.shotName?.value
    )
      return [];
    return [{ piece, frame: Math.round((piece.startS - stretch.from) * fps) }];
  });
}

/**
 * Planned cuts where the picture does not jump, with the jump nearest to them that belongs to no other. Where it jumps nowhere
 * near, two shots are so alike that nothing is known.
 */
function movedCuts(planned: readonly PlannedCut[], jumps: readonly number[], allow: number, fps: number) {
  const isNear = (frame: number) => (jump: number) => Math.abs(jump - frame) <= allow;
  const free = jumps.filter((jump) => !planned.some(({ frame }) => isNear(frame)(jump)));
  return planned.flatMap(({ piece, frame }) => {
    if (jumps.some(isNear(frame))) return [];
    const near = free.filter((jump) => Math.abs(jump - frame) <= fps);
    if (near.length === 0) return [];
    const found = near.reduce((best, jump) => (Math.abs(jump - frame) < Math.abs(best - frame) ? jump : best));
    return [{ piece, planned: frame, found }];
  });
}

function nameOf({ shotName, footage, colour }: Piece): string {
  return quoted(shotName?.text ?? footage?.text ?? colour?.text ?? 'the next piece');
}
