import type { Sound } from '../../core/film.ts';
import { defineRule, set } from '../../core/rule.ts';
import { num, quoted } from '../../core/say.ts';
import { isVoice } from './voice.ts';

export default defineRule({
  id: 'voice-under-music',
  family: 'cut',
  summary: 'A voice is so little louder than the music under it that its words are hard to follow.',
  severity: 'warning',
  sources: [
    'WCAG 2.2, success criterion 1.4.7 (20 dB between a voice and what is behind it)',
    'common practice, no source (under 10 dB words are lost)',
  ],
  limits: {
    least: { quantity: 'number', default: '10', meaning: 'Least dB of a voice above the music.' },
    spare: { quantity: 'number', default: '3', meaning: 'So many dB less are not told: levels are set by ear.' },
  },
  messages: {
    low: '{sound} is {gain} the music{unsaid}: words are lost in it. From {least} dB above it they are followed, and with 20 dB by everybody.',
  },
  film(film, { limits, report }) {
    const { music } = film;
    if (!music) return;
    const musicS = music.length ? music.length.value - music.trimS : Infinity;
    // The pieces of one track are mixed alike.
    const firsts = new Map<string, Sound>();
    for (const sound of film.sounds) {
      const gain = sound.gain?.value ?? 0;
      if (!isVoice(sound) || sound.atS >= musicS || gain >= limits.least - limits.spare - 1e-6) continue;
      if (!sound.gain && sound.fields.said('gain')) continue;
      const name = (sound.track ?? sound.words)!.value;
      const first = firsts.get(name) ?? sound;
      firsts.set(name, first);
      report({
        message: 'low',
        data: {
          sound: quoted(name),
          gain: gainText(sound),
          least: num(limits.least),
          unsaid: sound.gain ? '' : ' (no `gain` is said)',
        },
        at: sound.gain ?? (sound.track ?? sound.words)!,
        cause: first.gain ?? (first.track ?? first.words)!,
        // Nobody has said how loud: it is mixed at 0 dB, unless by ear.
        severity: sound.gain ? undefined : 'info',
        excess: limits.least - gain,
        fixes: [set('Set gain to 20 dB', [sound, 'gain', '20 dB'])],
      });
    }
  },
});

function gainText({ gain }: Sound): string {
  if (!gain || gain.value === 0) return 'as loud as';
  return `${num(Math.abs(gain.value))} dB ${gain.value < 0 ? 'below' : 'above'}`;
}
