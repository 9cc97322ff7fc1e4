/**
 * What is noted on the set: entries, each written by one page alone, which counts how often it was changed. So two pages'
 * notes are put together by taking each entry as it was changed last, in whatever order and however often.
 */

export const judgements = ['best', 'good', 'spare', 'bad'] as const;
export type Judged = (typeof judgements)[number];

interface Noted {
  /** Begins with the name of the page that writes it. */
  readonly id: string;
  /** Counts up with every change. */
  readonly rev: number;
  /** When it was changed last, in ms since 1970. */
  readonly at: number;
}

/** A take, or what another page says of it. */
export interface TakeEntry extends Noted {
  readonly kind: 'take';
  readonly shot: string;
  /** The entry that began the take, where that is another page's. */
  readonly of?: string;
  /** What was known of the other entries about this take when this one was written: by their id, their count. */
  readonly seen?: Readonly<Record<string, number>>;
  readonly clip: string;
  readonly judged?: Judged;
  readonly notes: string;
  /** `2026-12-02`, by the clock of the one who made it. */
  readonly day: string;
  /** When the take was made: takes stand in this order. */
  readonly made: number;
  readonly gone?: true;
}

/** What a meter said of a shot; as typed, so that nothing typed is lost. */
export interface MeasureEntry extends Noted {
  readonly kind: 'measure';
  readonly shot: string;
  readonly lux: string;
  readonly kelvin: string;
  /** `14:20`. */
  readonly clock: string;
}

export interface TickEntry extends Noted {
  readonly kind: 'tick';
  readonly what: string;
  readonly on: boolean;
}

export type Entry = TakeEntry | MeasureEntry | TickEntry;

/** By id. */
export type Entries = ReadonlyMap<string, Entry>;

/** Every entry of both; one that both have, as it was changed last. */
export function merged(one: Entries, other: Iterable<Entry>): Entries {
  const all = new Map(one);
  for (const entry of other) {
    const mine = all.get(entry.id);
    if (!mine || isLater(entry, mine)) all.set(entry.id, entry);
  }
  return all;
}

/** Counts that are equal are of the same text, unless somebody wrote into a sheet by hand: then too, both pages choose alike. */
function isLater(a: Entry, b: Entry): boolean {
  if (a.rev !== b.rev) return a.rev > b.rev;
  if (a.at !== b.at) return a.at > b.at;
  return canonical(a) > canonical(b);
}

/** The same text for the same entry, in whatever order its keys were written. */
export function canonical(entry: Entry): string {
  const sorted = (_: string, value: unknown) =>
    typeof value === 'object' && value !== null
      ? Object.fromEntries(Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1)))
      : value;
  return JSON.stringify(entry, sorted);
}

export const longestNote = 2000;
const longestName = 400;

/** An entry that came from elsewhere; undefined for what is none. */
export function entryOf(value: unknown): Entry | undefined {
  if (typeof value !== 'object' || value === null) return undefined;
  const said = value as Record<string, unknown>;
  const { id, rev, at, kind } = said;
  if (!isText(id, 1, longestName) || !isCount(rev) || !isCount(at)) return undefined;
  if (kind === 'take') return takeOf(said, { id, rev, at });
  if (kind === 'measure') {
    const { shot, lux, kelvin, clock } = said;
    if (!isText(shot, 1) || !isText(lux) || !isText(kelvin) || !isText(clock)) return undefined;
    return { kind, id, rev, at, shot, lux, kelvin, clock };
  }
  const { what, on } = said;
  return kind === 'tick' && isText(what, 1) && typeof on === 'boolean' ? { kind, id, rev, at, what, on } : undefined;
}

function takeOf(said: Record<string, unknown>, noted: Noted): TakeEntry | undefined {
  const { shot, clip, notes, day, made, judged, of, seen } = said;
  if (!isText(shot, 1) || !isText(clip) || !isText(notes, 0, longestNote) || !isDay(day) || !isCount(made))
    return undefined;
  return {
    kind: 'take',
    ...noted,
    shot,
    clip,
    notes,
    day,
    made,
    ...(judgements.includes(judged as Judged) && { judged: judged as Judged }),
    ...(isText(of, 1) && { of }),
    ...(typeof seen === 'object' && seen !== null && { seen: countsOf(seen) }),
    ...(said['gone'] === true && { gone: true }),
  };
}

function countsOf(seen: object): Record<string, number> {
  return Object.fromEntries(Object.entries(seen).filter((pair): pair is [string, number] => isCount(pair[1])));
}

function isText(value: unknown, least = 0, most = longestName): value is string {
  return typeof value === 'string' && value.length >= least && value.length <= most;
}

function isDay(value: unknown): value is string {
  return isText(value) && /^\d{4}-(?:0[1-9]|1[0-2])-(?:0[1-9]|[12]\d|3[01])$/.test(value);
}

function isCount(value: unknown): value is number {
  return typeof value === 'number' && Number.isSafeInteger(value) && value >= 0;
}
