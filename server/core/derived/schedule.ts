/** The shooting days as work: which shots on which day, and how long it all takes. */
import { takesBytes } from '../../calc/data.ts';
import { inTurn } from '../../calc/in-turn.ts';
import { bestOrder, type Order } from '../../calc/order.ts';
import type { CostMatrix } from '../../calc/order-path.ts';
import type { Day, Film, Shot } from '../film.ts';
import { clockText } from '../say.ts';
import type { Bytes, Seconds } from '../units.ts';
import { changeCosts, changesOf, changesWithin, firstBuildMinutes, type Work } from './changes.ts';
import { groupBy } from '../group-by.ts';
import { once, onceIn } from '../memo.ts';
import { fileS } from './time.ts';

export interface DayPlan {
  /** Undefined where the spec has no schedule: all is then one day. */
  readonly day?: Day;
  /** Of its date, from 1: what is worked on one date in the morning and in the evening is one day. */
  readonly number: number;
  /** What tells it from all others: its number, and where that date has several parts, when this one begins. */
  readonly called: string;
  /** In the order of work. */
  readonly works: readonly Work[];
  readonly shots: readonly Shot[];
}

/**
 * Each day's set-ups in the order of work. One day without `order` does what no other day names, as written but for what
 * must come after another; of several such days nobody knows which does what, so that they stay empty. Shots without a
 * set-up are done on the first day where every day says its order.
 */
export const dayPlans = once((film: Film): readonly DayPlan[] => {
  const works = worksOf(film);
  const { schedule } = film;
  if (schedule.length === 0) return [plan(undefined, { number: 1, called: '1' }, worksInTurn(works))];
  const named = new Set(schedule.flatMap((day) => day.order?.map((val) => val.value) ?? []));
  const rest = works.filter((work) => work.name === undefined || !named.has(work.name));
  const open = schedule.filter((day) => !day.order);
  const names = dayNames(schedule);
  const visit = visits(schedule, works);
  return schedule.map((day, index) => {
    const name = names[index]!;
    if (!day.order) return plan(day, name, open.length === 1 ? worksInTurn(rest) : []);
    const ordered = day.order.flatMap((val) => visit(val.value) ?? []);
    const free = index === 0 && open.length === 0 ? rest.filter((work) => work.name === undefined) : [];
    return plan(day, name, [...ordered, ...free]);
  });
});

/**
 * What is filmed when a set-up comes up in the order of the days. One that is built again does what must be done by then, and
 * what is left when it comes up last.
 */
function visits(schedule: readonly Day[], works: readonly Work[]): (setUp: string) => Work | undefined {
  const toCome = schedule.flatMap((day) => day.order?.map((val) => val.value) ?? []);
  const done = new Set<string>();
  return (setUp) => {
    toCome.shift();
    const work = works.find(({ name }) => name === setUp);
    const left = work?.shots.filter(({ name }) => !done.has(name)) ?? [];
    // What no `after` parts is filmed at any of its visits, nobody knows at which.
    if (!work || left.length === 0 || !isParted(work)) return work;
    const shots = toCome.includes(setUp) ? dueOf(readyOf(left, done), work, works) : left;
    for (const { name } of shots) done.add(name);
    return shots.length === 0 ? undefined : { ...work, shots };
  };
}

/** Of what may be filmed now, what waits for nothing or is waited for elsewhere; else one, so that no visit is in vain. */
function dueOf(ready: readonly Shot[], work: Work, works: readonly Work[]): readonly Shot[] {
  const others = works.filter((other) => other !== work).flatMap(({ shots }) => shots);
  const wanted = new Set(others.flatMap(({ after }) => after.map(({ value }) => value)));
  const due = ready.filter(({ name, after }) => after.length === 0 || wanted.has(name));
  return due.length > 0 ? due : ready.slice(0, 1);
}

/** Must a shot of it come after one of another set-up? */
function isParted({ shots }: Work): boolean {
  const own = new Set(shots.map(({ name }) => name));
  return shots.some(({ after }) => after.some(({ value }) => !own.has(value)));
}

/** Those whose forerunners are done, in turn: `shots` are in the order that `after` asks for. */
function readyOf(shots: readonly Shot[], done: ReadonlySet<string>): Shot[] {
  const now = new Set(done);
  return shots.filter(({ name, after }) => {
    const isReady = after.every(({ value }) => now.has(value));
    if (isReady) now.add(name);
    return isReady;
  });
}

type DayName = Pick<DayPlan, 'number' | 'called'>;

function plan(day: Day | undefined, name: DayName, works: readonly Work[]): DayPlan {
  const shots: Shot[] = [];
  for (const work of works) for (const shot of work.shots) shots.push(shot);
  return { ...(day && { day }), ...name, works, shots };
}

/** A day without a date is one of its own. */
function dayNames(schedule: readonly Day[]): DayName[] {
  const dates = new Map<number | Day, { number: number; parts: number }>();
  return schedule.map((day) => {
    const key = day.day?.value ?? day;
    const date = dates.get(key) ?? { number: dates.size + 1, parts: 0 };
    dates.set(key, date);
    date.parts++;
    const { number } = date;
    if (date.parts === 1) return { number, called: String(number) };
    const which = day.hours ? ` from ${clockText(day.hours.value.from)}` : `, part ${date.parts}`;
    return { number, called: `${number}${which}` };
  });
}

function worksOf(film: Film): Work[] {
  const bySetUp = new Map<string | undefined, Shot[]>();
  for (const shot of film.shots.values()) {
    const name = shot.setUpName?.value;
    const shots = bySetUp.get(name);
    if (shots) shots.push(shot);
    else bySetUp.set(name, [shot]);
  }
  const works: Work[] = [...film.setUps.values()].map((setUp) => ({
    name: setUp.name,
    shots: shotsInTurn(bySetUp.get(setUp.name) ?? []),
    ...(setUp.build && { buildMinutes: setUp.build.value / 60 }),
  }));
  const free = shotsInTurn(bySetUp.get(undefined) ?? []);
  return [...works, ...(free.length > 0 ? [{ shots: free }] : [])].filter((work) => work.shots.length > 0);
}

/** As written, but for what must come after another of the same set-up. */
function shotsInTurn(shots: readonly Shot[]): Shot[] {
  const byName = new Map(shots.map((shot) => [shot.name, shot]));
  return inTurn(shots, ({ after }) => after.flatMap((val) => byName.get(val.value) ?? []));
}

function worksInTurn(works: readonly Work[]): Work[] {
  const pairs = groupBy(saidAfter(works), ([, then]) => [works[then]!]);
  return inTurn(works, (work) => (pairs.get(work) ?? []).map(([first]) => works[first]!));
}

/** What fills a day, in seconds. */
export interface DayTime {
  readonly buildS: Seconds;
  readonly changesS: Seconds;
  readonly takesS: Seconds;
  readonly cleaningS: Seconds;
  readonly breaksS: Seconds;
  readonly totalS: Seconds;
}

const shinyCleaningS: Seconds = 120;
const liquidResetS: Seconds = 300;
/** Whoever works for longer has a break (Directive 2003/88/EC, article 4). */
const workedWithoutBreakS: Seconds = 6 * 3600;

/** What comes between two takes; liquids take 5 minutes to clear where nothing is said. */
export function betweenTakesS(shot: Shot, film: Film): Seconds {
  const wet = film.product.hazards.some((val) => val.value === 'liquid') && shot.action !== undefined;
  return wet && !shot.fields.said('reset') ? Math.max(shot.resetS, liquidResetS) : shot.resetS;
}

/** What lies between all takes of a shot: after the last one nothing is made ready again. */
export function resetsS(shot: Shot, film: Film): Seconds {
  return Math.max(0, shot.takes - 1) * betweenTakesS(shot, film);
}

/** From the beginning of the first take of a shot to the end of the last. */
export const takesS = onceIn(
  (shot: Shot, film: Film): Seconds => shot.takes * (shot.record?.value ?? 0) + resetsS(shot, film),
);

/** The first build, all changes in this order, takes, cleaning of what shines, and the breaks that are written. */
export function dayTime({ day, works, shots }: DayPlan, film: Film): DayTime {
  const buildS = works.length > 0 ? firstBuildOf(works) * 60 : 0;
  const within = works.reduce((sum, work) => sum + changesWithin(work), 0);
  const changesS = (changesOf(works) + within) * 60;
  const shotsS = shots.reduce((sum, shot) => sum + takesS(shot, film), 0);
  const shiny = ['glossy', 'metallic', 'transparent'].includes(film.product.finish);
  const cleaningS = shiny ? works.length * shinyCleaningS : 0;
  const workS = buildS + changesS + shotsS + cleaningS;
  const breaksS = day?.breaksS ?? 0;
  return { buildS, changesS, takesS: shotsS, cleaningS, breaksS, totalS: workS + breaksS };
}

/** Is a break missing? What takes a picture now and then runs by itself. */
export function lacksBreak(plan: DayPlan, film: Film): boolean {
  if (plan.day?.fields.said('breaks')) return false;
  const aloneS = plan.shots.reduce((sum, shot) => sum + (shot.interval ? takesS(shot, film) : 0), 0);
  return dayTime(plan, film).totalS - aloneS > workedWithoutBreakS;
}

/** When a shot is begun: minutes of its day in the order of work, builds, changes and takes of all before it counted. */
export interface Begin {
  readonly plan: DayPlan;
  readonly startS: Seconds;
}

export const begins = once((film: Film): ReadonlyMap<Shot, Begin> => {
  const all = new Map<Shot, Begin>();
  for (const plan of dayPlans(film)) {
    let startS = 0;
    for (const [index, work] of plan.works.entries()) {
      const before = plan.works[index - 1];
      startS += 60 * (before ? changesOf([before, work]) : (work.buildMinutes ?? firstBuildMinutes));
      for (const shot of work.shots) {
        all.set(shot, { plan, startS });
        startS += takesS(shot, film);
      }
    }
  }
  return all;
});

/** Bytes of a day's takes on each camera, by the camera's name; shots without a known mode and bitrate are left out. */
export function bytesByCamera(shots: readonly Shot[]): Map<string, Bytes> {
  const bytes = new Map<string, Bytes>();
  for (const shot of shots) {
    const { camera, record, takes } = shot;
    const { body, mode } = camera;
    if (!body || !mode?.bitrate || !record) continue;
    const more = takesBytes(mode.bitrate.value, fileS(shot, record.value), takes);
    bytes.set(body.name, (bytes.get(body.name) ?? 0) + more);
  }
  return bytes;
}

export interface BetterOrder {
  readonly works: readonly Work[];
  readonly nowS: Seconds;
  readonly bestS: Seconds;
}

/** Each day's order with the least changes, what makes a mess last; days with nothing to order are left out. */
export const betterOrders = once((film: Film): ReadonlyMap<DayPlan, BetterOrder> => {
  const orders = new Map<DayPlan, BetterOrder>();
  for (const one of dayPlans(film)) {
    const better = betterOrder(one, film);
    if (better) orders.set(one, better);
  }
  return orders;
});

function betterOrder({ day, works }: DayPlan, film: Film): BetterOrder | undefined {
  if (works.length < 3 || works.some((work) => work.name === undefined)) return undefined;
  const cost = changeCosts(works);
  const best = searched({ cost, before: [...wetLast(works, film), ...saidAfter(works)] }, day);
  if (!best) return undefined;
  const ordered = best.order.map((index) => works[index]!);
  const bestMinutes = best.cost + Math.max(0, firstBuildOf(ordered) - firstBuildOf(works));
  return { works: ordered, nowS: costOf(cost) * 60, bestS: bestMinutes * 60 };
}

/** What the first set-up of a day takes from nothing, in minutes. One that is shorter may have counted on what came before it. */
function firstBuildOf([first]: readonly Work[]): number {
  return first?.buildMinutes ?? firstBuildMinutes;
}

/** Minutes in the order as it is. */
function costOf(cost: CostMatrix): number {
  return cost.slice(1).reduce((sum, _, index) => sum + cost[index]![index + 1]!, 0);
}

interface Question {
  readonly cost: CostMatrix;
  readonly before: readonly (readonly [number, number])[];
}

/** What a day was searched for last, and found: few keys change what it takes from one set-up to another. */
const lastOf = once<Day, { asked?: Question; found?: Order | undefined }>(() => ({}));

function searched(asked: Question, day: Day | undefined): Order | undefined {
  const last = day ? lastOf(day) : {};
  if (!last.asked || !isSame(last.asked.cost, asked.cost) || !isSame(last.asked.before, asked.before)) {
    last.found = bestOrder(asked.cost, asked);
    last.asked = asked;
  }
  return last.found;
}

function isSame(a: readonly (readonly number[])[], b: readonly (readonly number[])[]): boolean {
  return a.length === b.length && a.every((row, index) => row.every((one, place) => one === b[index]![place]));
}

/** Set-ups with a shot that must be filmed before one of another, as the spec says. */
function saidAfter(works: readonly Work[]): [number, number][] {
  const workOf = new Map(works.flatMap(({ shots }, index) => shots.map((shot) => [shot.name, index] as const)));
  return works.flatMap(({ shots }, then) =>
    shots.flatMap(({ after }) =>
      after.flatMap((val): [number, number][] => {
        const first = workOf.get(val.value);
        return first === undefined || first === then ? [] : [[first, then]];
      }),
    ),
  );
}

/** Set-ups in which something happens to a liquid come after those that must stay clean. */
function wetLast(works: readonly Work[], film: Film): [number, number][] {
  if (!film.product.hazards.some((val) => val.value === 'liquid')) return [];
  const wet = works.map((work) => work.shots.some((shot) => shot.action));
  return works.flatMap((_, dry) =>
    wet[dry] ? [] : works.flatMap((__, later): [number, number][] => (wet[later] ? [[dry, later]] : [])),
  );
}
