/** Completion: a text with a cursor in, what is offered or the text after taking it out. */
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
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

  it('leave out what may not stand together', () => {
    expect(offered('cut:\n  - { shot: a, ‸ }\n')).not.toContain('footage');
    expect(offered('cut:\n  - { ‸ }\n')).toContain('footage');
  });

  it('put what a block needs first', () => {
    const found = offered(spec('rights:\n  tune: { ‸ }\n'));
    expect(found[0]).toBe('kind');
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
    expect(taken('sur‸\n', 'surface, with an example')).toBe('surface:\n  material: walnut board\n  finish: satin‸\n');
    expect(taken('shots:\n  ‸\n', 'new shot')).toBe('shots:\n  reveal:\n    record: 12 s‸\n');
    expect(taken('cut‸', 'cut, with an example')).toBe('cut:\n  - shot: reveal\n    length: 8 beats‸');
    const [item] = completions('lamps:\n  ‸\n').filter((one) => one.label === 'new lamp');
    expect(item!.text).toContain('${1:key}');
  });

  it('can be written behind the colon, on one line too', () => {
    expect(taken('camera: ‸\n', '{  }')).toBe('camera: { ‸ }\n');
    expect(taken('room:‸\n', 'with an example')).toBe('room:\n  light: 4 lx\n  source: window‸\n');
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

  it('of lamp places may be those of the lamps in the kit', () => {
    expect(offered('kit: kits/camera.kit.yaml\nlamps:\n  ‸\n')).toEqual(['spot', 'panel', 'tube', 'new lamp']);
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
    expect(found.every(({ filter }) => filter === 'sat')).toBe(true);
    expect(taken('product:\n  finish: sat‸in # shiny\n', 'glossy')).toBe('product:\n  finish: glossy # shiny\n');
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
    for (let at = 5; at < text.length; at += 211) {
      for (const rest of [text.slice(at), '']) {
        for (const { start, end, label } of completions(`${text.slice(0, at)}‸${rest}`, { good: text })) {
          expect(start <= at && at <= end, `${label} at ${at}`).toBe(true);
          expect((text.slice(0, at) + rest).slice(start, end), `${label} at ${at}`).not.toMatch(/[\r\n]/);
        }
      }
    }
  });
});
