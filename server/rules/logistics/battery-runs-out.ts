import { energyWh } from '../../calc/data.ts';
import { type DayPlan, dayPlans } from '../../core/derived/schedule.ts';
import { batterySharings, type Need } from '../../core/derived/supplies.ts';
import type { Battery } from '../../core/film.ts';
import { type Context, defineRule, type Limit } from '../../core/rule.ts';
import { hoursText, listText, num, quoted } from '../../core/say.ts';
import type { Share } from '../../core/units.ts';

const messages = {
  runsOut:
    '{day}: {device} draws {draw} W for about {time}, {needed} Wh; {source} {give} {usable} Wh ({share} % of {total}). {more}',
  shared:
    '{day}: {devices} take {needed} Wh from the same batteries, and {source} {give} {usable} Wh ({share} % of {total}). {more}',
  building:
    '{day}: {device} draws {draw} W, and {source} {give} {usable} Wh ({share} % of {total}), which is {lasts}. Its takes need about {time}, but what it is lit in takes {build} to build: left on all along it is {all} Wh, {charges} times as much as is there. Switch it off while you build, run it on mains meanwhile, or charge in between.',
} as const;

type Ctx = Context<typeof messages, { usable: Limit }>;

/** A set-up is lit for the second half of its building, when lamps are set and looked at (common practice, no source). */
const litInBuild: Share = 0.5;

export default defineRule({
  id: 'battery-runs-out',
  family: 'logistics',
  summary: 'Batteries of the camera or a lamp do not last for the shots of a day.',
  severity: 'warning',
  sources: ['watts × hours', '80 % usable for age and cold, lit for half of a build: common practice, no source'],
  limits: {
    usable: { quantity: 'share', default: '80 %', meaning: 'Share of the marked energy that is counted on.' },
  },
  messages,
  film(film, context) {
    for (const plan of dayPlans(film)) {
      for (const sharing of batterySharings(plan, film, context.limits.usable)) {
        if (sharing.supplies.every((one) => one.energy)) check(plan, sharing, context);
      }
    }
  },
});

type BatterySharing = ReturnType<typeof batterySharings>[number];

function check(plan: DayPlan, sharing: BatterySharing, context: Ctx): void {
  const { users, supplies: batteries } = sharing;
  const usable = context.limits.usable;
  const missingWh = users.reduce((sum, one) => sum + one.restWh, 0) - energyOf(batteries) * usable;
  const neededWh = users.reduce((sum, one) => sum + one.needWh, 0);
  const [only, ...others] = users;
  const isAlone = only !== undefined && others.length === 0;
  if (missingWh <= neededWh * 1e-6) {
    if (isAlone) checkBuilding(plan, only, batteries, context);
    return;
  }
  const at = plan.day?.batteries?.[0] ?? plan.day ?? plan.shots[0]!;
  const more = moreText(batteries, missingWh, usable);
  if (isAlone) {
    const data = { ...aloneText(plan, only, batteries, usable), needed: num(neededWh), more };
    context.report({ message: 'runsOut', data, at });
  } else {
    const devices = listText(users.map(({ device, restWh }) => `${quoted(device.name)} (${num(restWh)} Wh)`));
    const needed = num(missingWh + energyOf(batteries) * usable);
    context.report({
      message: 'shared',
      data: { ...sourceText(plan, batteries, 0, usable), devices, needed, more },
      at,
    });
  }
}

/** A lamp that lasts for its takes, but not where it is on while they are built. */
function checkBuilding(plan: DayPlan, need: Need, batteries: readonly Battery[], { film, limits, report }: Ctx): void {
  const { device, needWh } = need;
  const { buildS = 0, drawW } = device;
  const place = film.lamps.get(device.name);
  const buildWh = energyWh(drawW, buildS / 3600);
  const usableWh = (energyOf(batteries) + device.ownWh) * limits.usable;
  if (!place || buildS === 0 || needWh + buildWh * litInBuild <= usableWh * (1 + 1e-6)) return;
  report({
    message: 'building',
    severity: 'info',
    data: {
      ...aloneText(plan, need, batteries, limits.usable),
      lasts: hoursText((usableWh / drawW) * 3600),
      build: hoursText(buildS),
      all: num(needWh + buildWh),
      charges: num((needWh + buildWh) / usableWh),
    },
    at: place.runsOnAt ?? place,
    // The same on each day.
    cause: { start: place.start, end: place.end },
    excess: (needWh + buildWh) / usableWh,
  });
}

function energyOf(batteries: readonly Battery[]): number {
  return batteries.reduce((sum, one) => sum + one.energy!.value * one.count, 0);
}

function aloneText(plan: DayPlan, { device, onS }: Need, batteries: readonly Battery[], usable: Share) {
  return {
    ...sourceText(plan, batteries, device.ownWh, usable),
    device: quoted(device.name),
    draw: num(device.drawW),
    time: hoursText(onS),
  };
}

function sourceText({ day, called }: DayPlan, batteries: readonly Battery[], ownWh: number, usable: Share) {
  const own = ownWh > 0 ? ['its own battery'] : [];
  const packs = batteries.map((one) => (one.count > 1 ? `${one.count} × ${quoted(one.name)}` : quoted(one.name)));
  const totalWh = energyOf(batteries) + ownWh;
  return {
    day: day ? `Day ${called}` : 'All shots',
    source: listText([...own, ...packs]),
    give: own.length + batteries.reduce((sum, one) => sum + one.count, 0) === 1 ? 'gives' : 'give',
    usable: num(totalWh * usable),
    share: num(usable * 100),
    total: num(totalWh),
  };
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
