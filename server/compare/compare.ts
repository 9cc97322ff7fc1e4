/** Two checks of one file, before and after: what changed in the plan and among the findings. Pure: nothing is read here. */
import type { CheckResult } from '../core/checker.ts';
import type { Comparison } from './comparison.ts';
import { compareFindings } from './findings.ts';
import { planChanges } from './plan.ts';

/** A file that is not there on one side is new, or gone. */
export function compare(before: CheckResult | undefined, after: CheckResult | undefined): Comparison {
  const broken = [
    ...(before && isBroken(before) ? (['before'] as const) : []),
    ...(after && isBroken(after) ? (['after'] as const) : []),
  ];
  const plan = before && after && broken.length === 0 ? planChanges(before, after) : [];
  return { plan, broken, ...compareFindings(before, after) };
}

function isBroken({ doc, kind, film }: CheckResult): boolean {
  return doc.broken || (kind === 'shoot' && film === undefined);
}
