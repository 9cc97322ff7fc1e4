/** All safe fixes of a file, again and again until there is none left. */
import type { CheckResult } from '../core/checker.ts';
import { applyEdits } from '../core/document/edits.ts';
import { fixAll } from './actions.ts';

/** A fix may make room for another one; more rounds than this no file needs. */
const mostPasses = 10;

/** The text after all safe fixes, and how many rounds they took. A round that breaks the file is not taken. */
export function fixToEnd(text: string, check: (text: string) => CheckResult): { text: string; passes: number } {
  let result = check(text);
  let passes = 0;
  while (passes < mostPasses) {
    const edits = fixAll(result)?.edits;
    const next = edits && applyEdits(result.doc.text, edits);
    if (next === undefined || next === result.doc.text) break;
    const after = check(next);
    if (after.doc.broken && !result.doc.broken) break;
    result = after;
    passes++;
  }
  return { text: result.doc.text, passes };
}
