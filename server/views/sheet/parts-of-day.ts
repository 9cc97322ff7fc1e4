/** What a day's time is made of, so that a reader can add it up. */
import { type DayPlan, dayTime } from '../../core/derived/schedule.ts';
import type { Film } from '../../core/film.ts';
import { hoursText } from '../../core/say.ts';
import type { Seconds } from '../../core/units.ts';

/**
 * `About 1 h 36 min: 1 h to build (counted, as the plan says no time for it), 32 min of recording, 4 min between takes.`
 * @param when which of several days it is
 */
export function partsOfDay(plan: DayPlan, film: Film, when = ''): string {
  const time = dayTime(plan, film);
  const recordedS = plan.shots.reduce((sum, { takes, record }) => sum + takes * (record?.value ?? 0), 0);
  const isCounted = plan.works[0]?.buildMinutes === undefined;
  const parts = whole([
    [time.buildS, isCounted ? 'to build (counted, as the plan says no time for it)' : 'to build'],
    [time.changesS, 'of changes'],
    [time.cleaningS, 'of cleaning'],
    [time.breaksS, 'of breaks'],
    [recordedS, 'of recording'],
    [time.takesS - recordedS, 'between takes'],
  ]);
  return `About ${hoursText(time.totalS)}${when && ` on ${when}`}: ${parts.join(', ')}.`;
}

/** In minutes that add up to those of the sum: each is what it adds to that. */
function whole(parts: readonly (readonly [Seconds, string])[]): string[] {
  const minutesAt = (s: Seconds) => Math.round(s / 60);
  let sumS = 0;
  return parts.flatMap(([s, words]) => {
    const before = minutesAt(sumS);
    sumS += s;
    const minutes = minutesAt(sumS) - before;
    return minutes > 0 ? [`${hoursText(minutes * 60)} ${words}`] : [];
  });
}
