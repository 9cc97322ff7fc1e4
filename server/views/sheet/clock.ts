/** When what is done on a day: each set-up's building, its takes and what changes between them. */
import { changeOf, changesWithin, firstBuildMinutes, type Work } from '../../core/derived/changes.ts';
import { type DayPlan, dayTime, takesS } from '../../core/derived/schedule.ts';
import type { Film, Shot } from '../../core/film.ts';

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
      return Array.from({ length: takes }, (_, take): TakeSlot => ({
        shot,
        take: take + 1,
        at: begins + (each[index]! * take) / shot.takes,
      }));
    });
  });
}

/** Nobody makes more of one shot in a day, and a slip of the pen must not fill the memory. */
const mostTakes = 500;

/** `09:50`; after midnight the hours go on from 0. */
export function clockText(minutes: number): string {
  const whole = Math.round(minutes);
  const [hours, rest] = [Math.floor(whole / 60) % 24, ((whole % 60) + 60) % 60];
  return `${String(hours).padStart(2, '0')}:${String(rest).padStart(2, '0')}`;
}

/** Between two clock times, or how long it takes where no time is known. */
export function slotText({ from, to }: Slot, { day }: DayPlan): string {
  return day?.hours ? `${clockText(from)} to ${clockText(to)}` : `${Math.round(to - from)} min`;
}
