/** Texts that act on a page, a terminal or a log, in every place of a film that goes into a file of another program. */
import ICAL from 'ical.js';
import { parse } from 'csv-parse/sync';
import { WebVTTParser } from 'webvtt-parser';
import { expect, test } from 'vitest';
import { quote } from '../../server/core/document/edits.ts';
import { type KindName, kindNames } from '../../server/hand-over/kind-names.ts';
import { handing } from '../helpers/handed.ts';
import { acting, actingTexts } from '../helpers/hostile.ts';
import { spec } from '../helpers/workspace.ts';

const filmWith = (t: string) =>
  spec(`title: ${t}
brief: { client: ${t}, due: 2026-12-10 }
deliver:
  ${t}: { raster: 1920x1080, rate: 25, length: 10 s, codec: h264, bitrate: 16 Mb/s }
shots:
  ${t}: { record: 30 s, notes: ${t}, action: { what: ${t}, lasts: 2 s }, shows: ${t} }
cut:
  - { shot: ${t}, length: 6 s }
  - { footage: ${t}, length: 2 s }
  - { colour: "#101010", length: 2 s }
titles:
  - { text: ${t}, at: 1 s, hold: 3 s, letters: 8 %, font: ${t} }
sounds:
  - { track: ${t}, at: 5 s, length: 3 s, words: ${t} }
music: { track: ${t}, tempo: 100 bpm }
rights:
  ${t}: { kind: music, file: ${t}, until: 2028-01-01 }
schedule:
  - { day: 2026-12-02, hours: 09:00 to 12:00, order: [${t}] }
`);

test.each(actingTexts)('%j acts in no kind', (text) => {
  const t = quote(text);
  const takes = `takes:\n  ${t}: { clip: ${t}, judged: best, notes: ${t} }\n`;
  const as = handing({ takes }, filmWith(t));
  const made = (kind: KindName) => as(kind).text;
  for (const kind of kindNames) expect(acting.exec(made(kind).replaceAll('\r\n', '\n'))?.[0], kind).toBeUndefined();
  for (const kind of ['otio', 'json'] as const) JSON.parse(made(kind));
  expect(
    made('edl')
      .split('\r\n')
      .every((line) => /^(TITLE: |FCM: |\* |\d{3} {2}|M2 |$)/.test(line)),
  ).toBe(true);
  expect(new WebVTTParser().parse(made('webvtt'), 'metadata').errors).toEqual([]);
  const calendar = new ICAL.Component(ICAL.parse(made('calendar')) as string);
  expect(calendar.getAllSubcomponents().map(({ name }) => name)).toEqual(['vevent', 'vevent', 'vevent']);
  for (const row of parse(made('csv'), { record_delimiter: '\r\n' }) as string[][])
    expect(row.every((cell) => !/^[=@]|^[+-](?!\d)/.test(cell))).toBe(true);
});
