/** `shootspec check`: files in, findings out, in the form that is asked for. */
import { appendFileSync, existsSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { setImmediate as nextTurn } from 'node:timers/promises';
import { readFrom } from '../bytes.ts';
import { severities, type Severity } from '../core/finding.ts';
import { listText, quoted } from '../core/say.ts';
import { atLeast } from '../core/settings.ts';
import { dateDays } from '../core/units.ts';
import type { Entry } from '../formats/baseline.ts';
import { oneLine } from '../formats/escape.ts';
import type { FileReport } from '../formats/report.ts';
import { checkoutAround, pathFrom } from '../node-host.ts';
import { checkFile, type CheckTask, mostRead, placeOf, readText } from './check-file.ts';
import { assertOurs, expand } from './files.ts';
import { paintFor } from './paint.ts';
import { nowhere, progressOn } from './progress.ts';
import {
  folderNamed,
  oneOf,
  orRefusal,
  parse,
  print,
  readBytes,
  Refused,
  sayWhy,
  UsageError,
  version,
  wholeNumber,
} from './usage.ts';
import { table } from './table.ts';

type Format = (typeof table.check.options.format.words)[number];

/** The formats that have a place for fixes. */
const withFixes: readonly Format[] = ['text', 'json', 'sarif'];

interface CheckOptions extends CheckTask {
  readonly from: string;
  readonly paths: readonly string[];
  readonly format: Format;
  readonly maxWarnings: number;
  readonly threads?: number;
  readonly baseline?: string;
  readonly writeBaseline: boolean;
  readonly fix: boolean;
  readonly dryRun: boolean;
  readonly output?: string;
  /** Only what makes it fail is said. */
  readonly quiet: boolean;
  /** The file that standard input stands for. */
  readonly stdin?: string;
}

export async function check(args: string[]): Promise<number> {
  const { watch, ...asked } = read(args);
  if (!watch) return once(asked);
  const { watchPaths } = await import('./watch.ts');
  return watchPaths(asked.paths, (looked) => once(asked, looked));
}

function read(args: string[]): CheckOptions & { readonly watch: boolean } {
  const { values, positionals } = parse(args, 'check');
  const [format, failOn, most] = [values.format ?? 'text', values['fail-on'], values['max-warnings']];
  const asked = {
    // Alone it is about the folder where it is run.
    paths: positionals.length === 0 && values['stdin-name'] === undefined ? ['.'] : positionals,
    format: oneOf('--format', format, table.check.options.format.words),
    failOn: failOn === undefined ? undefined : oneOf('--fail-on', failOn, severities),
    maxWarnings: most === undefined ? Infinity : wholeNumber('--max-warnings', most),
    threads: values.threads === undefined ? undefined : wholeNumber('--threads', values.threads),
    baseline: values.baseline,
    writeBaseline: values['write-baseline'] ?? false,
    fix: values.fix ?? false,
    dryRun: values['dry-run'] ?? false,
    output: values.output,
    quiet: values.quiet ?? false,
    stdin: values['stdin-name'],
    watch: values.watch ?? false,
    today: values.today === undefined ? undefined : day(values.today),
    folders: { footage: folderNamed('--footage', values.footage), masters: folderNamed('--masters', values.masters) },
    decode: values.decode ?? false,
  };
  assertFits(asked);
  return { ...asked, fixes: withFixes.includes(asked.format), from: namedFrom(asked.format) };
}

/** What reads these stands at the top of the repo, wherever the command was run. */
const fromTheTop: ReadonlySet<Format> = new Set(['github', 'sarif', 'junit', 'gitlab']);

function namedFrom(format: Format): string {
  const here = process.cwd();
  return (fromTheTop.has(format) ? checkoutAround(here) : undefined) ?? here;
}

function day(named: string): number {
  const days = dateDays(named);
  if (days === undefined) throw new UsageError(`--today: \`${named}\` is no day. Write it like 2026-12-02.`);
  return days;
}

function assertFits(asked: Omit<CheckOptions, 'fixes' | 'from'> & { readonly watch: boolean }): void {
  const { paths, stdin, watch, fix, dryRun, baseline, writeBaseline } = asked;
  const piped = paths.includes('-');
  if (piped && paths.length > 1) throw new UsageError('`-` reads standard input and stands alone.');
  if (piped && stdin === undefined)
    throw new UsageError('Say which file it is that comes in: `shootspec check - --stdin-name films/box.shoot.yaml`.');
  if (!piped && stdin !== undefined) throw new UsageError('--stdin-name goes with `-`, which reads standard input.');
  if (piped && (watch || (fix && !dryRun)))
    throw new UsageError('Standard input can be neither watched nor fixed; `--dry-run` shows what would be fixed.');
  if (writeBaseline && baseline === undefined)
    throw new UsageError('Say where the baseline is kept: `--baseline FILE --write-baseline`.');
  if (watch && (dryRun || writeBaseline || asked.output !== undefined))
    throw new UsageError('--watch goes neither with --dry-run, --write-baseline nor --output.');
}

/** @param looked is told of the reports, before they are compared with anything */
async function once(asked: CheckOptions, looked?: (reports: readonly FileReport[]) => void): Promise<number> {
  const undone = new Undone();
  const passedOver = new Set<string>();
  const passOver = (file: string) => passedOver.add(nameOf(file));
  const files = asked.stdin === undefined ? await expand(asked.paths, undone.say, passOver) : [stdinFile(asked.stdin)];
  const piped = asked.stdin === undefined ? undefined : readFrom(0, mostRead).toString('utf8');
  if (files.length === 0 && !asked.quiet)
    sayWhy(new UsageError(`There is no spec, kit or settings file in ${listText(asked.paths.map(quoted))}.`));
  if (asked.dryRun) return undone.or(await showFixes(files, asked, piped));
  if (asked.fix) await makeFixes(files, undone);
  const found = piped === undefined ? await checkFiles(files, asked) : [await checkFile(files[0]!, asked, piped)];
  looked?.(found);
  const { reports, unused } = await compareWithBaseline(found, asked);
  await show(
    asked.quiet ? { reports: failing(reports, asked) } : { reports, unused, passedOver: [...passedOver] },
    asked,
  );
  return undone.or(verdict(reports, asked));
}

/** What could not be done is said, and the rest goes on; it makes the exit code 2. */
class Undone {
  #some = false;

  readonly say = (why: Error): void => {
    this.#some = true;
    sayWhy(why);
  };

  or(code: number): number {
    return this.#some ? 2 : code;
  }
}

function stdinFile(name: string): string {
  assertOurs(name, resolve(name));
  return resolve(name);
}

async function checkFiles(files: readonly string[], asked: CheckOptions): Promise<FileReport[]> {
  const { failOn, fixes, from, threads, folders, today, decode } = asked;
  const progress = progressOn(asked.quiet ? nowhere : process.stderr, files.length);
  const { checkAll } = await import('./threads.ts');
  try {
    return await checkAll(files, { failOn, fixes, from, folders, today, decode }, threads, progress);
  } finally {
    progress.end();
  }
}

function verdict(reports: readonly FileReport[], { maxWarnings }: CheckOptions): number {
  const failed = reports.some(({ failAt, findings }) => findings.some((one) => atLeast(one.severity, failAt)));
  const warnings = countWarnings(reports);
  const tooMany = warnings > maxWarnings;
  if (tooMany) process.stderr.write(`shootspec: ${warnings} warnings, and --max-warnings allows ${maxWarnings}.\n`);
  return failed || tooMany ? 1 : 0;
}

function countWarnings(reports: readonly FileReport[]): number {
  return reports.flatMap(({ findings }) => findings.filter((one) => one.severity === 'warning')).length;
}

/** With those findings only that make the exit code 1. */
function failing(reports: readonly FileReport[], { maxWarnings }: CheckOptions): FileReport[] {
  const tooMany = countWarnings(reports) > maxWarnings;
  const fails = ({ severity }: { readonly severity: Severity }, failAt: Severity) =>
    atLeast(severity, failAt) || (tooMany && severity === 'warning');
  return reports.map((report) => ({ ...report, findings: report.findings.filter((one) => fails(one, report.failAt)) }));
}

// -- fixes -----------------------------------------------------------------------------------------------------------

/** Each file by itself: one that can't be fixed is said and left alone. */
async function makeFixes(files: readonly string[], undone: Undone): Promise<void> {
  for (const file of files) {
    try {
      await makeFixesIn(file);
    } catch (error) {
      if (!(error instanceof UsageError)) throw error;
      undone.say(error);
    }
    // Lets in who wants to interrupt.
    await nextTurn();
  }
}

async function makeFixesIn(file: string): Promise<void> {
  const bytes = orRefusal(() => readBytes(file, mostRead));
  // The check says so.
  if (bytes instanceof Refused || bytes.length === mostRead) return;
  const text = bytes.toString('utf8');
  const fixed = await fixedText(file, text);
  if (fixed === text) return;
  if (!Buffer.from(text).equals(bytes))
    throw new UsageError(`\`${nameOf(file)}\` is not in UTF-8, so it was left as it is.`);
  const { replaceFile } = await import('./write.ts');
  replaceFile(file, bytes, fixed);
}

async function showFixes(files: readonly string[], asked: CheckOptions, piped: string | undefined): Promise<number> {
  const { toPatch } = await import('../formats/patch.ts');
  const patches: string[] = [];
  const reports: FileReport[] = [];
  for (const file of files) {
    const text = piped ?? orRefusal(() => readText(file));
    const fixed = text instanceof Refused ? undefined : await fixedText(file, text);
    if (text instanceof Refused) sayWhy(text);
    else patches.push(toPatch(nameOf(file), text, fixed ?? text));
    reports.push(
      await checkFile(
        file,
        {
          failOn: asked.failOn,
          fixes: false,
          from: asked.from,
          folders: asked.folders,
          today: asked.today,
          decode: asked.decode,
        },
        fixed,
      ),
    );
  }
  const patch = patches.join('');
  await write(patch, asked);
  const isNothing = patch === '' && patches.length === files.length;
  if (isNothing && !asked.quiet) process.stderr.write('shootspec: --fix would change nothing.\n');
  return verdict((await compareWithBaseline(reports, asked)).reports, asked);
}

async function fixedText(file: string, text: string): Promise<string> {
  const { fixToEnd } = await import('../features/fix-to-end.ts');
  const { checker, path } = placeOf(file);
  const settings = checker.settings(path);
  const { text: fixed, left } = fixToEnd(text, (content) => checker.check(path, content, settings)!);
  for (const { finding } of left)
    sayWhy(new UsageError(`\`${nameOf(file)}\`: a fix of ${finding.rule} would break the file, so it was not made.`));
  return fixed;
}

function nameOf(file: string): string {
  return pathFrom(process.cwd(), file);
}

// -- the baseline ----------------------------------------------------------------------------------------------------

/** A hundred thousand findings take a fifth of it. */
const largestBaseline = 128 * 1024 * 1024;

async function compareWithBaseline(
  reports: FileReport[],
  { baseline, writeBaseline: writes, from }: CheckOptions,
): Promise<{ reports: readonly FileReport[]; unused: readonly Entry[] }> {
  if (baseline === undefined) return { reports, unused: [] };
  const { readBaseline, withoutKnown, writeBaseline } = await import('../formats/baseline.ts');
  const folder = dirname(resolve(baseline));
  const fileOf = (file: string) => pathFrom(folder, resolve(from, file));
  if (writes) {
    const { writeOutput } = await import('./write.ts');
    writeOutput(baseline, writeBaseline(reports, fileOf));
  }
  if (!existsSync(baseline)) {
    throw new UsageError(`There is no baseline \`${baseline}\`; --write-baseline makes it from what is found now.`);
  }
  const bytes = readBytes(baseline, largestBaseline);
  if (bytes.length === largestBaseline)
    throw new UsageError(`\`${baseline}\` is larger than any baseline; --write-baseline writes it anew.`);
  const entries = readBaseline(bytes.toString('utf8'));
  if (!entries) throw new UsageError(`\`${baseline}\` is no baseline; --write-baseline writes it anew.`);
  return withoutKnown(reports, entries, fileOf, (file) => !existsSync(join(folder, file)));
}

// -- what is printed -------------------------------------------------------------------------------------------------

interface Shown {
  readonly reports: readonly FileReport[];
  readonly unused?: readonly Entry[];
  /** Files that only lack a name to be of ours. */
  readonly passedOver?: readonly string[];
}

async function show(shown: Shown, asked: CheckOptions): Promise<void> {
  const { unused = [] } = shown;
  if (unused.length > 0 && asked.format !== 'text' && asked.format !== 'json') sayUnused(unused);
  await write(await outputs[asked.format](shown, asked), asked);
}

type Output = (shown: Shown, asked: CheckOptions) => Promise<string>;

/** Each is loaded only when it is asked for. */
const outputs: Readonly<Record<Format, Output>> = {
  text: async ({ reports, unused, passedOver }, { output, quiet }) => {
    if (quiet && reports.every(({ findings }) => findings.length === 0)) return '';
    const { toText } = await import('../formats/text.ts');
    return toText(reports, { unused, passedOver }, await paintFor(process.stdout, output === undefined, process.env));
  },
  json: async ({ reports, unused = [] }) => (await import('../formats/json.ts')).toJson(reports, unused),
  github: async ({ reports }) => {
    const { toGithub } = await import('../formats/github.ts');
    const file = process.env['GITHUB_STEP_SUMMARY'];
    const { annotations, summary } = toGithub(reports, file !== undefined && file !== '');
    if (file && summary !== '' && !isAdded(file, summary)) return toGithub(reports, false).annotations;
    return annotations;
  },
  sarif: async ({ reports }) => {
    const [{ toSarif }, { ruleInfo }] = await Promise.all([import('../formats/sarif.ts'), import('./rules.ts')]);
    return toSarif(reports, version(), ruleInfo());
  },
  junit: async ({ reports }) => (await import('../formats/junit.ts')).toJunit(reports),
  gitlab: async ({ reports }) => (await import('../formats/gitlab.ts')).toGitlab(reports),
};

/** False, and said, where the file can't be written. */
function isAdded(file: string, text: string): boolean {
  try {
    appendFileSync(file, text);
    return true;
  } catch (error) {
    sayWhy(new Refused(file, 'written', error));
    return false;
  }
}

/** Formats for machines have no place for it. */
function sayUnused(unused: readonly Entry[]): void {
  const list = unused.map(({ file, rule }) => `  ${oneLine(file)} ${oneLine(rule)}\n`).join('');
  process.stderr.write(`shootspec: in the baseline, but no longer found:\n${list}`);
}

async function write(text: string, { output }: CheckOptions): Promise<void> {
  if (output === undefined) {
    print(text);
    return;
  }
  const { writeOutput } = await import('./write.ts');
  writeOutput(output, text);
}
