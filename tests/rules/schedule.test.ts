/** The shooting days as they stand. */
import { describe, expect, test } from 'vitest';
import { marked, messages } from '../helpers/findings.ts';
import { spec } from '../helpers/workspace.ts';

describe('days-out-of-order', () => {
  const rule = 'days-out-of-order';
  const days = (...dates: string[]) => spec(`schedule:\n${dates.map((date) => `  - { day: ${date} }\n`).join('')}`);

  test('a day below a later one, each time that time runs back', () => {
    expect(messages(days('2026-12-01', '2026-11-01'), rule)).toEqual([
      '2026-11-01 stands below 2026-12-01, which is 30 days later: days are numbered and printed as they stand, so it would be worked from in the wrong order. Mend the date, or move it up.',
    ]);
    expect(marked(days('2026-12-03', '2026-12-02', '2026-12-04', '2026-12-01'), rule)).toEqual([
      '2026-12-02',
      '2026-12-01',
    ]);
  });

  test('days in order, twice the same and without a date are silent', () => {
    expect(messages(days('2026-12-01', '2026-12-01', '2026-12-02'), rule)).toEqual([]);
    expect(messages(spec('schedule:\n  - { hours: 09:00 to 15:00 }\n  - { day: 2026-12-01 }\n'), rule)).toEqual([]);
  });
});
