/**
 * `npm run attack`: everything that a stranger can write, spoilt at random, through every feature and output, for as long
 * as it is told. It prints what it tried and what it found; the same seed tries the same things in the same order.
 */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { compare } from '../../server/compare/compare.ts';
import { comparedJson, comparedMarkdown, comparedText } from '../../server/compare/output.ts';
import type { CheckResult } from '../../server/core/checker.ts';
import { type FileKind, pathFault } from '../../server/core/paths.ts';
import { fixToEnd } from '../../server/features/fix-to-end.ts';
import { hoverAt } from '../../server/features/hover.ts';
import { outline } from '../../server/features/outline.ts';
import { toGithub } from '../../server/formats/github.ts';
import { toGitlab } from '../../server/formats/gitlab.ts';
import { toJson } from '../../server/formats/json.ts';
import { toJunit } from '../../server/formats/junit.ts';
import { reportOf } from '../../server/formats/report.ts';
import { toSarif } from '../../server/formats/sarif.ts';
import { plain, toText } from '../../server/formats/text.ts';
import { Checkout, GitFault } from '../../server/git.ts';
import { ignoreLines } from '../../server/ignore-lines.ts';
import { NodeHost } from '../../server/node-host.ts';
import { draw, pictureText, views } from '../../server/views/index.ts';
import { sheetText } from '../../server/views/sheet.ts';
import { gitEnv } from '../helpers/git.ts';
import { acting, actingTexts } from '../helpers/hostile.ts';
import { checkerFor } from '../helpers/workspace.ts';
import { corpus, sampleFiles, samples } from '../hostile/corpus.ts';
import { mutated, oddities } from '../hostile/mutate.ts';
import { Random } from '../hostile/random.ts';
import { checkerOf, expectSound } from '../hostile/sound.ts';
import { RepoAttack } from './repos.ts';
import { ServerAttack } from './server.ts';

const [seconds = '120', seedText = '20261129'] = process.argv.slice(2);
const random = new Random(Number(seedText));
const until = Date.now() + Number(seconds) * 1000;

const tried = new Map<string, number>();
const found: string[] = [];
let last = '';

function attempt(what: string, input: string, work: () => unknown): void {
  tried.set(what, (tried.get(what) ?? 0) + 1);
  const started = process.cpuUsage().user;
  try {
    work();
  } catch (error) {
    report(what, input, (error as Error).stack ?? String(error));
  }
  const tookMs = (process.cpuUsage().user - started) / 1000;
  if (tookMs > 10_000) report(what, input, `took ${Math.round(tookMs)} ms`);
}

function report(what: string, input: string, why: string): void {
  const line = `${what}: ${why.split('\n').slice(0, 4).join('\n  ')}`;
  if (line === last) return;
  last = line;
  found.push(line);
  console.log(`FOUND ${line}\n  in ${JSON.stringify(input.slice(0, 2000))}`);
}

function harmless(what: string, output: string): void {
  const acts = acting.exec(output);
  if (acts) throw new Error(`${what} holds ${JSON.stringify(acts[0])}`);
}

let previous: CheckResult | undefined;

/** One spoilt text of any kind, through all that reads it. */
function attackText(one: {
  name: string;
  kind: FileKind;
  text: string;
  files: Readonly<Record<string, string>>;
}): void {
  const { text, kind } = one;
  let result: CheckResult | undefined;
  attempt('checks', text, () => (result = expectSound(one, random.below(4) === 0)));
  if (!result) return;
  const checked = result;
  const made = reportOf(checked, {
    file: 'a.shoot.yaml',
    failAt: 'error',
    fileOf: (path) => path,
    fixesOf: ({ fixes }) => fixes,
  });
  const outputs: Record<string, () => string> = {
    text: () => toText([made], {}, plain),
    json: () => toJson([made]),
    sarif: () => toSarif([made], '1.0.0', () => undefined),
    github: () => Object.values(toGithub([made], true)).join('\n'),
    junit: () => toJunit([made]),
    gitlab: () => toGitlab([made]),
  };
  for (const [name, output] of Object.entries(outputs))
    attempt(`outputs (${name})`, text, () => harmless(name, output()));
  for (let more = 0; more < 5; more++) {
    const offset = random.below(text.length + 1);
    attempt('hovers', text, () => harmless('hover', hoverAt(checked, offset, () => undefined)?.markdown ?? ''));
  }
  attempt('outlines', text, () => outline(checked.doc.root));
  if (kind === 'shoot') {
    for (const { name } of views)
      attempt('pictures', text, () => {
        const picture = draw(name, checked);
        if (picture) harmless(name, pictureText(picture));
      });
    attempt('sheets', text, () => harmless('sheet', sheetText(checked) ?? ''));
    if (previous) {
      const before = previous;
      attempt('comparisons', text, () => {
        const files = [{ file: 'a', what: 'changed' as const, comparison: compare(before, checked) }];
        harmless('comparison', comparedMarkdown(files) + comparedText(files, plain) + comparedJson(files));
      });
    }
    previous = checked;
  }
  if (random.below(8) === 0)
    attempt('fixes to the end', text, () => fixToEnd(text, (now) => checkerOf(one.files).checkAs(kind, now)));
}

/** A spec beside spoilt kits and settings. */
function attackBeside(one: { name: string; text: string }): void {
  const [spec] = [random.of(Object.keys(sampleFiles).filter((path) => path.endsWith('.shoot.yaml')))];
  attempt('specs beside spoilt kits and settings', one.text, () =>
    checkerFor({ ...sampleFiles, [one.name]: one.text }).check(spec, sampleFiles[spec]!),
  );
}

const folder = mkdtempSync(join(tmpdir(), 'attack-'));
execFileSync('git', ['init', '-q', folder], { env: gitEnv });
writeFileSync(join(folder, 'a.shoot.yaml'), 'title: x\n');
execFileSync('git', ['-C', folder, 'add', '-A'], { env: gitEnv });
execFileSync('git', ['-C', folder, 'commit', '-qm', 'x'], { env: gitEnv });

function words(most: number): string {
  const all = [
    ...oddities,
    ...actingTexts,
    '../',
    '/',
    '..',
    'a',
    'HEAD',
    '^{commit}',
    '--upload-pack=x',
    '-c',
    '~1',
    '*',
    '**',
    '[',
    ']',
    '\\',
    '!',
    '{',
    '@{',
    ':',
    'con',
    'nul',
    '%2e',
  ];
  return Array.from({ length: 1 + random.below(most) }, () => random.of(all)).join('');
}

/** Paths that a spec may name, revisions that a user may be told to compare with, and lines of ignore files. */
async function attackNames(): Promise<void> {
  const name = words(6);
  const host = new NodeHost(folder);
  attempt('paths', name, () => {
    const read = host.read(name);
    host.exists(name);
    host.list(name);
    if ('text' in read && pathFault(name)) throw new Error('read a path that has a fault');
    if ('text' in read && read.text !== 'title: x\n' && !name.includes('.git')) throw new Error('read something else');
  });
  attempt('ignore files', name, () => ignoreLines(`${name}\n${words(30)}`)(words(4).split('/'), random.below(2) === 0));
  if (random.below(10) > 0) return;
  tried.set('revisions', (tried.get('revisions') ?? 0) + 1);
  try {
    const checkout = await Checkout.around(folder, { limitMs: 20_000, env: gitEnv });
    await checkout.commitOf(name.replaceAll('\0', ''));
  } catch (error) {
    if (!(error instanceof GitFault)) report('revisions', name, (error as Error).stack ?? String(error));
  }
}

/** The same texts through the bundled server, with everything that an editor asks it, and what none would. */
async function attackServer(one: { kind: FileKind; text: string }): Promise<void> {
  for (const { what, fault } of await server.round(one)) {
    tried.set(what, (tried.get(what) ?? 0) + 1);
    if (fault !== undefined) report(what, one.text, fault);
  }
}

/** Git repos of random shape, compared in by the command and by the server. */
async function attackRepo(): Promise<void> {
  for (const { what, input, fault } of await repos.round()) {
    tried.set(what, (tried.get(what) ?? 0) + 1);
    if (fault !== undefined) report(what, input, fault);
  }
}

const server = new ServerAttack(random);
await server.start();
const repos = new RepoAttack(random);
const others = samples.filter(({ name, kind }) => kind !== 'shoot' && name in sampleFiles);
for (let round = 0; Date.now() < until; round++) {
  const own = Number(seedText) + round;
  const bases = round % 3 === 0 ? samples : corpus;
  for (const one of fc.sample(mutated(bases, 4, round % 2 === 0), { numRuns: 8, seed: own })) {
    if (Date.now() > until) break;
    attackText(one);
    if (random.below(4) === 0) await attackServer(one);
  }
  for (const one of fc.sample(mutated(others, 4, true), { numRuns: 1, seed: own })) attackBeside(one);
  for (let more = 0; more < 5; more++) await attackNames();
  if (round % 6 === 0) await attackRepo();
}
await server.stop();
await repos.stop();
rmSync(folder, { recursive: true, force: true });

console.log(`\nseed ${seedText}, ${seconds} s; tried:`);
for (const [what, count] of [...tried].sort()) console.log(`  ${String(count).padStart(8)} ${what}`);
console.log(found.length === 0 ? 'Nothing was found.' : `${found.length} faults were found.`);
process.exitCode = found.length === 0 ? 0 : 1;
