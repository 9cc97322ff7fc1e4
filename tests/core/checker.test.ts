import { describe, expect, test } from 'vitest';
import { applyEdits } from '../../server/core/document/edits.ts';
import type { Finding } from '../../server/core/finding.ts';
import { checkerFor, checkSpec, kits, spec } from '../helpers/workspace.ts';

const spinning = (camera: string) => `shots:
  spin:
    record: 12 s
    camera: { ${camera} }
    turn: { speed: 2 rpm }
cut:
  - { shot: spin, length: 10 s }
`;

const of = (findings: readonly Finding[], rule: string) => findings.filter((finding) => finding.rule === rule);

describe('a spec that works', () => {
  test('has no findings', () => {
    expect(checkSpec(spec('')).findings).toEqual([]);
  });
});

describe('inheritance', () => {
  const shots = (first: string, second: string) => `shots:
  spin: { record: 12 s, turn: { speed: 2 rpm }${first} }
  crank: { record: 12 s, turn: { speed: 2 rpm }${second} }
cut:
  - { shot: spin, length: 5 s }
  - { shot: crank, length: 5 s }
`;
  const fast = spec(shots('', '')).replace('shutter: 1/50 s', 'shutter: 1/200 s');

  test('what several shots take over is one finding where it is written, with their names', () => {
    const found = of(checkSpec(fast).findings, 'shutter-off-half-frame');
    expect(found).toHaveLength(1);
    expect(fast.slice(found[0]!.start, found[0]!.end)).toBe('1/200 s');
    expect(found[0]!.message).toMatch(/^spin and crank: /);
    expect(found[0]!.related).toHaveLength(1);
  });

  test('its fix changes the one line that all of them take it from', () => {
    const [found] = of(checkSpec(fast).findings, 'shutter-off-half-frame');
    expect(applyEdits(fast, found!.fixes[0]!.edits)).toBe(fast.replace('1/200 s', '1/50 s'));
  });

  test('a fix for one of several shots is written into that shot', () => {
    const text = spec(shots('', ', on-purpose: staccato-motion')).replace('shutter: 1/50 s', 'shutter: 1/200 s');
    const [found] = of(checkSpec(text).findings, 'shutter-off-half-frame');
    const fixed = applyEdits(text, found!.fixes[0]!.edits)!;
    expect(fixed).toContain('spin: { record: 12 s, turn: { speed: 2 rpm }, camera: { shutter: 1/50 s } }');
    expect(of(checkSpec(fixed).findings, 'shutter-off-half-frame')).toEqual([]);
  });

  test('what one shot takes over from another with `<<` is as if it were written there, and said where it stands', () => {
    const merged = shots('', '')
      .replace('spin: {', 'spin: &spin {')
      .replace(/crank: \{.*\}/, 'crank: { <<: *spin, takes: 2 }');
    const text = spec(merged).replace('shutter: 1/50 s', 'shutter: 1/200 s');
    const { film, findings } = checkSpec(text);
    expect(film!.shots.get('crank')).toMatchObject({ takes: 2, record: { value: 12 } });
    expect(findings.map(({ message }) => message)).toEqual([expect.stringMatching(/^spin and crank: /)]);
    const brief = text.replace('record: 12 s', 'record: 3 s');
    const [short] = of(checkSpec(brief).findings, 'recording-too-short');
    expect(brief.slice(short!.start, short!.end)).toBe('3 s');
    expect(short!.message).toMatch(/^spin and crank: /);
  });

  test('a lens that is named nearer drops a focal length that was said farther away', () => {
    const text = spec('shots:\n  near: { record: 12 s, camera: { lens: macro } }\n  plain: { record: 12 s }\n').replace(
      '  lens: normal\n',
      '  lens: normal\n  focal: 25 mm\n',
    );
    const { film } = checkSpec(text);
    expect(film!.shots.get('near')!.camera.focal!.value.from).toBe(45);
    expect(film!.shots.get('plain')!.camera.focal!.value.from).toBe(25);
  });

  test('the shot wins over its set-up, and the set-up over the top', () => {
    const text = spec(`set-ups:
  close: { camera: { shutter: 1/200 s } }
shots:
  spin: { set-up: close, record: 12 s, turn: { speed: 2 rpm } }
  crank: { set-up: close, record: 12 s, turn: { speed: 2 rpm }, camera: { shutter: 1/60 s } }
cut:
  - { shot: spin, length: 5 s }
  - { shot: crank, length: 5 s }
`);
    const { film } = checkSpec(text);
    expect(film!.shots.get('spin')!.camera.shutter!.text).toBe('1/200 s');
    expect(film!.shots.get('crank')!.camera.shutter!.text).toBe('1/60 s');
    expect(film!.shots.get('crank')!.camera.iso!.text).toBe('400');
  });

  test('lamps that change, and second places of a lamp, are lit only where they are named', () => {
    const lamps = `lamps:
  key: { use: panel, temperature: 5000 K, distance: 60 cm, angle: 45° }
  key-near: { moved-from: key, distance: 45 cm }
  sweep: { use: tube, temperature: 5000 K, distance: 60 cm, angle: 200° to 260°, held: hand }
shots:
  still: { record: 12 s }
  swept: { record: 12 s, lit: [key-near, sweep] }
cut:
  - { shot: still, length: 5 s }
  - { shot: swept, length: 5 s }
`;
    const { film } = checkSpec(spec(lamps));
    expect(film!.shots.get('still')!.lit.map((lamp) => lamp.name)).toEqual(['key']);
    const [near, sweep] = film!.shots.get('swept')!.lit;
    expect(near).toMatchObject({ name: 'key-near', origin: 'key', kitName: { value: 'panel' } });
    expect(near!.angle!.value).toEqual({ from: 45, to: 45 });
    expect(sweep!.changes).toBe(true);
  });
});

describe('slips', () => {
  test('a key that can only be a slip is one finding, and counts as what it means', () => {
    const text = spec('').replace('  shutter: 1/50 s', '  shuter: 1/50 s');
    const { findings, film } = checkSpec(text);
    expect(findings.map((finding) => finding.rule)).toEqual(['unknown-key']);
    expect(film!.shots.get('box')!.camera.shutter!.text).toBe('1/50 s');
    expect(applyEdits(text, findings[0]!.fixes[0]!.edits)).toBe(spec(''));
  });
});

describe('deliverables', () => {
  test('what is said for one in the cut reaches those that are like it, and not those that are named themselves', () => {
    const { film } = checkSpec(
      spec(`deliver:
  film: { raster: 1920x1080, rate: 25, length: 10 s, codec: h264, bitrate: 16 Mb/s, sound: none }
  story: { like: film, raster: 1080x1920 }
  short-story: { like: story }
  fair: { like: film }
cut:
  - { shot: box, length: 10 s, zoom: 1.5, zoom-by: { story: 0.7, fair: 0.9 } }
`),
    );
    const factors = [...film!.cut[0]!.zoomBy].map(([name, val]) => `${name} ${val.value}`);
    expect(factors.sort()).toEqual(['fair 0.9', 'short-story 0.7', 'story 0.7']);
  });
});

describe('on purpose', () => {
  test('a word takes its finding away, in the open', () => {
    const result = checkSpec(spec(`on-purpose: staccato-motion\n${spinning('shutter: 1/200 s')}`));
    expect(of(result.findings, 'shutter-off-half-frame')).toEqual([]);
    expect(result.silenced).toMatchObject([
      { finding: { rule: 'shutter-off-half-frame' }, by: { kind: 'on-purpose', word: 'staccato-motion' } },
    ]);
  });

  test.each([
    ['grain', 0],
    ['[]', 1],
  ])('a word of the film holds beside what a shot says, and `[]` takes it back: %s', (own, found) => {
    const shot = spinning('shutter: 1/200 s').replace('    turn:', `    on-purpose: ${own}\n    turn:`);
    const { findings } = checkSpec(spec(`on-purpose: staccato-motion\n${shot}`));
    expect(of(findings, 'shutter-off-half-frame')).toHaveLength(found);
  });

  test('a word for the opposite fault takes nothing away', () => {
    const { findings } = checkSpec(spec(`on-purpose: smeared-motion\n${spinning('shutter: 1/200 s')}`));
    expect(of(findings, 'shutter-off-half-frame')).toHaveLength(1);
  });

  test('a word that declares a style is left alone where nothing comes of it', () => {
    expect(checkSpec(spec('on-purpose: [low-key, small-in-frame]\n')).findings).toEqual([]);
  });
});

describe('accepting', () => {
  const text = (comment: string, after = '') =>
    spec(`shots:
  spin:
    record: 12 s
    camera:
      ${comment}
      shutter: 1/200 s${after}
    turn: { speed: 2 rpm }
cut:
  - { shot: spin, length: 10 s }
`);

  test('a comment on the line before, with a reason', () => {
    const result = checkSpec(text('# accept shutter-off-half-frame: The gears should tick.'));
    expect(of(result.findings, 'shutter-off-half-frame')).toEqual([]);
    expect(result.silenced.map(({ by }) => by)).toContainEqual({ kind: 'accepted', reason: 'The gears should tick.' });
  });

  test('a comment at the end of the line', () => {
    const result = checkSpec(text('#', ' # accept shutter-off-half-frame: Ticking.'));
    expect(of(result.findings, 'shutter-off-half-frame')).toEqual([]);
  });

  test('the reason is needed', () => {
    const { findings } = checkSpec(text('# accept shutter-off-half-frame'));
    expect(of(findings, 'shutter-off-half-frame')).toHaveLength(1);
    expect(of(findings, 'accept-without-reason')).toHaveLength(1);
  });

  test('one that covers nothing is reported, and so is one that names no rule', () => {
    expect(of(checkSpec(text('# accept exposure-off: Bright.')).findings, 'accept-unused')).toHaveLength(1);
    expect(of(checkSpec(text('# accept exposure-of: Bright.')).findings, 'accept-unknown')).toHaveLength(1);
  });

  test('it covers its line only, never a block', () => {
    const { findings } = checkSpec(
      spec(`# accept shutter-off-half-frame: All of them.\n${spinning('shutter: 1/200 s')}`),
    );
    expect(of(findings, 'shutter-off-half-frame')).toHaveLength(1);
    expect(of(findings, 'accept-unused')).toHaveLength(1);
  });
});

describe('settings', () => {
  const settings = (text: string) => checkerFor({ 'shootspec.yaml': text });
  const fast = spec(spinning('shutter: 1/80 s'));

  test('change a severity and a limit', () => {
    const info = settings('rules:\n  shutter-off-half-frame: { severity: info }\n').check('a.shoot.yaml', fast)!;
    expect(of(info.findings, 'shutter-off-half-frame')[0]!.severity).toBe('info');
    const wide = settings('rules:\n  shutter-off-half-frame: { allow: 80° }\n').check('a.shoot.yaml', fast)!;
    expect(of(wide.findings, 'shutter-off-half-frame')).toEqual([]);
  });

  test('switch a rule off with a reason, and not without', () => {
    const off = settings('rules:\n  shutter-off-half-frame: { severity: none, reason: Only clocks here. }\n');
    expect(of(off.check('a.shoot.yaml', fast)!.findings, 'shutter-off-half-frame')).toEqual([]);
    const file = 'rules:\n  shutter-off-half-frame: { severity: none }\n';
    expect(of(settings(file).check('a.shoot.yaml', fast)!.findings, 'shutter-off-half-frame')).toHaveLength(1);
    expect(of(settings(file).check('shootspec.yaml', file)!.findings, 'none-without-reason')).toHaveLength(1);
  });

  test('name rules and limits that there are', () => {
    const file =
      'rules:\n  shutter-off-half-frames: { severity: info }\n  shutter-off-half-frame: { alow: 30°, allow: 30 }\n';
    const { findings } = settings(file).check('shootspec.yaml', file)!;
    expect(of(findings, 'unknown-rule')[0]!.message).toContain('`shutter-off-half-frame`');
    expect(of(findings, 'unknown-limit')[0]!.message).toContain('`allow`');
    expect(of(findings, 'unreadable-limit')[0]!.message).toContain('`40°`');
  });

  test('a care rule is lowered to info at most', () => {
    const file = 'rules:\n  flashes-general: { severity: none, reason: We like it. }\n';
    expect(of(settings(file).check('shootspec.yaml', file)!.findings, 'care-switched-off')).toHaveLength(1);
  });

  test('give the kit and the region to specs that say none', () => {
    const bare = spec('')
      .replace(/^kit: .*\n/m, '')
      .replace(/^region: .*\n/m, '');
    const { film } = settings('region: US\nkit: kits/camera.kit.yaml\n').check('a.shoot.yaml', bare)!;
    expect(film!.mainsHz).toBe(60);
    expect(film!.kit.cameras.has('cam')).toBe(true);
  });
});

describe('kits', () => {
  const withKit = (kit: string) => spec('').replace('kit: kits/camera.kit.yaml', `kit: ${kit}`);
  const found = (kit: string, files: Record<string, string> = {}) =>
    checkSpec(withKit(kit), files).findings.filter(
      (finding) => finding.rule.startsWith('kit-') || finding.rule === 'gear-in-two-kits',
    );

  test('one that is not there is said at its path', () => {
    const text = withKit('kits/camra.kit.yaml');
    const [finding] = found('kits/camra.kit.yaml');
    expect(finding!.rule).toBe('kit-not-found');
    expect(text.slice(finding!.start, finding!.end)).toBe('kits/camra.kit.yaml');
  });

  test.each([
    '../other/phone.kit.yaml',
    '/etc/phone.kit.yaml',
    'C:/kits/phone.kit.yaml',
    'C:\\kits\\phone.kit.yaml',
    '\\\\server\\share\\phone.kit.yaml',
    '~/phone.kit.yaml',
    'kits/%2e%2e/phone.kit.yaml',
    'kits//phone.kit.yaml',
    './kits/phone.kit.yaml',
    'https://example.org/phone.kit.yaml',
    'kits/aux.kit.yaml',
  ])('%s leads out of the repo and is not read', (path) => {
    const reads: string[] = [];
    const checker = checkerFor();
    const { host } = checker;
    const read = host.read.bind(host);
    host.read = (one) => (reads.push(one), read(one));
    const result = checker.checkAs('shoot', withKit(`'${path}'`));
    expect(of(result.findings, 'kit-outside')).toHaveLength(1);
    expect(reads).toEqual(['shootspec.yaml']);
  });

  test('a file that is no kit is refused, the spec itself included', () => {
    expect(found('a.shoot.yaml')[0]!.message).toContain('`.kit.yaml`');
  });

  test('a kit with findings of its own is mentioned, and the spec is still checked', () => {
    expect(found('kits/odd.kit.yaml', { 'kits/odd.kit.yaml': 'title: Odd\ncamras: {}\n' })[0]!.rule).toBe(
      'kit-with-errors',
    );
  });

  test('a slip in a kit is read as it is meant', () => {
    const far = spec('shots:\n  box: { record: 12 s, camera: { distance: 15 cm } }\n');
    const slipped = {
      'kits/camera.kit.yaml': kits['kits/camera.kit.yaml']!.replaceAll('nearest-focus: 25 cm', 'nearest-focus: 25cm'),
    };
    const about = (files: Record<string, string>) =>
      of(checkerFor(files).checkAs('shoot', far).findings, 'nearer-than-lens-focuses');
    expect(about({})).toHaveLength(1);
    expect(about(slipped)).toEqual(about({}));
  });

  test('one name in two kits', () => {
    const both = '[kits/camera.kit.yaml, kits/phone.kit.yaml]';
    expect(
      found(both)
        .map((finding) => finding.message)
        .join(),
    ).toContain('`tripod` stands under `supports`');
  });

  test('a dimmer that is marked from 0 % is one', () => {
    const kit = 'title: Bench\nlamps:\n  spot: { output: 900 lx at 1 m, temperature: 5600 K, level: 0 % to 100 % }\n';
    expect(checkerFor().checkAs('kit', kit).findings).toEqual([]);
  });

  test('`fits` that names gear which is not there', () => {
    const kit = 'title: One lens\nlenses:\n  normal: { fits: camm, focal: 25 mm, aperture: f/2 }\n';
    const { findings } = checkerFor().checkAs('kit', kit);
    expect(of(findings, 'gear-not-here')).toHaveLength(1);
  });
});

describe('many findings', () => {
  test('are shown up to 500, with the count of the rest', () => {
    // Of one block full of unknown keys 200 are said; here are four blocks.
    const keys = Array.from({ length: 180 }, (_, index) => `  zz-${index}: 1`).join('\n');
    const blocks = ['brief', 'grade', 'care', 'timeline'].map((block) => `${block}:\n${keys}\n`);
    const { findings } = checkSpec(spec(blocks.join('')));
    expect(findings).toHaveLength(501);
    expect(findings.at(-1)!.message).toMatch(/^\d+ more findings are not shown: the first 500 are/);
  });
});

test('two specs with different kits, checked by turns, keep the gear of each', () => {
  const other = kits['kits/phone.kit.yaml']!;
  const checker = checkerFor({ 'kits/other.kit.yaml': other });
  const first = spec('');
  const second = first.replace('kits/camera.kit.yaml', 'kits/other.kit.yaml');
  const gear = () => [first, second].map((text) => checker.checkAs('shoot', text).film!.kit);
  const [before, again] = [gear(), gear()];
  expect(again[0]).toBe(before[0]);
  expect(again[1]).toBe(before[1]);
  expect(before[0]).not.toBe(before[1]);
});
