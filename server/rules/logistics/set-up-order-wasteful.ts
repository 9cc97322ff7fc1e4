import type { Work } from '../../core/derived/changes.ts';
import { betterOrders, dayPlans } from '../../core/derived/schedule.ts';
import { defineRule } from '../../core/rule.ts';
import { hoursText, percentText } from '../../core/say.ts';
import { reorder } from './reorder.ts';

export default defineRule({
  id: 'set-up-order-wasteful',
  family: 'logistics',
  summary: 'Another order of set-ups needs far less moving of camera, lamps and backdrop.',
  severity: 'hint',
  sources: [
    'shortest path over all orders (Held and Karp 1962) up to 12 set-ups',
    'minutes for each change: common practice, no source',
  ],
  limits: {
    saves: { quantity: 'real-time', default: '10 min', meaning: 'Least time that another order must save.' },
    day: { quantity: 'share', default: '5 %', meaning: 'Least share of the hours of the day that it must save.' },
    share: { quantity: 'share', default: '10 %', meaning: 'Least share of the changes that another order must save.' },
  },
  messages: {
    order:
      'Day {number}: in the order as written, changes take about {minutes}; in the order {best} about {bestMinutes}, {share} less. The cut stays as it is.',
  },
  film(film, { limits, report }) {
    for (const plan of dayPlans(film)) {
      const better = plan.day && betterOrders(film).get(plan);
      if (!plan.day || !better || movesDaylight(plan.works, better.works)) continue;
      const saved = better.nowS - better.bestS;
      const hours = plan.day.hours?.value;
      const dayS = hours ? (hours.to - hours.from) * 60 : 0;
      if (saved < limits.saves - 1e-6 || saved < better.nowS * limits.share || saved < dayS * limits.day) continue;
      report({
        message: 'order',
        data: {
          number: plan.called,
          minutes: hoursText(better.nowS),
          best: orderText(better.works),
          bestMinutes: hoursText(better.bestS),
          share: percentText(saved / better.nowS),
        },
        at: plan.day.fields.keyRange('order') ?? plan.day,
        fixes: reorder(plan, better.works, saved),
      });
    }
  },
});

/** When the light of the window is right, the sun says: what it lights alone keeps its place among the others. */
function movesDaylight(now: readonly Work[], then: readonly Work[]): boolean {
  const isSunlit = ({ shots }: Work) => shots.some(({ lit, room }) => lit.length === 0 && room?.source === 'window');
  return now.some((work, index) => isSunlit(work) !== isSunlit(then[index]!));
}

function orderText(works: readonly Work[]): string {
  return works.map((work) => `\`${work.name}\``).join(', ');
}
