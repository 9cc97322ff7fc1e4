import { generalFlashes, redFlashes } from '../../calc/flash.ts';
import type { Film, Val } from '../../core/film.ts';
import { type Context, defineRule, type Limit } from '../../core/rule.ts';
import { num, quoted } from '../../core/say.ts';
import type { Hertz } from '../../core/units.ts';
import { careful } from './closing.ts';
import { flashes } from '../../core/derived/flashes.ts';
import { flashAt, flashWords, worstRuns } from './flash-words.ts';

const messages = {
  film: '{what} makes {count} flashes in one second of {where}, over {area}, for {lasts}. The published limit is 3, or less than a quarter of the picture. {slower}, or keep it small.{said} {closing}',
  long: '{what} makes {count} flashes in one second of {where}, over {area}, for {lasts}: at the published limit, and over 5 s of it ask for caution even so. {slower}, or make it shorter.{said} {closing}',
  set: '{what} flashes at {hz} Hz on the set. Between 3 and 60 Hz that can bring on seizures in some people there, whatever the film shows. Ask everybody first, say so before each take, and keep it short.{said} {closing}',
} as const;

export default defineRule({
  id: 'flashes-general',
  family: 'care',
  summary: 'The picture, or a lamp on the set, flashes more often than the published limits allow.',
  severity: 'error',
  sources: [
    'ITU-R BT.1702-3, Guideline 1',
    'WCAG 2.2, success criterion 2.3.1',
    '3 to 60 Hz on the set: common practice',
  ],
  messages,
  film(film, context) {
    const shown = checkPictures(film, context);
    checkSet(film, shown, context);
  },
});

type Ctx = Context<typeof messages, Record<string, Limit>>;

/** Returns where the sources stand that were reported, here or for red. */
function checkPictures(film: Film, { report }: Ctx): Set<number> {
  const red = worstRuns(film, redFlashes, (verdict) => verdict.overLimit);
  const reported = new Set(red.map(({ run }) => run.at.start));
  const { data } = careful(film, 'flash');
  for (const worst of worstRuns(film, generalFlashes, (verdict) => verdict.overLimit)) {
    if (reported.has(worst.run.at.start)) continue;
    reported.add(worst.run.at.start);
    report({ message: 'film', data: { ...flashWords(worst), ...data }, at: flashAt(worst) });
  }
  for (const worst of worstRuns(film, generalFlashes, (verdict) => verdict.longSequence && !verdict.overLimit)) {
    if (reported.has(worst.run.at.start)) continue;
    report({ message: 'long', severity: 'info', data: { ...flashWords(worst), ...data }, at: flashAt(worst) });
  }
  return reported;
}

/** Lamps and screens that flash before people, but for those that were reported already. */
function checkSet(film: Film, reported: ReadonlySet<number>, { report }: Ctx): void {
  const { severity = 'warning', data } = careful(film, 'flash', ['flash-warned']);
  const seen = new Set(reported);
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
}
