/** Many files, checked one after the other. The films of one maker are often alike. */
import type { Checker, CheckResult } from '../checker.ts';
import { LineMap } from '../document/lines.ts';
import type { FileKind } from '../paths.ts';
import type { Settings } from '../settings.ts';
import { cut } from './cut.ts';
import { LiveSpec } from './spec.ts';
import { Stretches } from './stretches.ts';

type Check = (kind: FileKind, text: string, settings: Settings) => CheckResult;

/**
 * Checks each file as `Checker.checkAs` does. A spec that is mostly the one before, word for word, is checked as if that had
 * been edited; any other is read faster as a whole than in stretches. Each answer is good until the next.
 * @param forFixes whether the fixes of the findings will be asked for: they come from a check of all of the film
 */
export function inTurn(checker: Checker, forFixes: boolean): Check {
  const again = forFixes ? readAgain(checker) : judgedAgain(checker);
  let before: ReadonlySet<string> = new Set();
  return (kind, text, settings) => {
    if (kind !== 'shoot') return checker.checkAs(kind, text, settings);
    const stretches = (cut(text) ?? []).map((one) => one.text);
    const shared = stretches.filter((one) => before.has(one)).reduce((sum, one) => sum + one.length, 0);
    before = new Set(stretches);
    return shared > text.length / 2 ? again(kind, text, settings) : checker.checkAs(kind, text, settings);
  };
}

/** Reads what is different, and judges again what that is about. */
function judgedAgain(checker: Checker): Check {
  const live = new LiveSpec(checker);
  return (_, text, settings) => live.update(text, settings);
}

/** Reads what is different, and judges all. */
function readAgain(checker: Checker): Check {
  let last: Stretches | undefined;
  return (kind, text, settings) => {
    const read = last ? last.with(text) : Stretches.of(text);
    if (!read) return checker.checkAs(kind, text, settings);
    last = read;
    const { written, meant, usual } = read.trees();
    const [comments, problems] = [read.comments(), read.problems()];
    const doc = { text, root: written, comments, problems, lines: new LineMap(text, read), broken: false };
    return checker.checkSpec(doc, meant, [...problems, ...read.faults()], settings, usual);
  };
}
