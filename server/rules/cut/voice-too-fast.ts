import { countWords, sayingS } from '../../calc/reading.ts';
import { filmTimeLike, sameTimeS } from '../../core/derived/edit.ts';
import type { Film, Sound } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { num, secondsText, quoted } from '../../core/say.ts';

export default defineRule({
  id: 'voice-too-fast',
  family: 'cut',
  summary: 'A voice has less time than its words take.',
  severity: 'warning',
  sources: ['common practice, no source (150 words a minute is calm, 180 brisk)'],
  limits: {
    pace: { quantity: 'pace', default: '180 wpm', meaning: 'The fastest that words are spoken and followed.' },
    calm: { quantity: 'pace', default: '150 wpm', meaning: 'The pace for which time is offered.' },
  },
  messages: {
    fast: '{text} has {words} words in {length}: {pace} a minute, and over {most} nobody follows. {give}ut it to {fit} words.',
  },
  film(film, { limits, report }) {
    for (const sound of film.sounds) {
      const { words, lengthS, length } = sound;
      if (!words || !lengthS || sayingS(words.value, limits.pace) <= lengthS * slack) continue;
      const count = countWords(words.value);
      const needed = sayingS(words.value, limits.calm);
      const freeS = freeUntilS(sound, film) - sound.atS;
      const hasRoom = needed <= freeS + sameTimeS;
      report({
        message: 'fast',
        data: {
          text: quoted(words.value.trim().replace(/\s+/g, ' ')),
          words: count,
          length: secondsText(lengthS),
          pace: num((count * 60) / lengthS, 0),
          most: num(limits.pace, 0),
          give: hasRoom
            ? `Give it ${num(Math.ceil(needed * 10 - 1e-6) / 10, 1)} s, or c`
            : `Only ${num(freeS, 1)} s are free there: c`,
          fit: Math.max(1, Math.floor((Math.max(lengthS, hasRoom ? 0 : freeS) * limits.calm) / 60 + 1e-9)),
        },
        at: length ?? words,
        excess: count / lengthS,
        fixes: () => longer(sound, film, needed),
      });
    }
  },
});

/** A word or so more is said a little faster. */
const slack = 1.05;

/** When the next voice begins, or the film ends. */
function freeUntilS(sound: Sound, film: Film): number {
  const next = film.sounds.flatMap((one) => (one !== sound && one.words && one.atS > sound.atS ? [one.atS] : []));
  return Math.min(film.cutS ?? Infinity, ...next);
}

/** None where it would run into the next voice, or past the film's end. */
function longer(sound: Sound, film: Film, neededS: number): FixIdea[] {
  if (sound.atS + neededS > freeUntilS(sound, film) + sameTimeS) return [];
  const text = filmTimeLike(sound.length, neededS, film, 'up');
  return text ? [set(`Give it ${text}`, [sound, 'length', text])] : [];
}
