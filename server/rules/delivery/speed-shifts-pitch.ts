import { semitones } from '../../calc/sound.ts';
import { defineRule, set } from '../../core/rule.ts';
import { num } from '../../core/say.ts';

export default defineRule({
  id: 'speed-shifts-pitch',
  family: 'delivery',
  summary: 'A change of speed carries the kept sound along and shifts its pitch.',
  severity: 'warning',
  sources: ['equal temperament: 12 × log₂(speed) semitones'],
  limits: {
    allow: { quantity: 'number', default: '0.2', meaning: 'Semitones that may pass; more is heard on a held note.' },
  },
  messages: {
    shifts:
      '{shot}: {speed} {way} the kept sound by {semitones} semitones. Keep the sound of a take at 100 %, or correct its pitch.',
  },
  piece(piece, { limits, report }) {
    const { speed, speedAt, sound, pitch, shot } = piece;
    if (sound !== 'keep' || pitch === 'kept' || !shot || !speedAt || speed === 0) return;
    const shift = semitones(speed);
    if (Math.abs(shift) <= limits.allow + 1e-6) return;
    report({
      message: 'shifts',
      data: {
        shot: shot.name,
        speed: speedAt.text,
        way: shift < 0 ? 'lowers' : 'raises',
        semitones: num(Math.abs(shift), 1),
      },
      at: speedAt,
      fixes: [
        set('Correct the pitch in the edit', [piece, 'pitch', 'kept']),
        { title: 'Leave the sound of this piece out', remove: [{ block: piece, key: 'sound' }] },
      ],
    });
  },
});
