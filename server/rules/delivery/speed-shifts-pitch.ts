import { semitones } from '../../calc/sound.ts';
import type { Piece } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { num } from '../../core/say.ts';

export default defineRule({
  id: 'speed-shifts-pitch',
  family: 'delivery',
  summary: 'A change of speed carries the kept sound along: it is shifted, stretched or runs backwards.',
  severity: 'warning',
  sources: [
    'equal temperament: 12 × log₂(speed) semitones',
    'common practice, no source (stretched or squeezed to more than twice, sound smears)',
  ],
  limits: {
    allow: { quantity: 'number', default: '0.2', meaning: 'Semitones that may pass; more is heard on a held note.' },
    stretch: {
      quantity: 'number',
      default: '2',
      meaning: 'How many times sound may be stretched or squeezed at its own pitch.',
    },
  },
  messages: {
    shifts:
      '{shot}: {speed} {way} the kept sound by {semitones} semitones. Keep the sound of a take at 100 %, or correct its pitch.',
    stretched:
      '{shot}: at {speed} the kept sound is {way} {times} times with its pitch corrected, so that every blow and click smears. Lay the sound of a take at 100 % under the picture.',
    backwards:
      '{shot}: the piece runs backwards ({speed}), and so does its kept sound. Lay the sound of a take at 100 % under the picture, or leave it out.',
  },
  piece(piece, { limits, report }) {
    const { speed, speedAt, sound, pitch, shot } = piece;
    if (sound !== 'keep' || !shot || !speedAt || speed === 0) return;
    const shift = semitones(speed);
    const times = speed < 0 ? 1 : Math.max(speed, 1 / speed);
    const isStretched = times > limits.stretch * (1 + 1e-6);
    const data = { shot: shot.name, speed: speedAt.text };
    const common = { at: speedAt, excess: Math.abs(shift) };
    if (speed < 0) {
      report({ message: 'backwards', data, ...common, fixes: [withoutSound(piece)] });
    } else if (pitch !== 'kept' && Math.abs(shift) > limits.allow + 1e-6) {
      const mends = [set('Correct the pitch in the edit', [piece, 'pitch', 'kept']), withoutSound(piece)];
      report({
        message: 'shifts',
        data: { ...data, way: shift < 0 ? 'lowers' : 'raises', semitones: num(Math.abs(shift), 1) },
        ...common,
        fixes: isStretched ? mends.reverse() : mends,
      });
    } else if (pitch === 'kept' && isStretched) {
      report({
        message: 'stretched',
        severity: 'info',
        data: { ...data, way: shift < 0 ? 'stretched' : 'squeezed', times: num(times, 1) },
        ...common,
        fixes: [withoutSound(piece)],
      });
    }
  },
});

function withoutSound(piece: Piece): FixIdea {
  return { title: 'Leave the sound of this piece out', remove: [{ block: piece, key: 'sound' }] };
}
