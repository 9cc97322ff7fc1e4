/** What two people note on the set, put together: nothing is lost, and the take sheet is read without a word about its form. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  canonical,
  type Entries,
  type Entry,
  entryOf,
  judgements,
  merged,
  type TakeEntry,
} from '../../client/set-page/entries.ts';
import { clipAfter, takesOf } from '../../client/set-page/noted.ts';
import { sheetRead, takeSheetOf } from '../../client/set-page/take-sheet.ts';
import { rules } from '../../server/rules/index.ts';
import { actingTexts } from '../helpers/hostile.ts';
import { checkerFor, spec } from '../helpers/workspace.ts';

const specName = 'film.shoot.yaml';
const shots = ['box', 'lid'];
const files = { [specName]: spec('shots:\n  box: { record: 12 s, takes: 3 }\n  lid: { record: 8 s }\n') };

function take(id: string, said: Partial<TakeEntry> = {}): TakeEntry {
  return {
    kind: 'take',
    id,
    rev: 0,
    at: 1000,
    shot: 'box',
    clip: 'C0012.MP4',
    notes: '',
    day: '2026-12-02',
    made: 1000,
    ...said,
  };
}

const entriesOf = (...all: Entry[]): Entries => merged(new Map(), all);

const ofTheShoot = new Set(rules.map((rule) => rule.id));

/** Findings about how a take sheet is written, of the sheet beside its spec: those of no rule. */
function saidOfForm(text: string): string[] {
  const path = 'film.takes.yaml';
  const { doc, findings, sheet } = checkerFor({ ...files, [path]: text }).check(path, text)!;
  expect(doc.broken).toBe(false);
  expect(sheet).toBeDefined();
  return findings.filter((one) => !ofTheShoot.has(one.rule)).map((one) => `${one.rule}: ${one.message}`);
}

const noted = fc.record({ rev: fc.nat(4), at: fc.nat(9) });
const words = fc.oneof(
  fc.constantFrom('', 'felt', 'The felt slipped.'),
  fc.string({ unit: 'binary', maxLength: 12 }),
  fc.constantFrom(...actingTexts),
);
const clips = fc.oneof(fc.constantFrom('C0012.MP4', 'C0013.MP4', ''), words);
const takeEntry = fc
  .record({
    page: fc.constantFrom('a', 'b'),
    number: fc.nat(3),
    shot: fc.oneof(fc.constantFrom(...shots), words),
    clip: clips,
    judged: fc.option(fc.constantFrom(...judgements), { nil: undefined }),
    notes: words,
    of: fc.option(fc.constantFrom('a.0', 'b.1'), { nil: undefined }),
    seen: fc.option(fc.dictionary(fc.constantFrom('a.0', 'b.1'), fc.nat(4)), { nil: undefined }),
    gone: fc.constantFrom(undefined, true as const),
    noted,
  })
  .map(({ page, number, noted: when, ...said }) =>
    take(`${page}.${number}`, {
      ...Object.fromEntries(Object.entries(said).filter(([, value]) => value !== undefined)),
      ...when,
    }),
  );
const measureEntry = fc
  .record({
    page: fc.constantFrom('a', 'b'),
    shot: fc.constantFrom(...shots),
    lux: fc.oneof(fc.constantFrom('', '1140', '1 140,5 lx', '1,140'), words),
    kelvin: fc.oneof(fc.constantFrom('', '4900', '0'), words),
    clock: fc.constantFrom('14:20', '??'),
    noted,
  })
  .map(({ page, noted: when, ...said }): Entry => ({
    kind: 'measure',
    id: `${page}.measured.${said.shot}`,
    ...when,
    ...said,
  }));
const tickEntry = fc
  .record({ page: fc.constantFrom('a', 'b'), on: fc.boolean(), noted })
  .map(({ page, on, noted: when }): Entry => ({
    kind: 'tick',
    id: `${page}.ticked.done/box`,
    what: 'done/box',
    on,
    ...when,
  }));
const someEntries = fc
  .array(fc.oneof(takeEntry, measureEntry, tickEntry), { maxLength: 12 })
  .map((all) => entriesOf(...all.filter((one) => entryOf(one) !== undefined)));

const texts = (entries: Entries) => [...entries.values()].map(canonical).sort();

describe('two sheets put together', () => {
  it('are the same whoever reads the other in, and however often', () => {
    fc.assert(
      fc.property(someEntries, someEntries, someEntries, (a, b, c) => {
        const both = merged(a, b.values());
        expect(texts(both)).toEqual(texts(merged(b, a.values())));
        expect(texts(merged(both, b.values()))).toEqual(texts(both));
        expect(texts(merged(both, c.values()))).toEqual(texts(merged(a, merged(b, c.values()).values())));
      }),
    );
  });

  it('keep every entry, as it was changed last', () => {
    fc.assert(
      fc.property(someEntries, someEntries, (a, b) => {
        const both = merged(a, b.values());
        for (const entry of [...a.values(), ...b.values()]) {
          const kept = both.get(entry.id)!;
          expect(kept.rev).toBeGreaterThanOrEqual(entry.rev);
          expect([a.get(entry.id), b.get(entry.id)]).toContain(kept);
        }
      }),
    );
  });

  it('come out of the take sheet as they went in', () => {
    fc.assert(
      fc.property(someEntries, (entries) => {
        if (entries.size === 0) return;
        const read = sheetRead(takeSheetOf(entries, specName), specName);
        expect(texts(read.entries!)).toEqual(texts(entries));
        expect(read).toMatchObject({ unread: 0, isChanged: false });
      }),
    );
  });
});

describe('a take that two people write about', () => {
  const first = take('a.1', { notes: 'felt slipped', judged: 'spare' });

  it('keeps both notes where neither knew of the other', () => {
    const again = { ...first, rev: 1, at: 2000, notes: 'felt slipped, sharp' };
    const other = take('b.of.a.1', { of: 'a.1', seen: { 'a.1': 0 }, at: 3000, notes: 'crank squeaks', judged: 'good' });
    expect(takesOf(entriesOf(again, other))).toMatchObject([
      { notes: 'felt slipped, sharp / crank squeaks', judged: 'good', clip: 'C0012.MP4' },
    ]);
  });

  it('takes a correction for one where the other was known', () => {
    const other = take('b.of.a.1', { of: 'a.1', seen: { 'a.1': 0 }, at: 3000, notes: 'felt slid', judged: 'bad' });
    expect(takesOf(entriesOf(first, other))).toMatchObject([{ notes: 'felt slid', judged: 'bad' }]);
  });

  it('is the best alone: what was called so before is good', () => {
    const takes = takesOf(
      entriesOf(take('a.1', { judged: 'best' }), take('b.1', { judged: 'best', at: 2000, made: 2000 })),
    );
    expect(takes.map((one) => one.judged)).toEqual(['good', 'best']);
  });

  it('is one take of the sheet where both noted its clip, with all that was said', () => {
    const text = takeSheetOf(entriesOf(first, take('b.9', { at: 2000, judged: 'good', notes: 'dust' })), specName);
    expect(text).toContain('    - { clip: "C0012.MP4", judged: good, notes: "felt slipped / dust" }\n');
    expect(text.match(/^ {4}- /gm)).toHaveLength(1);
  });
});

describe('the take sheet', () => {
  it('is what a person would have written', () => {
    const text = takeSheetOf(
      entriesOf(
        take('a.1', { judged: 'bad', notes: 'The felt slipped.' }),
        take('a.2', { clip: 'C0013.MP4', judged: 'best', made: 2000 }),
        take('a.3', { clip: 'C0014.MP4', shot: 'lid', day: '2026-12-03', made: 3000 }),
        { kind: 'measure', id: 'a.m', rev: 0, at: 5, shot: 'box', lux: '1 140,5', kelvin: '4900 K', clock: '14:20' },
      ),
      specName,
    );
    expect(text.slice(0, text.indexOf('\n\n'))).toBe(`format: 1
spec: "film.shoot.yaml"
day: 2026-12-02
takes:
  box:
    - { clip: "C0012.MP4", judged: bad, notes: "The felt slipped." }
    - { clip: "C0013.MP4", judged: best }
  lid:
    - { clip: "C0014.MP4", day: 2026-12-03 }
measured:
  box: { light: 1140.5 lx, temperature: 4900 K, clock: "14:20" }`);
    expect(saidOfForm(text)).toEqual([]);
  });

  it('keeps in its notes what the format has no place for', () => {
    const text = takeSheetOf(
      entriesOf(take('a.1', { clip: '', notes: 'card full', judged: 'spare' }), {
        ...{ kind: 'measure', id: 'a.m', rev: 0, at: 5, shot: 'lid' },
        ...{ lux: '1,140', kelvin: '', clock: '14:20' },
      } as Entry),
      specName,
    );
    expect(text).toContain(
      'notes: "Take of box, no clip said, spare, card full\\nMeasured of lid: light 1,140 at 14:20"\n',
    );
    expect(saidOfForm(text)).toEqual([]);
  });

  it('says the newest measure of a shot, and notes the others', () => {
    const measure = (id: string, at: number, lux: string, kelvin: string): Entry => ({
      kind: 'measure',
      id,
      rev: 0,
      at,
      shot: 'box',
      lux,
      kelvin,
      clock: '14:20',
    });
    expect(
      takeSheetOf(entriesOf(measure('a.m', 1, '1100', '4900'), measure('b.m', 2, '1140', '')), specName),
    ).toContain('  box: { light: 1140 lx, temperature: 4900 K, clock: "14:20", notes: "light 1100 at 14:20" }');
  });

  it('is read by the checks without a word about its form, whatever was typed', () => {
    expect(saidOfForm(`spec: ${specName}\ntakes: { box: { clip: C1.MP4, judged: fine } }\n`)).toHaveLength(1);
    fc.assert(
      fc.property(someEntries, (entries) => {
        expect(saidOfForm(takeSheetOf(entries, specName))).toEqual([]);
      }),
      { numRuns: 40 },
    );
  });

  it('says when it is of another plan, of no page, or changed by hand', () => {
    const text = takeSheetOf(entriesOf(take('a.1', { judged: 'bad' })), specName);
    expect(sheetRead(text, 'other.shoot.yaml').fault).toBe(
      'That sheet is of film.shoot.yaml, and this page is of other.shoot.yaml.',
    );
    expect(sheetRead('takes: {}\n', specName).fault).toContain('there is nothing to read in');
    expect(sheetRead(text.replace('judged: bad', 'judged: good'), specName).isChanged).toBe(true);
    expect(sheetRead(text.replace(/\n/g, '\r\n'), specName)).toMatchObject({ isChanged: false, unread: 0 });
    expect(sheetRead(`${text}# noted {"id":1}\n# noted {\n`, specName)).toMatchObject({ unread: 2 });
  });
});

it.each([
  ['C0013.MP4', 'C0014.MP4'],
  ['C0099.MP4', 'C0100.MP4'],
  ['day-2/DSC_9999.MOV', 'day-2/DSC_10000.MOV'],
  ['20261202_opening.mp4', '20261203_opening.mp4'],
  ['opening', 'opening'],
])('counts clips: after %s comes %s', (clip, next) => {
  expect(clipAfter(clip)).toBe(next);
});
