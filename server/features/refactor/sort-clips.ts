/**
 * Proposes which clips of the footage folder are takes of which shot: by the shot's name in the file's name, else by the
 * time of recording, held against the order of the day and the number of takes. Clips that a sheet names stay where they are.
 */
import { lineEndOf, quote } from '../../core/document/edits.ts';
import { child } from '../../core/document/node.ts';
import { dayPlans } from '../../core/derived/schedule.ts';
import type { Film, Shot } from '../../core/film.ts';
import type { Edit } from '../../core/finding.ts';
import type { ClipFacts } from '../../core/footage.ts';
import { isPlain } from '../../core/nearest.ts';
import { num } from '../../core/say.ts';
import type { SheetChecked } from '../../core/runner.ts';
import type { TakeSheet } from '../../core/takes.ts';
import { unusedClips } from '../unused-clips.ts';
import type { Refactoring, RefactoringRequest } from './refactoring.ts';

interface Unsorted {
  /** Below the sheet's folder. */
  readonly name: string;
  readonly facts: ClipFacts;
}

/** Offered at the head of a sheet and at its key `takes`. */
export function sortClips({ result: { doc, sheet: checked }, offset }: RefactoringRequest): Refactoring[] {
  if (!checked?.footage || doc.root?.kind !== 'map') return [];
  const { sheet, film } = checked;
  if (offset > sheet.takesAt.end) return [];
  const clips = unsorted(checked);
  const shots = [...film.shots.values()].filter(
    ({ name }) => !sheet.takes.some((take) => take.shotName.value === name),
  );
  const sorted = sortedInto(clips, shots, { film, sheet });
  if (sorted.size === 0) return [];
  const count = [...sorted.values()].reduce((sum, list) => sum + list.length, 0);
  const edit = proposal(doc.text, doc.root, sorted);
  const what = count === 1 ? 'a clip' : `${count} clips`;
  return edit ? [{ title: `Sort ${what} into shots`, kind: 'sortClips', files: [{ edits: [edit] }] }] : [];
}

/** As far as they are read, and pictures alone. */
function unsorted(checked: SheetChecked): Unsorted[] {
  return unusedClips(checked).flatMap(({ name, state }) =>
    state.kind === 'facts' && state.facts.video ? [{ name, facts: state.facts }] : [],
  );
}

interface Plan {
  readonly film: Film;
  readonly sheet: TakeSheet;
}

function sortedInto(clips: readonly Unsorted[], shots: readonly Shot[], plan: Plan): Map<string, Unsorted[]> {
  const named = clips.flatMap((clip) => {
    const shot = namedIn(clip.name, shots);
    return shot ? [{ clip, shot }] : [];
  });
  const taken = new Set(named.map(({ clip }) => clip));
  const filled = new Set(named.map(({ shot }) => shot.name));
  const rest = clips.filter((clip) => !taken.has(clip));
  const open = inOrderOfDay(shots, plan).filter(({ name }) => !filled.has(name));
  const timed = rest.every(({ facts }) => facts.recordedAtMs !== undefined) ? byTime(rest, open) : [];
  const sorted = new Map<string, Unsorted[]>();
  for (const { clip, shot } of [...named, ...timed]) sorted.set(shot.name, [...(sorted.get(shot.name) ?? []), clip]);
  return new Map(shots.flatMap(({ name }) => (sorted.has(name) ? [[name, sorted.get(name)!]] : [])));
}

/** The shot with the longest name that stands between letters and figures of a file's name. */
function namedIn(file: string, shots: readonly Shot[]): Shot | undefined {
  const words = `-${asWords(file.replace(/\.[^./]*$/, ''))}-`;
  const found = shots.filter(({ name }) => words.includes(`-${asWords(name)}-`));
  return found.sort((a, b) => b.name.length - a.name.length)[0];
}

function asWords(text: string): string {
  return text.toLowerCase().replace(/[^\p{L}\p{N}]+/gu, '-');
}

/** The shots of the day that the sheet is of, in the order of work; all where no day is said. */
function inOrderOfDay(shots: readonly Shot[], { film, sheet }: Plan): Shot[] {
  const plans = dayPlans(film);
  const day = plans.filter((plan) => sheet.day && plan.day?.day?.value === sheet.day.value);
  return (day.length > 0 ? day : plans).flatMap((plan) => plan.shots).filter((shot) => shots.includes(shot));
}

interface Sorted {
  readonly clip: Unsorted;
  readonly shot: Shot;
}

/** As many as planned for each shot where the numbers agree; else the longest pauses are where the set-up changed. */
function byTime(clips: readonly Unsorted[], shots: readonly Shot[]): Sorted[] {
  if (shots.length === 0 || clips.length < shots.length) return [];
  const planned = shots.reduce((sum, { takes }) => sum + takes, 0);
  const counts = planned === clips.length ? shots.map(({ takes }) => takes) : countsByPauses(clips, shots.length);
  let next = 0;
  return shots.flatMap((shot, index) => {
    const own = clips.slice(next, (next += counts[index]!));
    return own.map((clip) => ({ clip, shot }));
  });
}

function countsByPauses(clips: readonly Unsorted[], groups: number): number[] {
  const pauses = clips.slice(1).map((clip, index) => ({ at: index + 1, ms: startMs(clip) - endMs(clips[index]!) }));
  const changes = pauses
    .sort((a, b) => b.ms - a.ms)
    .slice(0, groups - 1)
    .map(({ at }) => at)
    .sort((a, b) => a - b);
  const ends = [...changes, clips.length];
  return ends.map((end, index) => end - (ends[index - 1] ?? 0));
}

function startMs({ facts }: Unsorted): number {
  return facts.recordedAtMs!;
}

function endMs({ facts }: Unsorted): number {
  return facts.recordedAtMs! + facts.durationS * 1000;
}

// -- what is written -------------------------------------------------------------------------------------------------

/** At the end of `takes`, or of the sheet where it has none; nothing where `takes` is written in braces. */
function proposal(
  text: string,
  root: NonNullable<Parameters<typeof child>[0]>,
  sorted: ReadonlyMap<string, Unsorted[]>,
): Edit | undefined {
  const end = lineEndOf(text);
  const takes = child(root, 'takes');
  if (takes && takes.kind === 'map' && takes.flow && takes.pairs.length > 0) return undefined;
  const lines = [...sorted].flatMap(([shot, clips]) => [`  ${shot}:`, ...clips.map(line)]);
  if (takes?.kind === 'map' && !takes.flow && takes.pairs.length > 0) {
    const at = endOfLine(text, takes.end);
    return { start: at, end: at, text: `${end}${lines.join(end)}` };
  }
  if (takes) return { start: takes.start, end: takes.end, text: `${end}${lines.join(end)}` };
  const before = text === '' || text.endsWith('\n') ? '' : end;
  return { start: text.length, end: text.length, text: `${before}takes:${end}${lines.join(end)}${end}` };
}

function endOfLine(text: string, from: number): number {
  const back = text.slice(0, from).trimEnd().length;
  const at = text.indexOf('\n', back);
  return at < 0 ? text.length : text[at - 1] === '\r' ? at - 1 : at;
}

/** With what helps to see whether it is the right one. */
function line({ name, facts }: Unsorted): string {
  const clock = facts.recordedAtMs === undefined ? '' : `${new Date(facts.recordedAtMs).toISOString().slice(11, 16)}, `;
  return `    - ${isPlain(name) ? name : quote(name)} # ${clock}${num(facts.durationS)} s`;
}
