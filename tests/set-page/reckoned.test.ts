/** What the page reckons on the set: exposure as the checks do, colour, the rest of the day, the timer. */
import { describe, expect, it, test } from 'vitest';
import { colourWords, lightWords, stopsOff } from '../../client/set-page/exposure.ts';
import { merged, type TakeEntry } from '../../client/set-page/entries.ts';
import { minutesLeft, minutesText, minutesToShoot } from '../../client/set-page/minutes.ts';
import { readingOf } from '../../client/set-page/reading.ts';
import { timerWords } from '../../client/set-page/timer.ts';
import { luxWanted } from '../../server/calc/exposure.ts';
import { exposureError } from '../../server/core/derived/light.ts';
import type { SetPlan, ShotOnSet } from '../../server/views/set-page/plan.ts';
import { setPlanOf } from '../../server/views/set-page/plan-of.ts';
import { partsOf } from '../../server/views/sheet/set-up.ts';
import { checkSheet, checkSpec, spec, specPath } from '../helpers/workspace.ts';

const shot: ShotOnSet = {
  name: 'box',
  takes: 3,
  takeS: 60,
  betweenTakesS: 30,
  camera: 'cam',
  meantStops: 0,
  handleS: 1,
};

describe('exposure', () => {
  // Incident light at exposure values, ISO 100: E = 2.5 × 2^EV lx with C = 250 (ISO 2720); EV 10 is f/8 at 1/16 s.
  const wantedLux = luxWanted({ fNumber: 8, timeS: 1 / 16, iso: 100 });

  it.each([
    [2560, 0],
    [5120, 1],
    [640, -2],
  ])('of %s lx is %s stops off at EV 10', (lux, stops) => {
    expect(stopsOff({ ...shot, wantedLux }, lux)).toBeCloseTo(stops, 9);
  });

  it('is said in stops, with the ISO that takes it back', () => {
    const lit = { ...shot, wantedLux, iso: 100 };
    expect(lightWords(lit, 2560)).toBe('2560 lx is as planned.');
    expect(lightWords(lit, 640)).toBe(
      '640 lx is 2 stops darker than planned: ISO 400 in place of 100 would take that back.',
    );
    expect(lightWords({ ...lit, meantStops: -2 }, 640)).toBe('640 lx is as planned.');
    expect(lightWords(shot, 640)).toContain('not known');
  });

  test.each([180, 1140, 9000])('of %s lx is what the checks reckon of a take sheet that says so', (lux) => {
    const plan = checkSpec(spec('')).film!;
    const planned = setPlanOf(plan, partsOf(plan), specPath).setUps[0]!.shots[0]!;
    const checked = checkSheet(`measured:\n  box: { light: ${lux} lx }\n`).sheet!.film!;
    expect(stopsOff(planned, lux)).toBeCloseTo(exposureError(checked.shots.get('box')!, 0)!, 9);
  });
});

test('colour is said in mired: 3200 K under 5500 K is 131 mired warm (10⁶/3200 − 10⁶/5500)', () => {
  expect(colourWords({ ...shot, whiteBalanceK: 5500 }, 3200)).toContain('131 mired warmer');
  expect(colourWords({ ...shot, whiteBalanceK: 3200 }, 5500)).toContain('131 mired bluer');
  expect(colourWords({ ...shot, whiteBalanceK: 5000 }, 4900)).toBe('4900 K suits the white balance of 5000 K.');
});

test.each([
  ['1140', 1140],
  ['1 140,5 lx', 1140.5],
  ['4900K', 4900],
  ['', undefined],
])('a meter’s %j is read as %s', (typed, value) => {
  expect(readingOf(typed, typed.endsWith('K') ? 'kelvin' : 'lux')).toEqual(value === undefined ? {} : { value });
});

test('what may be two numbers, or none, is asked about', () => {
  expect(readingOf('1,140', 'lux').fault).toBe('Is that 1140 lx or 1.14 lx? Write it without parting thousands.');
  expect(readingOf('bright', 'lux').fault).toBe('“bright” is no number. Write it like 1140.');
  expect(readingOf('90', 'kelvin').fault).toContain('1000 to 40000 K');
});

describe('the day', () => {
  const plan: SetPlan = {
    spec: 'film.shoot.yaml',
    path: 'film.shoot.yaml',
    days: [{ date: '2026-12-02', hours: { from: 540, to: 1080 } }],
    setUps: [
      { name: 'front', day: 0, buildMinutes: 30, shots: [shot] },
      { name: 'close', day: 0, buildMinutes: 10, shots: [{ ...shot, name: 'lid', takes: 2, takeS: 90 }] },
    ],
  };
  const made = (id: string): TakeEntry => ({
    kind: 'take',
    id,
    rev: 0,
    at: 0,
    shot: 'box',
    clip: '',
    notes: '',
    day: '',
    made: 0,
  });

  it('still has all its takes and set-ups at first', () => {
    expect(minutesToShoot(plan, 0, new Map())).toBe(30 + (3 + 2 * 0.5) + 10 + (2 * 1.5 + 0.5));
  });

  it('has less with every take; a set-up that was begun is built', () => {
    expect(minutesToShoot(plan, 0, merged(new Map(), [made('a'), made('b')]))).toBe(0.5 + 1 + 10 + 3.5);
  });

  it('does not count what somebody says is done', () => {
    const done = { kind: 'tick', id: 't', rev: 0, at: 0, what: 'done/lid', on: true } as const;
    expect(minutesToShoot(plan, 0, merged(new Map(), [done]))).toBe(30 + 4);
  });

  it.each([
    ['2026-12-02', { from: 540, to: 1080 }, '2026-12-02T16:58', 62],
    ['2026-12-02', { from: 540, to: 1080 }, '2026-12-02T18:10', -10],
    ['2026-12-02', { from: 540, to: 1080 }, '2026-11-30T10:00', undefined],
    ['2026-12-02', { from: 1080, to: 1560 }, '2026-12-03T01:00', 60],
    [undefined, { from: 1080, to: 1560 }, '2026-12-03T01:00', 60],
    [undefined, undefined, '2026-12-03T01:00', undefined],
  ])('of %s, %j, has at %s %s minutes left', (date, hours, now, left) => {
    expect(minutesLeft({ date, hours }, new Date(now))).toBe(left);
  });

  test('minutes are said as hours where they are many', () => {
    expect([5, 60, 125.4].map(minutesText)).toEqual(['5 min', '1 h', '2 h 5 min']);
  });
});

// 120 beats a minute are half a second each (the definition of tempo).
test.each([
  [0, 'Beat -4'],
  [1.6, 'Beat -1'],
  [2.4, 'Hold still 0.6 s'],
  [3.2, 'Beat 1 of 4, 0.2 s of 2.0 s'],
  [4.6, 'Beat 4 of 4, 1.6 s of 2.0 s'],
  [5.3, 'Hold still 0.7 s'],
  [6.5, 'Over, 4.5 s'],
])('the timer says after %s s: %s', (at, said) => {
  expect(timerWords({ ...shot, beatS: 0.5, actionS: 2 }, at)).toBe(said);
});
