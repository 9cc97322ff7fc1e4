/** Names: what a user sees when one is defined nowhere, goes in a circle, or is never used. */
import { describe, expect, test } from 'vitest';
import { checkSpec, kits, ownKit, spec } from '../helpers/workspace.ts';
import { fixed, marked, mends, messages, severities, titles } from '../helpers/findings.ts';

const named = (blocks: string) => messages(spec(blocks), 'name-not-defined');

test('a gear name says which kit was looked in, and what is there', () => {
  expect(named('shots:\n  box: { record: 12 s, camera: { lens: marco } }\n')).toEqual([
    'No lens in `kits/camera.kit.yaml` is called `marco`. There are `normal` and `macro`; or add it under `lenses` in the kit.',
  ]);
});

test('two kits are both named', () => {
  const text = spec(
    'kit: [kits/camera.kit.yaml, kits/phone.kit.yaml]\nshots:\n  box: { record: 12 s, camera: { use: cam, lens: wide } }\n',
  );
  expect(messages(text, 'name-not-defined')[0]).toMatch(
    /^No lens in `kits\/camera.kit.yaml` and `kits\/phone.kit.yaml` is called `wide`/,
  );
});

test.each([
  ['camera', 'camera: { use: cmm }', 'cmm'],
  ['support', 'camera: { support: tripot }', 'tripot'],
  ['filter', 'camera: { filters: [nd-3, nd-6] }', 'nd-6'],
  ['screen', 'backdrop: { use: monitr }', 'monitr'],
  ['turntable', 'turn: { use: lage, speed: 1 rpm }', 'lage'],
  ['microphone', 'microphone: clipon', 'clipon'],
  ['lamp place', 'lit: [key, rim]', 'rim'],
  ['set-up', 'set-up: close', 'close'],
  ['part of the product', 'subject: crank', 'crank'],
  ['right', 'backdrop: { footage: clouds }', 'clouds'],
])('a %s that is not there is found in a shot', (what, field, name) => {
  const text = spec(`shots:\n  box: { record: 12 s, ${field} }\n`);
  expect(marked(text, 'name-not-defined')).toEqual([name]);
  expect(messages(text, 'name-not-defined')[0]).toMatch(new RegExp(`^No ${what} `));
});

test('names in the edit and the schedule are looked up too', () => {
  const text = spec(`cut:
  - { shot: bocks, length: 10 s, zoom-by: { stori: 1.1 } }
titles:
  - { text: Turns by hand, at: 2 s, hold: 4 s, font: house-font, only-in: [film, fair] }
music: { tempo: 100 bpm, track: waltz }
sounds:
  - { track: click, length: 1 s }
schedule:
  - { day: 2026-12-02, order: front, cards: quick, batteries: pack }
`);
  expect(marked(text, 'name-not-defined').sort()).toEqual(
    ['bocks', 'click', 'fair', 'front', 'house-font', 'quick', 'stori', 'waltz'].sort(),
  );
});

test('modifiers, lamps and places that others are moved from', () => {
  const text = spec(`lamps:
  key: { use: panal, distance: 60 cm, angle: 45°, modifier: [diffusor] }
  near: { moved-from: kee, distance: 40 cm }
`);
  expect(marked(text, 'name-not-defined')).toEqual(['panal', 'diffusor', 'kee']);
});

test('a lamp place without `use` is a lamp of its own name', () => {
  const text = spec('lamps:\n  panel: { distance: 60 cm, angle: 45° }\n  tub: { distance: 60 cm, angle: 300° }\n');
  expect(marked(text, 'name-not-defined')).toEqual(['tub']);
  expect(titles(text, 'name-not-defined')).toEqual(['Put `tube` there']);
  expect(fixed(text, 'name-not-defined')['Put `tube` there']).toContain(
    'tub: { distance: 60 cm, angle: 300°, use: tube }',
  );
});

test('one finding for a name, however often it stands; its fix reaches every place', () => {
  const text = spec('cut:\n  - { shot: bux, length: 5 s }\n  - { shot: bux, length: 5 s }\n');
  expect(messages(text, 'name-not-defined')).toHaveLength(1);
  const [after] = Object.values(fixed(text, 'name-not-defined'));
  expect(after).toContain('  - { shot: box, length: 5 s }\n  - { shot: box, length: 5 s }\n');
  expect(messages(after!, 'name-not-defined')).toEqual([]);
});

test('a name in a block that many shots take over is one finding, so is one that no shot uses', () => {
  const shots = Array.from({ length: 5 }, (_, i) => `  s${i}: { record: 12 s }`).join('\n');
  const text = spec(`shots:\n${shots}\ncut: []\nset-ups:\n  unused: { camera: { lens: fisheye } }\n`);
  expect(marked(text.replace('lens: normal', 'lens: norma'), 'name-not-defined')).toEqual(['norma', 'fisheye']);
});

test('a name of something else says what it is', () => {
  expect(named('cut:\n  - { shot: key, length: 10 s }\n')[0]).toBe(
    'No shot is called `key` (it is a lamp place). There is `box`; or add it under `shots`.',
  );
});

test('a missing kit keeps gear silent, names of the spec are still looked up', () => {
  const text = spec('kit: kits/gone.kit.yaml\ncut:\n  - { shot: bx, length: 10 s }\n');
  expect(marked(text, 'name-not-defined')).toEqual(['bx']);
  expect(checkSpec(text).findings.some((one) => one.rule === 'kit-not-found')).toBe(true);
});

test('a kit that cannot be parsed keeps gear silent', () => {
  const text = spec('kit: kits/own.kit.yaml\n');
  expect(messages(text, 'name-not-defined', ownKit('title: "Own\nlamps: {'))).toEqual([]);
});

test('no kit at all is one finding at the first name that needs one', () => {
  const text = spec('').replace('kit: kits/camera.kit.yaml\n', '');
  expect(named('kit: []\n')).toHaveLength(1);
  expect(messages(text, 'name-not-defined')).toEqual([
    '`normal` should be in a kit, but no kit is named: write `kit: kits/….kit.yaml`, or name one for all specs in the settings.',
  ]);
});

test('free names are not looked up', () => {
  expect(
    named(
      'brief: { must-show: crank, must-not-show: price, needs-rights: hand }\nshots:\n  box: { record: 12 s, shows: [crank, cloth], people: maker, lit: none }\n',
    ),
  ).toEqual([]);
});

// ---- gear that is left open --------------------------------------------------------------------------------------

test('two lenses fit and none is named: one finding for all shots that leave it open, its fix reaches them all', () => {
  const text = spec('shots:\n  box: { record: 12 s }\n  lid: { record: 12 s, camera: { iso: 200 } }\n').replace(
    '  lens: normal\n',
    '',
  );
  expect(messages(text, 'gear-to-choose')).toEqual([
    'box and lid: `normal` and `macro` fit the camera; say with `lens` which one is on it. Until then neither focus nor framing is checked.',
  ]);
  mends(text, 'gear-to-choose');
});

test('two cameras in two kits are left open before their lenses are', () => {
  const two = spec('kit: [kits/camera.kit.yaml, kits/phone.kit.yaml]\n').replace('  lens: normal\n', '');
  expect(messages(two, 'gear-to-choose')[0]).toMatch(/^box: the kit has `cam` and `phone`; say with `use`/);
  expect(messages(two.replace('camera:\n', 'camera:\n  use: phone\n'), 'gear-to-choose')[0]).toMatch(
    /`main` and `tele` fit/,
  );
  expect(messages(two.replace('phone.kit', 'gone.kit'), 'gear-to-choose')).toEqual([]);
});

// ---- circles -----------------------------------------------------------------------------------------------------

const circles = (blocks: string) => messages(spec(blocks), 'goes-in-a-circle');

test('a circle of lamp places is one finding, and a place of its own is another', () => {
  expect(
    circles(`lamps:
  a: { moved-from: b, use: panel, distance: 60 cm, angle: 45° }
  b: { moved-from: c }
  c: { moved-from: a }
  d: { moved-from: d, use: tube, distance: 60 cm, angle: 45° }
  e: { moved-from: a }
`),
  ).toEqual([
    '`moved-from` goes in a circle: `a` → `b` → `c` → `a`. Let one of them say everything itself.',
    '`d` is `moved-from` itself: name the one that it takes over, or take `moved-from` out.',
  ]);
});

// ---- lamps that move ---------------------------------------------------------------------------------------------

const moving = (field: string) => {
  const place = `lamps:\n  key: { use: panel, temperature: 5000 K, distance: 60 cm, angle: 45°, ${field} }\n`;
  return messages(spec(place), 'lamp-moves-on-stand');
};

test('a stand is named as the default, other holders as said', () => {
  expect(moving('height: 20 cm to 40 cm')).toEqual([
    'key: its height goes from 20 cm to 40 cm during the take, but a stand, which holds it where nothing else is said, does not move.',
  ]);
  expect(moving('height: 20 cm to 40 cm, held: clamp')).toEqual([
    'key: its height goes from 20 cm to 40 cm during the take, but a clamp does not move.',
  ]);
});

test.each(['slider', 'boom'])('held on a %s it may move', (held) => {
  expect(moving(`height: 20 cm to 40 cm, held: ${held}`)).toEqual([]);
});

test('a place that takes the change over is not reported again, each fix clears the finding', () => {
  const text = spec(`lamps:
  key: { use: panel, temperature: 5000 K, distance: 40 cm to 60 cm, angle: 45° }
  low: { moved-from: key, height: 10 cm }
`);
  expect(marked(text, 'lamp-moves-on-stand')).toEqual(['40 cm to 60 cm']);
  expect(mends(text, 'lamp-moves-on-stand').slice(0, 2)).toEqual(['Put it on a rolling stand', 'Put it on a slider']);
});

test('what is written in the wrong shape is told there alone', () => {
  const rulesOf = (blocks: string) => checkSpec(spec(blocks)).findings.map(({ rule }) => rule);
  expect(rulesOf('shots:\n  - { record: 12 s }\n')).toEqual(['wrong-shape']);
  expect(rulesOf('lamps:\n  - { use: panel, distance: 60 cm, angle: 45° }\n')).toEqual(['wrong-shape']);
  expect(rulesOf('cut: [box, box]\n')).toEqual(['wrong-shape', 'wrong-shape']);
  expect(rulesOf('brief: { must-show: The crank turning }\n')).toEqual(['bad-name']);
});

test('a stand may have wheels: a hint, while what rises on it is a warning, and an error where the stand is said', () => {
  const graded = (field: string) =>
    severities(spec(`lamps:\n  key: { use: panel, distance: 60 cm, ${field} }\n`), 'lamp-moves-on-stand');
  expect(graded('angle: 45° to 85°')).toEqual(['hint']);
  expect(graded('angle: 45°, height: 20 cm to 40 cm')).toEqual(['warning']);
  expect(graded('angle: 45°, height: 20 cm to 40 cm, held: stand')).toEqual(['error']);
});

// ---- turns -------------------------------------------------------------------------------------------------------

test('a turn said twice tells what the speed would make of the action', () => {
  // 2 rpm over 12 s less two handles of 1 s: 6 × 2 × 10 = 120°.
  const text = spec('shots:\n  box: { record: 12 s, turn: { by: 90°, speed: 2 rpm } }\n');
  expect(messages(text, 'turn-said-twice')).toEqual([
    'box: `by` `90°` and `speed` `2 rpm` are both said. In the 10 s of the action that speed turns it by 120°. Keep the one that you mean.',
  ]);
  const fixes = fixed(text, 'turn-said-twice');
  expect(Object.values(fixes)[0]).toContain('turn: { by: 90° }');
  expect(Object.values(fixes)[1]).toContain('turn: { speed: 2 rpm }');
});

// ---- shown by nothing, never used --------------------------------------------------------------------------------

test('must-not-show is silent when nothing shows it, and speaks of a likely slip', () => {
  const text = (shows: string) =>
    spec(`brief: { must-not-show: price-tag }\nshots:\n  box: { record: 12 s, shows: ${shows} }\n`);
  expect(['crank', 'price-tag'].flatMap((shows) => messages(text(shows), 'name-nothing-shows'))).toEqual([]);
  expect(messages(text('price-tags'), 'name-nothing-shows')).toEqual([
    '`price-tag` may not be shown, and no shot shows `price-tag`. Shots show `price-tags`: is that the same thing?',
  ]);
});

test('a paper for people is found under `people`', () => {
  const text = spec('brief: { needs-rights: maker }\nshots:\n  box: { record: 12 s, people: maker }\n');
  expect(messages(text, 'name-nothing-shows')).toEqual([]);
});

test('what is never used is named where it stands', () => {
  const text = spec(`shots:
  box: { record: 12 s, set-up: front, lit: [key] }
set-ups:
  front: {}
  close: { camera: { lens: macro } }
rights:
  waltz: { kind: music, shown-on: web, territory: worldwide, proof: rights/waltz.pdf }
  hand: { kind: release, shown-on: web, territory: worldwide, proof: rights/hand.pdf }
  yard: { kind: place, shown-on: web, territory: worldwide, proof: rights/yard.pdf }
`);
  expect(marked(text, 'never-used')).toEqual(['fill', 'close', 'waltz']);
});

test('a place that others are moved from is used, one that changes says why it is dark', () => {
  const text = spec(`lamps:
  key: { use: panel, distance: 60 cm, angle: 45° }
  near: { moved-from: key, distance: 40 cm }
  glow: { use: tube, distance: 60 cm, angle: 300°, level: 10 % to 60 % }
shots:
  box: { record: 12 s, lit: near }
`);
  expect(messages(text, 'never-used')).toEqual([
    '`glow` is lit in no shot. A lamp that changes during the take is lit only where `lit` names it.',
  ]);
});

test('without a cut, shots are not called unused', () => {
  expect(messages(spec('cut: []\n'), 'never-used')).toEqual([]);
});

test('a set-up that is in the order of no day is named, where every day says its order', () => {
  const plan = (days: string) =>
    spec(`set-ups:
  front: {}
  above: { camera: { height: 40 cm } }
shots:
  box: { record: 12 s, set-up: front }
  lid: { record: 12 s, set-up: above }
cut:
  - { shot: box, length: 5 s }
  - { shot: lid, length: 5 s }
schedule:
${days}`);
  const planned = '  - { day: 2026-12-02, order: front }\n';
  expect(messages(plan(planned), 'never-used')).toEqual([
    '`above` is in the `order` of no day, so no day has time for `lid`. Put it into the order of the day when it is filmed.',
  ]);
  const all = [`${planned}  - { day: 2026-12-03 }\n`, '  - { day: 2026-12-02, order: [front, above] }\n'];
  expect(all.flatMap((days) => messages(plan(days), 'never-used'))).toEqual([]);
});

test('what is unused because its name is misspelt elsewhere is said there alone', () => {
  const text = spec(`shots:
  box: { record: 12 s, people: hands }
cut:
  - { shot: boxx, length: 10 s }
rights:
  hand: { kind: release, shown-on: web, territory: worldwide, proof: rights/hand.pdf }
`);
  expect(messages(text, 'never-used')).toEqual([]);
  expect(messages(text, 'name-not-defined')).toHaveLength(1);
});

test('a shot whose set-up is not there is not judged by half', () => {
  const text = spec(`set-ups:
  above: { camera: { way-up: upside-down } }
shots:
  box: { record: 12 s, set-up: abvoe }
cut:
  - { shot: box, length: 10 s, flip: upright }
`);
  const both = [text, text.replace('abvoe', 'above')];
  expect(both.flatMap((one) => messages(one, 'mounted-upside-down'))).toEqual([]);
  expect(messages(text, 'name-not-defined')).toHaveLength(1);
});

test('music, a sound or footage of your own is added under `rights`', () => {
  const text = (rights = '') =>
    spec(`music: { track: humming, tempo: 96 bpm }\ncut:\n  - { shot: box, length: 10 s }\n${rights}`);
  const own = 'rights:\n  humming: { kind: music, owner: own }\n';
  expect(fixed(text(), 'name-not-defined')).toEqual({
    'It is my own: add `humming` under `rights`, with `owner: own`': text(own),
  });
  expect(checkSpec(text(own)).findings).toEqual([]);
});

describe('a table that turns log into a picture', () => {
  const kit = kits['kits/camera.kit.yaml']!.replaceAll('colour-space: ', 'converts: kits/flat.cube, colour-space: ');
  const said = (space: string, files = {}) =>
    messages(spec(`shots:\n  box: { record: 12 s, camera: { colour-space: ${space} } }\n`), 'file-not-there', {
      'kits/camera.kit.yaml': kit,
      ...files,
    });

  test('is missed where the camera is set to log, and only while it is not there', () => {
    expect(said('log')).toEqual([
      'box: the conversion `kits/flat.cube` is not in this folder, so what is recorded in log stays flat. Put the table there, or name it as it is called.',
    ]);
    expect(said('log', { 'kits/flat.cube': '' })).toEqual([]);
    expect(said('bt709')).toEqual([]);
  });
});
