/** Checks one file on disk, the same in every thread: its path in, plain data out. */
import { dirname, join } from 'node:path';
import { Checker, type CheckResult } from '../core/checker.ts';
import { largestFileBytes, parseDocument } from '../core/document/parse.ts';
import type { Finding, Severity } from '../core/finding.ts';
import { inTurn } from '../core/live/in-turn.ts';
import { follow } from '../core/live/spec.ts';
import { type FileKind, kindOf } from '../core/paths.ts';
import type { Settings } from '../core/settings.ts';
import { holds } from '../features/actions.ts';
import { type FileReport, reportOf } from '../formats/report.ts';
import { NodeHost, pathFrom, remembered, remembering, rootFor } from '../node-host.ts';
import { rules } from '../rules/index.ts';
import { orRefusal, readBytes, type Refused } from './usage.ts';

export interface CheckTask {
  /** Instead of what the settings say. */
  readonly failOn?: Severity;
  /**
   * none: not wanted · named: their titles are, for people to judge · tried: their edits are, for programs, so each is
   * made and checked first, as in the editor, and only those that hold are given.
   */
  readonly fixes: 'none' | 'named' | 'tried';
}

const checkerOf = remembered((root) => new Checker(new NodeHost(root), rules));

/** Where a file belongs: the checker of its repo, and its path from the root. */
export function placeOf(file: string): { checker: Checker; root: string; path: string } {
  const root = rootFor(file, process.cwd());
  return { checker: checkerOf(root), root, path: pathFrom(root, file) };
}

export function checkFile(file: string, task: CheckTask, text?: string): FileReport {
  const { checker, root, path } = placeOf(file);
  return reportOn({ file, root, path, text, checker }, task, (...what) => checker.checkAs(...what));
}

/** The same for many files, none of which changes meanwhile: what they have in common is looked up and read once. */
export function checkInTurn(task: CheckTask): (file: string) => FileReport {
  const rootOf = remembered((folder) => rootFor(join(folder, 'any file'), process.cwd()));
  const repoOf = remembered((root) => {
    const checker = new Checker(remembering(new NodeHost(root)), rules);
    return { checker, check: inTurn(checker, task.fixes !== 'none') };
  });
  return (file) => {
    const root = rootOf(dirname(file));
    const { checker, check } = repoOf(root);
    return reportOn({ file, root, path: pathFrom(root, file), checker }, task, check);
  };
}

interface Asked {
  readonly file: string;
  readonly root: string;
  readonly path: string;
  /** Instead of what is on disk. */
  readonly text?: string | undefined;
  readonly checker: Checker;
}

function reportOn(
  { file, root, path, text, checker }: Asked,
  { failOn, fixes }: CheckTask,
  check: (kind: FileKind, text: string, settings: Settings) => CheckResult,
): FileReport {
  const settings = checker.settings(path);
  const kind = kindOf(path)!;
  const given = text ?? orRefusal(() => readText(file));
  const result = typeof given === 'string' ? check(kind, given, settings) : unread(kind, given);
  const recheck = follow(checker, result.kind, settings);
  return reportOf(result, {
    file: pathFrom(process.cwd(), file),
    failAt: failOn ?? settings.failAt,
    fileOf: (other) => pathFrom(process.cwd(), join(root, other)),
    fixesOf: (finding) => {
      if (fixes === 'none') return [];
      return finding.fixes.filter((fix) => fixes === 'named' || holds(fix, finding, result, recheck));
    },
  });
}

/** A file's text; one that is too large is cut, since the document model refuses it by its length alone. */
export function readText(file: string): string {
  return readBytes(file)
    .subarray(0, largestFileBytes + 1)
    .toString('utf8');
}

/** One file that can't be read is a finding, so that the others are checked all the same. */
function unread(kind: FileKind, { code }: Refused): CheckResult {
  const message = `This file can't be read (${code}), so it was not checked. See whether it is there and who may read it.`;
  const finding: Finding = {
    rule: 'file-not-readable',
    severity: 'error',
    message,
    start: 0,
    end: 0,
    related: [],
    fixes: [],
  };
  return { kind, doc: parseDocument(''), findings: [finding], silenced: [], dependsOn: [] };
}
