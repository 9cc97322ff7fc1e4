/**
 * The take sheet that the page hands out: YAML that `shootspec check` reads, and behind it, in comments, the entries
 * themselves, so that another page can put them together with its own.
 */
import { pathFault } from '../../server/core/paths.ts';
import { canonical, type Entries, type Entry, entryOf, merged } from './entries.ts';
import { distinct, measuresOf, takesOf, type TakeNoted } from './noted.ts';
import { readingOf } from './reading.ts';

const nameOfShot = /^[a-z0-9][a-z0-9-]*$/;
const mark = '# noted ';

/** @param spec the name of the spec's file */
export function takeSheetOf(entries: Entries, spec: string): string {
  const own = [...entries.values()].map((one) => mark + ascii(canonical(one)));
  const head = own.length > 0 ? ['', '# For the page on the set, which puts the sheets of two people together:'] : [];
  return [...yamlOf(entries, spec), ...head, ...own, ''].join('\n');
}

function yamlOf(entries: Entries, spec: string): string[] {
  const made = takesOf(entries).filter((one) => !one.gone);
  const isSayable = ({ shot, clip }: TakeNoted) => nameOfShot.test(shot) && pathFault(clip.trim()) === undefined;
  const takes = withoutDoubles(made.filter(isSayable));
  const [day] = takes.map((one) => one.day).sort();
  const unsaid = made.filter((one) => !isSayable(one)).map(takeWords);
  const { lines: measured, unsaid: unread } = measuredOf(entries);
  const notes = [...unsaid, ...unread].join('\n');
  return [
    'format: 1',
    `spec: ${quoted(spec)}`,
    ...(day ? [`day: ${day}`] : []),
    ...(takes.length > 0 ? ['takes:', ...takeLines(takes, day)] : []),
    ...(measured.length > 0 ? ['measured:', ...measured] : []),
    ...(notes ? [`notes: ${quoted(notes)}`] : []),
  ];
}

/** One clip of a shot is one take, whoever noted it. */
function withoutDoubles(takes: readonly TakeNoted[]): TakeNoted[] {
  const byClip = new Map<string, TakeNoted>();
  for (const take of takes) {
    const key = `${take.shot}/${take.clip.trim()}`;
    const other = byClip.get(key);
    const [first, last] = other && other.at > take.at ? [take, other] : [other, take];
    const notes = distinct([first?.notes ?? '', last.notes]).join(' / ');
    byClip.set(key, { ...(other ?? take), judged: last.judged ?? first?.judged, notes });
  }
  return [...byClip.values()];
}

function takeLines(takes: readonly TakeNoted[], usualDay: string | undefined): string[] {
  return [...new Set(takes.map((one) => one.shot))].flatMap((shot) => [
    `  ${quotedKey(shot)}:`,
    ...takes.filter((one) => one.shot === shot).map((one) => `    - ${takeText(one, usualDay)}`),
  ]);
}

function takeText({ clip, judged, notes, day }: TakeNoted, usualDay: string | undefined): string {
  const said = [
    `clip: ${quoted(clip.trim())}`,
    judged && `judged: ${judged}`,
    day !== usualDay && `day: ${day}`,
    notes && `notes: ${quoted(notes)}`,
  ];
  return `{ ${said.filter(Boolean).join(', ')} }`;
}

/** A take that can't stand among the others. */
function takeWords({ shot, clip, judged, notes }: TakeNoted): string {
  const what = clip.trim() === '' ? 'no clip said' : `clip ${clip.trim()}`;
  return `Take of ${shot}, ${[what, judged, notes].filter(Boolean).join(', ')}`;
}

/** The newest of each shot; what else was measured or typed is noted. */
function measuredOf(entries: Entries): { lines: string[]; unsaid: string[] } {
  const [lines, unsaid]: [string[], string[]] = [[], []];
  const shots = new Set([...entries.values()].flatMap((one) => (one.kind === 'measure' ? [one.shot] : [])));
  for (const shot of shots) {
    const all = measuresOf(entries, shot).filter(({ lux, kelvin }) => lux.trim() || kelvin.trim());
    const lit = all.findLast((one) => readingOf(one.lux, 'lux').value !== undefined);
    const coloured = all.findLast((one) => readingOf(one.kelvin, 'kelvin').value !== undefined);
    const last = lit ?? coloured;
    const isSayable = nameOfShot.test(shot);
    const words = all.flatMap((one) => {
      const rest = [
        !isSaid(one.lux, isSayable && one === lit, 'lux') && `light ${one.lux}`,
        !isSaid(one.kelvin, isSayable && one === coloured, 'kelvin') && `colour ${one.kelvin}`,
      ].filter(Boolean);
      return rest.length > 0 ? [`${rest.join(', ')} at ${one.clock}`] : [];
    });
    if (last && isSayable) {
      const said = [
        lit && `light: ${plain(readingOf(lit.lux, 'lux').value!)} lx`,
        coloured && `temperature: ${plain(readingOf(coloured.kelvin, 'kelvin').value!)} K`,
        /^(?:[01]\d|2[0-3]):[0-5]\d$/.test(last.clock) && `clock: ${quoted(last.clock)}`,
        words.length > 0 && `notes: ${quoted(words.join('; '))}`,
      ];
      lines.push(`  ${quotedKey(shot)}: { ${said.filter(Boolean).join(', ')} }`);
    } else unsaid.push(...words.map((one) => `Measured of ${shot}: ${one}`));
  }
  return { lines, unsaid };
}

function isSaid(typed: string, isChosen: boolean, kind: 'lux' | 'kelvin'): boolean {
  return typed.trim() === '' || (isChosen && readingOf(typed, kind).value !== undefined);
}

/** Never with an exponent. */
function plain(value: number): string {
  return value.toFixed(9).replace(/\.?0+$/, '');
}

/** A name that YAML might read as something else than a text. */
function quotedKey(name: string): string {
  return /^[a-z][a-z-]*\d*$/.test(name) && !/^(?:y|n|yes|no|on|off|true|false|null)$/.test(name) ? name : quoted(name);
}

/**
 * A text in double quotes, as JSON and YAML both read it. Characters that can't be seen are findings in a repo's files, and
 * some act on who reads them: the sheet goes without, and the entries behind it keep them.
 */
function quoted(text: string): string {
  return JSON.stringify(text.replace(marksOfDirection, '').replace(unseen, '?'));
}

const marksOfDirection = /[\u061c\u200b\u200e\u200f\u2060]/g;
const unseen =
  // eslint-disable-next-line no-control-regex -- these are what is looked for
  /[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028-\u202e\u2061-\u206f\ufeff\ufff9-\uffff]|\p{Cs}/gu;

function ascii(json: string): string {
  return json.replace(/[^\x20-\x7e]/g, escape);
}

function escape(one: string): string {
  return `\\u${one.charCodeAt(0).toString(16).padStart(4, '0')}`;
}

export interface SheetRead {
  /** What to put together with what is here; undefined with `fault`. */
  readonly entries?: Entries;
  readonly fault?: string;
  /** Lines of entries that could not be read. */
  readonly unread: number;
  /** True where somebody wrote into the YAML, which only the repo will know. */
  readonly isChanged: boolean;
}

/** More than any shoot makes. */
const mostCharacters = 5_000_000;

/** A sheet that a page of this spec handed out. */
export function sheetRead(text: string, spec: string): SheetRead {
  const nothing = { unread: 0, isChanged: false };
  if (text.length > mostCharacters) return { ...nothing, fault: 'That is too long for a take sheet.' };
  const lines = text.split(/\r\n|\r|\n/);
  const noted = lines.filter((one) => one.startsWith(mark));
  if (noted.length === 0)
    return {
      ...nothing,
      fault: 'A page for the set has not written that, or has noted nothing yet: there is nothing to read in.',
    };
  const of = nameIn(lines.find((one) => one.startsWith('spec: ')));
  if (of !== spec)
    return { ...nothing, fault: `That sheet is of ${of ?? 'another plan'}, and this page is of ${spec}.` };
  const entries = noted.flatMap((line): Entry[] => entryIn(line.slice(mark.length)) ?? []);
  const all = merged(new Map(), entries);
  const upTo = lines.findIndex((one) => one.startsWith('#'));
  const said = lines.slice(0, upTo).join('\n').trim();
  return { entries: all, unread: noted.length - entries.length, isChanged: said !== yamlOf(all, spec).join('\n') };
}

function nameIn(line: string | undefined): string | undefined {
  const name = line === undefined ? undefined : parsed(line.slice('spec: '.length));
  return typeof name === 'string' ? name : undefined;
}

function entryIn(json: string): [Entry] | undefined {
  const entry = entryOf(parsed(json));
  return entry && [entry];
}

function parsed(json: string): unknown {
  try {
    return JSON.parse(json);
  } catch {
    return undefined;
  }
}
