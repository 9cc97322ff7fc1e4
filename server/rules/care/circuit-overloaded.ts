import { circuitLimitVa, isContinuousLoad } from '../../calc/mains.ts';
import type { Film } from '../../core/film.ts';
import { defineRule } from '../../core/rule.ts';
import { listText, num, percentText } from '../../core/say.ts';
import { careful } from './caution-text.ts';
import { greatestLoads, type Loads, longestDayHours } from '../../core/derived/electrical-loads.ts';

export default defineRule({
  id: 'circuit-overloaded',
  family: 'care',
  summary: 'More is plugged into one circuit than it is rated for.',
  severity: 'error',
  sources: [
    'NEC 2023 Art. 100, 210.19(A)(1), 210.20(A): 125 % for loads of 3 hours or more',
    'IEC 60364: load within the rating',
    'power factor 0.9 where none is stated: common practice, no source',
  ],
  limits: {
    near: { quantity: 'share', default: '80 %', meaning: 'Share of the rating from which a note is made.' },
  },
  messages: {
    over: '{shot}: {load} VA at once on a circuit of {circuit} at {volts} V, which takes {limit} VA{why}. Move {move} to another circuit.{open}{said} {closing}',
    near: '{shot}: {load} VA at once on a circuit of {circuit} at {volts} V, which takes {limit} VA{why}: {share} of it.{open}{said} {closing}',
  },
  film(film, { limits, report }) {
    const circuit = film.care?.circuit;
    const volts = film.mainsVolts;
    if (!circuit || !volts) return;
    const load = greatestLoads(film);
    if (!load.shot || load.loads.length === 0) return;
    // Where no day says its hours, what may be 3 h or more is counted so.
    const hours = longestDayHours(film);
    const continuous = isContinuousLoad(film.region?.value.country, hours ?? Infinity);
    const limit = circuitLimitVa(volts, circuit.value, continuous);
    // 80 % of the rating is a margin already: nearly that is none too much.
    const least = continuous ? limit * roundedBy : limit * limits.near * (1 - 1e-6);
    if (load.va < least) return;
    const data = {
      shot: load.shot.name,
      load: num(load.va, 0),
      circuit: circuit.text,
      volts: num(volts),
      limit: num(limit, 0),
      why: continuous ? ` (80 % of its rating, because ${hoursText(hours)})` : '',
      open: openText(film, load),
      ...careful(film, 'electric').data,
    };
    if (load.va > limit * (1 + 1e-6)) {
      // A breaker holds its rating; the margin below it is a rule for those who wire.
      const isSure = load.va > circuitLimitVa(volts, circuit.value, false);
      report({
        message: 'over',
        ...(!isSure && { severity: 'warning' as const }),
        data: { ...data, move: toMove(load, load.va - limit) },
        at: circuit,
        excess: load.va / limit,
      });
    } else {
      report({
        message: 'near',
        severity: 'info',
        data: { ...data, share: percentText(load.va / limit) },
        at: circuit,
      });
    }
  },
});

/** What draws are given for is rounded, and power factors are guessed. */
const roundedBy = 1.02;

function hoursText(hours: number | undefined): string {
  return hours === undefined
    ? 'from 3 h on that counts, and no day says its hours'
    : `it carries that for ${num(hours)} h, and from 3 h on that counts`;
}

/** The smallest single load that is enough to move; where none is, the largest ones until it is. */
function toMove({ loads }: Loads, excessVa: number): string {
  const rising = [...loads].sort((a, b) => a.va - b.va);
  const single = rising.find((one) => one.va >= excessVa - 1e-6);
  if (single) return `${single.name} (${num(single.va, 0)} VA)`;
  const moved: string[] = [];
  let left = excessVa;
  for (const one of rising.reverse()) {
    if (left <= 0) break;
    moved.push(`${one.name} (${num(one.va, 0)} VA)`);
    left -= one.va;
  }
  return listText(moved);
}

/** What the sum leaves out. */
function openText(film: Film, { unknown }: Loads): string {
  const draws = unknown.length > 0 ? ` Not counted, because the kit states no draw: ${listText(unknown)}.` : '';
  return film.care?.alsoOnCircuit ? draws : `${draws} What else is on the circuit is not said.`;
}
