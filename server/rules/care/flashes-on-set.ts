import type { Val } from '../../core/film.ts';
import { flashes } from '../../core/derived/flashes.ts';
import { defineRule } from '../../core/rule.ts';
import { num, quoted } from '../../core/say.ts';
import type { Hertz } from '../../core/units.ts';
import { careful } from './caution-text.ts';

export default defineRule({
  id: 'flashes-on-set',
  family: 'care',
  summary: 'A lamp or a screen flashes before people on the set.',
  severity: 'warning',
  sources: ['3 to 60 Hz: common practice, no source'],
  messages: {
    set: '{what} flashes at {hz} Hz on the set. Between 3 and 60 Hz that can bring on seizures in some people there, whatever the film shows. Ask everybody first, say so before each take, and keep it short.{said} {closing}',
  },
  film(film, { report }) {
    const { severity, data } = careful(film, 'flash', ['flash-warned']);
    const seen = new Set<number>();
    const check = (what: string, hz: Val<Hertz> | undefined) => {
      if (!hz || hz.value < 3 || hz.value > 60 || seen.has(hz.start)) return;
      seen.add(hz.start);
      report({ message: 'set', severity, data: { what, hz: num(hz.value, 2), ...data }, at: hz });
    };
    for (const shot of film.shots.values()) {
      if (!flashes(shot)) continue;
      for (const lamp of shot.lit) check(quoted(lamp.name), lamp.flashes);
      check('The screen', shot.backdrop?.flashes);
    }
  },
});
