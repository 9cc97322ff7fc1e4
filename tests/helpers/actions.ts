/** The actions that an editor lists for a range, those that are tried only when they are chosen tried too. */
import type { CheckResult } from '../../server/core/checker.ts';
import type { Range } from '../../server/core/document/node.ts';
import { type Action, actionsAt, type Recheck, stillHolds } from '../../server/features/actions.ts';

export function actionsFor(result: CheckResult, range: Range, recheck: Recheck): Action[] {
  const work = actionsAt(result, range, recheck, { untried: true, accepts: true });
  let step = work.next();
  while (!step.done) step = work.next();
  return step.value.flatMap((action) => (action.tried ? action : (stillHolds(action, result, recheck) ?? [])));
}
