/**
 * The dates of a film for a calendar program: RFC 5545. Hours are written in UTC, so that they are right wherever they
 * are read; days without hours are days. An entry keeps its name, so that a second import moves it and adds none.
 */
import { dayPlans } from '../core/derived/schedule.ts';
import type { Day, Film } from '../core/film.ts';
import { dateText, listText } from '../core/say.ts';
import { harmless } from '../formats/escape.ts';
import { fingerprint } from '../formats/fingerprint.ts';
import { CannotHandOver, type HandedOver, type Kind, type ToHandOver } from './kind.ts';

export const calendar: Kind = { make: calendarOf };

interface Entry {
  /** What it is of its film, the same in every export. */
  readonly key: string;
  readonly title: string;
  /** A day since 1970-01-01, or minutes since that day's midnight from one to another. */
  readonly day: number;
  readonly hours?: { readonly from: number; readonly to: number };
  readonly text?: string;
  /** Days before at which to remind. */
  readonly remind?: number;
}

function calendarOf(asked: ToHandOver): HandedOver {
  const { film } = asked;
  const name = film.title?.value.trim() ?? asked.path;
  const { entries, notes } = entriesOf(film, name);
  if (entries.length === 0)
    throw new CannotHandOver('This spec says no date: `schedule`, `product`, `brief` and `rights` do.');
  const lines = [
    'BEGIN:VCALENDAR',
    'VERSION:2.0',
    'PRODID:-//Shoot Spec//Hand-over//EN',
    'CALSCALE:GREGORIAN',
    ...entries.flatMap((entry) => eventLines(entry, asked)),
    'END:VCALENDAR',
  ];
  return { text: lines.map((line) => `${folded(line)}\r\n`).join(''), notes };
}

// -- what there is ---------------------------------------------------------------------------------------------------

/** A month: whoever renews it has to answer too. */
const licenceRemindDays = 30;

function entriesOf(film: Film, name: string): { entries: Entry[]; notes: string[] } {
  const { product, brief, rights, deliverables } = film;
  const notes: string[] = [];
  const entries: Entry[] = [];
  for (const [index, { day, number, shots }] of dayPlans(film).entries()) {
    if (!day) continue;
    if (!day.day) notes.push(`Day ${number} of \`schedule\` says no \`day\`, so it is not in the calendar.`);
    else
      entries.push(
        shootingDay(
          day,
          day.day.value,
          { key: `day ${index + 1}`, title: `${name}: shooting day ${number}` },
          shots.map((shot) => shot.name),
        ),
      );
  }
  const add = (key: string, at: { readonly value: number } | undefined, title: string, more: Partial<Entry> = {}) => {
    if (at) entries.push({ key, title: `${name}: ${title}`, day: at.value, ...more });
  };
  add('arrives', product.arrives, 'the product arrives');
  add('returns', product.returns, 'the product goes back', { remind: 1 });
  add('due', brief?.due, 'the film is due', { remind: 1 });
  for (const [value, names] of publishedOn(deliverables))
    add(`published ${names[0]!}`, { value }, `${listText(names)} ${names.length > 1 ? 'are' : 'is'} published`);
  for (const [key, { until, kind }] of rights)
    add(`rights ${key}`, until, `the licence of ${key} ends`, {
      remind: licenceRemindDays,
      text: `${kind?.value ?? 'right'} ${key}: last day. Renew it, or take the film down.`,
    });
  return { entries, notes };
}

/** Names of deliverables by the day on which they come out. */
function publishedOn(deliverables: Film['deliverables']): Map<number, string[]> {
  const days = new Map<number, string[]>();
  for (const [name, { published }] of deliverables) {
    if (!published) continue;
    const { from } = published.value;
    days.set(from, [...(days.get(from) ?? []), name]);
  }
  return days;
}

function shootingDay(day: Day, date: number, named: Pick<Entry, 'key' | 'title'>, shots: readonly string[]): Entry {
  const { hours, order } = day;
  const lines = [
    ...(order ? [`Set-ups: ${order.map((one) => one.value).join(', ')}`] : []),
    ...(shots.length > 0 ? [`Shots: ${listText(shots)}`] : []),
  ];
  return {
    ...named,
    day: date,
    ...(hours && { hours: hours.value }),
    ...(lines.length > 0 && { text: lines.join('\n') }),
  };
}

// -- how it is written -----------------------------------------------------------------------------------------------

function eventLines({ key, title, day, hours, text, remind }: Entry, { path, options }: ToHandOver): string[] {
  return [
    'BEGIN:VEVENT',
    `UID:${fingerprint(path, key)}@shoot-spec`,
    `DTSTAMP:${utc(options.changedMs)}`,
    ...times(day, hours, options.zone),
    `SUMMARY:${escaped(title)}`,
    ...(text === undefined ? [] : [`DESCRIPTION:${escaped(text)}`]),
    // A whole day is free time, a shooting day is not.
    ...(hours ? [] : ['TRANSP:TRANSPARENT']),
    ...(remind === undefined
      ? []
      : ['BEGIN:VALARM', 'ACTION:DISPLAY', `TRIGGER:-P${remind}D`, `DESCRIPTION:${escaped(title)}`, 'END:VALARM']),
    'END:VEVENT',
  ];
}

/** The end of a day is the day after it. */
function times(day: number, hours: Entry['hours'], zone: string): string[] {
  if (!hours) return [`DTSTART;VALUE=DATE:${plainDate(day)}`, `DTEND;VALUE=DATE:${plainDate(day + 1)}`];
  const at = (minutes: number) => utc(instantOf(day * 1440 + minutes, zone));
  // One time alone is when it begins.
  return [`DTSTART:${at(hours.from)}`, ...(hours.to > hours.from ? [`DTEND:${at(hours.to)}`] : [])];
}

function plainDate(day: number): string {
  return dateText(day).replaceAll('-', '');
}

/** `20261202T080000Z`. */
function utc(ms: number): string {
  return `${new Date(ms).toISOString().slice(0, 19).replace(/[-:]/g, '')}Z`;
}

/**
 * The instant at which clocks of a zone show a time, in milliseconds since 1970-01-01 UTC. Where clocks go back the
 * earlier of the two; a time that they leave out is as late after the change as it would have been.
 *
 * @param localMinutes minutes from 1970-01-01 00:00 of that clock
 */
export function instantOf(localMinutes: number, zone: string): number {
  const localMs = localMinutes * 60_000;
  const day = 86_400_000;
  // The offset changes at most once in two days: one of those around the time holds.
  const offsets = [offsetMs(localMs - day, zone), offsetMs(localMs + day, zone)];
  const fitting = offsets.map((offset) => localMs - offset).filter((ms) => ms + offsetMs(ms, zone) === localMs);
  return fitting.length > 0 ? Math.min(...fitting) : localMs - offsets[0]!;
}

/** How far the clocks of a zone are ahead of UTC at an instant. */
function offsetMs(ms: number, zone: string): number {
  const parts = new Intl.DateTimeFormat('en-US', {
    timeZone: zone,
    hourCycle: 'h23',
    ...{ year: 'numeric', month: 'numeric', day: 'numeric', hour: 'numeric', minute: 'numeric', second: 'numeric' },
  } as const).formatToParts(ms);
  const part = (type: string) => Number(parts.find((one) => one.type === type)?.value);
  const [year, month, day] = [part('year'), part('month'), part('day')];
  return Date.UTC(year, month - 1, day, part('hour'), part('minute'), part('second')) - Math.floor(ms / 1000) * 1000;
}

/** RFC 5545, 3.3.11: text. */
function escaped(text: string): string {
  const lines = text.split(/\r\n|[\r\n]/).map((line) => harmless(line.replace(/\t/g, ' ')));
  return lines.map((line) => line.replace(/[\\;,]/g, '\\$&')).join('\\n');
}

const longestOctets = 75;

/** RFC 5545, 3.1: no line is longer than 75 octets, and no character is cut in two. */
function folded(line: string): string {
  const encoder = new TextEncoder();
  let [text, octets] = ['', 0];
  for (const character of line) {
    const size = encoder.encode(character).length;
    if (octets + size > longestOctets) {
      text += '\r\n ';
      octets = 1;
    }
    text += character;
    octets += size;
  }
  return text;
}
