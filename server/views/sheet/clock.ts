/** When what is done on a day: each set-up's building, its takes and what changes between them. */
import { daylightShare, ruling } from '../../core/derived/daylight.ts';
import { changeOf, changesWithin, firstBuildMinutes, type Work } from '../../core/derived/changes.ts';
import { betweenTakesS, type DayPlan, dayTime, takesS } from '../../core/derived/schedule.ts';
import type { Film, Shot } from '../../core/film.ts';
import { clockText, hoursText } from '../../core/say.ts';

/** Minutes since the day's midnight; since the beginning where nobody says when that is. */
export interface Slot {
  readonly name: string;
  /** What is worked on; nothing in a break. */
  readonly work?: Work;
  readonly from: number;
  readonly to: number;
}

/** The works of a day with its breaks, which come once half of the work is done. */
export function slotsOf(plan: DayPlan, film: Film): Slot[] {
  const { works, day } = plan;
  const spent = dayTime(plan, film);
  const cleaning = works.length > 0 ? spent.cleaningS / works.length / 60 : 0;
  const half = (spent.totalS - spent.breaksS) / 120;
  let [worked, at, isRested] = [0, day?.hours?.value.from ?? 0, spent.breaksS <= 0];
  return works.flatMap((work, index) => {
    const build = index === 0 ? (work.buildMinutes ?? firstBuildMinutes) : changeOf(works[index - 1]!, work);
    const takes = work.shots.reduce((sum, shot) => sum + takesS(shot, film), 0) / 60 + changesWithin(work);
    const slot: Slot = {
      work,
      name: work.name ?? (works.length === 1 ? 'all shots' : 'shots without a set-up'),
      from: at,
      to: at + build + takes + cleaning,
    };
    worked += slot.to - slot.from;
    at = slot.to;
    if (isRested || worked < half) return [slot];
    isRested = true;
    const rest = { name: 'breaks', from: at, to: at + spent.breaksS / 60 };
    at = rest.to;
    return [slot, rest];
  });
}

/** A take, and when it begins: in the minutes of a slot. */
export interface TakeSlot {
  readonly shot: Shot;
  /** From 1. */
  readonly take: number;
  readonly at: number;
}

/** All takes of a day, one after the other, as evenly as its slots leave room for them. */
export function takesOf(plan: DayPlan, film: Film): TakeSlot[] {
  return slotsOf(plan, film).flatMap(({ work, from, to }): TakeSlot[] => {
    if (!work) return [];
    const each = work.shots.map((shot) => takesS(shot, film) / 60);
    const between = work.shots.length > 1 ? changesWithin(work) / (work.shots.length - 1) : 0;
    let at = Math.max(from, to - each.reduce((sum, one) => sum + one, 0) - changesWithin(work));
    return work.shots.flatMap((shot, index) => {
      const begins = at;
      at += each[index]! + between;
      const takes = Math.min(shot.takes, mostTakes);
      const takeToTake = ((shot.record?.value ?? 0) + betweenTakesS(shot, film)) / 60;
      return Array.from({ length: takes }, (_, take): TakeSlot => ({
        shot,
        take: take + 1,
        at: begins + takeToTake * take,
      }));
    });
  });
}

/** Nobody makes more of one shot in a day, and a slip of the pen must not fill the memory. */
const mostTakes = 500;

/** Between two clock times, or how long it takes where no time can be told. */
export function slotText({ from, to }: Slot, plan: DayPlan): string {
  return isByTheClock(plan) ? `${clockText(from)} to ${clockText(to)}` : hoursText((to - from) * 60);
}

/** Can it be told at what time something is done? Not where nobody says when the day begins, nor where it waits for the sun. */
export function isByTheClock(plan: DayPlan): boolean {
  return plan.day?.hours !== undefined && !waitsForLight(plan);
}

/** Are there set-ups in daylight of which each is to have another? Morning and evening come when they come. */
export function waitsForLight({ works }: DayPlan): boolean {
  const lights = works
    .flatMap(({ shots }) => shots.slice(0, 1))
    .filter((shot) => daylightShare(shot) >= ruling - 1e-6)
    .map(({ room }) => `${room?.light?.value} ${room?.temperature?.value}`);
  return new Set(lights).size > 1;
}

/** When cards are copied and emptied, and what is worked on then: nothing in a break, or before and after all work. */
export interface Copies {
  readonly at: number;
  readonly during?: Slot | undefined;
}

export function copiesOf(plan: DayPlan, slots: readonly Slot[]): Copies[] {
  const times = (plan.day?.offload ?? []).map(({ value }) => value).sort((a, b) => a - b);
  return times.map((at) => ({ at, during: slots.find(({ work, from, to }) => work && from < at && at < to) }));
}
