import { lensAt, sharpZone } from '../../core/derived/optics.ts';
import { farthestShown } from '../../core/derived/reached.ts';
import { cameraMoves, takenS } from '../../core/derived/time.ts';
import type { Piece, Shot } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { lengthText, num, secondsText } from '../../core/say.ts';
import type { Seconds } from '../../core/units.ts';
import { pieceText } from '../framing/framing-text.ts';

export default defineRule({
  id: 'pull-stops-short',
  family: 'cut',
  summary: 'The cut leaves a shot before its focus has come to what it is pulled to.',
  severity: 'info',
  sources: ['Photographic Lenses FAQ, no. 10 (near and far limit)'],
  messages: {
    short:
      '{shot}: focus is pulled from {from} to {to} in {lasts}, and {piece}, which shows most of it, ends {left} before that: it has come to {focus}, where {near} to {far} is sharp, and {to} never is. Start the piece later in the take, hold it longer, or pull faster.',
  },
  shot(shot, { film, report }) {
    const focus = shot.camera.focus?.value;
    if (typeof focus !== 'object' || focus.from === focus.to || cameraMoves(shot) || !shot.actionS) return;
    const most = farthestShown(shot, film);
    const lens = most && lensAt(shot, most.moment);
    const zone = lens && sharpZone(lens, Math.max(most.piece.zoom.from, most.piece.zoom.to));
    if (!zone || (zone.nearMm <= focus.to && focus.to <= zone.farMm)) return;
    const leftS = shot.actionS * (1 - most.moment);
    report({
      message: 'short',
      data: {
        shot: shot.name,
        from: lengthText(focus.from),
        to: lengthText(focus.to),
        lasts: secondsText(shot.actionS),
        piece: pieceText(most.piece),
        left: secondsText(leftS),
        focus: lengthText(lens.focusMm),
        near: lengthText(zone.nearMm),
        far: lengthText(zone.farMm),
      },
      at: shot.camera.focus!,
      related: [{ start: most.piece.start, end: most.piece.end, message: 'shows most of the pull' }],
      excess: leftS,
      fixes: () => later(shot, most.piece, leftS),
    });
  },
});

/** The piece ends with the pull, where the take is long enough. */
function later(shot: Shot, piece: Piece, byS: Seconds): FixIdea[] {
  const fromS = Math.ceil((piece.fromS + byS) * 10 - 1e-6) / 10;
  const isInTake = fromS + (takenS(piece) ?? Infinity) <= (shot.record?.value ?? 0) + 1e-6;
  if (piece.speed <= 0 || !isInTake || fromS >= shot.handlesS + shot.actionS!) return [];
  const text = `${num(fromS, 1)} s`;
  return [set(`Start the piece ${text} into the take (it then ends with the pull)`, [piece, 'from', text])];
}
