import { defineRule, set } from '../../core/rule.ts';
import { num, quoted } from '../../core/say.ts';
import { isVoice } from './voice.ts';

/** From here on the music is below the noise of the room that it is played in (common practice, no source). */
const inaudibleDb = 40;

export default defineRule({
  id: 'sound-drowns-music',
  family: 'cut',
  summary: 'A sound is so loud that the music under it can no longer be heard.',
  severity: 'info',
  sources: [
    'WCAG 2.2, success criterion 1.4.7 (20 dB between a voice and what is behind it)',
    'common practice, no source (40 dB)',
  ],
  limits: {
    most: { quantity: 'number', default: '20', meaning: 'Most dB of a sound above the music.' },
  },
  messages: {
    louder:
      '{sound} is planned {gain} dB above the music, which is {heard} under it; {most} dB is enough even for a voice.{meant}',
  },
  film(film, { limits, report }) {
    if (!film.music) return;
    for (const one of film.sounds) {
      const { gain, track, fields, start, end } = one;
      if (!gain || gain.value <= limits.most + 1e-6) continue;
      const sound = { fields, start, end };
      const [quieter, most] = [`-${num(gain.value)} dB`, `${num(limits.most)} dB`];
      report({
        message: 'louder',
        data: {
          sound: track ? quoted(track.value) : 'The sound',
          gain: num(gain.value),
          heard: gain.value > inaudibleDb ? 'not heard' : 'hardly heard',
          most: num(limits.most),
          meant: isVoice(one) ? '' : ` Is ${quieter} meant?`,
        },
        at: gain,
        ...(gain.value > inaudibleDb && { severity: 'warning' as const }),
        excess: gain.value,
        // A voice that is said to be loud is not meant to be buried.
        fixes: [
          ...(isVoice(one) ? [] : [set(`Set gain to ${quieter}`, [sound, 'gain', quieter])]),
          set(`Set gain to ${most}`, [sound, 'gain', most]),
        ],
      });
    }
  },
});
