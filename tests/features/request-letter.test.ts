/** Letters that ask for a paper: what of the plan stands in them, and what is left open. */
import { describe, expect, test } from 'vitest';
import { lettersOf } from '../../server/features/request-letter.ts';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { shootspec } from '../helpers/command.ts';
import { DiskRepo } from '../helpers/server.ts';
import { checkerFor, spec, specPath } from '../helpers/workspace.ts';

const blocks = `brief: { client: "Tinnabel, music-box makers", needs-rights: [comb] }
deliver:
  film: { raster: 1920x1080, rate: 25, codec: h264, bitrate: 16 Mb/s, shown-on: [web, event], territory: [DE, AT], published: 2026-12-12 to 2027-12-11 }
  story: { like: film, raster: 1080x1920, shown-on: social, section: 6 s to 10 s }
shots:
  box: { record: 12 s, people: hand }
  teeth: { record: 12 s, shows: comb }
music: { track: tune, tempo: 100 bpm }
cut:
  - { shot: box, length: 6 s }
  - { shot: teeth, length: 4 s }
rights:
  tune: { kind: music, shown-on: web, territory: DE, credit: "Music: R. Velm" }
  hand: { kind: release, owner: own }
  shelf: { kind: place, proof: rights/shelf.md, shown-on: web, territory: DE }
`;
const lettersIn = (text: string, files: Record<string, string> = {}) =>
  lettersOf(checkerFor(files).checkAs('shoot', spec(text)).film!);

describe('letters', () => {
  test('for what lacks a paper or an entry, and nothing else', () => {
    const paper = { 'rights/shelf.md': '' };
    expect(lettersIn(blocks, paper).map(({ name }) => name)).toEqual(['tune', 'comb']);
    // A paper that is named and not there is no paper.
    expect(lettersIn(blocks).map(({ name }) => name)).toEqual(['tune', 'shelf', 'comb']);
    const all = blocks.replace('kind: music,', 'kind: music, owner: public-domain,').replace('shows: comb', 'takes: 1');
    expect(lettersIn(all, paper)).toEqual([]);
  });

  test('say what, where, how long, where shown and for how long', () => {
    const [tune, comb] = lettersIn(blocks, { 'rights/shelf.md': '' });
    for (const words of [
      'we are making a film for Tinnabel, music-box makers: “Music box, a first look”. We would like to play your music in it',
      '- **Where in the film**: under the film',
      '- **The film**: film (10 s) and story (4 s)',
      '- **Shown**: on the web, at events and in social media',
      '- **Countries**: in DE and AT',
      '- **For how long**: 2026-12-12 to 2027-12-11',
      '- **Words in the film that name you**: Music: R. Velm',
      '- **What you ask for it**: ____',
      'this is not legal advice',
    ])
      expect(tune!.text).toContain(words);
    // It is seen from 6 s on, which both deliverables show.
    expect(comb!.text).toContain('- **Where in the film**: 6 s to 10 s');
    expect(comb!.text).toContain('Your name or mark is seen in it');
  });

  test('leave blank what the plan does not say', () => {
    const bare = `deliver:\n  film: { raster: 1920x1080, rate: 25, codec: h264, bitrate: 16 Mb/s }\nmusic: { track: tune, tempo: 100 bpm }\n`;
    const [tune] = lettersIn(bare);
    expect(tune!.text).toContain('- **For how long**: ____');
    expect(tune!.text).toContain('- **Words in the film that name you**: ____');
  });
});

test('the command prints them, or writes one file each and none over another', () => {
  const repo = new DiskRepo({ [specPath]: spec(blocks), 'rights/shelf.md': '' });
  const run = (...more: string[]) => shootspec(['letter', specPath, ...more], { cwd: repo.root });
  expect(run().stdout.match(/^# A request about/gm)).toHaveLength(2);
  expect(run('comb', '-o', 'letters').stdout).toMatch(/^Wrote letters.comb\.letter\.md\. Fill in the blanks/);
  expect(readdirSync(join(repo.root, 'letters'))).toEqual(['comb.letter.md']);
  expect(readFileSync(join(repo.root, 'letters/comb.letter.md'), 'utf8')).toContain('# A request about `comb`');
  expect(run('-o', 'letters').stderr).toContain('comb.letter.md` already, and it stays');
  expect(run('shelf').stderr).toContain('`shelf` lacks no paper in this film. These do: `tune` and `comb`.');
  repo.remove();
});
