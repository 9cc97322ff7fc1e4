import { betterOrders, betweenTakesS, dayPlans, dayTime, type DayPlan, takesS } from '../../core/derived/schedule.ts';
import type { Film, Shot } from '../../core/film.ts';
import { defineRule, type FixIdea } from '../../core/rule.ts';
import { hoursText, quoted } from '../../core/say.ts';
import type { Seconds } from '../../core/units.ts';
import { reorder } from './reorder.ts';

export default defineRule({
  id: 'day-too-long',
  family: 'logistics',
  summary: 'The set-ups of a day take longer than the day has.',
  severity: 'warning',
  sources: ['common practice, no source'],
  limits: {
    allow: { quantity: 'real-time', default: '10 min', meaning: 'How much longer than its hours a day may be.' },
  },
  messages: {
    long: 'Day {number}: about {needed} of work in {hours}. Building is {build}, changes {changes}, takes {takes}{rest}.{advice}',
  },
  film(film, { limits, report }) {
    for (const plan of dayPlans(film)) {
      const hours = plan.day?.hours;
      if (!hours || plan.works.length === 0) continue;
      const all = dayTime(plan, film);
      const time = { ...all, totalS: all.totalS - asideS(plan, film) };
      const hasS = (hours.value.to - hours.value.from) * 60;
      // Where only the start is said, the day has no end.
      if (hasS <= 0 || time.totalS <= hasS + limits.allow + 1e-6) continue;
      const isTaken = plan.works[0]?.buildMinutes === undefined;
      // It is too long only where setting up takes what nobody has said.
      const isOnlyTaken = isTaken && time.totalS - time.buildS <= hasS + limits.allow;
      const rest = [
        time.cleaningS > 0 ? `, cleaning ${hoursText(time.cleaningS)}` : '',
        time.breaksS > 0 ? `, breaks ${hoursText(time.breaksS)}` : '',
      ];
      report({
        message: 'long',
        data: {
          number: plan.called,
          needed: hoursText(time.totalS),
          hours: hoursText(hasS),
          build: `${hoursText(time.buildS)}${isTaken ? ' (taken so, no `build` is said)' : ''}`,
          changes: hoursText(time.changesS),
          takes: hoursText(time.takesS),
          rest: rest.join(''),
          advice: advice(plan, film, time.totalS - hasS),
        },
        at: hours,
        ...(isOnlyTaken && { severity: 'info' as const }),
        excess: time.totalS - hasS,
        fixes: fixes(plan, film),
      });
    }
  },
});

/** Takes of a time-lapse that runs by itself on a camera of its own, while the others film; not longer than what they take. */
function asideS({ shots }: DayPlan, film: Film): Seconds {
  const cameraOf = ({ camera }: Shot) => camera.body?.name;
  const isAside = (shot: Shot) =>
    shot.interval !== undefined && shots.every((one) => one === shot || cameraOf(one) !== cameraOf(shot));
  const sumS = (some: readonly Shot[]) => some.reduce((sum, shot) => sum + takesS(shot, film), 0);
  return Math.min(sumS(shots.filter(isAside)), sumS(shots.filter((shot) => !isAside(shot))));
}

/**
 * The shot whose takes fill the most of the day, and how far moving it to another day would go; where it is all that the day
 * has, how many takes fewer would do.
 */
function advice({ shots }: DayPlan, film: Film, overS: Seconds): string {
  const longest = [...shots].sort((a, b) => takesS(b, film) - takesS(a, film))[0];
  if (!longest) return '';
  const savedS = takesS(longest, film);
  if (savedS < 60) return '';
  if (shots.length === 1) {
    const eachS = (longest.record?.value ?? 0) + betweenTakesS(longest, film);
    const fewer = Math.ceil(overS / eachS - 1e-9);
    const takes = fewer === 1 ? 'One take' : `${fewer} takes`;
    return fewer < longest.takes ? ` ${takes} fewer of ${quoted(longest.name)} would be enough.` : '';
  }
  const enough = savedS >= overS ? ', which is enough' : '';
  return ` Takes of ${quoted(longest.name)} fill ${hoursText(savedS)}: on another day they would save that${enough}.`;
}

function fixes(plan: DayPlan, film: Film): FixIdea[] {
  const better = betterOrders(film).get(plan);
  const saved = better ? better.nowS - better.bestS : 0;
  return better && saved > 60 ? reorder(plan, better.works, saved) : [];
}
