import { deliverablesOf, usesByRight } from '../../core/derived/rights.ts';
import type { Deliverable, Right } from '../../core/film.ts';
import { type Context, defineRule, type FixIdea, type Limit, set } from '../../core/rule.ts';
import { dateText, quoted } from '../../core/say.ts';
import { namesText, notAdvice } from './rights-text.ts';

const messages = {
  never:
    '{name} may be shown from {from} on and until {until}, which is {days} before that: on no day at all. Swap the two, or look them up. {closing}',
  ends: '{name} may be shown until {until}, but {film} {runs} to {last}: {days} short. {closing}',
  starts: '{name} may be shown from {from} on, but {film} {goes} out on {first}: {days} too early. {closing}',
  soon: '{name} may be shown until {until}, only {days} after {film} {goes} out on {first}. Films stay where they are put. {closing}',
} as const;

export default defineRule({
  id: 'licence-expired',
  family: 'rights',
  summary: 'A paper ends before the film stops being shown, starts after it goes out, or ends before it starts.',
  severity: 'error',
  sources: ['dates in the spec; 30 days are common practice, no source'],
  limits: {
    soon: { quantity: 'number', default: '30', meaning: 'Days that a paper should last after the film goes out.' },
  },
  messages,
  film(film, context) {
    for (const right of film.rights.values()) checkOrder(right, context);
    for (const [name, uses] of usesByRight(film)) {
      const right = film.rights.get(name);
      if (!right || right.owner !== 'licensed' || isNever(right)) continue;
      const dated = deliverablesOf(uses).filter((one) => one.published);
      checkEnd(right, dated, context);
      checkStart(right, dated, context);
    }
  },
});

type Ctx = Context<typeof messages, { soon: Limit }>;

const first = (one: Deliverable) => one.published!.value.from;
const last = (one: Deliverable) => one.published!.value.to;

const staysOn = (place: string) => place === 'web' || place === 'social';

function isNever({ from, until }: Right): boolean {
  return from !== undefined && until !== undefined && from.value > until.value;
}

function checkOrder(right: Right, { report }: Ctx): void {
  const { name, from, until } = right;
  if (!isNever(right)) return;
  const [first, last] = [dateText(until!.value), dateText(from!.value)];
  report({
    message: 'never',
    data: {
      name: quoted(name),
      from: last,
      until: first,
      days: daysText(from!.value - until!.value),
      closing: notAdvice,
    },
    at: until!,
    fixes: [set(`Swap the two: from ${first} until ${last}`, [right, 'from', first], [right, 'until', last])],
  });
}

function checkEnd({ name, until }: Right, dated: readonly Deliverable[], { limits, report }: Ctx): void {
  if (!until) return;
  const base = { name: quoted(name), until: dateText(until.value), closing: notAdvice };
  const short = dated.filter((one) => last(one) > until.value);
  if (short.length > 0) {
    const lastDay = Math.max(...short.map(last));
    const film = namesText(short);
    report({
      message: 'ends',
      data: {
        ...base,
        film,
        runs: short.length > 1 ? 'run' : 'runs',
        last: dateText(lastDay),
        days: daysText(lastDay - until.value),
      },
      at: until,
      excess: lastDay - until.value,
      fixes: () => takeDown(short, until.value),
    });
    return;
  }
  // One day is the day on which it goes out: nothing says how long it stays online; a fair or a broadcast is over then.
  const open = dated.filter(
    (one) => first(one) === last(one) && until.value - first(one) < limits.soon && one.shownOn.some(staysOn),
  );
  if (open.length === 0) return;
  const firstDay = Math.max(...open.map(first));
  const days = daysText(until.value - firstDay);
  const data = {
    ...base,
    film: namesText(open),
    goes: open.length > 1 ? 'go' : 'goes',
    first: dateText(firstDay),
    days,
  };
  report({ message: 'soon', severity: 'warning', data, at: until, fixes: () => takeDown(open, until.value) });
}

function checkStart({ name, from }: Right, dated: readonly Deliverable[], { report }: Ctx): void {
  const early = dated.filter((one) => from && first(one) < from.value);
  if (!from || early.length === 0) return;
  const firstDay = Math.min(...early.map(first));
  report({
    message: 'starts',
    data: {
      name: quoted(name),
      from: dateText(from.value),
      film: namesText(early),
      goes: early.length > 1 ? 'go' : 'goes',
      first: dateText(firstDay),
      days: daysText(from.value - firstDay),
      closing: notAdvice,
    },
    at: from,
    excess: from.value - firstDay,
    fixes: () => putOutLater(early, from.value),
  });
}

/** Shows them until the day on which the paper ends; none where one of them goes out later than that. */
function takeDown(films: readonly Deliverable[], until: number): FixIdea[] {
  const day = dateText(until);
  const title = `Show ${namesText(films)} until ${day} only`;
  return published(title, films, (one) => [first(one), until]);
}

/** Moves the day on which they go out; the last day of a period stays. */
function putOutLater(films: readonly Deliverable[], from: number): FixIdea[] {
  const title = `Put ${namesText(films)} out on ${dateText(from)}`;
  return published(title, films, (one) => [from, first(one) === last(one) ? from : last(one)]);
}

function published(
  title: string,
  films: readonly Deliverable[],
  days: (one: Deliverable) => readonly [number, number],
): FixIdea[] {
  if (films.some((one) => days(one)[0] > days(one)[1])) return [];
  const text = ([start, end]: readonly [number, number]) =>
    start === end ? dateText(start) : `${dateText(start)} to ${dateText(end)}`;
  return [set(title, ...films.map((one) => [one, 'published', text(days(one))] as const))];
}

function daysText(days: number): string {
  return days === 1 ? '1 day' : `${days} days`;
}
