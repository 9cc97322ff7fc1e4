import { civilTwilightDeg, highestSunDeg } from '../../calc/sun.ts';
import type { Range } from '../../core/document/node.ts';
import { daylightShare, givesDaylight, ruling } from '../../core/derived/daylight.ts';
import { begins, takesS } from '../../core/derived/schedule.ts';
import type { Film, Shot, Val } from '../../core/film.ts';
import { defineRule } from '../../core/rule.ts';
import { clockText, dateText, num, percentText, quoted } from '../../core/say.ts';
import type { Ends, Lux } from '../../core/units.ts';

export default defineRule({
  id: 'daylight-gone',
  family: 'logistics',
  summary: 'Light from a window is counted on at an hour at which it is dark outside.',
  severity: 'warning',
  sources: [
    'Approximate Solar Coordinates (U.S. Naval Observatory); civil twilight: the sun 6° under the horizon',
    'about 3 lx outdoors at its end: from memory',
    'ends of the countries: from memory',
    'common practice, no source (plans run three quarters of an hour early or late)',
  ],
  limits: {
    least: { quantity: 'lux', default: '10 lx', meaning: 'Less light may as well come from the street.' },
  },
  messages: {
    dark: '{shot}: {light} is planned{share}, and by the order of the day it is filmed at about {time} on {day}, when the sun is {depth}° or more under the horizon in all of {country}: it is dark outside. Film it by day, or light it with a lamp.',
  },
  shot(shot, { film, limits, report }) {
    const country = film.region?.value.country;
    const window = country ? windowOf(shot, limits.least) : undefined;
    const when = window && filmedAt(shot, film);
    const highest = when && highestIn(country!, when);
    if (!window || !when || highest === undefined || highest >= civilTwilightDeg) return;
    const share = daylightShare(shot);
    report({
      message: 'dark',
      severity: share >= ruling ? 'warning' : 'info',
      data: {
        shot: shot.name,
        light: window.what,
        share: share > 0 ? `, ${percentText(share)} of the light` : '',
        time: clockText(when.begun),
        day: dateText(when.day.value),
        depth: num(-highest, 0),
        country: country!,
      },
      at: window.at,
      cause: window.at,
      excess: share,
    });
  },
});

/** A window that is lit, or what is said to come in by one. */
function windowOf({ lit, room }: Shot, leastLx: Lux): { readonly what: string; readonly at: Range } | undefined {
  const placed = lit.find((one) => givesDaylight(one) && !one.bounces);
  if (placed) return { what: `light of ${quoted(placed.name)}`, at: { start: placed.start, end: placed.end } };
  const light = room?.light;
  if (!light || room.source !== 'window' || !room.fields.said('source') || light.value < leastLx - 1e-6)
    return undefined;
  return { what: `${light.text} of daylight`, at: { start: light.start, end: light.end } };
}

interface When {
  readonly day: Val<number>;
  /** Minutes of its day. */
  readonly begun: number;
  /** From when to when it may be filmed. */
  readonly within: Ends;
}

/** No day keeps its times. */
const earlyOrLateMinutes = 45;

function filmedAt(shot: Shot, film: Film): When | undefined {
  const begin = begins(film).get(shot);
  const { day, hours } = begin?.plan.day ?? {};
  if (!begin || !day || !hours || hours.value.from >= hours.value.to) return undefined;
  const { from, to } = hours.value;
  const begun = from + begin.startS / 60;
  const inDay = (minutes: number) => Math.max(from, Math.min(to, minutes));
  const within = {
    from: inDay(begun - earlyOrLateMinutes),
    to: inDay(begun + takesS(shot, film) / 60 + earlyOrLateMinutes),
  };
  return { day, begun: inDay(begun), within };
}

/** The sun rises or falls between the two: at one of them it is highest, or day lies between. */
function highestIn(country: string, { day, within: { from, to } }: When): number | undefined {
  const heights = [from, (from + to) / 2, to].map((minutes) => highestSunDeg(country, day.value, minutes / 60));
  return heights.reduce((most, one) => (most === undefined || one === undefined ? undefined : Math.max(most, one)));
}
