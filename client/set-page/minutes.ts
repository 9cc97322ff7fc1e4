/** What is left of a day, and what is still to be shot of it, in minutes. */
import type { DayOnSet, SetPlan, ShotOnSet } from '../../server/views/set-page/plan.ts';
import type { Entries } from './entries.ts';
import { isTicked, takesOf } from './noted.ts';

/** What is still to be made of a shot; nothing once somebody says that it is done. */
export function takesLeft(shot: ShotOnSet, entries: Entries): number {
  if (isTicked(entries, `done/${shot.name}`)) return 0;
  const made = takesOf(entries).filter((one) => one.shot === shot.name && !one.gone).length;
  return Math.max(0, shot.takes - made);
}

/** Takes with what comes between them, and the building of every set-up that was not begun. */
export function minutesToShoot({ setUps }: SetPlan, day: number, entries: Entries): number {
  const begun = new Set(takesOf(entries).map((one) => one.shot));
  return setUps
    .filter((setUp) => setUp.day === day)
    .map(({ buildMinutes, shots }) => {
      const takes = shots.reduce((sum, shot) => sum + secondsToTake(shot, entries, begun.has(shot.name)), 0) / 60;
      return takes + (takes > 0 && !shots.some((shot) => begun.has(shot.name)) ? buildMinutes : 0);
    })
    .reduce((sum, minutes) => sum + minutes, 0);
}

/** What is left of it; before its first take nothing is made ready again. */
function secondsToTake(shot: ShotOnSet, entries: Entries, isBegun: boolean): number {
  const left = takesLeft(shot, entries);
  const between = isBegun ? left : Math.max(0, left - 1);
  return left * shot.takeS + between * shot.betweenTakesS;
}

/** Until the day's hours end; undefined where no hours are said, and on another day. The clock is that of the phone. */
export function minutesLeft({ date, hours }: DayOnSet, now: Date): number | undefined {
  if (!hours || hours.to <= hours.from) return undefined;
  const midnight = date === undefined ? new Date(now) : new Date(`${date}T00:00`);
  midnight.setHours(0, 0, 0, 0);
  const clock = (now.getTime() - midnight.getTime()) / 60_000;
  // A day without a date may have begun yesterday.
  if (date === undefined && clock < hours.from && clock + 2 * halfDay <= hours.to)
    return hours.to - clock - 2 * halfDay;
  return clock < hours.from - halfDay || clock > hours.to + halfDay ? undefined : hours.to - clock;
}

const halfDay = 12 * 60;

/** `2026-12-02`, by the clock of the phone. */
export function dateText(now: Date): string {
  return [now.getFullYear(), now.getMonth() + 1, now.getDate()].map((one) => String(one).padStart(2, '0')).join('-');
}

/** `2 h 5 min`, `12 min`. */
export function minutesText(minutes: number): string {
  const whole = Math.round(minutes);
  const [hours, rest] = [Math.floor(whole / 60), whole % 60];
  return [hours > 0 && `${hours} h`, (rest > 0 || hours === 0) && `${rest} min`].filter(Boolean).join(' ');
}
