import { turningRpm } from '../../core/derived/time.ts';
import type { Shot } from '../../core/film.ts';
import { defineRule } from '../../core/rule.ts';
import { listText, quoted } from '../../core/say.ts';

export default defineRule({
  id: 'machine-noise-in-take',
  family: 'delivery',
  summary: 'Sound that the cut keeps is recorded while motors run.',
  severity: 'hint',
  sources: [
    'inverse distance: half as far is 6 dB more',
    'common practice, no source (a turntable is about as loud as a music box at arm’s length)',
  ],
  messages: {
    noise:
      '{shot}: {what} while its sound is kept. Record the sound as a take of its own, near the product: at half the distance it is 6 dB louder.',
  },
  shot(shot, { report }) {
    const kept = shot.pieces.find((piece) => piece.sound === 'keep');
    if (!shot.microphoneName || !kept) return;
    const motors = running(shot);
    if (motors.length === 0) return;
    report({
      message: 'noise',
      data: { shot: shot.name, what: listText(motors) },
      at: shot.microphoneName,
      related: kept.soundAt ? [{ start: kept.soundAt.start, end: kept.soundAt.end, message: 'kept here' }] : [],
    });
  },
});

/** Motors that run during the take: what turns without a turntable is turned by hand. */
function running(shot: Shot): string[] {
  const { turn, camera } = shot;
  const table = turn?.table && turningRpm(shot) !== 0 ? [`the turntable ${quoted(turn.table.name)} runs`] : [];
  const slides = [camera.slide, camera.distance].some((one) => one && one.value.from !== one.value.to);
  const slider = camera.support?.travel && slides ? [`the slider ${quoted(camera.support.name)} runs`] : [];
  return [...table, ...slider];
}
