import { energyWh } from '../../calc/data.ts';
import { type DayPlan, dayPlans, takesS } from '../../core/derived/schedule.ts';
import type { Battery, Film, Shot } from '../../core/film.ts';
import { fits } from '../../core/resolve/kit.ts';
import { type Context, defineRule, type Limit } from '../../core/rule.ts';
import { hoursText, listText, num, quoted } from '../../core/say.ts';
import type { Seconds, Watts } from '../../core/units.ts';

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
      checkCameras(plan, film, context);
      checkLamps(plan, film, context);
    }
  },
});

/** Hours for which something is on: takes with what comes between them, or four times what is recorded. */
function onS(shots: readonly Shot[], film: Film): Seconds {
  const sum = (seconds: (shot: Shot) => Seconds) => shots.reduce((all, shot) => all + seconds(shot), 0);
  return Math.max(
    sum((shot) => takesS(shot, film)),
    4 * sum((shot) => shot.takes * (shot.record?.value ?? 0)),
  );
}

interface Device {
  readonly name: string;
  readonly drawW: Watts;
  readonly onS: Seconds;
  /** Energy that is built in. */
  readonly ownWh: number;
}

function checkCameras(plan: DayPlan, film: Film, context: Ctx): void {
  const bodies = new Set(plan.shots.flatMap((shot) => shot.camera.body ?? []));
  for (const body of bodies) {
    if (!body.draw) continue;
    const shots = plan.shots.filter((shot) => shot.camera.body === body);
    check(plan, { name: body.name, drawW: body.draw.value, onS: onS(shots, film), ownWh: 0 }, film, context);
  }
}

function checkLamps(plan: DayPlan, film: Film, context: Ctx): void {
  const places = new Set(plan.shots.flatMap((shot) => shot.lit).filter((place) => place.runsOn === 'battery'));
  const seen = new Set<string>();
  for (const place of places) {
    const { lamp, origin } = place;
    if (!lamp?.draw || seen.has(origin)) continue;
    seen.add(origin);
    const shots = plan.shots.filter((shot) => shot.lit.some((one) => one.origin === origin));
    const level = Math.max(place.level?.value.from ?? 1, place.level?.value.to ?? 1);
    const device = {
      name: place.name,
      drawW: lamp.draw.value * level,
      onS: onS(shots, film),
      ownWh: lamp.battery?.value ?? 0,
    };
    check(plan, device, film, context, lamp.name);
  }
}

/** Batteries that the day names, else all of the kit, as far as they fit. */
function batteriesFor({ day }: DayPlan, gear: string, film: Film): Battery[] {
  const names = day?.batteries?.map((val) => val.value) ?? [...film.kit.batteries.keys()];
  return [...new Set(names)].flatMap((name) => film.kit.batteries.get(name) ?? []).filter((one) => fits(one, gear));
}

function check(plan: DayPlan, device: Device, film: Film, { limits, report }: Ctx, gear = device.name): void {
  const batteries = batteriesFor(plan, gear, film);
  if (batteries.some((one) => !one.energy)) return;
  const total = batteries.reduce((sum, one) => sum + one.energy!.value * one.count, device.ownWh);
  const needed = energyWh(device.drawW, device.onS / 3600);
  const usable = total * limits.usable;
  if (total === 0 || needed <= usable * (1 + 1e-6)) return;
  const packs = batteries.map((one) => (one.count > 1 ? `${one.count} × ${quoted(one.name)}` : quoted(one.name)));
  const own = device.ownWh > 0 ? ['its own battery'] : [];
  report({
    message: 'runsOut',
    data: {
      day: plan.day ? `Day ${plan.number}` : 'All shots',
      device: quoted(device.name),
      draw: num(device.drawW),
      time: hoursText(device.onS),
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
