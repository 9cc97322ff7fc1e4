/** All safe fixes of a file, again and again until there is none left. */
import type { CheckResult } from '../core/checker.ts';
import { makeSafe, type SafeFix } from './safe-fixes.ts';

/** A fix may make room for another one, each line of a block for the next; more rounds than this no file needs. */
const mostPasses = 50;

export interface Fixed {
  readonly text: string;
  /** How many rounds it took. */
  readonly passes: number;
  /** Safe fixes that would have broken the file. */
  readonly left: readonly SafeFix[];
}

/** The text after all safe fixes. */
export function fixToEnd(text: string, check: (text: string) => CheckResult): Fixed {
  let result = check(text);
  for (let passes = 0; ; passes++) {
    const made = makeSafe(result, check);
    if (passes === mostPasses || made.result.doc.text === result.doc.text)
      return { text: result.doc.text, passes, left: made.left };
    result = made.result;
  }
}
