/** Renaming: only the name's characters change, in every file in which it means the same. */
import { describe, expect, it } from 'vitest';
import { followMoves } from '../../server/features/follow-moves.ts';
import { rename, renameRange } from '../../server/features/rename.ts';
import { Repo } from '../helpers/cursor.ts';

const renamed = (files: Record<string, string>, name: string) => {
  const repo = new Repo(files);
  return repo.after(rename(repo.here, repo.offset, name));
};
const own = (text: string) => ({ 'a.shoot.yaml': text });

describe('a name of the file', () => {
  it('changes wherever it is used, and every comment stays', () => {
    const text =
      'shots:\r\n  tu‸rn: { record: 9 s } # the turn\r\ncut:\r\n  - { shot: "turn", length: 2 s } # turn\r\n  - shot: turn\r\n';
    expect(renamed(own(text), 'crank-turns')).toEqual({
      'a.shoot.yaml':
        'shots:\r\n  crank-turns: { record: 9 s } # the turn\r\ncut:\r\n  - { shot: "crank-turns", length: 2 s } # turn\r\n  - shot: crank-turns\r\n',
    });
  });

  it('changes from any of its uses, keys of blocks included', () => {
    const text =
      'deliver:\n  film: {}\n  story: { like: film }\ncut:\n  - zoom-by: { fil‸m: 0.9 }\ntitles:\n  - only-in: film\n';
    expect(renamed(own(text), 'main')).toEqual({
      'a.shoot.yaml': text.replace('‸', '').replaceAll('film', 'main'),
    });
  });

  it('of a part changes with what shows it and covers it', () => {
    const text =
      'product: { parts: { lab‸el: {} } }\nshots:\n  a: { subject: label, shows: [label] }\nrights: { label: {} }\n';
    expect(renamed(own(text), 'plate')).toEqual({ 'a.shoot.yaml': text.replace('‸', '').replaceAll('label', 'plate') });
  });

  it('of a lamp place that took the lamp of its name then says which lamp it is', () => {
    const kit = { 'a.kit.yaml': 'lamps:\n  panel: {}\n' };
    expect(renamed({ ...own('kit: a.kit.yaml\nlamps:\n  pa‸nel: { level: 50 % }\n'), ...kit }, 'key')).toEqual({
      'a.shoot.yaml': 'kit: a.kit.yaml\nlamps:\n  key: { level: 50 %, use: panel }\n',
    });
    expect(renamed({ ...own('kit: a.kit.yaml\nlamps:\n  pa‸nel:\n    level: 50 % # half\n'), ...kit }, 'key')).toEqual({
      'a.shoot.yaml': 'kit: a.kit.yaml\nlamps:\n  key:\n    level: 50 % # half\n    use: panel\n',
    });
  });
});

describe('a name of gear', () => {
  const kit = 'lamps:\n  panel: {} # two of them\nmodifiers:\n  softbox: { fits: panel }\n';

  it('changes in the kit and in all specs that take it from there, asked in either', () => {
    const files = {
      'a.kit.yaml': kit,
      'b.kit.yaml': 'batteries:\n  pack: { fits: panel }\n',
      'one.shoot.yaml': 'kit: [a.kit.yaml, b.kit.yaml]\nlamps:\n  key: { use: panel }\n',
      'x/two.shoot.yaml': 'kit: a.kit.yaml\nlamps:\n  panel: {}\n',
      'other.shoot.yaml': 'kit: b.kit.yaml\nlamps:\n  key: { use: panel }\n',
    };
    const expected = {
      'a.kit.yaml': kit.replaceAll('panel', 'mat'),
      'b.kit.yaml': 'batteries:\n  pack: { fits: mat }\n',
      'one.shoot.yaml': 'kit: [a.kit.yaml, b.kit.yaml]\nlamps:\n  key: { use: mat }\n',
      'x/two.shoot.yaml': 'kit: a.kit.yaml\nlamps:\n  panel: { use: mat }\n',
    };
    expect(renamed({ ...files, 'a.kit.yaml': kit.replace('panel:', 'pa‸nel:') }, 'mat')).toEqual(expected);
    const asked = files['one.shoot.yaml'].replace('use: panel', 'use: pan‸el');
    expect(renamed({ ...files, 'one.shoot.yaml': asked }, 'mat')).toEqual(expected);
  });

  const many = (count: number, ending: string) =>
    Object.fromEntries(Array.from({ length: count }, (_, index) => [`f/${index}${ending}`, 'title: A\n']));

  it('changes beside five thousand stills, and below twenty folders', () => {
    const far = `${'x/'.repeat(20)}one.shoot.yaml`;
    const files = { 'a.kit.yaml': kit.replace('panel:', 'pa‸nel:'), [far]: 'kit: a.kit.yaml\nlamps: { panel: {} }\n' };
    expect(Object.keys(renamed({ ...files, ...many(5100, '.jpg') }, 'mat'))).toEqual(['a.kit.yaml', far]);
  });

  it('stays where there are more files than are looked at', () => {
    const files = { 'a.kit.yaml': kit.replace('panel:', 'pa‸nel:') };
    expect(renamed({ ...files, ...many(5100, '.shoot.yaml') }, 'mat')).toMatch(
      /^This repo has more than 5000 folders, specs, kits and settings, .* Open the folder of the films by itself/,
    );
  });

  it('stays where another file that names it can’t be read', () => {
    const files = {
      'a.kit.yaml': kit.replace('panel:', 'pa‸nel:'),
      'one.shoot.yaml': 'kit: a.kit.yaml\nlamps: { key: { use: panel }\n',
    };
    expect(renamed(files, 'mat')).toMatch(/`one\.shoot\.yaml` names `panel` too and can't be read/);
  });
});

describe('is refused', () => {
  it.each([
    ['product', /word of the format/],
    ['none', /word of the format/],
    ['Turn', /can't be a name/],
    ['two words', /can't be a name/],
    ['', /can't be a name/],
    ['a'.repeat(200), /can't be a name/],
    ['close', /a name already in this file/],
  ])('for the name %j', (name, why) => {
    expect(renamed(own('shots:\n  tu‸rn: {}\n  close: {}\n'), name)).toMatch(why);
  });

  it('for a name that the kit has already', () => {
    const files = {
      ...own('kit: a.kit.yaml\nlamps:\n  key: { use: pa‸nel }\n'),
      'a.kit.yaml': 'lamps:\n  panel: {}\n  tube: {}\n',
    };
    expect(renamed(files, 'tube')).toMatch(/a name already in `a\.kit\.yaml`/);
  });

  it.each([
    ['a value', 'shots:\n  a: { record: 9‸ s }\n', /Only names that you gave/],
    ['a key of the format', 'sho‸ts: {}\n', /Only names that you gave/],
    ['the product', 'pro‸duct: {}\n', /always means the product/],
    [
      'gear that no kit has',
      'kit: kits/phone.kit.yaml\nlamps:\n  a: { use: sun‸lamp }\n',
      /No kit of this spec defines `sunlamp`/,
    ],
    ['a comment', 'shots:\n  a: {} # ‸a\n', /Only names that you gave/],
  ])('at %s', (_, text, why) => {
    const repo = new Repo(own(text));
    expect(renameRange(repo.here, repo.offset)).toMatchObject({ problem: expect.stringMatching(why) });
  });

  it('for checks in the settings', () => {
    const repo = new Repo({ 'shootspec.yaml': 'rules:\n  mixed-li‸ght: { severity: info }\n' });
    expect(renameRange(repo.here, repo.offset)).toMatchObject({ problem: expect.stringMatching(/name of a check/) });
  });
});

it('a new name for a shot may be that of a lamp', () => {
  expect(renamed(own('lamps:\n  key: {}\nshots:\n  tu‸rn: {}\n'), 'key')).toEqual({
    'a.shoot.yaml': 'lamps:\n  key: {}\nshots:\n  key: {}\n',
  });
});

describe('files that move', () => {
  const files = {
    'shootspec.yaml': '‸kit: kits/a.kit.yaml # for all\n',
    'kits/a.kit.yaml': 'lamps: {}\n',
    'one.shoot.yaml': 'kit: ["kits/a.kit.yaml", kits/b.kit.yaml]\nrights:\n  tune: { proof: papers/tune.md }\n',
    'x/two.shoot.yaml': 'kit: kits/a.kit.yaml\n',
  };
  const moved = (from: string, to: string) => {
    const repo = new Repo(files);
    return repo.after(followMoves(repo.here.files, [{ from, to }]));
  };

  it('are followed by every path to them', () => {
    expect(moved('kits/a.kit.yaml', 'gear/phone, new.kit.yaml')).toEqual({
      'shootspec.yaml': 'kit: "gear/phone, new.kit.yaml" # for all\n',
      'one.shoot.yaml': files['one.shoot.yaml'].replace('kits/a.kit.yaml', 'gear/phone, new.kit.yaml'),
      'x/two.shoot.yaml': 'kit: "gear/phone, new.kit.yaml"\n',
    });
  });

  it('move with their folder', () => {
    expect(moved('papers', 'legal/papers')).toEqual({
      'one.shoot.yaml': files['one.shoot.yaml'].replace('papers/', 'legal/papers/'),
    });
  });

  it('that leave the repo, or share the start of a name, change nothing', () => {
    expect(moved('kits/a.kit.yaml', '../a.kit.yaml')).toEqual({});
    expect(moved('kit', 'gear')).toEqual({});
  });
});
