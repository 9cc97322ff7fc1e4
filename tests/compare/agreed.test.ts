/** What counts as a change of what the client agreed to, and where the agreed plan is read from. */
import { execFileSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { checkFile } from '../../server/commands/check-file.ts';
import { seenChanges } from '../../server/compare/agreed.ts';
import { History } from '../../server/history.ts';
import { commitAll, git, gitEnv } from '../helpers/git.ts';
import { checkerFor, kits, spec } from '../helpers/workspace.ts';

const plan = `brief: { client: Tinnabel, due: 2026-12-10 }
product: { size: 9 x 6 x 7 cm, finish: satin, weight: 420 g, parts: { crank: { size: 2 x 2 x 3 cm, height: 3 cm } } }
deliver:
  film: { raster: 1920x1080, rate: 25, length: 10 s, codec: h264, bitrate: 16 Mb/s, sound: none }
shots:
  box: { record: 12 s, shows: crank }
  near: { subject: crank, record: 12 s, camera: { distance: 40 cm } }
  spare: { record: 12 s }
cut:
  - { shot: box, length: 6 s }
  - { shot: near, length: 4 s }
titles: [{ text: Turns by hand, at: 1 s, hold: 4 s }]
rights: { waltz: { kind: music, proof: rights/waltz.md } }
`;

function changes(change: (text: string) => string, fees?: string): string[] {
  const film = (text: string, settings = '') =>
    checkerFor({ 'shootspec.yaml': settings }).checkAs('shoot', spec(text)).film!;
  const after = change(plan);
  if (fees === undefined) expect(after, 'the example changes something').not.toBe(plan);
  return seenChanges(film(plan), film(after, fees));
}

describe('a change of what the client saw', () => {
  test.each([
    ['length: 10 s', 'length: 8 s', 'deliverable film: length 10 s → 8 s'],
    ['sound: none', 'sound: stereo', 'deliverable film: sound none → with sound'],
    ['due: 2026-12-10', 'due: 2026-12-15', 'film: due 2026-12-10 → 2026-12-15'],
    ['size: 9 x 6 x 7 cm', 'size: 12 x 6 x 7 cm', 'product: size 9 x 6 x 7 cm → 12 x 6 x 7 cm'],
    ['shows: crank', 'shows: [crank, hand]', 'box: shows product, crank → product, crank, hand'],
    ['distance: 40 cm', 'distance: 20 cm', 'near: seen 2.1 times as large'],
    ['distance: 40 cm', 'angle: 30°, distance: 40 cm', 'near: seen from 30° further round'],
    ['length: 4 s', 'length: 3 s', 'piece 2, near: length 4 s → 3 s'],
    ['Turns by hand', 'Turned by hand', 'title `Turned by hand`: text Turns by hand → Turned by hand'],
    ['kind: music', 'kind: music, credit: The waltz', 'right waltz: credit The waltz'],
  ])('%s → %s', (before, after, said) => {
    expect(changes((text) => text.replace(before, after))).toEqual([said]);
  });

  test('things that come, go and change places', () => {
    expect(changes((text) => text.replace('  - { shot: near, length: 4 s }\n', ''))).toEqual([
      'piece 2, near: taken out',
    ]);
    expect(changes((text) => text.replace('shots:', '  story: { like: film, raster: 1080x1920 }\nshots:'))).toEqual([
      'deliverable story: new',
    ]);
    const [box, near] = ['  - { shot: box, length: 6 s }\n', '  - { shot: near, length: 4 s }\n'];
    expect(changes((text) => text.replace(box + near, near + box))).toHaveLength(1);
  });

  test('what the estimate is made of', () => {
    expect(changes((text) => text, 'fees: { currency: EUR, shooting-hour: 80 }\n')).toEqual([
      'fees: currency EUR, shooting-hour 80',
    ]);
  });
});

test.each([
  ['bitrate: 16 Mb/s', 'bitrate: 20 Mb/s'],
  ['codec: h264', 'codec: h265'],
  ['length: 10 s', 'length: 250 frames'],
  ['size: 9 x 6 x 7 cm', 'size: 90 x 60 x 70 mm'],
  ['weight: 420 g', 'weight: 430 g'],
  ['distance: 40 cm', 'distance: 38 cm, aperture: f/5.6, iso: 800, focus: 38 cm'],
  ['box: { record: 12 s', 'box: { record: 15 s, takes: 6, notes: Mind the cable.'],
  ['  spare: { record: 12 s }\n', ''],
  ['proof: rights/waltz.md', 'proof: rights/the-waltz.md'],
  ['titles:', 'lamps: { key: { use: panel, level: 10 %, distance: 1 m, angle: 45°, height: 40 cm } }\ntitles:'],
])('what only the maker cares about is none: %s → %s', (before, after) => {
  expect(changes((text) => text.replace(before, after))).toEqual([]);
});

describe('in a repo', () => {
  const top = mkdtempSync(join(tmpdir(), 'agreed-'));
  const [film, moved] = [join(top, 'films/box.shoot.yaml'), join(top, 'films/waltz.shoot.yaml')];
  const agreed = (revision: string) => `agreed: { who: Ada Tinnabel, day: 2026-11-20, revision: "${revision}" }\n`;
  let commit = '';

  beforeAll(() => {
    for (const folder of ['films', 'kits']) mkdirSync(join(top, folder));
    writeFileSync(join(top, 'shootspec.yaml'), 'region: DE\n');
    for (const [path, text] of Object.entries(kits)) writeFileSync(join(top, path), text);
    writeFileSync(film, spec(plan));
    commitAll(top);
    commit = execFileSync('git', ['rev-parse', 'HEAD'], { cwd: top, env: gitEnv, encoding: 'utf8' }).trim();
  });
  afterAll(() => rmSync(top, { recursive: true, force: true }));

  async function said(file: string, text: string): Promise<string[]> {
    const { findings } = await checkFile(file, { fixes: false }, text);
    return findings
      .filter(({ rule }) => rule === 'changed-since-agreed')
      .map((one) => `${one.severity}: ${one.message}`);
  }

  test('the command holds the plan against the commit, by its first digits', async () => {
    expect(await said(film, spec(plan + agreed(commit.slice(0, 9))))).toEqual([]);
    const now = spec(
      plan.replace('length: 10 s', 'length: 8 s').replace('Turns', 'Turned') + agreed(commit.slice(0, 9)),
    );
    expect(await said(film, now)).toEqual([
      `warning: \`Ada Tinnabel\` agreed to this plan on 2026-11-20 as it was at \`${commit.slice(0, 9)}\`, and since then it has changed: deliverable film: length 10 s → 8 s and title \`Turned by hand\`: text Turns by hand → Turned by hand. Show them the plan again, then write the day and the revision that they agree to.`,
    ]);
  });

  test('a revision that git does not know is said', async () => {
    expect(await said(film, spec(plan + agreed('0123456789')))).toEqual([
      'info: Git knows no revision `0123456789`, so nothing is held against what `Ada Tinnabel` agreed to. Write the commit that holds it: `git log` lists them.',
    ]);
  });

  test('a file that was moved since is found under its old name, and one that was not there is said', async () => {
    const history = new History();
    const at = async (path: string) => {
      history.of(top, path, commit);
      await history.settled();
      return history.of(top, path, commit)?.kind;
    };
    expect(history.of(top, 'films/box.shoot.yaml', commit)).toBeUndefined();
    await history.settled();
    expect(history.lastCommit(top)).toBe(commit);
    expect(await at('films/other.shoot.yaml')).toBe('absent');
    renameSync(film, moved);
    git(top, 'add', '-A');
    expect(await at('films/waltz.shoot.yaml')).toBe('plan');
    history.trust(false);
    expect(history.of(top, 'films/waltz.shoot.yaml', commit)).toBeUndefined();
  });

  test('a copy with the last commits alone says so, and where there is no git nothing is said', async () => {
    const copies = mkdtempSync(join(tmpdir(), 'copy-'));
    writeFileSync(join(top, 'films/new.shoot.yaml'), spec(plan));
    commitAll(top);
    git(copies, 'clone', '-q', '--depth', '1', `file://${top}`, 'shallow');
    const history = new History();
    for (const root of [join(copies, 'shallow'), copies]) history.of(root, 'films/new.shoot.yaml', commit);
    await history.settled();
    expect(history.of(join(copies, 'shallow'), 'films/new.shoot.yaml', commit)).toEqual({
      kind: 'unknown',
      isCutOff: true,
    });
    expect(history.of(copies, 'films/new.shoot.yaml', commit)).toBeUndefined();
    rmSync(copies, { recursive: true, force: true });
  });
});
