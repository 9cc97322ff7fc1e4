import type { Day, Film, Val } from '../../core/film.ts';
import { defineRule } from '../../core/rule.ts';
import { clockText, dateText } from '../../core/say.ts';

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
      'The files are owed on {due}, the last day of the shoot: only {left} is left for cut, grade and sound. Film earlier, or ask for another date.',
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
      const left = leftOf(last, film);
      report({ message: 'sameDay', data: { ...data, left }, at: due, severity: 'warning', related: [theDay(last)] });
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

/** What of the last day is not filmed in. */
function leftOf(last: Val<number>, { schedule }: Film): string {
  const parts = schedule.filter(({ day }) => day?.value === last.value);
  const ends = parts.map(({ hours }) => (hours && hours.value.to > hours.value.from ? hours.value.to : undefined));
  const end = ends.reduce((latest, one) =>
    latest === undefined || one === undefined ? undefined : Math.max(latest, one),
  );
  return end === undefined ? 'the rest of that day' : `what comes after ${clockText(end)}`;
}

function theDay({ start, end }: Val<number>) {
  return { start, end, message: 'the last day of the shoot' };
}
