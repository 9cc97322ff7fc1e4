/** What the entries say together: the takes of each shot, what was measured, what is ticked, and the next clip. */
import type { Entries, Entry, Judged, MeasureEntry, TakeEntry } from './entries.ts';

/** A take as all pages say it. */
export interface TakeNoted {
  /** Of the entry that began it. */
  readonly id: string;
  readonly shot: string;
  readonly clip: string;
  readonly judged?: Judged | undefined;
  readonly notes: string;
  readonly day: string;
  readonly made: number;
  /** When it was changed last, in ms since 1970. */
  readonly at: number;
  readonly gone: boolean;
  /** The entries about it, and how often each was changed. */
  readonly seen: Readonly<Record<string, number>>;
}

/** In the order in which they were made, those taken out as well. Of a shot, the last that was called the best is. */
export function takesOf(entries: Entries): TakeNoted[] {
  const about = new Map<string, TakeEntry[]>();
  for (const entry of entries.values())
    if (entry.kind === 'take') {
      const id = entry.of ?? entry.id;
      about.set(id, [...(about.get(id) ?? []), entry]);
    }
  const takes = [...about].map(([id, all]) => takeOf(id, all));
  return withOneBest(takes).sort((a, b) => a.made - b.made || compare(a.id, b.id));
}

function withOneBest(takes: readonly TakeNoted[]): TakeNoted[] {
  const best = new Map<string, TakeNoted>();
  for (const take of takes) {
    const other = best.get(take.shot);
    if (take.judged === 'best' && !take.gone && (!other || byTime(other, take) < 0)) best.set(take.shot, take);
  }
  return takes.map((take) =>
    take.judged === 'best' && best.get(take.shot) !== take ? { ...take, judged: 'good' } : take,
  );
}

/**
 * What was said last counts. What two pages wrote without knowing of each other is no correction of either: both notes stay,
 * and a take that only one of them took out stays.
 */
function takeOf(id: string, all: readonly TakeEntry[]): TakeNoted {
  const open = all.filter((one) => !all.some((other) => other !== one && (other.seen?.[one.id] ?? -1) >= one.rev));
  const heads = (open.length > 0 ? open : [...all]).sort(byTime);
  const last = heads.at(-1)!;
  const judged = heads.findLast((one) => one.judged !== undefined)?.judged;
  return {
    id,
    shot: last.shot,
    clip: heads.findLast((one) => one.clip !== '')?.clip ?? '',
    judged,
    notes: distinct(heads.map((one) => one.notes)).join(' / '),
    day: last.day,
    made: Math.min(...all.map((one) => one.made)),
    at: last.at,
    gone: heads.every((one) => one.gone),
    seen: Object.fromEntries(all.map((one) => [one.id, one.rev])),
  };
}

/** Without what is empty or stands in another already. */
export function distinct(texts: readonly string[]): string[] {
  const all = [...new Set(texts.map((text) => text.trim()).filter(Boolean))];
  return all.filter((text) => !all.some((other) => other !== text && other.includes(text)));
}

/** What was measured of a shot, the newest last: each page has one. */
export function measuresOf(entries: Entries, shot: string): MeasureEntry[] {
  return [...entries.values()]
    .filter((one): one is MeasureEntry => one.kind === 'measure' && one.shot === shot)
    .sort(byTime);
}

/** What was ticked last, by anybody. */
export function isTicked(entries: Entries, what: string): boolean {
  const said = [...entries.values()].filter((one) => one.kind === 'tick' && one.what === what).sort(byTime);
  const last = said.at(-1);
  return last?.kind === 'tick' && last.on;
}

type Timed = Pick<Entry, 'id' | 'at'>;

function byTime(a: Timed, b: Timed): number {
  return a.at - b.at || compare(a.id, b.id);
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

/** `C0014.MP4` after `C0013.MP4`: the last number of the name, as long as it was; the name itself where there is none. */
export function clipAfter(clip: string): string {
  const [, stem = '', ending = ''] = /^(.*?)(\.[^./]*)?$/s.exec(clip) ?? [];
  return stem.replace(/\d+(?=\D*$)/, (digits) => String(BigInt(digits) + 1n).padStart(digits.length, '0')) + ending;
}
