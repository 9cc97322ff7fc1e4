/** The sheet and the pictures of hostile specs: what somebody wrote stays text; of usual ones: everything is on it, in order. */
import { describe, expect, test } from 'vitest';
import type { Finding } from '../../server/core/finding.ts';
import { quote } from '../../server/core/document/edits.ts';
import { printable } from '../../server/pdf/letters.ts';
import { draw, pictureText, views } from '../../server/views/index.ts';
import type { Sheet, SheetBlock } from '../../server/views/sheet/blocks.ts';
import { sheetOf } from '../../server/views/sheet/content.ts';
import { sheetHtml } from '../../server/views/sheet/html.ts';
import { sheetText } from '../../server/views/sheet.ts';
import { checked } from '../helpers/drawing.ts';
import { acting, hostileTexts } from '../helpers/hostile.ts';
import { readXml } from '../helpers/xml.ts';
import { checkSpec } from '../helpers/workspace.ts';

/** A text wherever a spec takes free words, and as the names of things. */
function hostileSpec(words: string): string {
  const text = quote(words);
  return `title: ${text}
kit: kits/camera.kit.yaml
region: DE
brief: { client: ${text}, must-show: [${text}], purpose: ${text} }
product: { size: 9 x 6 x 7 cm, finish: ${text}, colour: ${text}, contents: ${text}, parts: { ${text}: { size: 1 x 1 x 1 cm, height: 3 cm } } }
deliver: { ${text}: { raster: 1920x1080, rate: 25, length: 10 s, codec: ${text}, bitrate: 16 Mb/s, shown-on: ${text}, territory: ${text} } }
camera: { use: cam, lens: normal, support: ${text}, distance: 60 cm, height: 8 cm, raster: 3840x2160, rate: 25, colour-space: ${text}, shutter: 1/50 s, aperture: f/8, iso: 400, white-balance: 5000 K, focus: ${text}, stabiliser: ${text}, filters: [${text}] }
backdrop: { material: ${text}, colour: ${text}, size: 200 x 200 cm, behind: 70 cm }
surface: { material: ${text}, finish: ${text}, size: 80 x 60 cm, height: 75 cm }
room: { light: 4 lx, source: ${text} }
lamps: { ${text}: { use: panel, role: ${text}, held: ${text}, modifier: ${text}, colour: ${text}, distance: 60 cm, angle: 45°, height: 40 cm } }
set-ups: { ${text}: { build: 10 min, notes: ${text} } }
shots: { ${text}: { set-up: ${text}, record: 12 s, people: ${text}, shows: ${text}, notes: ${text}, microphone: ${text}, action: { what: ${text}, lasts: 5 s }, turn: { use: ${text}, by: 30° } } }
music: { track: ${text}, tempo: 100 bpm }
sounds: [{ track: ${text}, at: 0 s, length: 2 s }]
cut: [{ shot: ${text}, length: 5 s, flip: ${text} }, { footage: ${text}, length: 2 s }, { colour: ${text}, length: 3 s }]
titles: [{ text: ${text}, at: 1 s, hold: 3 s, place: ${text}, colour: ${text}, over: ${text}, panel: ${text}, font: ${text} }]
rights: { ${text}: { kind: ${text}, proof: ${text}, credit: ${text}, shown-on: ${text}, territory: ${text}, owner: ${text} } }
schedule: [{ day: 2026-12-02, order: [${text}] }]
care: { precautions: [${text}], notes: ${text} }
notes: ${text}
agreed: { who: ${text}, day: 2026-11-20, revision: ${text} }
# why: ${words.replace(/[\r\n\u2028\u2029]/g, ' ')}
# accept odd-dimensions: ${words.replace(/[\r\n\u2028\u2029]/g, ' ')}
`;
}

const elements = new Set(
  'svg g path rect circle line text title desc html head meta style body main h1 h2 h3 h4 p dl div dt dd table caption thead tbody tr th td figure ul ol li span b img figcaption textarea'.split(
    ' ',
  ),
);

function isHarmless(tag: string): boolean {
  const [, name, attributes] = /^<\/?([a-z0-9]+)((?:\s[A-Za-z][\w-]*="[^"<>]*")*)\s*\/?>$/i.exec(tag) ?? [];
  if (!name || !elements.has(name)) return false;
  return [...attributes!.matchAll(/([\w-]+)="([^"]*)"/g)].every(([, attribute, value]) => {
    if (name === 'img' && value!.startsWith('data:image/png;base64,')) return true;
    if (/^(?:on\w+|style|href|src|srcdoc)$/i.test(attribute!)) return false;
    // A colour that a user wrote would be a place to fetch from.
    return attribute === 'aria-label' || !/url\(/i.test(value!);
  });
}

/** Every tag of an output: as nothing else has angle brackets, these are all that a browser can see. */
function expectHarmless(html: string): void {
  const body = html.replace('<!doctype html>', '').replace(/<style>[^<]*<\/style>/, '');
  // There are thousands, and each `expect` takes longer than all that is looked at here.
  expect(body.match(/<[^>]*>?/g)!.filter((tag) => !isHarmless(tag))).toEqual([]);
  expect(body).not.toMatch(acting);
}

const attacks = [
  ...hostileTexts,
  '"/><image href=x onerror=alert(1)>',
  "' onload='alert(1)",
  'url(https://example.org/a.svg#b)',
  '</style></title><svg onload=alert(1)>',
];

describe('hostile text', () => {
  test.each(attacks)('%j stays text on the sheet', (words) => {
    const result = checkSpec(hostileSpec(words));
    expect(result.film?.shots.size).toBe(1);
    expectHarmless(sheetHtml(sheetOf(result, result.film!)));
  });

  test.each(attacks)('%j stays text in every view, which is well-formed XML', (words) => {
    const result = checkSpec(hostileSpec(words));
    for (const [index, { name }] of views.entries()) {
      // Themes differ in the words for colours alone, so that one of them for each picture will do.
      const svg = pictureText(draw(name, result)!, { themed: (index + words.length) % 2 === 0 });
      expectHarmless(svg);
      readXml(`<?xml version="1.0" encoding="UTF-8"?>\n${svg}`);
    }
  });

  test('all of it stays text in the plan for the client', () => {
    const result = checkSpec(hostileSpec(attacks.join(' ')));
    expectHarmless(sheetText(result, 'client')!);
  });

  test('markup can be read as it was written', () => {
    const result = checkSpec(hostileSpec('<b>Tinnabel</b>'));
    expect(sheetHtml(sheetOf(result, result.film!))).toContain('<h1>&lt;b&gt;Tinnabel&lt;/b&gt;</h1>');
  });
});

const film = `product: { size: 9 x 6 x 7 cm, finish: glossy, weight: 420 g, hazards: [glass, liquid] }
backdrop: { use: monitor, behind: 70 cm }
set-ups:
  wide: { build: 30 min }
  near: { build: 20 min, camera: { distance: 50 cm } }
shots:
  whole: { set-up: wide, takes: 3, record: 12 s, notes: Mind the cable. }
  lid: { set-up: near, takes: 2, record: 8 s, microphone: clip-on }
schedule: [{ day: 2026-12-02, hours: 09:00 to 15:00, order: [near, wide] }]
cut: [{ shot: whole, length: 6 s }, { shot: lid, length: 4 s }]
rights: { tune: { kind: music, proof: rights/tune.md, until: 2028-06-30 } }
care: { circuit: 16 A, precautions: [cables-taped] }
`;

/** Every block of a sheet, those inside others too. */
function allBlocks({ blocks: some }: Pick<Sheet, 'blocks'>): SheetBlock[] {
  return some.flatMap((one) => {
    const inside = one.kind === 'together' ? one.blocks : one.kind === 'beside' ? one.columns.flat() : [];
    return [one, ...allBlocks({ blocks: inside })];
  });
}

function blocks(): readonly SheetBlock[] {
  const { result, film: resolved } = checked(film);
  return allBlocks(sheetOf(result, resolved));
}

function titlesOf(some: readonly SheetBlock[]): string[] {
  return some.flatMap((one) => (one.kind === 'picture' ? one.picture.title : []));
}

describe('the sheet', () => {
  test('has a page for each set-up, in the order of the day', () => {
    const all = blocks();
    const heads = all.flatMap((one, index) =>
      one.kind === 'heading' && one.level === 2 ? [{ words: one.words, breaks: all[index - 1]?.kind === 'page' }] : [],
    );
    expect(heads).toEqual([
      { words: 'The same in all shots', breaks: false },
      // 20 min of building and two takes of 8 s, 2 min of cleaning: the product shines.
      { words: 'Set-up near, 09:00 to 09:23 (1 of 2)', breaks: true },
      { words: 'Set-up wide, 09:23 to 09:58 (2 of 2)', breaks: true },
      { words: 'Files and papers', breaks: false },
      { words: 'To tick off', breaks: false },
    ]);
  });

  test('has the pictures of each set-up and the frame of each shot', () => {
    expect(titlesOf(blocks())).toEqual([
      'The film in time',
      'lid: the set from above',
      'lid: the set from the side',
      'lid: the frame',
      'whole: the set from above',
      'whole: the set from the side',
      'whole: the frame',
      'Budgets',
    ]);
  });

  test('draws the set again where more is moved than the camera nearer', () => {
    const { result, film: resolved } = checked(`set-ups: { wide: { build: 30 min } }
shots:
  one: { set-up: wide, record: 12 s }
  same: { set-up: wide, record: 12 s, camera: { iso: 200 } }
  nearer: { set-up: wide, record: 12 s, camera: { distance: 40 cm } }
  higher: { set-up: wide, record: 12 s, camera: { height: 40 cm } }
cut: [{ shot: one, length: 10 s }]
`);
    const titles = titlesOf(allBlocks(sheetOf(result, resolved)));
    expect(titles.filter((one) => one.endsWith('from above'))).toEqual([
      'one: the set from above',
      'higher: the set from above',
    ]);
  });

  test('has room for what is noted of every take', () => {
    const forms = blocks().flatMap((one) => (one.kind === 'table' && one.isForm ? one : []));
    expect(forms.map(({ caption, rows }) => [caption, rows.flat().filter(Boolean)])).toEqual([
      ['2 takes of 8 s', ['1', '2']],
      ['3 takes of 12 s', ['1', '2', '3']],
    ]);
    expect(forms[0]!.head.slice(0, 5)).toEqual(['Take', 'Clip', 'Mark', 'Light', 'Focus']);
  });

  test('says first what must be put right, and everything once', () => {
    const { result, film: resolved } = checked(`lamps:
  key: { use: panel, temperature: 5000 K, level: 40 %, distance: 60 cm, angle: 45°, height: 40 cm, flashes: 5 Hz }
set-ups: { wide: {}, near: {} }
shots: { one: { set-up: wide, record: 12 s }, two: { set-up: near, record: 12 s } }
cut: [{ shot: one, length: 5 s }, { shot: two, length: 5 s }]
`);
    const [title, first] = sheetOf(result, resolved).blocks;
    expect([title!.kind, first]).toMatchObject(['heading', { kind: 'findings', title: 'To put right first' }]);
    const said = allBlocks(sheetOf(result, resolved)).flatMap((one) => (one.kind === 'findings' ? one.items : []));
    expect(said).toHaveLength(result.findings.length);
  });

  test('a day has clock times, with its breaks once half of the work is done', () => {
    const order = blocks().find((one) => one.kind === 'table' && one.caption.startsWith('Order of work'));
    expect(order).toMatchObject({
      caption: expect.stringContaining('2026-12-02, 09:00 to 15:00'),
      rows: [
        ['09:00 to 09:23', 'near'],
        ['09:23 to 09:58', 'wide'],
      ],
    });
  });

  test('more than 6 h of work without a break are told, and a time-lapse works alone', () => {
    const shot = (rest: string) =>
      sheetText(
        checked(
          `shots: { box: { record: 60 s, takes: 10, reset: 59 min${rest} } }\nschedule: [{ hours: 08:00 to 22:00 }]\n`,
        ).result,
      );
    expect(shot('')).toContain('Breaks come on top: the plan says none.');
    expect(shot(', interval: 10 s')).not.toContain('Breaks come on top');
  });

  test('what is to be packed stands once, with as many lamps as are up at once', () => {
    const packed = blocks().find((one) => one.kind === 'ticks' && one.title === 'To pack');
    const items = packed?.kind === 'ticks' ? packed.items : [];
    expect(new Set(items).size).toBe(items.length);
    expect(items).toEqual(expect.arrayContaining(['cam', 'lens normal', 'tripod', 'microphone clip-on']));
  });

  test('the only turntable of the kit is packed where the product turns, though no shot names it', () => {
    const { result, film: resolved } = checked(
      'shots: { box: { record: 12 s, turn: { speed: 2 rpm } }, still: { record: 12 s } }\ncut: [{ shot: box, length: 10 s }]\n',
    );
    const packed = sheetOf(result, resolved).blocks.find((one) => one.kind === 'ticks' && one.title === 'To pack');
    expect(packed).toMatchObject({ items: expect.arrayContaining(['turntable large']) });
  });

  test('any number of takes and any length are printed in bounded time and space', () => {
    const { result, film: resolved } = checked(`music: { track: tune, tempo: 999999999 bpm, length: 100000000 s }
shots: { box: { takes: 60, record: 100000000 s } }
cut: [{ shot: box, length: 100000000 s }]
titles: [{ text: Tinnabel, at: 0 s, hold: 100000000 s }]
`);
    const html = sheetHtml(sheetOf(result, resolved));
    expect(html.length).toBeLessThan(400_000);
    expect(html).toContain('the first 40');
  });

  test('asks what this film needs asked, and not more', () => {
    const items = blocks().flatMap((one) => (one.kind === 'ticks' ? one.items : []));
    expect(items).toEqual(
      expect.arrayContaining([
        'A spare of everything that gets wet',
        'Cables taped down',
        'Screen: brightness fixed, sleep and messages off',
        '30 s of the room with nobody moving',
      ]),
    );
    expect(items).not.toContain('Backdrop steamed or brushed');
  });

  test('a paper that is not there is said to be missing', () => {
    expect(JSON.stringify(blocks())).toContain('rights/tune.md (not there)');
  });

  test('every finding is on it, and its number is the one in the pictures', () => {
    const { result, film: resolved } = checked(film);
    const sheet = allBlocks(sheetOf(result, resolved));
    const said = sheet.flatMap((one) => (one.kind === 'findings' ? one.items : []));
    const printed = ({ message }: Finding) => message.replace(/`([^`]*)`/g, '“$1”');
    expect(new Set(said.map((one) => one.words))).toEqual(new Set(result.findings.map(printed)));
    const numbers = new Map(said.map((one) => [one.words, one.number]));
    const noted = sheet.flatMap((one) => (one.kind === 'picture' ? one.picture.noted : []));
    expect(noted.length).toBeGreaterThan(0);
    for (const { number, finding } of noted) expect(numbers.get(printed(finding))).toBe(number);
  });

  test('is one file that runs and fetches nothing', () => {
    const { result, film: resolved } = checked(film);
    const html = sheetHtml(sheetOf(result, resolved));
    expect(html).toContain(`content="default-src 'none'; style-src 'unsafe-inline'; img-src data:"`);
    expect(html).not.toMatch(/<script|<link|<img|@import|url\(/i);
  });
});

describe('letters of a PDF', () => {
  test('Western European ones stay, the rest is marked as lost', () => {
    expect(printable('Grün, 50° × 3 – “naïve” …')).toEqual({ words: 'Grün, 50° × 3 – “naïve” …', lost: false });
    expect(printable('−2 to 3')).toEqual({ words: '-2 to 3', lost: false });
    expect(printable('日本 \u0007')).toEqual({ words: '?? ?', lost: true });
  });
});
