/** Calendars are read back by ical.js, a parser of RFC 5545 that is not ours. */
import ICAL from 'ical.js';
import { describe, expect, it, test } from 'vitest';
import { instantOf } from '../../server/hand-over/calendar.ts';
import { handed, type Handing, sampleHanded } from '../helpers/handed.ts';
import { spec } from '../helpers/workspace.ts';

function eventsOf(text: string): ICAL.Event[] {
  const calendar = new ICAL.Component(ICAL.parse(text) as string);
  expect(calendar.getFirstPropertyValue('version')).toBe('2.0');
  return calendar.getAllSubcomponents('vevent').map((event) => new ICAL.Event(event));
}

const days = (more: Handing = {}) => eventsOf(sampleHanded('music-box.shoot.yaml', 'calendar', more).text);

test('the dates of the sample', () => {
  expect(
    days().map(
      ({ summary, startDate }) => `${startDate.toString().slice(0, 10)} ${summary.slice(summary.indexOf(': ') + 2)}`,
    ),
  ).toEqual([
    '2026-12-02 shooting day 1',
    '2026-11-30 the product arrives',
    '2026-12-04 the product goes back',
    '2026-12-10 the film is due',
    '2026-12-12 film, story, teaser and fair are published',
    '2028-06-30 the licence of tune ends',
  ]);
});

test('a day without hours is a day, and ends with the next', () => {
  const due = days().find(({ summary }) => summary.endsWith('due'))!;
  expect([due.startDate.isDate, due.startDate.toString(), due.endDate.toString()]).toEqual([
    true,
    '2026-12-10',
    '2026-12-11',
  ]);
});

test.each([
  ['Europe/Berlin', '2026-12-02T08:00:00Z'],
  ['America/New_York', '2026-12-02T14:00:00Z'],
  ['Asia/Kolkata', '2026-12-02T03:30:00Z'],
])('09:00 in %s is %s', (zone, instant) => {
  expect(days({ zone })[0]!.startDate.toString()).toBe(instant);
});

describe('clocks that are changed', () => {
  // Directive 2000/84/EC: the last Sundays of March and October, at 01:00 UTC.
  const at = (iso: string) => instantOf(Date.parse(`${iso}Z`) / 60_000, 'Europe/Berlin');
  it.each([
    ['2026-03-29T01:59', '2026-03-29T00:59:00.000Z'],
    ['2026-03-29T03:00', '2026-03-29T01:00:00.000Z'],
    // Not on any clock: half an hour after the change.
    ['2026-03-29T02:30', '2026-03-29T01:30:00.000Z'],
    // Twice on every clock: the first time.
    ['2026-10-25T02:30', '2026-10-25T00:30:00.000Z'],
    ['2026-10-25T03:00', '2026-10-25T02:00:00.000Z'],
  ])('%s is %s', (local, instant) => expect(new Date(at(local)).toISOString()).toBe(instant));

  test('every hour of the days of change comes back as it was written', () => {
    const format = new Intl.DateTimeFormat('sv-SE', {
      timeZone: 'Australia/Lord_Howe',
      dateStyle: 'short',
      timeStyle: 'short',
    });
    const days = [Date.UTC(2026, 3, 4), Date.UTC(2026, 9, 3)];
    const hours = days.flatMap((start) => Array.from({ length: 48 }, (_, hour) => start + hour * 3_600_000));
    const other = hours.filter((ms) => {
      const local = new Date(ms).toISOString().slice(0, 16).replace('T', ' ');
      return format.format(instantOf(ms / 60_000, 'Australia/Lord_Howe')) !== local;
    });
    // On Lord Howe Island clocks go forward by half an hour, from 02:00 to 02:30 on the first Sunday of October (IANA tz).
    expect(other.map((ms) => new Date(ms).toISOString())).toEqual(['2026-10-04T02:00:00.000Z']);
  });
});

test('work that goes past midnight ends on the next day', () => {
  const text = spec('schedule:\n  - { day: 2026-12-02, hours: 20:00 to 02:00 }\n');
  const [event] = eventsOf(handed('calendar', {}, text).text);
  expect([event!.startDate.toString(), event!.endDate.toString()]).toEqual([
    '2026-12-02T20:00:00Z',
    '2026-12-03T02:00:00Z',
  ]);
});

test('a licence is reminded of a month before it ends', () => {
  const licence = days().find(({ summary }) => summary.endsWith('ends'))!;
  const [alarm] = licence.component.getAllSubcomponents('valarm');
  expect(String(alarm!.getFirstPropertyValue('trigger'))).toBe('-P30D');
});

test('a second export moves entries and adds none', () => {
  const uids = (text: string) => eventsOf(handed('calendar', {}, text).text).map(({ uid }) => uid);
  const first = spec('schedule:\n  - { day: 2026-12-02, hours: 09:00 to 15:00 }\nbrief: { due: 2026-12-10 }\n');
  expect(uids(first.replace('12-02', '12-03').replace('12-10', '12-20'))).toEqual(uids(first));
  expect(new Set(uids(first)).size).toBe(2);
});

test('no line is longer than 75 octets, none cuts a character, and lines end as RFC 5545 wants', () => {
  const title = '紙の箱 🎶 Ärzte-Spieldose, '.repeat(12).trim();
  const { text } = handed('calendar', {}, spec(`title: "${title}"\nbrief: { due: 2026-12-10 }\n`));
  const lines = text.split('\r\n');
  expect(lines.every((line) => Buffer.byteLength(line) <= 75 && !line.includes('�') && !line.includes('\n'))).toBe(
    true,
  );
  expect(eventsOf(text)[0]!.summary).toBe(`${title}: the film is due`);
});

test('words of a spec never become lines of the calendar', () => {
  const title = String.raw`Box\r\nEND:VEVENT\r\nBEGIN:VEVENT\nATTACH:file:///x;a,b\\n`;
  const { text } = handed('calendar', {}, spec(`title: "${title}"\nbrief: { due: 2026-12-10 }\n`));
  const [event, ...others] = eventsOf(text);
  expect(others).toEqual([]);
  expect(event!.component.getFirstProperty('attach')).toBeNull();
  expect(event!.summary).toBe('Box\nEND:VEVENT\nBEGIN:VEVENT\nATTACH:file:///x;a,b\\n: the film is due');
});

test('a film without a date has no calendar', () => {
  expect(() => handed('calendar')).toThrow('This spec says no date');
});
