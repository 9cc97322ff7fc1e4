/** When what is done, as the sheet says it: days and their parts, what an hour is made of, and what waits for the sun. */
import { describe, expect, test } from 'vitest';
import { blocksOf, headingsOf, rowsOf, textsOf, ticksOf } from '../helpers/sheet.ts';
import { checkSpec, spec } from '../helpers/workspace.ts';

const plan = (schedule: string, setUps = '{ wide: { build: 30 min }, near: { build: 20 min } }') => `set-ups: ${setUps}
shots:
  whole: { set-up: wide, takes: 5, record: 1 min, reset: 75 s }
  lid: { set-up: near, takes: 5, record: 1 min, reset: 75 s }
cut: [{ shot: whole, length: 6 s }, { shot: lid, length: 4 s }]
schedule: ${schedule}
`;
const setUpsOf = (text: string) => headingsOf(blocksOf(text)).filter((one) => /set-up/i.test(one));
const partsOf = (text: string) => textsOf(blocksOf(text)).filter((one) => one.startsWith('About'));

describe('a day is a date', () => {
  const twice = plan(`
  - { day: 2026-12-02, hours: 09:00 to 12:00, order: wide }
  - { day: 2026-12-02, hours: 20:00 to 22:00, order: near }`);

  test('what is worked on in the morning and in the evening is told by its time', () => {
    expect(setUpsOf(twice)).toEqual(['Set-up wide, 09:00 to 09:40 (1 of 2)', 'Set-up near, 20:00 to 20:30 (2 of 2)']);
    expect(rowsOf(blocksOf(twice), 'Order of work')).toEqual([
      ['2026-12-02, 09:00 to 12:00', '09:00 to 09:40', 'wide'],
      ['2026-12-02, 20:00 to 22:00', '20:00 to 20:30', 'near'],
    ]);
    expect(partsOf(twice)).toEqual([
      'About 40 min on 2026-12-02, 09:00 to 12:00: 30 min to build, 5 min of recording, 5 min between takes.',
      'About 30 min on 2026-12-02, 20:00 to 22:00: 20 min to build, 5 min of recording, 5 min between takes.',
    ]);
  });

  test('another date is another day, and a part without hours is counted', () => {
    const parts = '[{ day: 2026-12-02, order: wide }, { day: 2026-12-02, order: near }]';
    expect(setUpsOf(plan(parts))).toEqual(['Day 1: set-up wide (1 of 2)', 'Day 1, part 2: set-up near (2 of 2)']);
    expect(setUpsOf(plan(parts.replace('-02, order: near', '-03, order: near')))).toEqual([
      'Day 1: set-up wide (1 of 2)',
      'Day 2: set-up near (2 of 2)',
    ]);
  });

  test('also in findings', () => {
    const short = twice.replace('20:00 to 22:00', '20:00 to 20:10');
    expect(checkSpec(spec(short)).findings.map(({ message }) => message)).toEqual([
      expect.stringMatching(/^Day 1 from 20:00: about 30 min of work in 10 min\./),
    ]);
  });
});

describe('what the time is made of', () => {
  test('adds up, with what is counted where the plan says nothing', () => {
    // 60 + 2 x (5 x 1 min + 4 x 75 s) = 80, and what changes from one set-up to the other: nothing.
    expect(
      partsOf(plan('[{ day: 2026-12-02, hours: 09:00 to 12:00, order: [wide, near] }]', '{ wide: {}, near: {} }')),
    ).toEqual([
      'About 1 h 20 min: 1 h to build (counted, as the plan says no time for it), 10 min of recording, 10 min between takes.',
    ]);
  });

  test('in minutes of which none is lost', () => {
    // 20 x 40 s are 13 min 20 s of recording and 19 min between takes: 62 min 20 s with the 30 of building.
    const odd = plan('[{ day: 2026-12-02, order: wide }]').replace(
      'takes: 5, record: 1 min, reset: 75 s',
      'takes: 20, record: 40 s',
    );
    expect(partsOf(odd)).toEqual(['About 1 h 2 min: 30 min to build, 13 min of recording, 19 min between takes.']);
  });
});

test('a set is made ready again between two takes, and not after the last', () => {
  const order = (resets: string) => `set-ups: { wheel: { build: 30 min } }
shots:
  centring: { set-up: wheel, takes: 2, record: 30 s, ${resets} }
  pull: { set-up: wheel, takes: 3, record: 20 s, ${resets} }
  done: { set-up: wheel, takes: 1, record: 60 s, ${resets} }
cut: [{ shot: centring, length: 4 s }, { shot: pull, length: 4 s }, { shot: done, length: 2 s }]
schedule: [{ day: 2026-12-02, order: [wheel] }]
`;
  // Between two takes of one, three of the other and one of the last: 1 + 2 + 0 times.
  expect(partsOf(order('reset: 5 min'))).toEqual([
    'About 48 min: 30 min to build, 3 min of recording, 15 min between takes.',
  ]);
  expect(partsOf(order('notes: as said'))).toEqual([
    'About 36 min: 30 min to build, 3 min of recording, 3 min between takes.',
  ]);
});

describe('copies', () => {
  const copied = (offload: string) =>
    blocksOf(
      plan(`[{ day: 2026-12-02, hours: 09:00 to 12:00, breaks: 30 min, order: [wide, near], offload: ${offload} }]`),
    );
  const order = (offload: string) => rowsOf(copied(offload), 'Order of work');

  test('that fall into a set-up are said there', () => {
    expect(order('09:20')).toEqual([
      ['09:00 to 09:40', 'wide'],
      ['09:20', 'copies, in the middle of wide'],
      ['09:40 to 10:10', 'breaks'],
      ['10:10 to 10:40', 'near'],
    ]);
    expect(ticksOf(copied('09:20'), 'On the way')).toEqual(['At 09:20, between two takes: copy the cards']);
  });

  test('in the breaks or after the work are in nobody’s way', () => {
    expect(order('[09:50, 11:00]').map(([when, what]) => `${when} ${what}`)).toEqual([
      '09:00 to 09:40 wide',
      '09:40 to 10:10 breaks',
      '09:50 copies',
      '10:10 to 10:40 near',
      '11:00 copies',
    ]);
    expect(ticksOf(copied('[09:50, 11:00]'), 'On the way')).toEqual([]);
  });
});

describe('daylight', () => {
  const outdoors = (near: string) => `lamps: {}
room: { light: 6000 lx, source: window, temperature: 6800 K }
${plan(
  '[{ day: 2026-12-02, hours: 07:00 to 19:00, breaks: 6 h, offload: 12:00, order: [wide, near] }]',
  `{ wide: { build: 30 min }, near: { build: 20 min, ${near} } }`,
)}`;

  test('that is to be another in each set-up comes when it comes: no clock times, and the breaks are nowhere in between', () => {
    const evening = outdoors('room: { light: 900 lx, temperature: 4300 K }');
    expect(rowsOf(blocksOf(evening), 'Order of work')).toEqual([
      ['40 min', 'wide'],
      ['30 min', 'near'],
      ['6 h', 'breaks'],
    ]);
    expect(setUpsOf(evening)).toEqual(['Set-up wide (1 of 2)', 'Set-up near (2 of 2)']);
    expect(partsOf(evening)).toEqual([
      'About 7 h 10 min: 30 min to build, 20 min of changes, 6 h of breaks, 10 min of recording, 10 min between takes. ' +
        'The set-ups have different daylight, and the plan does not say at what time: the light decides when each begins. Copies at 12:00.',
    ]);
  });

  test('that is the same all along is filmed by the clock', () => {
    expect(rowsOf(blocksOf(outdoors('camera: { distance: 50 cm }')), 'Order of work')[0]).toEqual([
      '07:00 to 07:40',
      'wide',
    ]);
  });
});
