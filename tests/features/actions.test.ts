/**
 * Which fixes are offered, and accepting a finding in place: the comment must be one, accept that finding and change
 * nothing else.
 */
import { describe, expect, test } from 'vitest';
import { applyEdits } from '../../server/core/document/edits.ts';
import { type Finding, severities, type Severity, weightOf } from '../../server/core/finding.ts';
import { actionsAt, holds } from '../../server/features/actions.ts';
import { firstNew, firstWorse } from '../../server/features/compare-findings.ts';
import { actionsFor } from '../helpers/actions.ts';
import { checkSpec, spec } from '../helpers/workspace.ts';

/** The text after a rule's first finding is accepted; undefined where that is not offered. */
function accept(text: string, rule: string): string | undefined {
  const result = checkSpec(text);
  const all = actionsFor(result, { start: 0, end: text.length }, (now) => checkSpec(now));
  const action = all.find((one) => one.kind === 'accept' && one.finding!.rule === rule);
  return action && applyEdits(text, action.edits);
}

/** The titles of the fixes that are offered for a rule. */
function offered(text: string, rule: string): string[] {
  const result = checkSpec(text);
  const all = actionsFor(result, { start: 0, end: text.length }, (now) => checkSpec(now));
  return all.filter((one) => one.kind === 'fix' && one.finding!.rule === rule).map((one) => one.title);
}

describe('of several fixes', () => {
  test('one that makes no new jump at the next cut is offered', () => {
    // 12° and then 24° aside, where the third is a third larger: the second as large as that would jump to it.
    const text = spec(`shots:
  box: { record: 12 s }
  low: { record: 12 s, camera: { angle: 12° } }
  near: { record: 12 s, camera: { angle: 36° } }
cut:
  - { shot: box, length: 4 s }
  - { shot: low, length: 3 s }
  - { shot: near, length: 3 s, zoom: 1.33 }
`);
    expect(offered(text, 'cut-jars')).toEqual([
      'Set zoom of `box` to 1.33 (a closer view)',
      'Dissolve into the second over 0.6 s (nothing jumps), in `low`',
    ]);
  });

  test('one that leaves a hint comes after one that leaves none', () => {
    expect(weightOf([{ severity: 'hint' }])).toBeGreaterThan(weightOf([]));
    expect(weightOf([{ severity: 'info' }])).toBeGreaterThan(weightOf(Array(20).fill({ severity: 'hint' })));
  });
});

test('what mends all shots of a finding is offered, and not also for one of them alone', () => {
  const text = spec(`product: { size: 9 x 6 x 7 cm, finish: metallic, colour: "#c0c0c0", weight: 420 g }
shots:
  box: { record: 12 s, camera: { height: 3.5 cm } }
  near: { record: 12 s, camera: { height: 3.5 cm, distance: 50 cm } }
cut:
  - { shot: box, length: 5 s }
  - { shot: near, length: 5 s }
`);
  expect(offered(text, 'camera-mirrored')).toEqual([
    'Stand the product turned by 11° (the camera is out of its face), in `near`, and the others as each needs it',
  ]);
});

test('what all shots take over is changed for the one that needs it, and no title says that it is in that one', () => {
  const text = spec(`backdrop: { material: paper, colour: "#808080", size: 160 x 90 cm, behind: 60 cm }
surface: { material: walnut board, finish: satin, size: 120 x 104 cm, height: 75 cm }
shots:
  box: { record: 12 s, camera: { distance: 60 cm, angle: 35° } }
  wide: { record: 12 s, camera: { distance: 110 cm } }
cut:
  - { shot: box, length: 5 s }
  - { shot: wide, length: 5 s }
`);
  expect(offered(text, 'backdrop-edge-in-shot')).toEqual([
    'Hang the backdrop 34 cm behind (it fills the picture, and is less blurred), for `box`',
    'Stand the product 76 cm behind the front edge (it is out of the picture), in `wide`',
    'Set height to 21 cm (it looks down on the surface), in `wide`',
  ]);
});

describe('a fix that spoils the picture elsewhere is not offered', () => {
  const tall = (backdropCm: number) =>
    spec(`product: { size: 9 x 6 x 30 cm, finish: satin, weight: 420 g }
backdrop: { material: paper, colour: "#d9d4c8", size: ${backdropCm} x 200 cm, behind: 70 cm }
camera: { lens: normal, support: tripod, distance: 60 cm, height: 20 cm, raster: 3840x2160, rate: 25, shutter: 1/50 s, aperture: f/8, iso: 400, focus: locked }
`);
  const backFar = 'Set distance to 87 cm (it fits with 2.5 % to spare, 1.45 times smaller)';

  // At 60 cm the picture is 22.4 x 39.8 cm, so 87 cm before the product and 70 cm behind it 39.8 x 157 / 60 = 104 cm wide (similar triangles).
  test('not even by a slit past the edge of the backdrop, which is a note', () => {
    expect(offered(tall(103), 'product-outside-crop')).toEqual([]);
    expect(offered(tall(110), 'product-outside-crop')).toEqual([backFar]);
  });

  test('an edge of the surface in place of one of the backdrop is another', () => {
    const edge = {
      rule: 'backdrop-edge-in-shot',
      severity: 'info',
      message: '',
      start: 0,
      end: 1,
      related: [],
      fixes: [],
    } as const;
    const of = (says: string, excess: number): Finding => ({
      ...edge,
      says,
      excess,
      shots: ['box'],
      isOfPicture: true,
    });
    expect(firstNew([of('backdrop', 9)], [of('backdrop', 3)], () => true)).toBeUndefined();
    expect(firstNew([of('backdrop', 9)], [of('surface', 3)], () => true)).toBeDefined();
  });
});

describe('what a first film lacks is offered, and not only to accept it', () => {
  const deliver =
    'deliver:\n  film: { raster: 1920x1080, rate: 25, length: 10 s, codec: h264, bitrate: 16 Mb/s, loudness: -14 LUFS }\n';
  const title = (at: string, hold: string) =>
    `titles:\n  - { text: "Turns by hand, plays for a minute", at: ${at}, hold: ${hold} }\n`;

  test.each([
    [
      'name-not-defined',
      `${deliver}music: { track: humming }\n`,
      'It is my own: add `humming` under `rights`, with `owner: own`',
    ],
    [
      'licence-missing',
      `${deliver}music: { track: humming }\nrights:\n  humming: { kind: music, shown-on: web, territory: DE }\n`,
      'It is my own: say `owner: own`',
    ],
    [
      'release-missing',
      'shots:\n  box: { record: 12 s, people: hand }\n',
      'It is me: add `hand` under `rights`, with `owner: own`',
    ],
    ['title-too-brief', title('8 s', '2 s'), 'Start it at 7.3 s and hold it for 2.7 s'],
    ['title-time-clash', title('7 s', '3.7 s'), 'Start it at 6.3 s (hold unchanged)'],
    [
      'moving-detail-smears',
      'shots:\n  box: { record: 12 s, camera: { lens: macro, distance: 45 cm }, turn: { speed: 300 rpm } }\n',
      'Say that the blur is meant: `smeared-motion`',
    ],
  ])('%s', (rule, blocks, first) => {
    expect(offered(spec(blocks), rule)[0]).toBe(first);
  });
});

describe('a slip that hides other findings', () => {
  // The cut is shorter than what is promised: said only where the spec can be read.
  const short = spec('cut:\n  - { shot: box, length: 8 s }\n');

  test.each([
    ['iso: 400', 'iso:400', 'syntax', 'Put a space after the colon'],
    ['title: Music box, a first look', 'title: "Music box', 'syntax', 'Close the quotes at the end of the line'],
    ['length: 8 s }', 'length: 8s }', 'wrong-unit', 'Write `8 s`'],
    ['distance: 60 cm\n', 'distance: 60\n', 'wrong-unit', 'Write `60 cm`'],
    ['length: 8 s }', 'length: 8\u00a0s }', 'wrong-unit', 'Write `8 s`'],
    ['length: 8 s }', 'lenght: 8 s }', 'unknown-key', 'Write `length`'],
    ['shot: box', 'shot: bxo', 'name-not-defined', 'Write `box`'],
    ['lens: normal', 'lens: norml', 'name-not-defined', 'Write `normal`'],
  ])('is mended all the same: %j written %j', (right, written, rule, fix) => {
    expect(checkSpec(short).findings.map((one) => one.rule)).toContain('length-off');
    expect(short).toContain(right);
    expect(offered(short.replace(right, written), rule)).toContain(fix);
  });

  test.each([
    ['kits/camra.kit.yaml', 'kit-not-found'],
    ['camera.kit.yaml', 'kit-not-found'],
    ['kits/camera.yaml', 'kit-not-found'],
    ['kits\\camera.kit.yaml', 'kit-outside'],
    ['./kits/camera.kit.yaml', 'kit-outside'],
  ])('a kit named %s is the one that is near', (written, rule) => {
    expect(offered(short.replace('kits/camera.kit.yaml', written), rule)).toEqual(['Write `kits/camera.kit.yaml`']);
  });

  test('for a kit that nothing is near to all beside it are offered, where they are few', () => {
    const text = (path: string) => short.replace('kits/camera.kit.yaml', path);
    expect(offered(text('kits/other.kit.yaml'), 'kit-not-found')).toEqual([
      'Write `kits/camera.kit.yaml`',
      'Write `kits/phone.kit.yaml`',
    ]);
    expect(offered(text('gear/other.kit.yaml'), 'kit-not-found')).toEqual([]);
  });

  test('a name that is none is written alike in all places', () => {
    const text = short.replace('  box: {', '  Box: {').replace('shot: box', 'shot: Box');
    const titles = offered(text, 'bad-name');
    expect(titles).toEqual(['Write `box` in 2 places', 'Write `box`', 'Write `box`']);
    const [, bad] = checkSpec(text).findings.map((one) => one.fixes[0]);
    expect(bad && applyEdits(text, bad.edits)).toBe(short);
  });

  test('is not mended by what can be read no better', () => {
    expect(offered(spec('').replace('behind: 70 cm', 'behind: 70,5, cm'), 'comma-in-braces')).toEqual([]);
  });
});

describe('a menu', () => {
  const shots = (count: number) => Array.from({ length: count }, (_, index) => `  s${index}: { record: 12 }\n`);
  const text = spec(`shots:\n${shots(30).join('')}`);
  const everything = { start: 0, end: text.length };

  function listed(options: { untried: boolean; accepts: boolean }) {
    let checks = 0;
    const recheck = (now: string) => (checks++, checkSpec(now));
    const work = actionsAt(checkSpec(text), everything, recheck, options);
    let step = work.next();
    while (!step.done) step = work.next();
    return { checks, actions: step.value };
  }

  test('costs five checks at most, however much is found', () => {
    const { checks, actions } = listed({ untried: true, accepts: true });
    expect(checks).toBeLessThanOrEqual(5);
    expect(actions.filter((one) => !one.tried).length).toBeGreaterThan(20);
  });

  test('lists nothing untried to a client that can’t ask for the rest later', () => {
    const { checks, actions } = listed({ untried: false, accepts: true });
    expect(checks).toBeLessThanOrEqual(5);
    expect(actions.filter((one) => !one.tried)).toEqual([]);
  });

  test('offers to accept only when somebody asks', () => {
    expect(listed({ untried: true, accepts: false }).actions.filter((one) => one.kind === 'accept')).toEqual([]);
  });

  test('has what mends the gravest first', () => {
    const both = spec('titles:\n  - { text: One, at: 2 s, hold: 2 s, place: middle }\n').replace('1/50 s', '1/49 s');
    const kinds = actionsFor(checkSpec(both), { start: 0, end: both.length }, (now) => checkSpec(now));
    const order = kinds.flatMap(({ kind, finding }) => (kind === 'fix' ? severities.indexOf(finding!.severity) : []));
    expect(order).toEqual([...order].sort((a, b) => a - b));
  });
});

describe('a fix of one thing that makes another worse', () => {
  /** Does it hold to hang a backdrop of a size farther back, where it comes out black as it should? */
  const farther = (size: string) => {
    const text = spec(`backdrop: { material: paper, reflects: 10 %, tone: black, size: ${size}, behind: 70 cm }\n`);
    const result = checkSpec(text);
    const finding = result.findings.find((one) => one.rule === 'backdrop-tone-off')!;
    const start = text.lastIndexOf('70 cm');
    const fix = { title: '', edits: [{ start, end: start + 5, text: '95 cm' }], safe: false };
    return {
      rules: result.findings.map((one) => one.rule),
      holds: holds(fix, finding, result, (now) => checkSpec(now)),
    };
  };

  test('does not hold, though nothing new comes', () => {
    expect(farther('800 x 800 cm')).toEqual({ rules: ['backdrop-tone-off'], holds: true });
    // There the picture passes the edges of the backdrop already, and would by more.
    expect(farther('60 x 200 cm')).toEqual({ rules: ['backdrop-tone-off', 'backdrop-edge-in-shot'], holds: false });
  });

  test('is told by severity and by how far off a thing is, shot by shot', () => {
    const one = (severity: Severity, excess: number | undefined, ...shots: string[]): Finding => {
      return { rule: 'r', severity, message: '', start: 0, end: 0, related: [], fixes: [], excess, shots };
    };
    const worse = (before: Finding[], after: Finding[]) => firstWorse(before, after, () => true) !== undefined;
    expect(worse([one('info', 1, 'a')], [one('info', 2, 'a')])).toBe(true);
    expect(worse([one('info', 2, 'a')], [one('info', 1, 'a')])).toBe(false);
    expect(worse([one('info', undefined, 'a')], [one('warning', undefined, 'a')])).toBe(true);
    expect(worse([one('warning', undefined, 'a')], [one('info', undefined, 'a')])).toBe(false);
    expect(worse([one('info', 1, 'a'), one('info', 9, 'b')], [one('info', 2, 'a')])).toBe(true);
    expect(worse([one('info', 1, 'a')], [one('info', 2, 'b')])).toBe(false);
  });
});

test('of two fixes of one finding the one that leaves less comes first', () => {
  const text = spec('shots:\n  box: { record: 12 s, turn: { speed: 2 rpm } }\n').replace('1/50 s', '1/500 s');
  const result = checkSpec(text);
  const at = text.indexOf('1/500 s');
  const all = actionsFor(result, { start: at, end: at }, (now) => checkSpec(now)).filter((one) => one.kind === 'fix');
  const ofOne = all.filter((one) => one.finding === all[0]!.finding && one.leaves !== undefined);
  const leaves = ofOne.map((one) => one.leaves!);
  expect(leaves.length).toBeGreaterThan(0);
  expect(leaves).toEqual([...leaves].sort((a, b) => a - b));
});

describe('several shots at one value', () => {
  const shots = `shots:
  still: { record: 12 s, camera: { exposure: -2 stops } }
  slow: { record: 12 s, turn: { speed: 1 rpm } }
  fast: { record: 12 s, turn: { speed: 2 rpm } }
`;
  const cut = `cut:
  - { shot: still, length: 4 s }
  - { shot: slow, length: 3 s }
  - { shot: fast, length: 3 s }
`;
  const text = spec(shots + cut).replace('shutter: 1/50 s', 'shutter: 1/200 s');
  const titles = (kind: string, start: number) =>
    actionsFor(checkSpec(text), { start, end: start }, (now) => checkSpec(now))
      .filter((one) => one.kind === kind)
      .map((one) => one.title);

  test('a fix names those that it is for', () => {
    const fixes = titles('fix', text.indexOf('1/200 s'));
    expect(fixes.filter((one) => /1\/50 s/.test(one))[0]).toMatch(/, in `slow` and `fast`$/);
    expect(new Set(fixes).size).toBe(fixes.length);
  });

  test('a finding is accepted once', () => {
    const accepts = titles('accept', text.indexOf('1/200 s'));
    expect(accepts.length).toBeGreaterThan(0);
    expect(new Set(accepts).size).toBe(accepts.length);
  });
});

/** As after somebody overwrote what stands where the reason belongs. */
const reasoned = (text: string) => text.replace('say why here', 'it is meant so');

const title = (written: string) => spec(`titles:\n  - { text: ${written}, at: 2 s, hold: 0.2 s }\n`);

describe('accepting a finding', () => {
  test('is a comment of its own on the line before', () => {
    const after = accept(title('One'), 'title-too-brief')!;
    expect(after).toContain('titles:\n  # accept title-too-brief: say why here\n  - { text: One,');
    expect(checkSpec(reasoned(after)).findings).toEqual([]);
  });

  test('what it writes where the reason belongs is none: the finding stays until there is one', () => {
    const after = accept(title('One'), 'title-too-brief')!;
    expect(checkSpec(after).findings.map((one) => one.rule)).toEqual(['accept-without-reason', 'title-too-brief']);
  });

  test.each(['"One\n      two"', 'One\n      two'])(
    'stands at the end of the line where that starts in %j',
    (written) => {
      const after = accept(title(written), 'title-too-brief')!;
      expect(after).toContain('two' + (written.startsWith('"') ? '"' : '') + ', at: 2 s');
      expect(after).toContain('hold: 0.2 s } # accept title-too-brief: say why here\n');
      expect(checkSpec(reasoned(after)).findings).toEqual([]);
    },
  );

  test('is not offered where both ends of the line are inside values, or a comment stands there', () => {
    const both = spec('titles:\n  - { text: "One\n      two", at: 2 s, hold: 0.2 s, notes: "three\n      four" }\n');
    expect(checkSpec(both).findings.map(({ rule }) => rule)).toContain('title-too-brief');
    expect(accept(both, 'title-too-brief')).toBeUndefined();
    expect(accept(title('"One\n      two"').replace(/\}\n$/, '} # mine\n'), 'title-too-brief')).toBeUndefined();
  });

  test('leaves a byte order mark where it is', () => {
    const oneLine = 'titles: [{ text: One, at: 2 s, hold: 0.2 s }]\n';
    const after = accept(`\ufeff${oneLine}${spec('')}`, 'title-too-brief')!;
    expect(after).toContain(`\ufeff# accept title-too-brief: say why here\n${oneLine}`);
    expect(checkSpec(reasoned(after)).findings).toEqual([]);
  });

  test.each(['\n', '\r\n', '\r'])('ends its line as the file does: %j', (end) => {
    const after = accept(title('One').replaceAll('\n', end), 'title-too-brief')!;
    expect(new Set(after.match(/\r\n|\n|\r/g))).toEqual(new Set([end]));
    expect(checkSpec(reasoned(after)).findings).toEqual([]);
  });
});

test('what a block lacks is added as an example, to be written over', () => {
  const right = (more: string) => spec(`rights:\n  waltz: { owner: own${more} }\n`);
  const result = checkSpec(right(''));
  const all = actionsFor(result, { start: 0, end: right('').length }, (now) => checkSpec(now));
  const action = all.find((one) => one.finding?.rule === 'missing-key');
  expect(action?.title).toBe('Add `kind: music`, to be written over');
  expect(applyEdits(right(''), action!.edits)).toBe(right(', kind: music'));
});
