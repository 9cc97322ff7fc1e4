/** What is wrong with a text as such, before anyone asks what it means. */
import type { Finding, Fix, Related, Severity } from '../finding.ts';
import type { Range } from './node.ts';

export type Problem = Finding;

interface More {
  readonly severity?: Severity;
  readonly related?: readonly Related[];
  readonly fixes?: readonly Fix[];
}

/** A problem at a place; an error unless `more` says otherwise. */
export function problem(rule: string, { start, end }: Range, message: string, more: More = {}): Problem {
  return { rule, severity: 'error', message, start, end, related: [], fixes: [], ...more };
}
