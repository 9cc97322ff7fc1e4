import { type DayPlan, dayPlans } from '../../core/derived/schedule.ts';
import { batterySharings } from '../../core/derived/supplies.ts';
import type { Battery } from '../../core/film.ts';
import { type Context, defineRule, type Limit } from '../../core/rule.ts';
import { hoursText, listText, num, quoted } from '../../core/say.ts';

const messages = {
  runsOut:
    '{day}: {device} draws {draw} W for about {time}, {needed} Wh; {source} {give} {usable} Wh ({share} % of {total}). {more}',
  shared:
    '{day}: {devices} take {needed} Wh from the same batteries, and {source} {give} {usable} Wh ({share} % of {total}). {more}',
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
      for (const sharing of batterySharings(plan, film, context.limits.usable)) check(plan, sharing, context);
    }
  },
});

type BatterySharing = ReturnType<typeof batterySharings>[number];

function check(plan: DayPlan, { users, supplies: batteries }: BatterySharing, { limits, report }: Ctx): void {
  if (batteries.some((one) => !one.energy)) return;
  const sharedWh = batteries.reduce((sum, one) => sum + one.energy!.value * one.count, 0);
  const missingWh = users.reduce((sum, one) => sum + one.restWh, 0) - sharedWh * limits.usable;
  const neededWh = users.reduce((sum, one) => sum + one.needWh, 0);
  if (missingWh <= neededWh * 1e-6) return;
  const only = users.length === 1 ? users[0]!.device : undefined;
  const own = only && only.ownWh > 0 ? ['its own battery'] : [];
  const packs = batteries.map((one) => (one.count > 1 ? `${one.count} × ${quoted(one.name)}` : quoted(one.name)));
  const totalWh = sharedWh + (only?.ownWh ?? 0);
  const data = {
    day: plan.day ? `Day ${plan.called}` : 'All shots',
    source: listText([...own, ...packs]),
    give: own.length + batteries.reduce((sum, one) => sum + one.count, 0) === 1 ? 'gives' : 'give',
    usable: num(totalWh * limits.usable),
    share: num(limits.usable * 100),
    total: num(totalWh),
    more: moreText(batteries, missingWh, limits.usable),
  };
  const at = plan.day?.batteries?.[0] ?? plan.day ?? plan.shots[0]!;
  if (only) {
    const time = hoursText(users[0]!.onS);
    const device = { device: quoted(only.name), draw: num(only.drawW), time, needed: num(neededWh) };
    report({ message: 'runsOut', data: { ...data, ...device }, at });
  } else {
    const devices = listText(users.map(({ device, restWh }) => `${quoted(device.name)} (${num(restWh)} Wh)`));
    report({ message: 'shared', data: { ...data, devices, needed: num(missingWh + sharedWh * limits.usable) }, at });
  }
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
