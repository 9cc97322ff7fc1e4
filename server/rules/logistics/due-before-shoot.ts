import type { Day, Film, Val } from '../../core/film.ts';
import { defineRule } from '../../core/rule.ts';
import { dateText } from '../../core/say.ts';

export default defineRule({
  id: 'due-before-shoot',
  family: 'logistics',
  summary: 'The files are owed before the last day of the shoot, or the film goes out before they are owed.',
  severity: 'error',
  sources: ['dates in the spec'],
  messages: {
    filmed:
      'The files are owed on {due}, and filming goes on until {day}: {days} too late. Film earlier, or ask for another date.',
    sameDay:
      'The files are owed on {due}, the last day of the shoot: nothing is left for cut, grade and sound. Film earlier, or ask for another date.',
    shown:
      '{deliverable}: it goes out on {first}, and the files are owed on {due} only. Ask the client which date holds.',
  },
  film(film, { report }) {
    const due = film.brief?.due;
    if (!due) return;
    const last = lastDay(film);
    const data = { due: dateText(due.value) };
    if (last && last.value > due.value) {
      const days = last.value - due.value;
      const texts = { day: dateText(last.value), days: `${days} ${days === 1 ? 'day' : 'days'}` };
      report({ message: 'filmed', data: { ...data, ...texts }, at: due, related: [theDay(last)] });
    } else if (last && last.value === due.value) {
      report({ message: 'sameDay', data, at: due, severity: 'warning', related: [theDay(last)] });
    }
    for (const { name, published } of film.deliverables.values()) {
      if (!published || published.value.from >= due.value) continue;
      const texts = { deliverable: name, first: dateText(published.value.from) };
      report({ message: 'shown', data: { ...data, ...texts }, at: published, severity: 'warning' });
    }
  },
});

function lastDay({ schedule }: Film): Val<number> | undefined {
  return schedule
    .flatMap(({ day }: Day) => day ?? [])
    .reduce<Val<number> | undefined>((last, day) => (last && last.value >= day.value ? last : day), undefined);
}

function theDay({ start, end }: Val<number>) {
  return { start, end, message: 'the last day of the shoot' };
}
