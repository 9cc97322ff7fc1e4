/** Checks one file on disk, the same in every thread: its path in, plain data out. */
import { dirname, join } from 'node:path';
import { Checker, type CheckResult } from '../core/checker.ts';
import { largestFileBytes, parseDocument } from '../core/document/parse.ts';
import type { Finding, Severity } from '../core/finding.ts';
import { type FileKind, kindOf } from '../core/paths.ts';
import { holds, titledFixes } from '../features/actions.ts';
import { type FileReport, reportOf } from '../formats/report.ts';
import { type DecodeProgress, type Decoder, decoderOnPath, filesOfSheet } from '../footage/decode/decoder.ts';
import { Listener } from '../footage/decode/listener.ts';
import { type FootageFolders, Footages } from '../footage/footages.ts';
import { RepoMusic } from '../footage/repo-music.ts';
import { History } from '../history.ts';
import { NodeHost, pathFrom, remembered, remembering, rootFor } from '../node-host.ts';
import { rules } from '../rules/index.ts';
import { beside, orRefusal, readBytes, type Refused } from './usage.ts';

export interface CheckTask {
  /** Instead of what the settings say. */
  readonly failOn?: Severity;
  /** Are fixes wanted? Each is made and checked first, as in the editor, and only those that hold are given. */
  readonly fixes: boolean;
  /** The folder from which files are named; the current one where not said. */
  readonly from?: string | undefined;
  /** Where clips and masters lie on this machine; beside each sheet where not said. */
  readonly folders?: FootageFolders;
  /** Days since 1970-01-01: what depends on today is said of that day, and not at all where none is given. */
  readonly today?: number;
  /** Whether sound and picture are looked at, too. */
  readonly decode?: boolean;
}

const checkerOf = remembered((root) => new Checker(new NodeHost(root), rules));

/** Where a file belongs: the checker of its repo, and its path from the root. */
export function placeOf(file: string): { checker: Checker; root: string; path: string } {
  const root = rootFor(file, process.cwd());
  return { checker: checkerOf(root), root, path: pathFrom(root, file) };
}

export async function checkFile(file: string, task: CheckTask, text?: string): Promise<FileReport> {
  return checkInTurn(task)(file, text);
}

/**
 * The same for many files, none of which changes meanwhile: what they have in common is looked up and read once.
 *
 * @param decoding is told how far the decoding of a sheet's files is
 */
export function checkInTurn(
  task: CheckTask,
  decoding?: (at: DecodeProgress) => void,
): (file: string, text?: string) => Promise<FileReport> {
  const decoder = task.decode ? decoderOnPath() : Promise.resolve(undefined);
  const ready = decoder.then((found) => new Footages(beside('clips.cjs'), task.folders ?? {}, { decoder: found }));
  const rootOf = remembered((folder) => rootFor(join(folder, 'any file'), process.cwd()));
  const history = new History();
  const listened = task.decode ? new RepoMusic(new Listener()) : undefined;
  const checkerIn = (footages: Footages) =>
    remembered((root) => {
      const footage = (sheet: string) => footages.of(join(root, sheet));
      const music = (path: string) => listened?.known(root, path);
      const earlier = (path: string, revision: string) => history.of(root, path, revision);
      const outside = { footage, today: () => task.today, music, earlier };
      return new Checker(remembering(new NodeHost(root)), rules, outside);
    });
  const checkers = ready.then(checkerIn);
  return async (file, text) => {
    const [footages, checkerOf] = [await ready, await checkers];
    const root = rootOf(dirname(file));
    const path = pathFrom(root, file);
    const checker = checkerOf(root);
    const known = () => reportOn({ file, root, path, text, checker }, task);
    let report = known();
    // A rule that hears of one clip may ask for another.
    while (footages.isReading || history.isReading) {
      await footages.settled();
      await history.settled();
      report = known();
    }
    const named = { file, root, path, text, checker };
    if (listened && kindOf(path) === 'shoot') return (await listenTo(named, listened)) ? known() : report;
    if (!task.decode || kindOf(path) !== 'takes') return report;
    await decodeSheet(named, footages, await decoder, decoding);
    return known();
  };
}

/** Decodes what a sheet names, where it can be read and its clips are there. */
async function decodeSheet(
  { file, path, text, checker }: Omit<FileToCheck, 'root'>,
  footages: Footages,
  decoder: Decoder | undefined,
  progress: ((at: DecodeProgress) => void) | undefined,
): Promise<void> {
  const given = text ?? orRefusal(() => readText(file));
  const sheet = typeof given === 'string' ? checker.check(path, given)?.sheet?.sheet : undefined;
  const store = footages.of(file);
  if (sheet && store) await decoder?.decodeAll(filesOfSheet(sheet, store), { progress });
}

/** Listens to the music that a spec names; false where there was none that is not known. */
async function listenTo({ file, root, path, text, checker }: FileToCheck, music: RepoMusic): Promise<boolean> {
  const given = text ?? orRefusal(() => readText(file));
  const film = typeof given === 'string' ? checker.check(path, given)?.film : undefined;
  const track = film?.music?.track && film.rights.get(film.music.track.value)?.media;
  if (!track || !music.isNew(root, track.value)) return false;
  await music.listen(root, track.value);
  return true;
}

interface FileToCheck {
  readonly file: string;
  readonly root: string;
  readonly path: string;
  /** Instead of what is on disk. */
  readonly text?: string | undefined;
  readonly checker: Checker;
}

function reportOn(
  { file, root, path, text, checker }: FileToCheck,
  { failOn, fixes, from = process.cwd() }: CheckTask,
): FileReport {
  const settings = checker.settings(path);
  const kind = kindOf(path)!;
  const given = text ?? orRefusal(() => readText(file));
  const check = (text: string) => checker.checkAs(kind, text, settings, path);
  const result = typeof given === 'string' ? check(given) : unread(kind, given);
  return reportOf(result, {
    file: pathFrom(from, file),
    failAt: failOn ?? settings.failAt,
    fileOf: (other) => pathFrom(from, join(root, other)),
    fixesOf: (finding) =>
      fixes ? titledFixes(finding, result).filter((fix) => holds(fix, finding, result, check)) : [],
  });
}

/** So much is read of any file or input: what is larger is refused by its length alone. */
export const mostRead = largestFileBytes + 1;

/** A file's text; one that is too large is cut, since the document model refuses it by its length alone. */
export function readText(file: string): string {
  return readBytes(file, mostRead).toString('utf8');
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
