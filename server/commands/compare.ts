/** `shootspec compare`: two files, or two versions of a repo's files, and what changed in the plan. */
import { existsSync, mkdirSync, statSync } from 'node:fs';
import { dirname, join, relative, resolve, sep } from 'node:path';
import { compare as compareResults } from '../compare/compare.ts';
import { type AddressOf, comparedJson, comparedMarkdown, type ComparedFile, comparedText } from '../compare/output.ts';
import { comparedPage } from '../compare/page.ts';
import { changedPictures } from '../compare/pictures.ts';
import { Checker, type CheckResult } from '../core/checker.ts';
import { severities } from '../core/finding.ts';
import { onceAt } from '../core/memo.ts';
import { kindOf } from '../core/paths.ts';
import { atLeast } from '../core/settings.ts';
import { Checkout, GitFault, pathInRepo, type Revision } from '../git.ts';
import { rules } from '../rules/index.ts';
import { placeOf, readText } from './check-file.ts';
import { assertAtHome, assertOurs, expand, leadsOut, leftAlone } from './files.ts';
import { paintFor } from './paint.ts';
import { oneOf, parse, print, sayWhy, UsageError } from './usage.ts';
import { writeOutput } from './write.ts';
import { table } from './table.ts';

type Format = (typeof table.compare.options.format.words)[number];

export async function compare(args: string[]): Promise<number> {
  const { values, positionals } = parse(args, 'compare');
  const format = oneOf('--format', values.format ?? 'text', table.compare.options.format.words);
  const failOn = values['fail-on'] === undefined ? undefined : oneOf('--fail-on', values['fail-on'], severities);
  if (values.pictures !== undefined && format !== 'markdown')
    throw new UsageError(
      '`--pictures` is for `--format markdown`, whose pictures lie beside it; `--format html` has them inside.',
    );
  const hasPictures = values.pictures !== undefined || format === 'html';
  const files = await comparedOrSaid(positionals, hasPictures);
  const text = await textOf(files, format, values);
  if (values.output === undefined) print(text);
  else writeOutput(values.output, text);
  const fresh = files.flatMap(({ comparison }) => comparison.new);
  return failOn !== undefined && fresh.some((finding) => atLeast(finding.severity, failOn)) ? 1 : 0;
}

async function textOf(
  files: readonly ComparedFile[],
  format: Format,
  { output, pictures }: { readonly output?: string; readonly pictures?: string },
): Promise<string> {
  if (format === 'json') return comparedJson(files);
  if (format === 'html') return comparedPage(files);
  if (format === 'markdown')
    return comparedMarkdown(files, pictures === undefined ? undefined : kept(files, pictures, output));
  return comparedText(files, await paintFor(process.stdout, output === undefined, process.env));
}

/** Writes the pictures to a folder; they are named as they are seen from where the text lies. */
function kept(files: readonly ComparedFile[], folder: string, output: string | undefined): AddressOf {
  mkdirSync(folder, { recursive: true });
  const nameOf: AddressOf = ({ file }, { shot }, side) =>
    `${[file.replace(/\.shoot\.yaml$/, ''), shot, side].join('-').replace(/[^\p{L}\p{N}-]+/gu, '-')}.png`;
  const all = files.flatMap((one) => (one.pictures ?? []).map((picture) => ({ one, picture })));
  for (const { one, picture } of all)
    for (const side of ['before', 'after'] as const)
      if (picture[side]) writeOutput(join(folder, nameOf(one, picture, side)), picture[side]);
  const from = relative(output === undefined ? '.' : dirname(output), folder)
    .split(sep)
    .join('/');
  return (...what) => encodeURI(`${from === '' ? '' : `${from}/`}${nameOf(...what)}`);
}

/** A file as it was checked on both sides. */
interface Versions extends Omit<ComparedFile, 'comparison' | 'pictures'> {
  readonly before: CheckResult | undefined;
  readonly after: CheckResult | undefined;
}

/** What stands in git's way is the user's to put right. */
async function comparedOrSaid(paths: readonly string[], hasPictures: boolean): Promise<ComparedFile[]> {
  try {
    return (await compared(paths)).map(({ before, after, ...one }) => ({
      ...one,
      comparison: compareResults(before, after),
      ...(hasPictures && { pictures: changedPictures(before, after) }),
    }));
  } catch (error) {
    throw error instanceof GitFault ? new UsageError(error.message) : error;
  }
}

async function compared(paths: readonly string[]): Promise<Versions[]> {
  const [first, second] = paths;
  if (first === undefined)
    throw new UsageError('Say what to compare: two files, or a revision such as `shootspec compare HEAD`.');
  if (isThere(first) || isBlob(first)) {
    if (second === undefined || paths.length > 2)
      throw new UsageError('Two files are compared: `shootspec compare OLD NEW`.');
    const [before, after] = [await versionOf(first), await versionOf(second)];
    return [{ file: after.name, what: 'changed', before: before.result, after: after.result }];
  }
  return compareRevisions(first, paths.slice(1));
}

function isThere(path: string): boolean {
  return statSync(path, { throwIfNoEntry: false })?.isFile() ?? false;
}

/** `REVISION:PATH` */
function isBlob(name: string): boolean {
  return /^[^:]+:./.test(name) && kindOf(name) !== undefined;
}

// -- two files -------------------------------------------------------------------------------------------------------

interface Version {
  readonly name: string;
  readonly result: CheckResult;
}

async function versionOf(name: string): Promise<Version> {
  if (isThere(name)) {
    assertAtHome(name, resolve(name));
    assertOurs(name, resolve(name));
    return { name, result: onDisk(resolve(name)) };
  }
  if (!isBlob(name)) throw new UsageError(`There is no file \`${name}\`, and it is no REVISION:PATH.`);
  const colon = name.indexOf(':');
  const checkout = await Checkout.around(process.cwd());
  const revision = await revisionOf(checkout, name.slice(0, colon));
  const path = name.slice(colon + 1);
  // As git has it: from the top of the repo, or from here with `./`.
  const file = /^\.\.?\//.test(path) ? pathInRepo(checkout.top, resolve(path)) : path;
  const result = inRevision(revision, file);
  if (!result) throw new UsageError(`There is no \`${file}\` in \`${name.slice(0, colon)}\`.`);
  return { name, result };
}

function onDisk(file: string): CheckResult {
  const { checker, path } = placeOf(file);
  return checker.check(path, readText(file))!;
}

async function revisionOf(checkout: Checkout, name: string): Promise<Revision> {
  const commit = await checkout.commitOf(name);
  if (commit === undefined) throw new UsageError(`\`${name}\` is no file, and no revision that git knows.`);
  return checkout.revision(commit);
}

const checkerOf = onceAt((revision: Revision, root: string) => new Checker(revision.host(root), rules));

function inRevision(revision: Revision, file: string): CheckResult | undefined {
  const root = revision.rootFor(file, pathInRepo(revision.top, process.cwd()));
  const path = revision.pathIn(root, file);
  const read = revision.read(path, root);
  return 'text' in read ? checkerOf(revision, root).check(path, read.text) : undefined;
}

// -- a repo ----------------------------------------------------------------------------------------------------------

/** A revision against the files as they are, or against another revision; all files, or those in some paths. */
async function compareRevisions(name: string, rest: readonly string[]): Promise<Versions[]> {
  const checkout = await Checkout.around(process.cwd());
  const { top } = checkout;
  const before = await revisionOf(checkout, name);
  const other = rest[0] !== undefined && !existsSync(rest[0]) ? await checkout.commitOf(rest[0]) : undefined;
  const after = other === undefined ? undefined : await checkout.revision(other);
  const paths = after ? rest.slice(1) : rest;
  const wanted = wantedIn(top, paths, before, after);
  const { names, changed } = await checkout.differences(before.commit, after?.commit);
  const now = after ? after.files.filter(isOurs) : (await expand([top], sayWhy)).map((file) => pathInRepo(top, file));
  const renamedFrom = new Set(names.values());
  const all = [...new Set([...now, ...before.files.filter((file) => isOurs(file) && !renamedFrom.has(file))])];
  // Specs depend on kits, settings and proofs: where one of those changed, all specs are looked at.
  const othersChanged = [...changed].some((file) => kindOf(file) !== 'shoot');
  return all
    .filter((file) => wanted(file) && (changed.has(file) || (othersChanged && kindOf(file) === 'shoot')))
    .sort((a, b) => (a < b ? -1 : 1))
    .flatMap((file) => compareOne(file, names.get(file), before, after));
}

function isOurs(file: string): boolean {
  return kindOf(file) !== undefined && !file.split('/').includes('node_modules');
}

function compareOne(file: string, was: string | undefined, before: Revision, after: Revision | undefined): Versions[] {
  const full = join(before.top, file);
  const isOnDisk = !after && isThere(full);
  if (isOnDisk && leadsOut(before.top, full)) {
    sayWhy(leftAlone(file));
    return [];
  }
  const old = inRevision(before, was ?? file);
  const fresh = after ? inRevision(after, file) : isOnDisk ? onDisk(full) : undefined;
  if (!old && !fresh) return [];
  const what = !old ? 'added' : !fresh ? 'removed' : 'changed';
  return [{ file, was, what, before: old, after: fresh }];
}

/** Is a file among those that are asked for? Every path must have been there on one side. */
function wantedIn(top: string, paths: readonly string[], before: Revision, after: Revision | undefined) {
  const inside = paths.map((path) => pathInRepo(top, resolve(path)));
  const isIn = (file: string, path: string) => path === '' || file === path || file.startsWith(`${path}/`);
  for (const [index, path] of inside.entries()) {
    const known =
      existsSync(resolve(paths[index]!)) || [...before.files, ...(after?.files ?? [])].some((file) => isIn(file, path));
    if (!known) throw new UsageError(`There is no file or folder \`${paths[index]}\`, and no revision of that name.`);
  }
  return (file: string) => inside.length === 0 || inside.some((path) => isIn(file, path));
}
