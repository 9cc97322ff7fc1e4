/** `shootspec check`: files in, findings out, in the form that is asked for. */
import { appendFileSync, existsSync, readFileSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { severities } from '../core/finding.ts';
import { atLeast } from '../core/settings.ts';
import type { Entry } from '../formats/baseline.ts';
import { oneLine } from '../formats/escape.ts';
import type { FileReport } from '../formats/report.ts';
import { pathFrom } from '../node-host.ts';
import { checkFile, type CheckTask, placeOf, readText } from './check-file.ts';
import { assertOurs, expand } from './files.ts';
import { paintFor } from './paint.ts';
import { progressOn } from './progress.ts';
import {
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

const formats = ['text', 'json', 'github', 'sarif', 'junit', 'gitlab'] as const;
type Format = (typeof formats)[number];

/** What each says of fixes. */
const fixesIn: Readonly<Record<Format, CheckTask['fixes']>> = {
  text: 'named',
  json: 'tried',
  github: 'none',
  sarif: 'tried',
  junit: 'none',
  gitlab: 'none',
};

interface Asked extends CheckTask {
  readonly paths: readonly string[];
  readonly format: Format;
  readonly maxWarnings?: number;
  readonly threads?: number;
  readonly baseline?: string;
  readonly writeBaseline: boolean;
  readonly fix: boolean;
  readonly dryRun: boolean;
  readonly output?: string;
  /** The file that standard input stands for. */
  readonly stdin?: string;
}

export async function check(args: string[]): Promise<number> {
  const { watch, ...asked } = read(args);
  if (!watch) return once(asked);
  const { watchPaths } = await import('./watch.ts');
  return watchPaths(asked.paths, () => once(asked));
}

function read(args: string[]): Asked & { readonly watch: boolean } {
  const { values, positionals } = parse(args, {
    format: { type: 'string' },
    'fail-on': { type: 'string' },
    'max-warnings': { type: 'string' },
    threads: { type: 'string' },
    baseline: { type: 'string' },
    'write-baseline': { type: 'boolean' },
    fix: { type: 'boolean' },
    'dry-run': { type: 'boolean' },
    output: { type: 'string' },
    'stdin-name': { type: 'string' },
    watch: { type: 'boolean' },
  });
  const [format, failOn, most] = [values.format ?? 'text', values['fail-on'], values['max-warnings']];
  const asked = {
    paths: positionals,
    format: oneOf('--format', format, formats),
    failOn: failOn === undefined ? undefined : oneOf('--fail-on', failOn, severities),
    maxWarnings: most === undefined ? undefined : wholeNumber('--max-warnings', most),
    threads: values.threads === undefined ? undefined : wholeNumber('--threads', values.threads),
    baseline: values.baseline,
    writeBaseline: values['write-baseline'] ?? false,
    fix: values.fix ?? false,
    dryRun: values['dry-run'] ?? false,
    output: values.output,
    stdin: values['stdin-name'],
    watch: values.watch ?? false,
  };
  assertFits(asked);
  return { ...asked, fixes: fixesIn[asked.format] };
}

function assertFits(asked: Omit<Asked, 'fixes'> & { readonly watch: boolean }): void {
  const { paths, stdin, watch, fix, dryRun, baseline, writeBaseline } = asked;
  if (paths.length === 0) throw new UsageError('Say which files or folders to check: `shootspec check .`');
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

async function once(asked: Asked): Promise<number> {
  const files = asked.stdin === undefined ? await expand(asked.paths) : [stdinFile(asked.stdin)];
  const piped = asked.stdin === undefined ? undefined : readFileSync(0, 'utf8');
  if (asked.dryRun) return showFixes(files, asked, piped);
  if (asked.fix) await makeFixes(files);
  const found = piped === undefined ? await checkFiles(files, asked) : [checkFile(files[0]!, asked, piped)];
  const { reports, unused } = await compareWithBaseline(found, asked);
  await show(reports, unused, asked);
  return verdict(reports, asked);
}

function stdinFile(name: string): string {
  assertOurs(name, resolve(name));
  return resolve(name);
}

async function checkFiles(files: readonly string[], asked: Asked): Promise<FileReport[]> {
  const { failOn, fixes, threads } = asked;
  const progress = progressOn(process.stderr, files.length);
  const { checkAll } = await import('./threads.ts');
  try {
    return await checkAll(files, { failOn, fixes }, threads, progress.tell);
  } finally {
    progress.end();
  }
}

function verdict(reports: readonly FileReport[], { maxWarnings }: Asked): number {
  const failed = reports.some(({ failAt, findings }) => findings.some((one) => atLeast(one.severity, failAt)));
  const warnings = reports.flatMap(({ findings }) => findings.filter((one) => one.severity === 'warning')).length;
  const tooMany = maxWarnings !== undefined && warnings > maxWarnings;
  if (tooMany) process.stderr.write(`shootspec: ${warnings} warnings, and --max-warnings allows ${maxWarnings}.\n`);
  return failed || tooMany ? 1 : 0;
}

// -- fixes -----------------------------------------------------------------------------------------------------------

/** What can't be fixed is said and left alone; the check goes on. */
async function makeFixes(files: readonly string[]): Promise<void> {
  const { replaceFile } = await import('./write.ts');
  for (const file of files) {
    const bytes = orRefusal(() => readBytes(file));
    if (bytes instanceof Refused) continue;
    const text = bytes.toString('utf8');
    const fixed = await fixedText(file, text);
    if (fixed === text) continue;
    if (!Buffer.from(text).equals(bytes))
      throw new UsageError(`\`${nameOf(file)}\` is not in UTF-8, so it was left as it is.`);
    replaceFile(file, bytes, fixed);
  }
}

async function showFixes(files: readonly string[], asked: Asked, piped: string | undefined): Promise<number> {
  const { toPatch } = await import('../formats/patch.ts');
  const patches: string[] = [];
  const reports: FileReport[] = [];
  for (const file of files) {
    const text = piped ?? orRefusal(() => readText(file));
    const fixed = text instanceof Refused ? undefined : await fixedText(file, text);
    if (text instanceof Refused) sayWhy(text);
    else patches.push(toPatch(nameOf(file), text, fixed ?? text));
    reports.push(checkFile(file, { failOn: asked.failOn, fixes: 'none' }, fixed));
  }
  await write(patches.join(''), asked);
  return verdict((await compareWithBaseline(reports, asked)).reports, asked);
}

async function fixedText(file: string, text: string): Promise<string> {
  const { fixToEnd } = await import('../features/fixpoint.ts');
  const { checker, path } = placeOf(file);
  const settings = checker.settings(path);
  return fixToEnd(text, (content) => checker.check(path, content, settings)!).text;
}

function nameOf(file: string): string {
  return pathFrom(process.cwd(), file);
}

// -- the baseline ----------------------------------------------------------------------------------------------------

async function compareWithBaseline(
  reports: FileReport[],
  { baseline, writeBaseline: writes }: Asked,
): Promise<{ reports: readonly FileReport[]; unused: readonly Entry[] }> {
  if (baseline === undefined) return { reports, unused: [] };
  const { readBaseline, withoutKnown, writeBaseline } = await import('../formats/baseline.ts');
  const folder = dirname(resolve(baseline));
  const fileOf = (file: string) => pathFrom(folder, resolve(file));
  if (writes) {
    const { writeOutput } = await import('./write.ts');
    writeOutput(baseline, writeBaseline(reports, fileOf));
  }
  if (!existsSync(baseline)) {
    throw new UsageError(`There is no baseline \`${baseline}\`; --write-baseline makes it from what is found now.`);
  }
  const entries = readBaseline(readBytes(baseline).toString('utf8'));
  if (!entries) throw new UsageError(`\`${baseline}\` is no baseline; --write-baseline writes it anew.`);
  return withoutKnown(reports, entries, fileOf, (file) => !existsSync(join(folder, file)));
}

// -- what is printed -------------------------------------------------------------------------------------------------

async function show(reports: readonly FileReport[], unused: readonly Entry[], asked: Asked): Promise<void> {
  if (unused.length > 0 && asked.format !== 'text' && asked.format !== 'json') sayUnused(unused);
  await write(await outputs[asked.format](reports, unused, asked), asked);
}

type Output = (reports: readonly FileReport[], unused: readonly Entry[], asked: Asked) => Promise<string>;

/** Each is loaded only when it is asked for. */
const outputs: Readonly<Record<Format, Output>> = {
  text: async (reports, unused, { output }) => {
    const { toText } = await import('../formats/text.ts');
    return toText(reports, unused, await paintFor(process.stdout, output === undefined, process.env));
  },
  json: async (reports, unused) => (await import('../formats/json.ts')).toJson(reports, unused),
  github: async (reports) => {
    const { toGithub } = await import('../formats/github.ts');
    const file = process.env['GITHUB_STEP_SUMMARY'];
    const { annotations, summary } = toGithub(reports, file !== undefined && file !== '');
    if (file && summary !== '' && !isAdded(file, summary)) return toGithub(reports, false).annotations;
    return annotations;
  },
  sarif: async (reports) => {
    const [{ toSarif }, { ruleInfo }] = await Promise.all([import('../formats/sarif.ts'), import('./rules.ts')]);
    return toSarif(reports, version(), ruleInfo());
  },
  junit: async (reports) => (await import('../formats/junit.ts')).toJunit(reports),
  gitlab: async (reports) => (await import('../formats/gitlab.ts')).toGitlab(reports),
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

async function write(text: string, { output }: Asked): Promise<void> {
  if (output === undefined) {
    print(text);
    return;
  }
  const { writeOutput } = await import('./write.ts');
  writeOutput(output, text);
}
