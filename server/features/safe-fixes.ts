/** The safe fixes of a file that can be made together. */
import type { CheckResult } from '../core/checker.ts';
import type { Range } from '../core/document/node.ts';
import { applyEdits } from '../core/document/edits.ts';
import type { Edit, Finding, Fix } from '../core/finding.ts';

export interface SafeFix {
  readonly finding: Finding;
  readonly fix: Fix;
}

export interface Made {
  readonly edits: readonly Edit[];
  /** The check of the text with them. */
  readonly result: CheckResult;
  /** After these the file could not be read any more, so they are not made. */
  readonly left: readonly SafeFix[];
}

/** One for each finding that has one, as far as they don't overlap, in the order of the text. */
export function safeFixes(findings: readonly Finding[]): SafeFix[] {
  const safe = findings
    .flatMap((finding) => {
      const fix = finding.fixes.find((one) => one.safe);
      return fix && fix.edits.length > 0 ? { finding, fix, at: around(fix.edits) } : [];
    })
    .sort((a, b) => a.at.start - b.at.start);
  const taken: typeof safe = [];
  let end = -1;
  for (const one of safe) {
    if (one.at.start <= end) continue;
    taken.push(one);
    end = one.at.end;
  }
  return taken;
}

/** From the first character that edits touch to the last. */
function around(edits: readonly Edit[]): Range {
  return {
    start: Math.min(...edits.map(({ start }) => start)),
    end: Math.max(...edits.map(({ end }) => end)),
  };
}

/** Makes all at once; where the file can't be read then, halves of them, so that those that break it are left out. */
export function makeSafe(before: CheckResult, check: (text: string) => CheckResult): Made {
  let made: Made = { edits: [], result: before, left: [] };
  const attempt = (fixes: readonly SafeFix[]): void => {
    if (fixes.length === 0) return;
    const edits = [...made.edits, ...fixes.flatMap(({ fix }) => fix.edits)];
    const text = applyEdits(before.doc.text, edits);
    const result = text === undefined ? undefined : check(text);
    if (result && (before.doc.broken || !result.doc.broken)) {
      made = { ...made, edits, result };
    } else if (fixes.length === 1) {
      made = { ...made, left: [...made.left, ...fixes] };
    } else {
      const half = fixes.length >> 1;
      attempt(fixes.slice(0, half));
      attempt(fixes.slice(half));
    }
  };
  attempt(safeFixes(before.findings));
  return made;
}
