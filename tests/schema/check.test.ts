import { describe, expect, it } from 'vitest';
import type { Node } from '../../server/core/document/node.ts';
import { checkSchema } from '../../server/core/schema/check.ts';
import { quick } from '../helpers/quick.ts';
import { expectOne, fixed, problemsOf, read, spec } from './marks.ts';

const camera = (line: string) => spec({ camera: line });
const shot = (line: string) => spec({ shot: line });
const cut = (line: string) => spec({ cut: line });

it('says nothing of a spec that is right', () => {
  expect(problemsOf(spec({ camera: 'iso: 400', cut: '{ shot: reveal, length: 8 beats, zoom: 1.0 to 1.4 }' }))).toEqual(
    [],
  );
});

describe('unknown-key', () => {
  it('knows slips of the finger', () => {
    expectOne(camera('«shuter»: 1/50 s'), 'shoot', {
      rule: 'unknown-key',
      says: 'Did you mean `shutter`?',
      fix: 'shutter',
      safe: true,
    });
    expectOne(camera('«white_balance»: 5600 K'), 'shoot', {
      rule: 'unknown-key',
      says: '`white-balance`',
      fix: 'white-balance',
      safe: true,
    });
    expectOne(camera('«whiteBalance»: 5600 K'), 'shoot', {
      rule: 'unknown-key',
      says: '`white-balance`',
      fix: 'white-balance',
      safe: true,
    });
  });

  it('knows words that people bring along, and only offers ours', () => {
    expectOne(spec({ more: '«lights»: { key: { distance: 60 cm, angle: 50° } }' }), 'shoot', {
      rule: 'unknown-key',
      says: '`lamps`',
      fix: 'lamps',
      safe: false,
    });
  });

  it('tells where a key belongs', () => {
    expectOne(shot('record: 12 s, «iso»: 100'), 'shoot', {
      rule: 'unknown-key',
      says: 'It belongs in `camera`.',
      fix: null,
    });
    expectOne(spec({ more: '«cameras»: 1' }), 'shoot', {
      rule: 'unknown-key',
      says: /Did you mean `camera`, which is there already/,
      fix: null,
    });
    expectOne(spec({ more: '«turntables»: 1' }), 'shoot', {
      rule: 'unknown-key',
      says: 'It belongs in a kit (`*.kit.yaml`).',
      fix: null,
    });
  });

  it('says what may stand there when nothing is near', () => {
    expectOne(spec({ shot: 'record: 12 s, turn: { «wobble»: 3 }' }), 'shoot', {
      rule: 'unknown-key',
      says: 'Here may stand `use`, `starts`, `by` or `speed`.',
      fix: null,
    });
  });

  it('does not report as missing what stands there with a slip', () => {
    expectOne(shot('«recrod»: 12 s'), 'shoot', { rule: 'unknown-key', says: '`record`', fix: 'record' });
    expectOne(cut('{ «shto»: reveal, length: 2 s }'), 'shoot', { rule: 'unknown-key', says: '`shot`', fix: 'shot' });
  });

  it('is at ease with names that JavaScript has for itself', () => {
    for (const name of ['__proto__', 'constructor', 'toString', 'hasOwnProperty']) {
      expectOne(spec({ more: `«${name}»: { title: 1 }` }), 'shoot', {
        rule: 'unknown-key',
        says: `\`${name}\` means nothing`,
      });
    }
    expect(({} as Record<string, unknown>)['title']).toBeUndefined();
    const named = problemsOf(
      spec({ more: 'rights:\n  constructor: { kind: font, shown-on: web, territory: worldwide }' }),
    );
    expect(named).toEqual([]);
    expect(problemsOf(spec({ more: 'rights:\n  __proto__: { kind: font }' })).map(({ rule }) => rule)).toEqual([
      'bad-name',
    ]);
  });
});

describe('missing-key', () => {
  it('points at the name of the block, with an example', () => {
    expectOne(spec({ shot: 'takes: 4' }).replace('reveal', '«reveal»'), 'shoot', {
      rule: 'missing-key',
      says: '`reveal` needs `record`: how long the camera runs in each take, for example `record: 12 s`.',
    });
  });

  it('names all that a block lacks at once', () => {
    expectOne(spec({ lamps: '«key»: { level: 50 % }' }), 'shoot', {
      rule: 'missing-key',
      says: '`key` needs `distance` and `angle`, or `moved-from` to take over from another.',
    });
    expect(problemsOf(spec({ lamps: 'key: { distance: 1 m, angle: 0° }\n  near: { moved-from: key }' }))).toEqual([]);
  });

  it('points at the first line of a file and of a line of a list', () => {
    const text = 'kit: kits/phone.kit.yaml\n';
    const [problem] = problemsOf(text);
    expect(problem).toMatchObject({ rule: 'missing-key', start: 0, end: 3 });
    expect(problem?.message).toMatch('The file needs `title`, `product`, `deliver`, `camera` and `shots`.');
    expectOne(cut('{ «shot»: reveal }'), 'shoot', { rule: 'missing-key', says: 'A line of `cut` needs `length`' });
  });

  it('wants each piece of the cut to be one thing', () => {
    expectOne(cut('{ «length»: 2 s }'), 'shoot', {
      rule: 'missing-key',
      says: 'one of `shot`, `footage` and `colour`',
    });
    expectOne(cut('{ shot: reveal, «colour»: "#000000", length: 2 s }'), 'shoot', {
      rule: 'wrong-shape',
      says: '`shot` and `colour`',
    });
  });
});

describe('wrong-shape', () => {
  it('tells values, lists and blocks apart', () => {
    expectOne(camera('«shutter»: { a: 1 }'), 'shoot', {
      rule: 'wrong-shape',
      says: '`shutter` is a single value, and here is a block, for example `shutter: 1/50 s`.',
    });
    expectOne(camera('«filters»: { a: 1 }'), 'shoot', {
      rule: 'wrong-shape',
      says: 'a single value or a list of values',
    });
    expectOne(spec({ more: 'grade: «strong»' }), 'shoot', {
      rule: 'wrong-shape',
      says: '`grade` is made of names and values',
    });
    expectOne(spec({ more: '«titles»: { text: x }' }), 'shoot', {
      rule: 'wrong-shape',
      says: 'each line starts with `- `',
    });
    expectOne(spec({ more: '«lamps»: [a, b]' }), 'shoot', {
      rule: 'wrong-shape',
      says: 'each thing has a name of its own',
    });
    expectOne('«[a, b]»\n', 'kit', { rule: 'wrong-shape', says: 'lines with a name and a value' });
    expectOne('«hello»\n', 'config', { rule: 'wrong-shape', says: 'starts with `format:`' });
  });

  it('gives a value that stands alone the one name that takes it', () => {
    expectOne(cut('«reveal»'), 'shoot', {
      rule: 'wrong-shape',
      says: 'A line of `cut` is made of names and values, and here is a value alone: write `shot: reveal`.',
    });
    expectOne(spec({ more: 'lamps: { key: «panel» }' }), 'shoot', {
      rule: 'wrong-shape',
      says: '`key` is made of names and values, and here is a value alone: write `{ use: panel }`.',
    });
    expectOne(spec({ product: 'size: 9 x 6 x 7 cm, parts: { lid: «9 x 6 x 1 cm» }' }), 'shoot', {
      rule: 'wrong-shape',
      says: 'write `{ size: 9 x 6 x 1 cm }`',
      fix: '{ size: 9 x 6 x 1 cm }',
    });
    // Its distance or its height.
    expectOne(spec({ more: 'lamps: { key: «60 cm» }' }), 'shoot', {
      rule: 'wrong-shape',
      says: '`60 cm` alone',
      fix: null,
    });
  });

  it('says of a block that may be none that it may, and takes it', () => {
    expectOne(spec({ more: 'backdrop: «White paper»' }), 'shoot', {
      rule: 'wrong-shape',
      says: '`backdrop` is made of names and values, or is `none`, and here is',
    });
    for (const more of ['backdrop: none', 'surface: none']) expect(problemsOf(spec({ more }))).toEqual([]);
  });

  it('takes one value out of its brackets', () => {
    expectOne(shot('record: 12 s, «subject»: [product]').replace('[product]', '[product]'), 'shoot', {
      rule: 'wrong-shape',
      says: 'without brackets',
    });
    const text = shot('record: 12 s, subject: [product]');
    expect(fixed(text, problemsOf(text))).toBe(shot('record: 12 s, subject: product'));
  });

  it('offers the first of several that can be the value', () => {
    expectOne(spec({ more: '«region»: [DE, 230 V, 50 Hz]' }), 'shoot', { rule: 'wrong-shape', says: 'a list of 3' });
    const text = spec({ more: 'region: [DE, 230 V, 50 Hz]' });
    expect(fixed(text, problemsOf(text))).toBe(spec({ more: 'region: DE 230 V 50 Hz' }));
  });

  it('says once that a name is missing above what belongs below one', () => {
    expectOne(spec({ more: '«lamps»: { use: panel, distance: 60 cm, angle: 45° }' }), 'shoot', {
      rule: 'wrong-shape',
      says: 'here `use` stands in the place of one: write it below one, such as `key`',
    });
    const text = spec({ more: 'lamps: { use: panel, distance: 60 cm, angle: 45° }' });
    expect(fixed(text, problemsOf(text))).toBe(
      spec({ more: 'lamps: { key: { use: panel, distance: 60 cm, angle: 45° } }' }),
    );
  });

  it('says where A to B has no place', () => {
    expectOne(shot('record: «5 s to 12 s»'), 'shoot', {
      rule: 'wrong-shape',
      says: 'takes one value and no `A to B`: write `5 s` or `12 s`',
      fix: null,
    });
  });
});

describe('wrong-unit', () => {
  const spelling: [string, string][] = [
    ['shutter: «1/50»', '1/50 s'],
    ['shutter: «1/50s»', '1/50 s'],
    ['shutter: «1/50 sec»', '1/50 s'],
    ['shutter: «180 deg»', '180°'],
    ['shutter: «180 °»', '180°'],
    ['shutter: «0.02»', '0.02 s'],
    ['height: «50cm»', '50 cm'],
    ['height: «50 centimetres»', '50 cm'],
    ['height: «1,2 m»', '1.2 m'],
    ['height: «.5 m»', '0.5 m'],
    ['height: «50-60 cm»', '50 cm to 60 cm'],
    ['height: «50 to 60 cm»', '50 cm to 60 cm'],
    ['height: «50 cm - 60 cm»', '50 cm to 60 cm'],
    ['height: «50\u00a0cm»', '50 cm'],
    ['aperture: «f8»', 'f/8'],
    ['aperture: «F/8»', 'f/8'],
    ['aperture: «f/5,6»', 'f/5.6'],
    ['aperture: «8»', 'f/8'],
    ['iso: «1,600»', '1600'],
    ['iso: «1_600»', '1600'],
    ['iso: «ISO 400»', '400'],
    ['iso: «+400»', '400'],
    ['iso: «AUTO»', 'auto'],
    ['white-balance: «5600K»', '5600 K'],
    ['white-balance: «5600»', '5600 K'],
    ['white-balance: «5,600 K»', '5600 K'],
    ['angle: «50 deg left»', '50° left'],
    ['angle: «50»', '50°'],
    ['slide: «−2 cm»', '-2 cm'],
    ['off-centre: «15%»', '15 %'],
    ['exposure: «1 EV»', '1 stop'],
    ['exposure: «1.5 EV»', '1.5 stops'],
  ];
  it.each(spelling)('mends the spelling of %s', (line, right) => {
    expectOne(camera(line), 'shoot', { rule: 'wrong-unit', says: `write \`${right}\``, fix: right, safe: true });
  });

  const elsewhere: [string, string][] = [
    [spec({ deliver: 'raster: «1920 x 1080», rate: 25' }), '1920x1080'],
    [spec({ deliver: 'raster: 1920x1080, rate: «25 fps»' }), '25'],
    [spec({ deliver: 'raster: 1920x1080, rate: 25, bitrate: «20 Mbps»' }), '20 Mb/s'],
    [spec({ deliver: 'raster: 1920x1080, rate: 25, chroma: «"420"»' }), '4:2:0'],
    [spec({ deliver: 'raster: 1920x1080, rate: 25, published: «2026-2-3»' }), '2026-02-03'],
    [spec({ deliver: 'raster: 1920x1080, rate: 25, true-peak: «-1»' }), '-1 dBTP'],
    [spec({ product: 'size: «9x6x7cm»' }), '9 x 6 x 7 cm'],
    [spec({ product: 'size: «9/6/7 cm»' }), '9 x 6 x 7 cm'],
    [spec({ product: 'size: «9 cm x 6 cm x 7 cm»' }), '9 x 6 x 7 cm'],
    [spec({ product: 'size: 9 x 6 x 7 cm, flash-point: «23°C»' }), '23 °C'],
    [spec({ product: 'size: 9 x 6 x 7 cm, colour: «"#abc"»' }), '"#aabbcc"'],
    [spec({ more: 'region: «jp 60hz»' }), 'JP 60 Hz'],
    [spec({ more: 'region: «Germany»' }), 'DE'],
    [spec({ more: 'region: «united kingdom»' }), 'GB'],
    [spec({ more: 'region: «uk 230v»' }), 'GB 230 V'],
    [spec({ deliver: 'raster: 1920x1080, rate: 25, territory: «Worldwide»' }), 'worldwide'],
    [spec({ deliver: 'raster: 1920x1080, rate: 25, territory: [DE, «Austria»]' }), 'AT'],
    [spec({ more: 'schedule:\n  - { day: 2026-12-02, hours: «9:00 - 15:00» }' }), '09:00 to 15:00'],
    [spec({ more: 'music: { tempo: «100» }' }), '100 bpm'],
    [cut('{ shot: reveal, length: «12s» }'), '12 s'],
    [cut('shot: reveal\n    length: 12 s\n    zoom: «1,2»'), '1.2'],
    [cut('{ shot: reveal, length: 12 s, zoom: «1.0-1.4» }'), '1.0 to 1.4'],
  ];
  it.each(elsewhere.map(([text, right]) => [/«.*»/.exec(text)?.[0], right, text] as const))(
    'mends %s to %s',
    (_wrong, right, text) =>
      expectOne(text, 'shoot', { rule: 'wrong-unit', says: `write \`${right}\``, fix: right, safe: true }),
  );

  it('takes numbers out of quotes', () => {
    expectOne(camera('iso: «"400"»'), 'shoot', {
      rule: 'wrong-unit',
      says: 'is in quotes, which make text of it',
      fix: '400',
      safe: true,
    });
  });

  it('offers what it had to guess, and takes nothing for granted', () => {
    expectOne(camera('height: «50»'), 'shoot', {
      rule: 'wrong-unit',
      says: /has no unit.*Units: mm, cm, m/,
      fix: '50 cm',
      safe: false,
    });
    expectOne(camera('shutter: «50»'), 'shoot', {
      rule: 'wrong-unit',
      says: 'has no unit',
      fix: '1/50 s',
      safe: false,
    });
    expectOne(spec({ deliver: 'raster: «1080p», rate: 25' }), 'shoot', {
      rule: 'wrong-unit',
      says: 'is a name',
      fix: '1920x1080',
      safe: false,
    });
    expectOne(spec({ lamps: 'key: { distance: 1 m, angle: 0°, level: «0.5» }' }), 'shoot', {
      rule: 'wrong-unit',
      says: 'has no unit',
      fix: '50 %',
      safe: false,
    });
  });

  it('never takes a byte for a bit', () => {
    // A byte is 8 bits (IEC 80000-13).
    const line = (value: string) => spec({ deliver: `raster: 1920x1080, rate: 25, bitrate: ${value}` });
    expectOne(line('«20 MB/s»'), 'shoot', {
      rule: 'wrong-unit',
      says: 'A byte (B) is 8 bits (b)',
      fix: '160 Mb/s',
      safe: false,
    });
    expectOne('title: x\ncards:\n  a: { holds: 64 GB, writes: «480 Mb/s» }\n', 'kit', {
      rule: 'wrong-unit',
      says: 'is a bit rate',
      fix: '60 MB/s',
      safe: false,
    });
  });

  it('names the one other name of the block that takes such a value', () => {
    const turn = (said: string) => problemsOf(shot(`record: 12 s, turn: { ${said} }`), 'shoot');
    const [problem] = turn('by: 2 rpm');
    expect(problem?.message).toMatch(/`2 rpm` is a speed of turning, and `by` is an angle.* `speed` takes it\.$/);
    expect(problem?.fixes.map(({ title, safe }) => [title, safe])).toEqual([['Call it `speed`', false]]);
    expect(fixed(shot('record: 12 s, turn: { by: 2 rpm }'), [problem!])).toBe(
      shot('record: 12 s, turn: { speed: 2 rpm }'),
    );
    // It is said already, or several take it: `height`, `distance`, `slide` …
    expect(turn('by: 2 rpm, speed: 1 rpm').flatMap(({ fixes }) => fixes)).toEqual([]);
    expect(problemsOf(camera('iso: 60 cm'), 'shoot').flatMap(({ fixes }) => fixes)).toEqual([]);
  });

  it('names the kind of a foreign unit, and says when there is no such unit', () => {
    expectOne(camera('height: «60 Hz»'), 'shoot', {
      rule: 'wrong-unit',
      says: '`60 Hz` is a frequency, and `height` is a length (mm, cm, m',
      fix: null,
    });
    expectOne(camera('height: «60 yards»'), 'shoot', {
      rule: 'wrong-unit',
      says: '`yards` is no unit here',
      fix: null,
    });
    expectOne(camera('height: «60 cm or so»'), 'shoot', {
      rule: 'wrong-unit',
      says: '`cm or so` is no unit here',
      fix: null,
    });
  });

  it('explains numbers that YAML reads in its own way', () => {
    expectOne(camera('iso: «0x10»'), 'shoot', {
      rule: 'wrong-unit',
      says: 'counts in sixteens',
      fix: '16',
      safe: false,
    });
    expectOne(camera('iso: «025»'), 'shoot', {
      rule: 'wrong-unit',
      says: 'has a nought in front',
      fix: '25',
      safe: false,
    });
    expectOne(camera('iso: «1e3»'), 'shoot', { rule: 'wrong-unit', says: 'has an exponent', fix: '1000', safe: false });
    expectOne(camera('iso: «1e400»'), 'shoot', { rule: 'wrong-unit', says: 'as plain digits', fix: null });
    expectOne(camera('iso: «.inf»'), 'shoot', { rule: 'wrong-unit', says: 'is no number', fix: null });
    expectOne(camera('iso: «yes»'), 'shoot', {
      rule: 'unknown-word',
      says: '`yes` is no word of this format; `iso` is a plain number such as `400` or `auto`.',
      fix: null,
    });
  });

  it('says why a change of angle is in plain degrees', () => {
    const says = '50° right is `310°`';
    expectOne(camera('angle: «10° left to 20° right»'), 'shoot', { rule: 'wrong-unit', says, fix: '370° to 340°' });
    expectOne(camera('angle: «20° right to 60° right»'), 'shoot', { rule: 'wrong-unit', says, fix: '340° to 300°' });
  });
});

describe('out-of-range', () => {
  it('takes a day in a second, and no billion', () => {
    const played = (speed: string) => cut(`{ shot: reveal, length: 1 s, speed: ${speed} }`);
    expect(problemsOf(played('8640000 %'), 'shoot')).toEqual([]);
    expectOne(played('«100000000 %»'), 'shoot', { rule: 'out-of-range', says: '90000000 %', fix: null });
  });

  it.each(
    [
      [shot('record: «-5 s»'), 'it cannot be less than nothing'],
      [shot('record: «0 s»'), 'it must be more than nothing'],
      [shot('record: 5 s, takes: «0»'), 'a whole number from 1 to 1000'],
      [shot('record: 5 s, takes: «2.5»'), 'a whole number from 1 to 1000'],
      [camera('iso: «-100»'), 'it is more than 0'],
      [spec({ lamps: 'key: { distance: 1 m, angle: 0°, level: «120 %» }' }), 'it goes up to `100 %`'],
      [camera('height: «12345678901 cm»'), 'longer than anything'],
      [spec({ product: 'size: 9 x 6 x 7 cm, arrives: «2026-02-30»' }), 'There is no day `2026-02-30` in the calendar.'],
    ].map(([text, says]) => [/«.*»/.exec(text!)?.[0], says!, text!] as const),
  )('%s: %s', (_wrong, says, text) => expectOne(text, 'shoot', { rule: 'out-of-range', says, fix: null }));
});

describe('unknown-word', () => {
  it('lists the words and finds the nearest', () => {
    expectOne(spec({ product: 'size: 9 x 6 x 7 cm, finish: «gloss»' }), 'shoot', {
      rule: 'unknown-word',
      says: 'Did you mean `glossy`? It is `matte`, `satin`,',
      fix: 'glossy',
      safe: true,
    });
    expectOne(spec({ more: 'on-purpose: [low-key, «warm-casts»]' }), 'shoot', {
      rule: 'unknown-word',
      says: '`warm-cast`',
      fix: 'warm-cast',
      safe: true,
    });
    expectOne(spec({ more: 'on-purpose: «Low-Key»' }), 'shoot', {
      rule: 'unknown-word',
      says: '`low-key`',
      fix: 'low-key',
      safe: true,
    });
    expectOne(camera('focus: «lockd»'), 'shoot', { rule: 'unknown-word', says: '`locked`', fix: 'locked', safe: true });
  });

  it('never takes one number in a word for another', () => {
    expectOne(camera('codec: «h266»'), 'shoot', { rule: 'unknown-word', says: '`h264`', safe: false });
  });

  it('has no yes and no', () => {
    expectOne(camera('stabiliser: «on»'), 'shoot', {
      rule: 'unknown-word',
      says: '`on` is no word of this format',
      fix: 'active',
      safe: false,
    });
    expectOne(camera('stabiliser: «off»'), 'shoot', {
      rule: 'unknown-word',
      says: '`none` or `active`',
      fix: 'none',
      safe: false,
    });
  });
});

describe('a country that is none', () => {
  // ISO 3166-1: GB is the United Kingdom, UK only reserved; XX is left to users. Published lists of codes.
  const territory = (value: string) => spec({ deliver: `raster: 1920x1080, rate: 25, territory: ${value}` });

  it('is told of, with the code that is meant where that is known', () => {
    expectOne(spec({ more: 'region: «UK»' }), 'shoot', {
      rule: 'unknown-word',
      says: 'There is no country `UK`: write `GB` (United Kingdom).',
      fix: 'GB',
      safe: true,
    });
    expectOne(spec({ more: 'region: «UK 230 V 50 Hz»' }), 'shoot', {
      rule: 'unknown-word',
      says: 'write `GB`',
      fix: 'GB 230 V 50 Hz',
      safe: true,
    });
    expectOne(territory('[«UK», DE]'), 'shoot', { rule: 'unknown-word', says: 'write `GB`', fix: 'GB', safe: true });
    expectOne('format: 1\nregion: «UK»\n', 'config', { rule: 'unknown-word', says: '`GB`', fix: 'GB', safe: true });
  });

  it('is told of where nobody knows which is meant', () => {
    expectOne(spec({ more: 'region: «XX»' }), 'shoot', {
      rule: 'unknown-word',
      says: 'or the mains alone, `230 V 50 Hz`.',
      fix: null,
    });
    expectOne(territory('«XX»'), 'shoot', { rule: 'unknown-word', says: '`EEA` or `worldwide`.', fix: null });
  });

  it('can be a name with a slip, which is offered and not taken for granted', () => {
    expectOne(spec({ more: 'region: «Germny»' }), 'shoot', {
      rule: 'wrong-unit',
      says: '`DE`',
      fix: 'DE',
      safe: false,
    });
  });
});

describe('bad-name', () => {
  it('says what a name is made of', () => {
    expectOne(spec({ more: 'rights:\n  «House Font»: { kind: font, shown-on: web, territory: worldwide }' }), 'shoot', {
      rule: 'bad-name',
      says: 'small letters, digits and hyphens, for example `house-font`',
      fix: 'house-font',
      safe: false,
    });
    expectOne(shot('record: 12 s, set-up: «Close Up»'), 'shoot', {
      rule: 'bad-name',
      says: '`Close Up` is no name',
      fix: 'close-up',
      safe: false,
    });
  });

  it('keeps the words that mean something everywhere', () => {
    expectOne(spec({ lamps: '«none»: { distance: 1 m, angle: 0° }' }), 'shoot', {
      rule: 'bad-name',
      says: 'already means something',
      fix: null,
    });
  });

  it('reads names from the text, so that 007 is one', () => {
    expect(problemsOf(spec({ lamps: '007: { distance: 1 m, angle: 0° }', shot: 'record: 12 s, lit: [007]' }))).toEqual(
      [],
    );
  });
});

describe('empty-value', () => {
  it('points at the key', () => {
    expectOne(camera('«iso»:'), 'shoot', {
      rule: 'empty-value',
      says: '`iso` has no value. Write one, for example `400`',
    });
    expectOne(camera('iso: «~»'), 'shoot', { rule: 'empty-value', says: '`~` says nothing here' });
    expectOne(spec({ more: 'notes: «""»' }), 'shoot', { rule: 'empty-value', says: '`notes` has no value' });
    expectOne(spec({ more: '«backdrop»:' }), 'shoot', { rule: 'empty-value', says: 'Nothing stands below `backdrop`' });
  });

  it('leaves a colour that became a comment to the check of the text', () => {
    expect(problemsOf(spec({ more: 'backdrop:\n  colour: #7a3b2e # felt\n  behind: 70 cm' }))).toEqual([]);
    for (const comment of [
      '# not yet',
      '# add it when the paint is there',
      '\n  # fed back',
      '\n  bottom: 5 cm #fff',
    ]) {
      expectOne(spec({ more: `backdrop:\n  «colour»: ${comment}\n  behind: 70 cm` }), 'shoot', {
        rule: 'empty-value',
        says: '`colour` has no value',
      });
    }
  });
});

describe('kits and settings', () => {
  it('reads ranges', () => {
    expectOne(
      'title: x\ncameras:\n  c: { sensor: 17 x 13 mm, shutter: «1/8000 to 1/24», modes: [{ raster: 1920x1080, rate: [24, 25], bitrate: 50 Mb/s }] }\n',
      'kit',
      {
        rule: 'wrong-unit',
        says: 'write `1/8000 s to 1/24 s`',
        fix: '1/8000 s to 1/24 s',
        safe: true,
      },
    );
    expectOne('title: x\nlenses:\n  l: { focal: «25-45mm», aperture: f/1.8 }\n', 'kit', {
      rule: 'wrong-unit',
      says: '25 mm to 45 mm',
      fix: '25 mm to 45 mm',
    });
    expectOne('title: x\nlamps:\n  l: { temperature: 5600 K, output: «2600 lux at 1m» }\n', 'kit', {
      rule: 'wrong-unit',
      says: '2600 lx at 1 m',
      fix: '2600 lx at 1 m',
    });
  });

  it('leaves the limits of a rule open', () => {
    expect(
      problemsOf(
        'fail-at: warning\nrules:\n  shutter-off-half-frame: { severity: info, allow: 30°, most: 3 }\n',
        'config',
      ),
    ).toEqual([]);
    expectOne('rules:\n  cut-off-beat: { severity: «loud» }\n', 'config', {
      rule: 'unknown-word',
      says: '`error`, `warning`',
    });
  });
});

describe('one problem', () => {
  it('is one finding, also behind an alias', () => {
    const text = spec({ more: 'set-ups:\n  a: { camera: &c { iso: 1e3 } }\n  b: { camera: *c }' });
    expect(problemsOf(text).map(({ rule }) => rule)).toEqual(['wrong-unit']);
  });

  it('has no jargon and no exclamation mark in any message', () => {
    const messy = `
titel: 1
product: [1]
deliver: { A b: 3, c: { raster: 1, rate: x, like: [a, b], shown-on: tv, keep-clear: 3 } }
camera: { distance: , rate: -1, iso: {}, shutter: slow, focus: 1 to 2 }
shots: { a: { record: soon, shows: [{}], takes: many }, b: , c: [] }
cut: [{}, x, { shot: 1, colour: red, length: 3 furlongs, zoom: big }]
__proto__: 1
`;
    const problems = problemsOf(messy);
    expect(problems.length).toBeGreaterThan(20);
    for (const { message } of problems) {
      expect(message).not.toMatch(
        /schema|enum|instance|additional propert|pattern|undefined|null|NaN|\[object|!|integer|boolean/i,
      );
      expect(message).toMatch(/[.?]$/);
    }
    const places = problems.map(({ start, end }) => `${start} ${end}`);
    expect(new Set(places).size).toBe(places.length);
  });
});

describe('large and hostile files', () => {
  it('answers fast for 70,000 unknown keys', () => {
    const { root } = read(`title: x\n${Array.from({ length: 70_000 }, (_, index) => `k${index}: 1`).join('\n')}\n`);
    const { problems } = quick(300, () => checkSchema(root, 'shoot'));
    expect(problems.filter(({ rule }) => rule === 'unknown-key')).toHaveLength(200);
  });

  it('answers fast for thousands of wrong values', () => {
    const shots = Array.from({ length: 8_000 }, (_, index) => `  s${index}: { record: 12s, takes: x }`).join('\n');
    const { root } = read(`title: x\nshots:\n${shots}\n`);
    expect(quick(1000, () => checkSchema(root, 'shoot')).problems.length).toBeGreaterThan(500);
  });

  it('does not follow repeats without end', () => {
    const value: Node = { kind: 'scalar', start: 0, end: 1, text: 'A B', value: 'A B', quoted: false };
    const list: Node = { kind: 'list', start: 0, end: 1, flow: true, items: Array.from({ length: 2000 }, () => value) };
    const key = (text: string): Node & { kind: 'scalar' } => ({ ...value, kind: 'scalar', text, value: text });
    const one: Node = { kind: 'map', start: 0, end: 1, flow: true, pairs: [{ key: key('lit'), value: list }] };
    const many: Node = {
      kind: 'map',
      start: 0,
      end: 1,
      flow: true,
      pairs: Array.from({ length: 2000 }, (_, index) => ({ key: key(`s${index}`), value: { ...one, alias: 'a' } })),
    };
    const root: Node = { kind: 'map', start: 0, end: 1, flow: false, pairs: [{ key: key('shots'), value: many }] };
    const { problems } = quick(1000, () => checkSchema(root, 'shoot'));
    expect(problems.map(({ rule }) => rule)).toEqual(['bad-name']);
  });

  it('says the same twice', () => {
    const text = spec({ camera: 'iso: 1e3\n  shutter: 1/50', more: 'cut: [{}]' });
    expect(problemsOf(text)).toEqual(problemsOf(text));
  });
});

describe('what people bring along', () => {
  const slips: [string, string, string, string | null, boolean?][] = [
    [camera('iso: «12.800»'), 'wrong-unit', 'would be 12.8', '12800', true],
    [camera('white-balance: «5.600 K»'), 'wrong-unit', 'nothing between thousands', '5600 K', true],
    [spec({ deliver: 'raster: «1.920x1.080», rate: 25' }), 'wrong-unit', 'thousands', '1920x1080', true],
    [spec({ more: 'backdrop: { colour: «“#b3201a”» }' }), 'wrong-unit', 'quotes that YAML', '"#b3201a"', true],
    [camera('shutter: «“1/50 s”»'), 'wrong-unit', 'quotes that YAML', '1/50 s', true],
    [camera('shutter: «1⁄50 s»'), 'wrong-unit', '`1/50 s`', '1/50 s', true],
    [spec({ more: 'room: { source: «daylight» }' }), 'unknown-word', '`window`', 'window', false],
    [spec({ product: 'size: 9 x 6 x 7 cm, finish: «shiny»' }), 'unknown-word', '`glossy`', 'glossy', false],
    [spec({ deliver: 'raster: 1920x1080, rate: 25, loudness: «-14 dB»' }), 'wrong-unit', 'LUFS', '-14 LUFS', false],
    [spec({ deliver: 'raster: 1920x1080, rate: 25, true-peak: «-1 dBFS»' }), 'wrong-unit', 'dBTP', '-1 dBTP', false],
    [spec({ more: 'schedule: [{ day: «20.12.2026» }]' }), 'wrong-unit', 'year-month-day', '2026-12-20', true],
    [spec({ more: 'schedule: [{ day: «1.2.2026» }]' }), 'wrong-unit', 'year-month-day', '2026-02-01', true],
    [spec({ more: 'schedule: [{ day: «12/20/2026» }]' }), 'wrong-unit', 'year-month-day', '2026-12-20', true],
    [spec({ more: 'schedule: [{ day: «01/02/2026» }]' }), 'wrong-unit', "can't be read as a date", null],
    [spec({ more: 'schedule: [{ day: «2 Dec 2026» }]' }), 'wrong-unit', 'year-month-day', '2026-12-02', true],
    [spec({ more: 'schedule: [{ day: «December 20 2026» }]' }), 'wrong-unit', 'year-month-day', '2026-12-20', true],
    [shot('record: «1 min 30 s»'), 'wrong-unit', 'several units', '90 s', true],
    [shot('record: 12 s, reset: «1 h 5 min»'), 'wrong-unit', 'several units', '65 min', true],
    [shot('record: «about 12 s»'), 'wrong-unit', 'without a word for about', '12 s', true],
    [shot('record: «~12s»'), 'wrong-unit', 'without a word for about', '12 s', true],
    [
      spec({ more: 'schedule: [{ day: 2026-12-20, hours: «9am to 5:30pm» }]' }),
      'wrong-unit',
      'hours',
      '09:00 to 17:30',
      true,
    ],
    [
      spec({ more: 'schedule: [{ day: 2026-12-20, hours: «12am to 12pm» }]' }),
      'wrong-unit',
      'hours',
      '00:00 to 12:00',
      true,
    ],
    [shot('«record 12 s», takes: 2'), 'unknown-key', '`record: 12 s`', 'record: 12 s', false],
  ];
  it.each(slips)('%s', (marked, rule, says, fix, safe) => {
    expectOne(marked, 'shoot', { rule: rule as 'wrong-unit', says, fix, ...(safe !== undefined && { safe }) });
  });

  it('leaves decimals of small numbers alone', () => {
    expect(problemsOf(camera('distance: 1.250 m').replace('  distance: 60 cm\n', ''))).toEqual([]);
    expect(problemsOf(camera('iso: 12.5'))).toEqual([]);
  });

  it('offers a rate of bytes in bits, and as the same figure of bits', () => {
    const [found] = problemsOf(spec({ deliver: 'raster: 1920x1080, rate: 25, bitrate: 16 MB/s' }));
    expect(found?.fixes.map(({ title }) => title)).toEqual(['Write `128 Mb/s`', 'Write `16 Mb/s`']);
  });

  it('offers beats and seconds where a length has no unit', () => {
    const [found] = problemsOf(cut('{ shot: reveal, length: 8 }'));
    expect(found?.fixes.map(({ title }) => title)).toEqual(['Write `8 beats`', 'Write `8 s`']);
  });

  it('marks the dash of an empty line, not the name of its list', () => {
    const text = spec({ cut: '\n  - { shot: reveal, length: 2 s }' });
    const [found, ...more] = problemsOf(text);
    expect(text.slice(0, found!.end)).toMatch(/cut:\n {2}-$/);
    expect([found!.end - found!.start, more]).toEqual([1, []]);
    expect(found!.message).toContain('This line of `cut` is empty');
    expect(problemsOf(fixed(text, [found!]))).toEqual([]);
  });
});
