/** Checks one file on disk, the same in every thread: its path in, plain data out. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Checker } from '../core/checker.ts';
import { largestFileBytes } from '../core/document/parse.ts';
import type { Severity } from '../core/finding.ts';
import { follow } from '../core/live/spec.ts';
import { holds } from '../features/actions.ts';
import { type FileReport, reportOf } from '../formats/report.ts';
import { NodeHost, pathFrom, rootFor } from '../node-host.ts';
import { rules } from '../rules/index.ts';

export interface CheckTask {
  /** Instead of what the settings say. */
  readonly failOn?: Severity;
  /**
   * none: not wanted · named: their titles are, for people to judge · tried: their edits are, for programs, so each is
   * made and checked first, as in the editor, and only those that hold are given.
   */
  readonly fixes: 'none' | 'named' | 'tried';
}

const checkers = new Map<string, Checker>();

/** Where a file belongs: the checker of its repo, and its path from the root. */
export function placeOf(file: string): { checker: Checker; root: string; path: string } {
  const root = rootFor(file, process.cwd());
  let checker = checkers.get(root);
  if (!checker) checkers.set(root, (checker = new Checker(new NodeHost(root), rules)));
  return { checker, root, path: pathFrom(root, file) };
}

export function checkFile(file: string, task: CheckTask, text = readText(file)): FileReport {
  const { checker, root, path } = placeOf(file);
  const settings = checker.settings(path);
  const result = checker.check(path, text, settings)!;
  const recheck = follow(checker, result.kind, settings);
  return reportOf(result, {
    file: pathFrom(process.cwd(), file),
    failAt: task.failOn ?? settings.failAt,
    fileOf: (other) => pathFrom(process.cwd(), join(root, other)),
    fixesOf: (finding) => {
      if (task.fixes === 'none') return [];
      return finding.fixes.filter((fix) => task.fixes === 'named' || holds(fix, finding, result, recheck));
    },
  });
}

/** A file's text; one that is too large is cut, since the document model refuses it by its length alone. */
export function readText(file: string): string {
  const bytes = readFileSync(file);
  return bytes.subarray(0, largestFileBytes + 1).toString('utf8');
}
