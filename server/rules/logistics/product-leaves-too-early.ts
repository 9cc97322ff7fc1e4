import { bytesByCamera, type DayPlan, dayPlans, dayTime } from '../../core/derived/schedule.ts';
import type { Film } from '../../core/film.ts';
import { type Context, defineRule, type Limit } from '../../core/rule.ts';
import { bytesText, dateText, hoursText, listFirst, quoted } from '../../core/say.ts';
import type { Seconds } from '../../core/units.ts';

const messages = {
  gone: 'The product goes back on {returns}, and {what} {are} planned for {day}. Change days, or ask to keep it longer: there is no second chance.',
  notHere: 'The product comes on {arrives}, and {what} {are} planned for {day}. Change days.',
  unchecked:
    'The product goes back on {returns}, the last day of the shoot, and about {work} of work leave no time for two copies of {bytes} and a look at them (about {look} more in {hours}).',
} as const;

type Ctx = Context<typeof messages, Record<string, Limit>>;

export default defineRule({
  id: 'product-leaves-too-early',
  family: 'logistics',
  summary: 'The product is not there on a shooting day, or goes back before anybody has looked at the takes.',
  severity: 'error',
  sources: ['dates in the spec', '1 h for 100 GB and 30 min to look: common practice, no source'],
  messages,
  film(film, context) {
    // A day that says no order is for filming too, whatever is filmed on it.
    const plans = dayPlans(film).filter((plan) => plan.day?.day && (plan.shots.length > 0 || !plan.day.order));
    for (const plan of plans) checkDay(plan, film, context);
    const last = plans.reduce<DayPlan | undefined>(
      (latest, plan) => (plan.day!.day!.value >= (latest?.day?.day?.value ?? -Infinity) ? plan : latest),
      undefined,
    );
    if (last) checkLook(last, film, context);
  },
});

function checkDay({ day, works }: DayPlan, { product }: Film, { report }: Ctx): void {
  const date = day!.day!;
  const names = works.flatMap((work) => (work.name === undefined ? work.shots.map((shot) => shot.name) : work.name));
  const what = listFirst(names.map(quoted), 4) || 'filming';
  const data = { what, are: names.length > 1 ? 'are' : 'is', day: dateText(date.value) };
  if (product.returns && product.returns.value < date.value) {
    report({ message: 'gone', data: { ...data, returns: dateText(product.returns.value) }, at: date });
  }
  if (product.arrives && product.arrives.value > date.value) {
    report({ message: 'notHere', data: { ...data, arrives: dateText(product.arrives.value) }, at: date });
  }
}

const lookS: Seconds = 1800;
const copyBytesPerS = 100e9 / 3600;

/** Is there time on the day of return to copy the day's takes and look at them? */
function checkLook(plan: DayPlan, film: Film, { report }: Ctx): void {
  const { returns } = film.product;
  const hours = plan.day?.hours;
  if (!returns || !hours || returns.value !== plan.day!.day!.value) return;
  const bytes = [...bytesByCamera(plan.shots).values()].reduce((sum, one) => sum + one, 0);
  const workS = dayTime(plan, film).totalS;
  const moreS = lookS + bytes / copyBytesPerS;
  const hasS = (hours.value.to - hours.value.from) * 60;
  if (hasS <= 0 || workS + moreS <= hasS + 1e-6) return;
  report({
    message: 'unchecked',
    severity: 'info',
    data: {
      returns: dateText(returns.value),
      work: hoursText(workS),
      bytes: bytesText(bytes),
      look: hoursText(moreS),
      hours: hoursText(hasS),
    },
    at: returns,
  });
}
