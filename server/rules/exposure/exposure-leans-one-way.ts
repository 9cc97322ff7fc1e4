import type { Shot } from '../../core/film.ts';
import { defineRule } from '../../core/rule.ts';
import { num, stopsText } from '../../core/say.ts';
import type { Stops } from '../../core/units.ts';
import { windowAsideText } from './aside-text.ts';
import { fixesForAll } from './exposure-fixes.ts';
import { judgedError, styles, toldStops } from './judged-exposure.ts';

export default defineRule({
  id: 'exposure-leans-one-way',
  family: 'exposure',
  summary: 'Nearly all shots are too dark, or too bright, by less than a shot is told of.',
  severity: 'info',
  sources: ['ISO 2720 (incident light, C = 250)', 'common practice, no source (one shot may be, a whole film is seen)'],
  limits: {
    allow: { quantity: 'stops', default: '0.6 stops', meaning: 'How far the shots may be off on average.' },
    share: { quantity: 'share', default: '80 %', meaning: 'How many of the shots must lean the same way.' },
  },
  messages: {
    leans:
      '{count} of {all} shots come out too {side}, by {off}: no single one says so, and the whole film does.{aside} {way}',
  },
  film(film, { limits, meant, report }) {
    const judged = [...film.shots.values()].flatMap((shot) => {
      const error = judgedError(shot, film);
      if (error === undefined || isBrightLog(shot, error) || styles.some((word) => meant(word, shot))) return [];
      return [{ shot, error }];
    });
    const dark = judged.filter(({ error }) => error < -offStops);
    const bright = judged.filter(({ error }) => error > offStops);
    const most = dark.length > bright.length ? dark : bright;
    if (most.length < fewest || most.length < limits.share * judged.length) return;
    // What is farther off is told of where it is.
    if (most.some(({ error }) => Math.abs(error) > toldStops + 1e-6)) return;
    const sizes = most.map(({ error }) => Math.abs(error)).sort((a, b) => a - b);
    const mean = sizes.reduce((sum, one) => sum + one, 0) / sizes.length;
    if (mean <= limits.allow + 1e-6) return;
    const by = most === dark ? mean : -mean;
    report({
      message: 'leans',
      data: {
        count: most.length,
        all: judged.length,
        side: most === dark ? 'dark' : 'bright',
        off: rangeText(sizes[0]!, sizes.at(-1)!),
        aside: most === dark ? windowAsideText(most[0]!.shot) : '',
        way: `Give all of them ${stopsText(mean)} ${most === dark ? 'more' : 'less'}, by lamps, lens or ISO.`,
      },
      at: most[0]!.shot.camera.iso ?? most[0]!.shot,
      excess: mean,
      shot: most[0]!.shot,
      fixes: () =>
        fixesForAll(
          most.map(({ shot }) => shot),
          film,
          -by,
        ),
    });
  },
});

function rangeText(least: Stops, most: Stops): string {
  const [from, to] = [num(least, 1), stopsText(most)];
  return to.startsWith(`${from} `) ? to : `${from} to ${to}`;
}

/** Log is often exposed brighter, for less noise, and brought back in the grade. */
function isBrightLog({ camera }: Shot, error: Stops): boolean {
  return error > 0 && camera.colourSpace?.value === 'log';
}

/** From here on a shot leans. */
const offStops: Stops = 0.4;
/** Of fewer shots each is looked at by itself. */
const fewest = 3;
