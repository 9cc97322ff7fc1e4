/** Completion: a text with a cursor in, what is offered or the text after taking it out. */
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { split } from '../helpers/cursor.ts';
import { completions, labels, taken, told } from '../helpers/complete.ts';
import { spec } from '../helpers/workspace.ts';

const offered = (marked: string, situation = {}) => labels(completions(marked, situation));

describe('keys', () => {
  it('are those of the block that are not there yet, with their meaning', () => {
    const found = completions('camera:\n  iso: 400\n  ‸\n  rate: 25\n');
    expect(labels(found)).toContain('shutter');
    expect(labels(found)).not.toContain('iso');
    expect(labels(found)).not.toContain('rate');
    const shutter = found.find((one) => one.label === 'shutter')!;
    expect(shutter.detail).toMatch(/^Shutter · .*°/);
    expect(shutter.documentation).toContain('How long each frame is exposed');
  });

  it.each([
    ['in an empty file', '‸', 'title', 'title: '],
    ['in a block', 'camera:\n  sh‸\n', 'shutter', 'camera:\n  shutter: \n'],
    ['in braces', 'camera: { iso: 400, sh‸ }\n', 'shutter', 'camera: { iso: 400, shutter:  }\n'],
    ['in an item', 'cut:\n  - shot: a\n    le‸\n', 'length', 'cut:\n  - shot: a\n    length: \n'],
    ['behind a dash', 'cut:\n  - ‸\n', 'shot', 'cut:\n  - shot: \n'],
    ['behind a dash without a blank', 'cut:\n  -‸\n', 'shot', 'cut:\n  - shot: \n'],
    ['before the first dash', 'cut:\n  ‸\n', 'shot', 'cut:\n  - shot: \n'],
    ['that opens a block', 'shots:\n  a:\n    cam‸\n', 'camera', 'shots:\n  a:\n    camera:\n      \n'],
    ['that opens a list', 'cut‸\n', 'cut', 'cut:\n  - \n'],
    ['that opens a block in braces', 'shots:\n  a: { ‸ }\n', 'camera', 'shots:\n  a: { camera: { ‸ } }\n'],
    ['that has its colon', 'camera:\n  sh‸: 1/50 s\n', 'shutter', 'camera:\n  shutter: 1/50 s\n'],
    ['indented too far', 'camera:\n  iso: 400\n        sh‸\n', 'shutter', 'camera:\n  iso: 400\n  shutter: \n'],
    ['indented too little', 'camera:\n    iso: 400\n  sh‸\n', 'shutter', 'camera:\n    iso: 400\n    shutter: \n'],
    ['on the line of its block', 'camera:\n ‸\n', 'iso', 'camera:\n  iso: \n'.replace('  iso', ' iso')],
    ['with Windows line ends', 'camera:\r\n  sh‸\r\n', 'shutter', 'camera:\r\n  shutter: \r\n'],
  ])('%s', (_, text, label, expected) => {
    expect(taken(text, label)).toBe(expected);
  });

  it.each([
    ['in braces', '{ cou‸output: 3 lx }', '{ count: output: 3 lx }', '{ count: 3 lx }'],
    ['in braces, with a blank between', '{ cou‸ output: 3 lx }', '{ count:  output: 3 lx }', '{ count: 3 lx }'],
    ['on a line', '\n    cou‸output: 3 lx', '\n    count: output: 3 lx', '\n    count: 3 lx'],
  ])('before another key leave that alone, %s', (_, marked, inserted, replaced) => {
    const { text } = split(marked);
    const item = completions(`lamps:\n  panel: ${marked}\n`, { path: 'a.kit.yaml' }).find(
      (one) => one.label === 'count',
    )!;
    const put = (end: number) =>
      (`lamps:\n  panel: ${text}`.slice(0, item.start) + item.text + `lamps:\n  panel: ${text}`.slice(end)).slice(
        'lamps:\n  panel: '.length,
      );
    expect([put(item.insertEnd!), put(item.end)]).toEqual([inserted, replaced]);
  });

  it('of a block that may be none that word too', () => {
    const shot = 'shots: { a: { record: 12 s, backdrop: ‸ } }\n';
    expect(taken(shot, 'none')).toBe('shots: { a: { record: 12 s, backdrop: none } }\n');
    expect(offered(shot.replace('backdrop', 'camera'))).not.toContain('none');
  });

  it('for what was agreed the last commit, where there is git', () => {
    const marked = `${spec('')}agreed: { who: Ada, day: 2026-11-20, revision: ‸ }\n`;
    const lastCommit = 'fc61af20deadbeef0123456789abcdef01234567';
    expect(taken(marked, 'fc61af20dead', { lastCommit })).toContain('revision: fc61af20dead }');
    expect(offered(marked)).toEqual(['4f2a91c']);
  });

  it('leave out what may not stand together', () => {
    expect(offered('cut:\n  - { shot: a, ‸ }\n')).not.toContain('footage');
    expect(offered('cut:\n  - { ‸ }\n')).toContain('footage');
  });

  it('put what a block needs first', () => {
    const found = offered(spec('rights:\n  tune: { ‸ }\n'));
    expect(found[0]).toBe('kind');
  });

  it('that few films need come after others that start alike', () => {
    const starting = (marked: string, letters: string) => offered(marked).filter((one) => one.startsWith(letters));
    expect(starting('title: A film\n‸', 'ti')).toEqual(['titles', 'timeline']);
    expect(starting('deliver:\n  film:\n    raster: 1920x1080\n    ‸\n', 'l')[0]).toBe('length');
    expect(starting('camera:\n  iso: 100\n  ‸\n', 'r')[0]).toBe('raster');
  });

  it('are offered in kits and in settings, with the limits of a check', () => {
    expect(offered('lamps:\n  panel: { ‸ }\n', { path: 'a.kit.yaml' })).toContain('output');
    const files = { path: 'shootspec.yaml' };
    expect(offered('‸', files)).toContain('fail-at');
    expect(told(completions('rules:\n  shutter-off-half-frame: { ‸ }\n', files))).toContainEqual(
      expect.stringMatching(/^allow: .+ Usually \d+°\.$/),
    );
    expect(offered('rules:\n  shut‸\n', files)).toContain('shutter-off-half-frame');
  });
});

describe('whole blocks', () => {
  it('come from the examples, with places to go on from', () => {
    expect(taken('surface:\n  ‸\n', 'an example')).toBe('surface:\n  material: walnut board\n  finish: satin‸\n');
    const [item] = completions('lamps:\n  ‸\n').filter((one) => one.label === 'new lamp');
    expect(item!.text).toContain('${1:fill}');
  });

  it('belong to their place', () => {
    const whole = (marked: string, situation = {}) =>
      completions(marked, situation).flatMap(({ kind, label }) => (kind === 'block' ? [label] : []));
    expect(whole('‸')).toEqual(['new spec']);
    expect(whole('‸', { path: 'a.kit.yaml' })).toEqual(['new kit']);
    expect(whole('shots:\n  ‸\n')).toEqual(['new shot', 'new shot that turns']);
    expect(whole('shots:\n  a: {}\n  ‸\n')).toEqual(['new shot', 'new shot that turns']);
    expect(whole('cut:\n  - ‸\n')).toEqual(['new piece', 'new piece with a push-in']);
    expect(whole('cut:\n  ‸\n')).toEqual(['new piece', 'new piece with a push-in']);
    expect(whole('cameras:\n  cam:\n    modes:\n      - ‸\n', { path: 'a.kit.yaml' })).toEqual(['new mode']);
    for (const marked of [
      'title: A\n‸',
      'camera:\n  iso: 100\n  ‸\n',
      'cut:\n  - shot: a\n    ‸\n',
      'lamps:\n  key:\n    distance: ‸\n',
    ])
      expect(whole(marked), marked).toEqual([]);
  });

  it('take the names that the film and its kit have, and none twice', () => {
    const text = 'kit: kits/camera.kit.yaml\nlamps:\n  left: { use: tube }\n  fill: { use: tube }\n  ‸\n';
    expect(taken(text, 'new lamp')).toContain('  fill-2:\n    use: panel\n');
    expect(taken(text, 'lamp moved')).toContain('    moved-from: left\n');
  });

  it('show the first shot that is in no piece yet', () => {
    const text = 'shots:\n  a: {}\n  b: {}\n  c: {}\ncut:\n  - { shot: a, length: 2 s }\n  - ‸\n';
    expect(taken(text, 'new piece')).toContain('  - shot: b\n');
  });

  it('come first where nothing stands yet, and leave the letters of keys alone', () => {
    expect(offered('titles:\n  - ‸\n')[0]).toBe('new title');
    expect(offered('music:\n  ‸\n')[0]).toBe('an example');
    expect(offered('titles:\n  - text: Hello\n    ‸\n')).not.toContain('new title');
    const [example] = completions('camera:\n  ‸\n');
    expect(example!.filter).toMatch(/^new /);
  });

  it.each([
    ['the finished files that are there', 'deliver:\n  film: { length: 12 s }\n  ‸\n', '12 s'],
    ['the cut', 'cut:\n  - { shot: a, length: 7.5 s }\nshots: { a: {} }\ndeliver:\n  ‸\n', '7.5 s'],
    ['nothing that is known', 'deliver:\n  ‸\n', '20 s'],
    [
      'the film, and not of a section of it',
      'deliver:\n  part: { length: 4 s, section: 2 s to 6 s }\n  film: { length: 15 s }\n  ‸\n',
      '15 s',
    ],
  ])('of a deliverable are as long as %s', (_, marked, length) => {
    expect(taken(marked, 'new deliverable')).toContain(`    length: ${length}\n`);
  });

  it('can be written behind the colon, on one line too', () => {
    expect(taken('camera: ‸\n', '{  }')).toBe('camera: { ‸ }\n');
    expect(taken('room: ‸\n', 'with an example')).toBe('room:\n  light: 4 lx\n  source: window‸\n');
    expect(offered('room:‸\n')).toEqual([]);
  });
});

describe('words and names', () => {
  it.each([
    ['of the format', 'product:\n  finish: ‸\n', ['matte', 'satin', 'glossy', 'metallic']],
    ['of the format, in a list that has one', 'shots:\n  a: { on-purpose: [low-key, ‸] }\n', ['staccato-motion']],
  ])('%s', (_, text, expected) => {
    const found = offered(text);
    expect(found).toEqual(expect.arrayContaining(expected));
    expect(found).not.toContain('low-key');
  });

  it('of things come with what they are', () => {
    const text = spec('shots:\n  box: { record: 12 s }\ncut:\n  - { shot: ‸ }\n');
    expect(told(completions(text))).toEqual(['box: record 12 s']);
    expect(told(completions(spec('shots:\n  a: { camera: { lens: ‸ } }\n')))).toEqual([
      'normal: focal 25 mm · aperture f/1.7 to f/22 · nearest-focus 25 cm',
      'macro: focal 45 mm · aperture f/2.8 to f/22 · nearest-focus 15 cm',
    ]);
    expect(told(completions(spec('shots:\n  a: { lit: [key, ‸] }\n')))).toEqual([
      'fill: use tube · temperature 5000 K · level 50 %',
      'none: ',
    ]);
  });

  it('of parts come with the product, of shown things with all that is shown', () => {
    const text = (key: string) =>
      `product: { parts: { crank: { size: 2 x 2 x 3 cm } } }\nbrief: { must-show: hand }\nrights: { tune: {} }\nshots:\n  a: { ${key}: ‸ }\n`;
    expect(offered(text('subject'))).toEqual(['product', 'crank']);
    expect(offered(text('shows'))).toEqual(['crank', 'hand']);
  });

  it('that are used and nowhere defined are offered where they are defined', () => {
    expect(told(completions('cut:\n  - shot: turn\nshots:\n  ‸\n'))[0]).toBe('turn: named under `shot`');
    expect(taken('music: { track: tune }\nrights:\n  ‸\n', 'tune')).toBe(
      'music: { track: tune }\nrights:\n  tune:\n    \n',
    );
    expect(offered('deliver: { film: {}, story: {} }\ncut:\n  - zoom-by: { film: 0.9, ‸ }\n')).toEqual(['story']);
  });

  it('of people come with those who are named elsewhere or have signed, and with no part of the product', () => {
    const film = (shot: string) =>
      `product: { parts: { crank: {} } }\nrights: { anna: { kind: release }, tune: { kind: music } }\nshots:\n  a: { people: [hand] }\n  b: { ${shot} }\n`;
    expect(told(completions(film('people: ‸')))).toEqual(['anna: kind release', 'hand: named in this film']);
    expect(told(completions('shots:\n  b: { people: [‸] }\n'))).toEqual(['hand: for example']);
  });

  it('of people and marks are offered where their papers are', () => {
    const text =
      'brief: { needs-rights: swan-mark }\nshots:\n  a: { people: [hand, maker] }\nrights:\n  maker: {}\n  ‸\n';
    expect(told(completions(text)).slice(0, 2)).toEqual([
      'swan-mark: named under `needs-rights`',
      'hand: named under `people`',
    ]);
    expect(offered(text)).not.toContain('maker');
  });

  it('of places come once', () => {
    for (const marked of ['rights:\n  x: { territory: ‸ }\n', 'deliver:\n  x: { territory: [‸] }\n'])
      expect(offered(marked).filter((one) => one === 'worldwide')).toHaveLength(1);
    expect(offered('deliver:\n  x: { territory: [‸] }\n')).not.toContain('[DE, AT, CH]');
  });

  it('of lamp places may be those of the lamps in the kit', () => {
    expect(offered('kit: kits/camera.kit.yaml\nlamps:\n  ‸\n')).toEqual([
      'spot',
      'panel',
      'tube',
      'new lamp',
      'lamp moved',
    ]);
  });

  it('of what gear fits are those of the kit', () => {
    const text = 'cameras:\n  cam: {}\nlenses:\n  wide: {}\nlamps:\n  panel: {}\nbatteries:\n  pack: { fits: [‸] }\n';
    expect(offered(text, { path: 'a.kit.yaml' })).toEqual(['cam', 'panel']);
  });

  it('in quotes are compared without them', () => {
    const found = completions('shots:\n  box: {}\n  base: {}\ncut:\n  - shot: "bo‸"\n');
    expect(found.map(({ label, filter }) => [label, filter])).toEqual([['box', '"bo']]);
  });

  it('that are right as they stand can be exchanged for any other', () => {
    const found = completions('product:\n  finish: sat‸in\n');
    expect(labels(found)).toContain('glossy');
    expect(labels(found)[0]).toBe('satin');
    expect(found.every(({ filter }) => filter === 'sat')).toBe(true);
    expect(taken('product:\n  finish: sat‸in # shiny\n', 'glossy')).toBe('product:\n  finish: glossy # shiny\n');
  });
});

describe('what stands there whole', () => {
  const film = spec('shots:\n  box: { record: 12 s }\n');
  const kit = { path: 'a.kit.yaml' };

  it.each([
    ['camera:\n  shutter: 1/100 s‸\n'],
    ['camera:\n  iso: 200‸\n'],
    ['camera:\n  aperture: f/4‸\n'],
    ['camera:\n  focus: locked‸\n'],
    ['lamps:\n  key:\n    level: 40 %‸\n'],
    ['lamps:\n  key:\n    level: 30 % to 60 %‸\n'],
    ['lamps:\n  key: { level: 40 %‸ }\n'],
    ['product:\n  finish: satin‸ # shiny\n'],
  ])('is first, and taking it changes nothing: %s', (marked) => {
    const { text } = split(`${film}${marked}`);
    const found = completions(`${film}${marked}`);
    expect(found.length).toBeGreaterThan(1);
    const [first] = found;
    expect(first!.stands).toBe(true);
    expect(text.slice(0, first!.start) + first!.text + text.slice(first!.end)).toBe(text);
  });

  it.each([
    ['shots:\n  a:\n    takes: 3‸\n', {}],
    ['deliver:\n  film:\n    length: 15 s‸\n', {}],
    ['cameras:\n  cam:\n    sensor: 23.5 x 15.6 mm‸\n', kit],
    ['title: A film‸\n', {}],
  ])('is all that there is where others are only examples: %s', (marked, situation) => {
    expect(offered(marked, situation)).toEqual([]);
  });

  it('keeps its other end', () => {
    const text = `${film}lamps:\n  key:\n    level: `;
    expect(taken(`${text}30‸ % to 60 %\n`, '30 %')).toContain('level: 30 % to 60 %');
    for (const one of completions(`${text}30 % to ‸\n`)) expect(one.label).toMatch(/^\d+ %$/);
    expect(taken('cameras:\n  cam:\n    iso: 50 to ‸\n', '12800', kit)).toContain('iso: 50 to 12800\n');
  });

  it('leaves the key behind it alone where a comma is missing', () => {
    expect(taken('shots:\n  whole: {}\ncut:\n  - { shot: wh‸ length: 6 s }\n', 'whole')).toContain(
      '{ shot: whole length: 6 s }',
    );
  });
});

describe('paths', () => {
  it('of kits come with their titles, those of papers are all other files', () => {
    const files = { 'rights/tune.md': 'Yes', 'x.shoot.yaml': 'title: X\n' };
    expect(told(completions('kit: ‸\n', { files }))).toEqual([
      'kits/camera.kit.yaml: Camera with two lenses, four lamps and a screen',
      expect.stringMatching(/^kits\/phone\.kit\.yaml: ./),
    ]);
    expect(offered('kit: [kits/camera.kit.yaml, ‸]\n', { files })).toEqual(['kits/phone.kit.yaml']);
    expect(offered('rights:\n  tune: { proof: ‸ }\n', { files })).toEqual(['rights/tune.md']);
  });

  it('stand in quotes where YAML would read them as something else', () => {
    const files = { 'rights/tune: all #1.md': 'Yes', 'rights/cut\nin two.md': 'Yes', "rights/Jo's tune (2).md": 'Yes' };
    const proof = (path: string) => taken('rights:\n  tune: { proof: ‸ }\n', path, { files });
    expect(proof('rights/tune: all #1.md')).toContain('proof: "rights/tune: all #1.md" }');
    expect(proof('rights/cut\nin two.md')).toContain('proof: "rights/cut\\nin two.md" }');
    expect(proof("rights/Jo's tune (2).md")).toContain("proof: rights/Jo's tune (2).md }");
  });
});

describe('nothing is offered', () => {
  it.each([
    ['in a comment', 'camera: # sh‸\n'],
    ['in a text over several lines', 'notes: |\n  so ‸\n'],
    ['in a text of the user’s own', 'title: Music ‸\n'],
    ['in a block that the format does not have', 'lights:\n  ‸\n'],
    ['behind braces', 'camera: {} ‸\n'],
    ['for a name that nothing has', 'cut:\n  - shot: ‸\n'],
  ])('%s', (_, text) => {
    expect(offered(text)).toEqual([]);
  });
});

describe('a broken file', () => {
  const good = spec('shots:\n  box: { record: 12 s, turn: { speed: 2 rpm } }\n');

  it('is helped with keys, words and names', () => {
    const broken = good
      .replace('cut:\n', 'music: { tempo: [\ncut:\n')
      .replace('{ shot: box, length: 10 s }', '{ shot: ‸');
    expect(offered(broken, { good })).toEqual(['box']);
    expect(offered('room: { light: [\ncamera:\n  is‸\n')).toContain('iso');
  });

  it('is helped with values that are checked against the last text that could be read', () => {
    const broken = `${good.replace('record: 12 s', 'record: 12 s, camera: { shutter: ‸ }')}room: {\n`;
    const found = completions(broken, { good });
    expect(found[0]).toMatchObject({ label: '1/50 s', detail: expect.stringContaining('180°') });
    expect(found.find((one) => one.label === 'auto')!.warned).toMatch(/left to the camera/);
  });

  it('says so where nothing could be read yet', () => {
    const found = completions('room: {\ncamera:\n  shutter: ‸\n');
    expect(told(found)[0]).toMatch(/^1\/50 s: not checked: the file cannot be read/);
  });
});

describe('anywhere in the sample films, whole or cut off', () => {
  const folder = new URL('../../sample-workspace/', import.meta.url);
  const samples = readdirSync(folder).filter((name) => name.endsWith('.shoot.yaml'));

  it.each(samples)('%s: what is offered replaces characters of the cursor’s own line', (name) => {
    const text = readFileSync(new URL(name, folder), 'utf8');
    for (let at = 5; at < text.length; at += 1009) {
      for (const rest of [text.slice(at), '']) {
        for (const { start, end, label } of completions(`${text.slice(0, at)}‸${rest}`, { good: text })) {
          expect(start <= at && at <= end, `${label} at ${at}`).toBe(true);
          expect((text.slice(0, at) + rest).slice(start, end), `${label} at ${at}`).not.toMatch(/[\r\n]/);
        }
      }
    }
  });
});
