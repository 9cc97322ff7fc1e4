import type { Film } from '../../core/film.ts';
import { type Context, defineRule, type Limit } from '../../core/rule.ts';
import { listText, num, quoted } from '../../core/say.ts';
import { careful } from './caution-text.ts';

/** Watt-hours: free in the cabin up to the first, with the airline's approval up to the second, and not above. */
const freeWh = 100;
const mostWh = 160;
/** Two spares, and one in what it drives. */
const mostPacks = 3;

const messages = {
  charging:
    'Batteries are charged with nobody there. Faults are rare and fierce: charge them watched, on something that does not burn, away from cloth and the way out, and none that is dented or swollen.{said} {closing}',
  tooLarge:
    '{batteries}: over 160 Wh, and not taken as passenger baggage. Send them as freight, rent them there, or take several of up to 100 Wh. {closing}',
  approval:
    '{batteries}: between 100 and 160 Wh. The airline must approve, two spares at most, cabin only, contacts covered. Several of up to 100 Wh need no approval. {closing}',
  tooMany:
    "{batteries}: {count} between 100 and 160 Wh. One in the camera and two spares are the most, with the airline's approval, in the cabin only. Several of up to 100 Wh need no approval. {closing}",
  hold: '{batteries} in the hold: spare lithium batteries travel in the cabin only, contacts covered. {closing}',
} as const;

type Ctx = Context<typeof messages, Record<string, Limit>>;

export default defineRule({
  id: 'battery-hazard',
  family: 'care',
  summary: 'Batteries are charged with nobody there, or would not be let onto the flight.',
  severity: 'warning',
  sources: ['49 CFR 175.10(a)(18)', 'CASA, batteries in passenger baggage', 'charging: common practice, no source'],
  messages,
  film(film, context) {
    checkCharging(film, context);
    checkFlight(film, context);
  },
});

function checkCharging(film: Film, { report }: Ctx): void {
  const charging = film.care?.charging;
  if (charging?.value !== 'unwatched') return;
  const { severity, data } = careful(film, 'battery', ['charging-watched']);
  report({ message: 'charging', severity, data, at: charging });
}

interface Pack {
  readonly name: string;
  readonly wh: number;
  readonly count: number;
}

/** Batteries of the schedule's days where they name any, else all of the kit. */
function packs(film: Film): Pack[] {
  const named = film.schedule.flatMap((day) => day.batteries?.map((val) => val.value) ?? []);
  const names = named.length > 0 ? new Set(named) : film.kit.batteries.keys();
  return [...names].flatMap((name) => {
    const battery = film.kit.batteries.get(name);
    return battery?.energy ? [{ name, wh: battery.energy.value, count: battery.count }] : [];
  });
}

function checkFlight(film: Film, { report }: Ctx): void {
  const at = film.care?.travelByAir;
  if (!at || at.value === 'none') return;
  const all = packs(film);
  const { closing } = careful(film, 'battery').data;
  const texts = (some: readonly Pack[]) => listText(some.map((one) => `${quoted(one.name)} (${num(one.wh)} Wh)`));
  const large = all.filter((one) => one.wh > mostWh);
  if (large.length > 0) report({ message: 'tooLarge', data: { batteries: texts(large), closing }, at });
  const middle = all.filter((one) => one.wh > freeWh && one.wh <= mostWh);
  const count = middle.reduce((sum, one) => sum + one.count, 0);
  if (count > mostPacks) report({ message: 'tooMany', data: { batteries: texts(middle), count, closing }, at });
  else if (count > 0) report({ message: 'approval', data: { batteries: texts(middle), closing }, at });
  if (at.value === 'hold' && all.length > 0) report({ message: 'hold', data: { batteries: texts(all), closing }, at });
}
