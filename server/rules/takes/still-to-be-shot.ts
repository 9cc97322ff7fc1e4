import {
  isDone,
  isNewest,
  lastShootingDay,
  mustShowNotShot,
  type ShotSoFar,
  shotsOfCut,
  shotsSoFar,
} from '../../core/derived/shooting.ts';
import { defineRule } from '../../core/rule.ts';
import { dateText, listFirst, quoted } from '../../core/say.ts';
import { isLastChance } from './last-chance.ts';

export default defineRule({
  id: 'still-to-be-shot',
  family: 'takes',
  summary: 'The cut uses shots that nobody has filmed yet, or with fewer takes than planned.',
  severity: 'info',
  sources: ['the cut and `takes` in the spec'],
  messages: {
    open: 'Still to be shot: {shots}.',
    over: '{day} was the last shooting day, and not shot are {shots}. Film them, or take them out of the cut.',
    fewer: 'The takes of {day} are fewer than planned, and none is the best yet: {shots}. Choose one, or film more.',
  },
  sheet(sheet, { film, sheets, today, report }) {
    if (!isNewest(sheet, sheets)) return;
    const said = isLastChance(film, today) ? mustShowNotShot(film, sheets).flatMap(({ shots }) => shots) : [];
    const all = shotsSoFar(film, sheets);
    const open = shotsOfCut(film)
      .filter((shot) => !said.includes(shot))
      .map((shot) => all.get(shot.name)!)
      .filter((one) => !isDone(one));
    if (open.length === 0) return;
    const at = sheet.day ?? sheet.takesAt;
    const last = lastShootingDay(film, sheets);
    const isOver = today !== undefined && last !== undefined && today > last;
    const missing = open.filter(({ takes }) => takes.length === 0);
    if (!isOver) {
      report({ message: 'open', data: { shots: named(open) }, at, excess: open.length });
      return;
    }
    const day = dateText(last);

    if (missing.length > 0)
      report({
        message: 'over',
        severity: 'warning',
        data: { day, shots: named(missing) },
        at,
        excess: missing.length,
      });
    else report({ message: 'fewer', data: { day, shots: named(open) }, at, excess: open.length });
  },
});

const mostNamed = 8;

/** `teeth`, `lid` (1 of 3 takes). */
function named(open: readonly ShotSoFar[]): string {
  const each = open.map(({ shot, takes }) => {
    const made = takes.length === 0 ? '' : ` (${takes.length} of ${shot.takes} takes)`;
    return `${quoted(shot.name)}${made}`;
  });
  return listFirst(each, mostNamed);
}
