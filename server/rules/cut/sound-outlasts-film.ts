import { filmTimeLike, lastHeardS, samePlaceS, sameTimeS } from '../../core/derived/edit.ts';
import type { Film, Sound } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { quoted, secondsText } from '../../core/say.ts';
import { isVoice } from './voice.ts';

export default defineRule({
  id: 'sound-outlasts-film',
  family: 'cut',
  summary: 'A sound starts after the film, or runs past its end.',
  severity: 'warning',
  sources: ['arithmetic'],
  messages: {
    late: '{sound} starts at {from}, and the film is heard until {end}: it is never heard. Start it earlier.',
    outlasts:
      '{sound} runs to {to}, and the film is heard until {end}: {over} of it are lost. Start it earlier, or let it last shorter.',
  },
  film(film, { report }) {
    const endS = film.cutS === undefined ? undefined : lastHeardS(film);
    if (endS === undefined) return;
    const same = samePlaceS(film);
    for (const sound of film.sounds) {
      const { atS, lengthS } = sound;
      // A place that can't be read or counted is none that could be late.
      if (lengthS === undefined || (sound.fields.said('at') && !sound.at)) continue;
      const toS = atS + lengthS;
      if (toS <= endS + same) continue;
      const data = { sound: nameOf(sound), end: secondsText(endS) };
      if (atS >= endS - same) {
        const fixes = earlier(sound, endS, film);
        report({ message: 'late', data: { ...data, from: secondsText(atS) }, at: sound.at ?? sound, fixes });
      } else if (isVoice(sound) || toS - endS > lengthS / 3) {
        const texts = { to: secondsText(toS), over: secondsText(toS - endS) };
        const fixes = [...earlier(sound, endS, film), ...shorter(sound, endS, film)];
        report({ message: 'outlasts', data: { ...data, ...texts }, at: sound.length ?? sound, fixes });
      }
    }
  },
});

function nameOf({ track }: Sound): string {
  return track ? quoted(track.value) : 'The sound';
}

function earlier(sound: Sound, endS: number, film: Film): FixIdea[] {
  const startS = endS - sound.lengthS!;
  if (startS < -sameTimeS) return [];
  const text = startS < sameTimeS ? '0 s' : filmTimeLike(sound.at, startS, film, 'down');
  return text ? [set(`Start it at ${text} (all of it is heard)`, [sound, 'at', text])] : [];
}

function shorter(sound: Sound, endS: number, film: Film): FixIdea[] {
  const text = filmTimeLike(sound.length, endS - sound.atS, film, 'down');
  return text ? [set(`Let it last ${text}`, [sound, 'length', text])] : [];
}
