/** The fix that changes the order of a day's work. */
import type { Work } from '../../core/derived/changes.ts';
import { type DayPlan } from '../../core/derived/schedule.ts';
import { type FixIdea, set } from '../../core/rule.ts';
import { hoursText } from '../../core/say.ts';
import type { Seconds } from '../../core/units.ts';

/** Writes the names into the places of the old ones, so that the list keeps its shape and its comments. */
export function reorder({ day }: DayPlan, works: readonly Work[], savedS: Seconds): FixIdea[] {
  if (!day) return [];
  const title = `Work in the order ${works.map((work) => work.name).join(', ')} (saves ${hoursText(savedS)})`;
  const { order } = day;
  if (!order) return [set(title, [day, 'order', `[${works.map((work) => work.name).join(', ')}]`])];
  if (order.length !== works.length) return [];
  return [{ title, edits: order.map(({ start, end }, index) => ({ start, end, text: works[index]!.name! })) }];
}
