import { defineRule } from '../../core/rule.ts';
import { dateText } from '../../core/say.ts';

export default defineRule({
  id: 'days-out-of-order',
  family: 'logistics',
  summary: 'A shooting day stands below a later one.',
  severity: 'warning',
  sources: ['dates in the spec'],
  messages: {
    order:
      '{day} stands below {before}, which is {days} later: days are numbered and printed as they stand, so it would be worked from in the wrong order. Mend the date, or move it up.',
  },
  film({ schedule }, { report }) {
    const days = schedule.flatMap(({ day }) => day ?? []);
    for (const [index, day] of days.entries()) {
      const before = days[index - 1];
      if (!before || day.value >= before.value) continue;
      const later = before.value - day.value;
      report({
        message: 'order',
        data: {
          day: dateText(day.value),
          before: dateText(before.value),
          days: later === 1 ? '1 day' : `${later} days`,
        },
        at: day,
        related: [{ start: before.start, end: before.end, message: 'the day above it' }],
      });
    }
  },
});
