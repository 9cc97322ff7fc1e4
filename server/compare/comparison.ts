/** Two versions of a plan side by side, as plain data: every output is made from this alone. */
import type { Severity } from '../core/finding.ts';

/** One field; undefined where nothing is said. */
export interface FieldChange {
  /** As it is called in the file, the blocks around it first: `shutter`, `backdrop colour`. */
  readonly name: string;
  readonly before?: string;
  readonly after?: string;
}

/** What follows from changes, in numbers. */
export interface Effect {
  /** Empty for what says itself: `180° → 90°`, `1 stop darker`. */
  readonly name: string;
  readonly before?: string;
  readonly after?: string;
  /** In place of a before and an after. */
  readonly text?: string;
}

export interface PlanChange {
  readonly what: 'changed' | 'added' | 'removed' | 'moved' | 'renamed';
  /** `shot`, `lamp`, `piece`, `film` … */
  readonly kind: string;
  /** The names that it is about; several where the same is true of all of them. */
  readonly names: readonly string[];
  /** True when these are all that there are, and more than a few. */
  readonly all: boolean;
  readonly fields: readonly FieldChange[];
  readonly effects: readonly Effect[];
  /** For what moved or has another name: where it was, what it was called. */
  readonly was?: string;
}

export interface ComparedFinding {
  readonly rule: string;
  readonly severity: Severity;
  readonly message: string;
  /** In the version that it was found in, from 1. */
  readonly line: number;
}

export interface Comparison {
  readonly plan: readonly PlanChange[];
  /** Versions that can't be read; the plan is then not compared. */
  readonly broken: readonly ('before' | 'after')[];
  readonly new: readonly ComparedFinding[];
  readonly gone: readonly ComparedFinding[];
  /** The same finding in other words: another number, or another list of names. */
  readonly changed: readonly { readonly before: ComparedFinding; readonly after: ComparedFinding }[];
  readonly kept: readonly ComparedFinding[];
  /** No longer findings because somebody accepted them or calls them meant, with the reason. */
  readonly accepted: readonly (ComparedFinding & { readonly by: string })[];
}

/** Does anything differ that is worth a word? */
export function isQuiet({ plan, broken, new: fresh, gone, changed, accepted }: Comparison): boolean {
  return [plan, broken, fresh, gone, changed, accepted].every((list) => list.length === 0);
}
