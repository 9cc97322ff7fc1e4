import { energyWh } from '../../calc/data.ts';
import { type DayPlan, dayPlans } from '../../core/derived/schedule.ts';
import { batteriesFor, type Device, devicesOf, onS } from '../../core/derived/supplies.ts';
import type { Battery, Film } from '../../core/film.ts';
import { type Context, defineRule, type Limit } from '../../core/rule.ts';
import { hoursText, listText, num, quoted } from '../../core/say.ts';

const messages = {
  runsOut:
    '{day}: {device} draws {draw} W for about {time}, {needed} Wh; {source} {give} {usable} Wh ({share} % of {total}). {more}',
} as const;

type Ctx = Context<typeof messages, { usable: Limit }>;

export default defineRule({
  id: 'battery-runs-out',
  family: 'logistics',
  summary: 'Batteries of the camera or a lamp do not last for the shots of a day.',
  severity: 'warning',
  sources: ['watts × hours', '80 % usable for age and cold: common practice, no source'],
  limits: {
    usable: { quantity: 'share', default: '80 %', meaning: 'Share of the marked energy that is counted on.' },
  },
  messages,
  film(film, context) {
    for (const plan of dayPlans(film)) {
      for (const device of devicesOf(plan)) check(plan, device, film, context);
    }
  },
});

function check(plan: DayPlan, device: Device, film: Film, { limits, report }: Ctx): void {
  const batteries = batteriesFor(plan, device.gear, film);
  if (batteries.some((one) => !one.energy)) return;
  const total = batteries.reduce((sum, one) => sum + one.energy!.value * one.count, device.ownWh);
  if (total === 0) return;
  const timeS = onS(device, film);
  const needed = energyWh(device.drawW, timeS / 3600);
  const usable = total * limits.usable;
  if (needed <= usable * (1 + 1e-6)) return;
  const packs = batteries.map((one) => (one.count > 1 ? `${one.count} × ${quoted(one.name)}` : quoted(one.name)));
  const own = device.ownWh > 0 ? ['its own battery'] : [];
  report({
    message: 'runsOut',
    data: {
      day: plan.day ? `Day ${plan.number}` : 'All shots',
      device: quoted(device.name),
      draw: num(device.drawW),
      time: hoursText(timeS),
      needed: num(needed),
      source: listText([...own, ...packs]),
      give: own.length + batteries.reduce((sum, one) => sum + one.count, 0) === 1 ? 'gives' : 'give',
      usable: num(usable),
      share: num(limits.usable * 100),
      total: num(total),
      more: moreText(batteries, needed - usable, limits.usable),
    },
    at: plan.day?.batteries?.[0] ?? plan.day ?? plan.shots[0]!,
  });
}

function moreText(batteries: readonly Battery[], missingWh: number, usable: number): string {
  const largest = batteries.reduce<Battery | undefined>(
    (best, one) => (one.energy!.value > (best?.energy?.value ?? 0) ? one : best),
    undefined,
  );
  if (!largest) return 'Run it on mains, or charge it on the day.';
  const count = Math.ceil(missingWh / (largest.energy!.value * usable) - 1e-9);
  return `${count} more of ${quoted(largest.name)}, mains, or charging on the day.`;
}
