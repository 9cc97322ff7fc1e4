import { generalFlashes, redFlashes } from '../../calc/flash.ts';
import type { Film } from '../../core/film.ts';
import { type Context, defineRule, type Limit } from '../../core/rule.ts';
import { careful } from './caution-text.ts';
import { flashAt, flashWords, gravityOf, worstRuns } from './flash-text.ts';

const messages = {
  film: '{what} makes {count} flashes in one second of {where}, over {area}, for {lasts}. The published limit is 3, or less than a quarter of the picture. {slower}, or keep it small.{said} {closing}',
  long: '{what} makes {count} flashes in one second of {where}, over {area}, for {lasts}: at the published limit, and over 5 s of it ask for caution even so. {slower}, or make it shorter.{said} {closing}',
} as const;

export default defineRule({
  id: 'flashes-general',
  family: 'care',
  summary: 'The picture flashes more often than the published limits allow.',
  severity: 'error',
  sources: ['ITU-R BT.1702-3, Guideline 1', 'WCAG 2.2, success criterion 2.3.1'],
  messages,
  film(film, context) {
    checkPictures(film, context);
  },
});

type Ctx = Context<typeof messages, Record<string, Limit>>;

function checkPictures(film: Film, { report }: Ctx): void {
  const red = worstRuns(film, redFlashes, (verdict) => verdict.overLimit);
  const reported = new Set(red.map(({ run }) => run.at.start));
  const { data } = careful(film, 'flash');
  for (const worst of worstRuns(film, generalFlashes, (verdict) => verdict.overLimit)) {
    if (reported.has(worst.run.at.start)) continue;
    reported.add(worst.run.at.start);
    report({ message: 'film', ...gravityOf(worst), data: { ...flashWords(worst), ...data }, at: flashAt(worst) });
  }
  for (const worst of worstRuns(film, generalFlashes, (verdict) => verdict.longSequence && !verdict.overLimit)) {
    if (reported.has(worst.run.at.start)) continue;
    report({ message: 'long', severity: 'info', data: { ...flashWords(worst), ...data }, at: flashAt(worst) });
  }
}
