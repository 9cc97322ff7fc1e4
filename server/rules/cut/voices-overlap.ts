import { sameTimeS } from '../../core/derived/edit.ts';
import type { Sound } from '../../core/film.ts';
import { defineRule } from '../../core/rule.ts';
import { num, quoted, secondsText } from '../../core/say.ts';

export default defineRule({
  id: 'voices-overlap',
  family: 'cut',
  summary: 'A voice speaks before another has ended, so that neither is followed.',
  severity: 'warning',
  sources: ['arithmetic', 'common practice, no source (a fifth of a second is a breath)'],
  limits: {
    allow: { quantity: 'real-time', default: '0.2 s', meaning: 'How long two voices may be heard at once.' },
  },
  messages: {
    both: '{next} begins at {at}, and {text} runs to {end}: {over} of both at once. Start it later, or let the other last shorter.',
  },
  film(film, { limits, report }) {
    const voices = film.sounds
      .filter(({ words, lengthS }) => words && lengthS !== undefined)
      .sort((a, b) => a.atS - b.atS);
    let before: Sound | undefined;
    for (const voice of voices) {
      const overS = before ? Math.min(endOf(before), endOf(voice)) - voice.atS : 0;
      if (before && overS > limits.allow + sameTimeS && !areVersions(before, voice, limits.allow)) {
        const data = {
          next: textOf(voice),
          at: secondsText(voice.atS),
          text: textOf(before),
          end: secondsText(endOf(before)),
          over: `${num(overS, 1)} s`,
        };
        const related = [{ start: before.start, end: before.end, message: 'the other voice' }];
        report({ message: 'both', data, at: voice.at ?? voice, related, excess: overS });
      }
      if (!before || endOf(voice) > endOf(before)) before = voice;
    }
  },
});

/** Two tracks that begin together are one text in two languages: by a slip they would begin apart. */
function areVersions(before: Sound, voice: Sound, allowS: number): boolean {
  return before.track?.value !== voice.track?.value && voice.atS - before.atS <= allowS;
}

function endOf({ atS, lengthS }: Sound): number {
  return atS + lengthS!;
}

function textOf({ words }: Sound): string {
  const text = words!.value.trim().replace(/\s+/g, ' ');
  return quoted(text.length > 40 ? `${text.slice(0, 39).trimEnd()}…` : text);
}
