/** The sheet and the pictures of hostile specs: what somebody wrote stays text; of usual ones: everything is on it, in order. */
import { describe, expect, test } from 'vitest';
import { quote } from '../../server/core/document/edits.ts';
import { printable } from '../../server/pdf/letters.ts';
import { draw, pictureText, views } from '../../server/views/index.ts';
import type { SheetBlock } from '../../server/views/sheet/blocks.ts';
import { sheetOf } from '../../server/views/sheet/content.ts';
import { sheetHtml } from '../../server/views/sheet/html.ts';
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
set-ups: { ${text}: { build: 10 min } }
shots: { ${text}: { set-up: ${text}, record: 12 s, people: ${text}, shows: ${text}, notes: ${text}, microphone: ${text}, action: { what: ${text}, lasts: 5 s }, turn: { use: ${text}, by: 30° } } }
music: { track: ${text}, tempo: 100 bpm }
sounds: [{ track: ${text}, at: 0 s, length: 2 s }]
cut: [{ shot: ${text}, length: 5 s, flip: ${text} }, { footage: ${text}, length: 2 s }, { colour: ${text}, length: 3 s }]
titles: [{ text: ${text}, at: 1 s, hold: 3 s, place: ${text}, colour: ${text}, over: ${text}, panel: ${text}, font: ${text} }]
rights: { ${text}: { kind: ${text}, proof: ${text}, credit: ${text}, shown-on: ${text}, territory: ${text}, owner: ${text} } }
schedule: [{ day: 2026-12-02, order: [${text}] }]
care: { precautions: [${text}] }
# accept odd-dimensions: ${words.replace(/[\r\n\u2028\u2029]/g, ' ')}
`;
}

const elements = new Set(
  'svg g path rect circle line text title desc html head meta style body main h1 h2 h3 h4 p dl div dt dd table caption thead tbody tr th td figure ul ol li span b'.split(
    ' ',
  ),
);

/** Every tag of an output: as nothing else has angle brackets, these are all that a browser can see. */
function expectHarmless(html: string): void {
  const body = html.replace('<!doctype html>', '').replace(/<style>[^<]*<\/style>/, '');
  const tags = body.match(/<[^>]*>?/g)!;
  for (const tag of tags) {
    const [, name, attributes] = /^<\/?([a-z0-9]+)((?:\s[A-Za-z][\w-]*="[^"<>]*")*)\s*\/?>$/i.exec(tag) ?? [];
    expect(name && elements.has(name), tag).toBe(true);
    for (const [, attribute, value] of attributes!.matchAll(/([\w-]+)="([^"]*)"/g)) {
      expect(attribute).not.toMatch(/^(?:on\w+|style|href|src|srcdoc)$/i);
      // A colour that a user wrote would be a place to fetch from.
      if (attribute !== 'aria-label') expect(value).not.toMatch(/url\(/i);
    }
  }
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
    for (const { name } of views) {
      for (const themed of [true, false]) {
        const svg = pictureText(draw(name, result)!, { themed });
        expectHarmless(svg);
        readXml(`<?xml version="1.0" encoding="UTF-8"?>\n${svg}`);
      }
    }
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

function blocks(): readonly SheetBlock[] {
  const { result, film: resolved } = checked(film);
  return sheetOf(result, resolved).blocks;
}

describe('the sheet', () => {
  test('has a page for each set-up, in the order of the day', () => {
    const all = blocks();
    const heads = all.flatMap((one, index) =>
      one.kind === 'heading' && one.level === 2 ? [{ words: one.words, breaks: all[index - 1]?.kind === 'page' }] : [],
    );
    expect(heads).toEqual([
      { words: 'Day 1: set-up near (1 of 2)', breaks: true },
      { words: 'Day 1: set-up wide (2 of 2)', breaks: true },
      { words: 'Rights', breaks: true },
      { words: 'Deliverables', breaks: false },
      { words: 'To tick off', breaks: true },
    ]);
  });

  test('has the pictures of each set-up and the frame of each shot', () => {
    const titles = blocks().flatMap((one) => (one.kind === 'picture' ? one.picture.title : []));
    expect(titles).toEqual([
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

  test('draws the set again where a shot has another', () => {
    const { result, film: resolved } = checked(`set-ups: { wide: { build: 30 min } }
shots:
  one: { set-up: wide, record: 12 s }
  same: { set-up: wide, record: 12 s, camera: { iso: 200 } }
  nearer: { set-up: wide, record: 12 s, camera: { distance: 40 cm } }
cut: [{ shot: one, length: 10 s }]
`);
    const titles = sheetOf(result, resolved).blocks.flatMap((one) => (one.kind === 'picture' ? one.picture.title : []));
    expect(titles.filter((one) => one.endsWith('from above'))).toEqual([
      'one: the set from above',
      'nearer: the set from above',
    ]);
  });

  test('has every take to tick off', () => {
    const takes = blocks().flatMap((one) => (one.kind === 'ticks' && one.inRow ? [[one.title, one.items.length]] : []));
    expect(takes).toEqual([
      ['Takes of 8 s', 3],
      ['Takes of 12 s', 4],
    ]);
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
    const sheet = sheetOf(result, resolved).blocks;
    const said = sheet.flatMap((one) => (one.kind === 'findings' ? one.items : []));
    expect(new Set(said.map((one) => one.finding))).toEqual(new Set(result.findings));
    const numbers = new Map(said.map((one) => [one.finding, one.number]));
    const noted = sheet.flatMap((one) => (one.kind === 'picture' ? one.picture.noted : []));
    expect(noted.length).toBeGreaterThan(0);
    for (const { number, finding } of noted) expect(numbers.get(finding)).toBe(number);
  });

  test('is one file that runs and fetches nothing', () => {
    const { result, film: resolved } = checked(film);
    const html = sheetHtml(sheetOf(result, resolved));
    expect(html).toContain(`content="default-src 'none'; style-src 'unsafe-inline'"`);
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
