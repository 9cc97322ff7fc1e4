/** The `shootspec` command: wiring only. Exit codes: 0 clean, 1 findings at or above the threshold, 2 usage or crash. */
import { readFileSync, realpathSync, statSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { parseArgs } from 'node:util';
import { Checker, settingsPath } from './core/checker.ts';
import { largestFileBytes } from './core/document/parse.ts';
import type { Severity } from './core/finding.ts';
import { severities } from './core/finding.ts';
import { kindOf } from './core/paths.ts';
import { atLeast } from './core/settings.ts';
import { toJson } from './formats/json.ts';
import { type FileReport, harmless } from './formats/report.ts';
import { plain, toText } from './formats/text.ts';
import { NodeHost, pathFrom, rootFor } from './node-host.ts';
import { rules } from './rules/index.ts';

const usage = `Usage: shootspec COMMAND

  check PATH…     check specs, kits and settings; folders are searched
      --format text|json    how findings are printed (text)
      --fail-on SEVERITY    mildest finding that makes the exit code 1: error, warning, info or hint
                            (error, or \`fail-at\` of shootspec.yaml)
  rules           list all rules, family by family (--format json)
  explain RULE    print the page of a rule
  compute [TOPIC KEY=VALUE…]
                  work out one thing, with its formula and source: \`compute mired from=3200K to=5600K\`;
                  alone it lists what can be computed (--json)
  serve           run the language server (--stdio, or --socket=PORT)
  help, version

Exit codes: 0 clean, 1 findings at or above the threshold, 2 wrong usage or a crash.
`;

/** Something that the user can put right; said in one line, exit code 2. */
class UsageError extends Error {}

type Command = (args: string[]) => Promise<number> | number;

const commands: Readonly<Record<string, Command>> = {
  check,
  rules: listRules,
  explain,
  compute,
  serve,
  help: () => print(usage),
  '--help': () => print(usage),
  version: () => print(`${version()}\n`),
  '--version': () => print(`${version()}\n`),
};

async function check(args: string[]): Promise<number> {
  const { values, positionals } = parse(args, { format: { type: 'string' }, 'fail-on': { type: 'string' } });
  const format = oneOf('--format', values['format'] ?? 'text', ['text', 'json'] as const);
  const failOn = values['fail-on'] === undefined ? undefined : oneOf('--fail-on', values['fail-on'], severities);
  if (positionals.length === 0) throw new UsageError('Say which files or folders to check: `shootspec check .`');
  const files = await expand(positionals);
  const checkers = new Map<string, Checker>();
  let failed = false;
  const reports = files.map((file): FileReport => {
    const { checker, path } = checkerOf(file, checkers);
    const result = checker.check(path, readText(file))!;
    const threshold: Severity = failOn ?? checker.settings(path).failAt;
    failed ||= result.findings.some((finding) => atLeast(finding.severity, threshold));
    return { file: pathFrom(process.cwd(), file), result };
  });
  print(format === 'json' ? toJson(reports) : toText(reports, process.stdout.isTTY ? await colours() : plain));
  return failed ? 1 : 0;
}

function checkerOf(file: string, checkers: Map<string, Checker>): { checker: Checker; path: string } {
  const root = rootFor(file, process.cwd());
  let checker = checkers.get(root);
  if (!checker) checkers.set(root, (checker = new Checker(new NodeHost(root), rules)));
  return { checker, path: pathFrom(root, file) };
}

/** The files that are meant: those named, and ours in the folders named, in a fixed order. */
async function expand(paths: readonly string[]): Promise<string[]> {
  const files = new Set<string>();
  for (const path of paths) {
    const full = resolve(path);
    const stat = statSync(full, { throwIfNoEntry: false });
    if (!stat) throw new UsageError(`There is no file or folder \`${path}\`.`);
    if (stat.isDirectory()) for (const file of await search(full)) files.add(file);
    else if (!stat.isFile()) throw new UsageError(`\`${path}\` is no ordinary file.`);
    else if (!kindOf(pathFrom(dirname(full), full))) {
      throw new UsageError(
        `\`${path}\` is none of ours: the names end in \`.shoot.yaml\` or \`.kit.yaml\`, or are \`${settingsPath}\`.`,
      );
    } else files.add(full);
  }
  return [...files];
}

async function search(folder: string): Promise<string[]> {
  const { glob } = await import('tinyglobby');
  const found = await glob(['**/*.shoot.yaml', '**/*.kit.yaml', `**/${settingsPath}`], {
    cwd: folder,
    absolute: true,
    followSymbolicLinks: false,
    ignore: ['**/node_modules/**'],
  });
  return found.map((file) => resolve(file)).sort((a, b) => (a < b ? -1 : 1));
}

/** A file's text; one that is too large is cut, since the document model refuses it by its length alone. */
function readText(file: string): string {
  const bytes = readFileSync(file);
  return bytes.subarray(0, largestFileBytes + 1).toString('utf8');
}

async function colours() {
  const { default: colour } = await import('picocolors');
  const of = { error: colour.red, warning: colour.yellow, info: colour.cyan, hint: colour.gray };
  return { severity: (severity: Severity, text: string) => of[severity](text), dim: colour.dim, strong: colour.bold };
}

function listRules(args: string[]): number {
  const { values } = parse(args, { format: { type: 'string' } });
  const format = oneOf('--format', values['format'] ?? 'text', ['text', 'json'] as const);
  if (format === 'json') {
    const list = rules.map(({ id, family, severity, summary, sources, limits }) => ({
      id,
      family,
      severity,
      summary,
      sources,
      limits: limits ?? {},
    }));
    return print(`${JSON.stringify({ rules: list }, null, 2)}\n`);
  }
  const families = [...new Set(rules.map((rule) => rule.family))];
  const blocks = families.map((family) => {
    const lines = rules
      .filter((rule) => rule.family === family)
      .map(
        (rule) => `  ${rule.id} (${rule.severity})\n      ${rule.summary}\n      Source: ${rule.sources.join('; ')}`,
      );
    return `${family}\n${lines.join('\n')}\n`;
  });
  return print(`${blocks.join('\n')}\n${rules.length} rules\n`);
}

function explain(args: string[]): number {
  const { positionals } = parse(args, {});
  const [id] = positionals;
  if (id === undefined)
    throw new UsageError('Say which rule: `shootspec explain shutter-off-half-frame`. `shootspec rules` lists them.');
  const pages = JSON.parse(readFileSync(beside('pages.json'), 'utf8')) as Record<string, string>;
  const page = Object.hasOwn(pages, id) ? pages[id] : undefined;
  if (page === undefined) throw new UsageError(`There is no rule \`${id}\`. \`shootspec rules\` lists them.`);
  return print(page);
}

/** Loaded only when asked for, so that checking starts as fast without it. */
async function compute(args: string[]): Promise<number> {
  const asJson = args.includes('--json');
  const { positionals } = parse(
    args.filter((arg) => arg !== '--json'),
    {},
  );
  const [{ run }, text] = await Promise.all([import('./compute/index.ts'), import('./compute/text.ts')]);
  const [topic, ...given] = positionals;
  if (topic === undefined) return print(asJson ? text.topicsJson() : text.topicsText());
  const answer = run(topic, given);
  if ('problem' in answer) throw new UsageError(harmless(answer.problem));
  return print(asJson ? text.answerJson(answer) : harmless(text.answerText(answer)));
}

/** The server takes its own arguments (`--stdio`, `--socket=PORT`) from the process. */
async function serve(args: string[]): Promise<number> {
  if (!args.some((arg) => arg === '--stdio' || arg === '--node-ipc' || /^--(?:socket|pipe)(?:=|$)/.test(arg)))
    process.argv.push('--stdio');
  await import(/* @vite-ignore */ beside('server.cjs'));
  return new Promise(() => {});
}

/** A file of the package, next to this one. */
function beside(name: string): string {
  return join(dirname(realpathSync(process.argv[1]!)), name);
}

function version(): string {
  return (JSON.parse(readFileSync(beside('../package.json'), 'utf8')) as { version: string }).version;
}

type Options = Record<string, { type: 'string' }>;

function parse(
  args: string[],
  options: Options,
): { values: Record<string, string | undefined>; positionals: string[] } {
  try {
    const { values, positionals } = parseArgs({ args, options, allowPositionals: true });
    return { values: values as Record<string, string | undefined>, positionals };
  } catch (error) {
    throw new UsageError((error as Error).message.split('.')[0] ?? 'Wrong usage');
  }
}

function oneOf<T extends string>(option: string, value: string, allowed: readonly T[]): T {
  const found = allowed.find((one) => one === value);
  if (found === undefined) throw new UsageError(`${option} takes ${allowed.join(', ')}, not \`${value}\`.`);
  return found;
}

function print(text: string): number {
  process.stdout.write(text);
  return 0;
}

async function main(): Promise<void> {
  const [name = 'help', ...args] = process.argv.slice(2);
  const command = Object.hasOwn(commands, name) ? commands[name] : undefined;
  try {
    if (!command) throw new UsageError(`There is no command \`${name}\`. \`shootspec help\` lists them.`);
    process.exitCode = await command(args);
  } catch (error) {
    const said =
      error instanceof UsageError
        ? error.message
        : `This is a fault in shootspec itself: ${(error as Error).stack ?? String(error)}`;
    process.stderr.write(`shootspec: ${said}\n`);
    process.exitCode = 2;
  }
}

void main();
