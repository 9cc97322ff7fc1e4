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
  'boxwood-thimble.shoot.yaml': {
    'dark-room-hazard': 1,
  },
  'bud-vase.shoot.yaml': {
    'dark-room-hazard': 1,
  },
  'first-draft.shoot.yaml': {
    'backdrop-edge-in-shot': 1,
    'backdrop-too-sharp': 1,
    'circuit-overloaded': 1,
    'codec-level-exceeded': 1,
    'colour-chain-broken': 1,
    'cut-off-beat': 2,
    'day-too-long': 1,
    'depth-of-field-short': 2,
    'doubled-reflection': 2,
    'exposure-off': 4,
    'fade-overruns-shot': 1,
    'file-too-big': 2,
    'gear-used-twice': 1,
    'glass-on-turntable': 1,
    'lamp-behind-backdrop': 1,
    'length-off': 1,
    'licence-does-not-cover': 1,
    'licence-expired': 1,
    'licence-missing': 1,
    'loudness-off-target': 2,
    'mains-light-flickers': 3,
    'mixed-light': 3,
    'mounted-upside-down': 1,
    'move-beyond-kit': 1,
    'move-judders': 1,
    'music-too-short': 1,
    'must-show-missing': 2,
    'name-not-defined': 1,
    'nearer-than-lens-focuses': 1,
    'odd-dimensions': 1,
    'overhead-without-bond': 2,
    'product-leaves-too-early': 1,
    'product-outside-crop': 2,
    'rates-do-not-conform': 1,
    'recording-too-short': 2,
    'reel-left-wound': 1,
    'release-missing': 1,
    'setting-left-automatic': 2,
    'setting-not-in-kit': 1,
    'shutter-off-half-frame': 2,
    'slow-motion-lacks-frames': 1,
    'speed-shifts-pitch': 1,
    'stabiliser-on-locked-camera': 2,
    'title-low-contrast': 1,
    'title-time-clash': 1,
    'title-too-brief': 1,
    'title-too-small': 1,
    'true-peak-too-high': 2,
    'zoom-outruns-raster': 4,
  },
  'lacquer-clock.shoot.yaml': {
    'dark-room-hazard': 1,
    'glass-on-turntable': 2,
  },
  'music-box.shoot.yaml': {
    'overhead-without-bond': 1,
  },
  'rocking-horse.shoot.yaml': {
    'dark-room-hazard': 1,
    'overhead-without-bond': 1,
  },
  'tea-pour.shoot.yaml': {
    'dark-room-hazard': 1,
    'liquid-near-mains': 1,
  },
};

/** Findings that a word or a comment takes away, and which of them it is. */
const silenced: Readonly<Record<string, readonly string[]>> = {
  'music-box.shoot.yaml': ['depth-of-field-short', 'white-balance-off-lamp', 'zoom-outruns-raster'],
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

  test('the first draft shows findings of every family', () => {
    const shown = new Set(check('first-draft.shoot.yaml').findings.map(({ rule }) => rule));
    const families = new Set(rules.filter(({ id }) => shown.has(id)).map(({ family }) => family));
    expect([...families].sort()).toEqual([...new Set(rules.map(({ family }) => family))].sort());
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
