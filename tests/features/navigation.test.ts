/** Names, links, folds, selections and colours: a text with a cursor in, plain text out. */
import { describe, expect, it } from 'vitest';
import { parseDocument } from '../../server/core/document/parse.ts';
import { coloursOf, colourText } from '../../server/features/colours.ts';
import { foldsOf } from '../../server/features/folding.ts';
import {
  definitionsAt,
  highlightsAt,
  linksOf,
  referencesAt,
  workspaceSymbols,
} from '../../server/features/navigation.ts';
import { placesOf } from '../../server/features/places.ts';
import { selectionsAt } from '../../server/features/selection.ts';
import { Repo, split } from '../helpers/cursor.ts';

const definitions = (files: Record<string, string>) => {
  const repo = new Repo(files);
  return repo.shown(definitionsAt(repo.here, repo.offset));
};
const references = (files: Record<string, string>, withDefinitions = true) => {
  const repo = new Repo(files);
  return repo.shown(referencesAt(repo.here, repo.offset, withDefinitions));
};
const own = (text: string) => ({ 'a.shoot.yaml': text });

const kit = `title: A kit
cameras:
  cam: { modes: [] }
lamps:
  panel: { output: 900 lm }   # bought twice
  spot: { output: 900 lm }
modifiers:
  softbox: { fits: [panel, spot] }
`;

describe('the definition of a name', () => {
  it.each([
    ['a shot, from the cut', 'shots:\n  turn: {}\ncut:\n  - shot: tu‸rn\n', ['⟦turn⟧: {}']],
    ['a shot, in braces', 'shots: { turn: {} }\ncut: [{ shot: turn‸, length: 2 s }]\n', ['shots: { ⟦turn⟧: {} }']],
    ['a quoted name', 'shots:\n  "turn": {}\ncut:\n  - shot: \'‸turn\'\n', ['"⟦turn⟧": {}']],
    ['a set-up, from a day', 'set-ups:\n  near: {}\nschedule:\n  - order: [far, nea‸r]\n', ['⟦near⟧: {}']],
    ['a deliverable, under a key', 'deliver:\n  film: {}\ncut:\n  - zoom-by: { fi‸lm: 0.9 }\n', ['⟦film⟧: {}']],
    ['a lamp place', 'lamps:\n  key: {}\nshots:\n  a: { lit: [‸key] }\n', ['⟦key⟧: {}']],
    ['a part', 'product:\n  parts:\n    crank: {}\nshots:\n  a: { subject: c‸rank }\n', ['⟦crank⟧: {}']],
    ['the product', 'product: {}\nshots:\n  a: { subject: produ‸ct }\n', ['⟦product⟧: {}']],
    ['a right, from the music', 'music: { track: tun‸e }\nrights:\n  tune: {}\n', ['⟦tune⟧: {}']],
    [
      'a thing that only shots name',
      'brief: { must-show: h‸and }\nshots:\n  a: { shows: hand }\n',
      ['a: { shows: ⟦hand⟧ }'],
    ],
    ['itself', 'shots:\n  tur‸n: {}\n', ['⟦turn⟧: {}']],
    ['none of a name that is not there', 'shots:\n  turn: {}\ncut:\n  - shot: tur‸m\n', []],
    ['none of a word of the format', 'shots:\n  a: { lit: no‸ne }\n', []],
    ['none in a comment', 'shots:\n  turn: {} # tu‸rn\n', []],
    ['none of a part for a track of its name', 'product: { parts: { tune: {} } }\nmusic: { track: tu‸ne }\n', []],
  ])('%s', (_, text, expected) => {
    expect(definitions(own(text))).toEqual(expected);
  });

  it('of gear is in the first kit that has it', () => {
    const text = 'kit: [a.kit.yaml, b.kit.yaml]\nlamps:\n  key: { use: pan‸el }\n';
    expect(definitions({ ...own(text), 'a.kit.yaml': 'title: A\nlamps:\n  tube: {}\n', 'b.kit.yaml': kit })).toEqual([
      'b.kit.yaml: ⟦panel⟧: { output: 900 lm }   # bought twice',
    ]);
  });

  it('of a lamp place that says no `use` is the lamp of its name', () => {
    expect(definitions({ ...own('kit: a.kit.yaml\nlamps:\n  pan‸el: {}\n'), 'a.kit.yaml': kit })).toEqual([
      'a.kit.yaml: ⟦panel⟧: { output: 900 lm }   # bought twice',
    ]);
  });

  it('of gear is found through the settings where the spec names no kit', () => {
    const files = { 'shootspec.yaml': 'kit: a.kit.yaml\n', 'a.kit.yaml': kit };
    expect(definitions({ ...own('lamps:\n  key: { use: spo‸t }\n'), ...files })).toEqual([
      'a.kit.yaml: ⟦spot⟧: { output: 900 lm }',
    ]);
  });

  it('of what gear fits is in the same kit', () => {
    expect(definitions({ 'a.kit.yaml': kit.replace('[panel, spot]', '[panel, sp‸ot]') })).toEqual([
      '⟦spot⟧: { output: 900 lm }',
    ]);
  });
});

describe('the uses of a name', () => {
  it('are all that mean the same thing, and nothing that has only the name', () => {
    const text =
      'deliver:\n  turn: {}\nshots:\n  tu‸rn: { turn: {} }\ncut:\n  - shot: turn\n  - { shot: turn }\n  - shot: turns\n';
    expect(references(own(text))).toEqual(['⟦turn⟧: { turn: {} }', '- shot: ⟦turn⟧', '- { shot: ⟦turn⟧ }']);
    expect(references(own(text), false)).toEqual(['- shot: ⟦turn⟧', '- { shot: ⟦turn⟧ }']);
  });

  it('join a part, what shows it and what covers it', () => {
    const text =
      'brief: { needs-rights: label }\nproduct: { parts: { la‸bel: {} } }\nshots:\n  a: { shows: [label] }\nrights:\n  label: {}\n';
    expect(references(own(text))).toHaveLength(4);
  });

  it('of gear are in the kit and in every spec that takes it from there', () => {
    const files = {
      'a.kit.yaml': kit.replace('panel:', 'pan‸el:'),
      'b.kit.yaml': 'title: B\nlamps:\n  panel: {}\n',
      'one.shoot.yaml': 'kit: a.kit.yaml\nlamps:\n  key: { use: panel }\n',
      'two.shoot.yaml': 'kit: b.kit.yaml\nlamps:\n  key: { use: panel }\n',
      'deep/three.shoot.yaml': 'kit: [b.kit.yaml, a.kit.yaml]\nlamps:\n  key: { use: panel }\n',
      'four.shoot.yaml': 'kit: a.kit.yaml\nlamps:\n  panel: {}\n',
    };
    expect(references(files)).toEqual([
      '⟦panel⟧: { output: 900 lm }   # bought twice',
      'softbox: { fits: [⟦panel⟧, spot] }',
      'four.shoot.yaml: ⟦panel⟧: {}',
      'one.shoot.yaml: key: { use: ⟦panel⟧ }',
    ]);
  });

  it('are highlighted in this file, the definition apart', () => {
    const repo = new Repo(own('shots:\n  turn: {}\ncut:\n  - shot: tu‸rn\n'));
    const found = highlightsAt(repo.here, repo.offset);
    expect(repo.shown(found.map(({ start, end }) => ({ start, end })))).toEqual(['⟦turn⟧: {}', '- shot: ⟦turn⟧']);
    expect(found.map((one) => one.defines)).toEqual([true, false]);
  });
});

describe('links', () => {
  it('lead to kits and papers that are there, and out of the repo never', () => {
    const repo = new Repo({
      'a.shoot.yaml':
        '‸kit: [kits/phone.kit.yaml, kits/none.kit.yaml, ../b.kit.yaml]\nrights:\n  tune: { proof: rights/tune.md }\n  other: { proof: /etc/passwd }\n',
      'rights/tune.md': 'Yes.',
    });
    expect(linksOf(repo.here).map((one) => one.path)).toEqual(['kits/phone.kit.yaml', 'rights/tune.md']);
  });
});

describe('symbols of the repo', () => {
  it('are all names that are defined, found by their letters in order', () => {
    const { here } = new Repo({
      ...own('‸title: Box\nshots:\n  crank-close: {}\nlamps:\n  key: {}\n'),
      'x/b.shoot.yaml': 'shots:\n  close: {}\n',
    });
    const found = workspaceSymbols(here.files, 'cl').map(({ file, name, kind, within }) => [
      file.path,
      name,
      kind,
      within,
    ]);
    expect(found.filter(([path]) => path!.endsWith('.shoot.yaml'))).toEqual([
      ['a.shoot.yaml', 'crank-close', 'shot', 'Box'],
      ['x/b.shoot.yaml', 'close', 'shot', 'x/b.shoot.yaml'],
    ]);
    expect(workspaceSymbols(here.files, 'a.*(')).toEqual([]);
  });
});

describe('folds', () => {
  const folds = (text: string) =>
    foldsOf(text, parseDocument(text).lines).map(
      ({ startLine, endLine, isComment }) => `${startLine}-${endLine}${isComment ? ' comment' : ''}`,
    );

  it('are blocks, items of lists and runs of comments', () => {
    const text =
      '# One\n# Two\ntitle: A\nshots:\n  a:\n    record: 3 s\n\n    # note\n    takes: 2\n  b: {}\n\ncut:\n- shot: a\n  length: 2 s\n- shot: b\n';
    expect(folds(text)).toEqual(['0-1 comment', '3-9', '4-8', '11-14', '12-13']);
  });

  it('work in broken files and with Windows line ends', () => {
    expect(folds('shots:\r\n  a: {\r\n    record: 3 s\r\n')).toEqual(['0-2', '1-2']);
    expect(folds('')).toEqual([]);
  });
});

describe('selections', () => {
  it('grow from the value to the whole file', () => {
    const { text, offset } = split('shots:\n  a:\n    camera: { shutter: 1/5‸0 s }\ncut: []\n');
    const ranges = selectionsAt(parseDocument(text).root, text.length, offset);
    expect(ranges.map(({ start, end }) => text.slice(start, end).split('\n')[0])).toEqual([
      '1/50 s',
      'shutter: 1/50 s',
      '{ shutter: 1/50 s }',
      'camera: { shutter: 1/50 s }',
      'a:',
      'shots:',
      'shots:',
      'shots:',
    ]);
    expect(ranges.at(-1)).toEqual({ start: 0, end: text.length });
  });

  it('of an empty file is the file', () => {
    expect(selectionsAt(undefined, 0, 0)).toEqual([{ start: 0, end: 0 }]);
  });
});

describe('colours', () => {
  const colours = (text: string) => {
    const { root } = parseDocument(text);
    return coloursOf(placesOf('shoot', root)).map(({ start, end, rgb }) => [
      text.slice(start, end),
      [rgb.r, rgb.g, rgb.b].map((value) => Math.round(value * 255)).join(),
    ]);
  };

  it('are those that are written, without their quotes', () => {
    expect(colours('backdrop: { colour: "#7a3b2e" }\ntitles:\n  - { panel: \'#FFFFFF\', over: "#abc" }\n')).toEqual([
      ['#7a3b2e', '122,59,46'],
      ['#FFFFFF', '255,255,255'],
    ]);
  });

  it('are those of lamps, warm ones orange and the white of a screen white, at both ends of a change', () => {
    const found = colours('lamps:\n  a: { temperature: 2700 K to 6500 K }\n  b: { temperature: warm }\n');
    expect(found.map(([text]) => text)).toEqual(['2700 K', '6500 K']);
    const [warm, white] = found.map(([, rgb]) => rgb!.split(',').map(Number));
    // Illuminant A family is orange on a D65 screen: red full, blue well below half (Planckian locus, sRGB primaries).
    expect(warm![0]).toBe(255);
    expect(warm![2]).toBeLessThan(120);
    // CIE daylight of 6504 K is the white of sRGB (IEC 61966-2-1).
    expect(Math.min(...white!)).toBeGreaterThan(250);
  });

  it('are not given to a white balance, which is a setting', () => {
    expect(colours('camera: { white-balance: 3200 K }\n')).toEqual([]);
  });

  it('can be picked where one is written, and nowhere else', () => {
    expect(colourText('#000000', { r: 1, g: 0.5, b: 0 })).toBe('#ff8000');
    expect(colourText('2700 K', { r: 1, g: 0.5, b: 0 })).toBeUndefined();
  });
});
