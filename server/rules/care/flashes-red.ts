import { flashVerdict, generalFlashes, redFlashes } from '../../calc/flash.ts';
import { defineRule } from '../../core/rule.ts';
import { careful } from './caution-text.ts';
import { flashAt, flashWords, gravityOf, type WorstRun, worstRuns } from './flash-text.ts';

export default defineRule({
  id: 'flashes-red',
  family: 'care',
  summary: 'Saturated red comes and goes more often than the published limits allow.',
  severity: 'error',
  sources: [
    'WCAG 2.2, success criterion 2.3.1, red flash',
    'ITU-R BT.1702-3, Guideline 1 (saturated red always counts)',
  ],
  messages: {
    red: '{what} makes {count} flashes of saturated red in one second of {where}, over {area}, for {lasts}. The published limit is 3 for red too, however dim. {slower}, or keep it small{paler}.{said} {closing}',
  },
  film(film, { report }) {
    const { data } = careful(film, 'flash');
    for (const worst of worstRuns(film, redFlashes, (verdict) => verdict.overLimit)) {
      report({
        message: 'red',
        ...gravityOf(worst),
        data: { ...flashWords(worst), paler: palerText(worst), ...data },
        at: flashAt(worst),
      });
    }
  },
});

/** Less red leaves the general limit, which it must keep too. */
function palerText({ run }: WorstRun): string {
  const { overLimit } = flashVerdict(generalFlashes(run.frames, run.fps), run.areaShare, run.fps);
  return overLimit ? '' : ', or take a colour with less red (red under 80 % of it in linear light)';
}
