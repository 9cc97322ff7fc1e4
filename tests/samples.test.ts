/** The sample workspace, read from disk and checked as the editor and the command line do it. */
import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import { Checker } from '../server/core/checker.ts';
import { NodeHost } from '../server/node-host.ts';
import { rules } from '../server/rules/index.ts';

const root = fileURLToPath(new URL('../sample-workspace', import.meta.url));
const checker = new Checker(new NodeHost(root), rules);

/** How many findings of which rule each file has; a file without an entry has none. */
const expected: Readonly<Record<string, Readonly<Record<string, number>>>> = {
  'bud-vase.shoot.yaml': {
    'doubled-reflection': 1,
  },
  'first-draft.shoot.yaml': {
    'circuit-overloaded': 1,
    'cut-off-beat': 1,
    'file-too-big': 1,
    'gear-used-twice': 1,
    'lamp-behind-backdrop': 1,
    'length-off': 1,
    'licence-does-not-cover': 1,
    'mains-light-flickers': 1,
    'mixed-light': 1,
    'must-show-missing': 1,
    'name-not-defined': 1,
    'nearer-than-lens-focuses': 1,
    'odd-dimensions': 1,
    'overhead-without-bond': 1,
    'product-leaves-too-early': 1,
    'product-outside-crop': 1,
    'recording-too-short': 1,
    'release-missing': 1,
    'setting-left-automatic': 1,
    'title-too-brief': 1,
    'turn-misses-angle': 1,
  },
};

/** Findings that a word or a comment takes away, and which of them it is. */
const silenced: Readonly<Record<string, readonly string[]>> = {
  'music-box.shoot.yaml': ['depth-of-field-short', 'white-balance-off-lamp'],
  'rocking-horse.shoot.yaml': ['lamp-in-shot', 'light-uneven-across-product'],
};

const files = ['', 'kits/']
  .flatMap((folder) => readdirSync(`${root}/${folder}`).map((name) => folder + name))
  .filter((name) => name.endsWith('.yaml'))
  .sort();

/** All but the first draft, which is left as it was. */
const finished = files.filter((file) => file !== 'first-draft.shoot.yaml');

function check(file: string) {
  return checker.check(file, readFileSync(`${root}/${file}`, 'utf8'))!;
}

function counted(names: readonly string[]): Record<string, number> {
  const counts: Record<string, number> = {};
  for (const name of [...names].sort()) counts[name] = (counts[name] ?? 0) + 1;
  return counts;
}

describe('sample workspace', () => {
  test.each(files)('%s has the findings that it should', (file) => {
    const found = check(file).findings;
    expect(counted(found.map((finding) => finding.rule))).toEqual(expected[file] ?? {});
  });

  test.each(files)('%s silences what it says', (file) => {
    const taken = check(file).silenced.map(({ finding }) => finding.rule);
    expect([...new Set(taken)].sort()).toEqual(silenced[file] ?? []);
  });

  test.each(finished)('%s is free of errors and warnings, and its papers are there', (file) => {
    const { findings, film } = check(file);
    expect(findings.filter(({ severity }) => severity === 'error' || severity === 'warning')).toEqual([]);
    for (const { name, proof } of film?.rights.values() ?? []) {
      expect(proof && checker.host.exists(proof.value), `the paper for ${name}`).toBe(true);
    }
  });

  test('the first draft shows what the checks find best: findings of every family, and no more than are read', () => {
    const { findings } = check('first-draft.shoot.yaml');
    expect(findings.length).toBeLessThanOrEqual(25);
    const shown = new Set(findings.map(({ rule }) => rule));
    const families = new Set(rules.filter(({ id }) => shown.has(id)).map(({ family }) => family));
    // What take sheets say is shown by a sheet.
    const ofSpecs = new Set(rules.map(({ family }) => family).filter((family) => family !== 'takes'));
    expect([...families].sort()).toEqual([...ofSpecs].sort());
  });

  test('the smallest spec is small, and the largest uses every block', () => {
    const small = readFileSync(`${root}/clay-whistle.shoot.yaml`, 'utf8');
    expect(small.trimEnd().split('\n').length).toBeLessThanOrEqual(28);
    const schema = JSON.parse(readFileSync(`${root}/../schemas/shoot.schema.json`, 'utf8')) as {
      properties: Record<string, unknown>;
    };
    const large = readFileSync(`${root}/music-box.shoot.yaml`, 'utf8');
    const used = [...large.matchAll(/^([a-z-]+):/gm)].map((match) => match[1]);
    expect(used.sort()).toEqual(Object.keys(schema.properties).sort());
  });
});

test('the plan of the README has no finding, and says what the README says of its shutter', () => {
  const readme = readFileSync(new URL('../README.md', import.meta.url), 'utf8');
  const plan = /```yaml\n(title: [\s\S]*?)```/.exec(readme)![1]!;
  const said = /```\n([\w ]+: 1\/200 s [\s\S]*?)\n {2}fix: (.*)\n```/.exec(readme)!;
  const findings = (text: string) => checker.check('readme.shoot.yaml', text)!.findings;
  expect(findings(plan)).toEqual([]);
  const [first] = findings(plan.replace('shutter: 1/50 s', 'shutter: 1/200 s'));
  expect([first!.message, first!.fixes[0]!.title]).toEqual(said.slice(1));
});
