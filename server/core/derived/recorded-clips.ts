/** What the clips of takes say, as rules ask it: of a take whose clips are all known, and once for each clip. */
import type { Block, Film, Shot, Val } from '../film.ts';
import type { Related } from '../finding.ts';
import type { ClipFacts, Footage, VideoFacts } from '../footage.ts';
import { listFirst, quoted } from '../say.ts';
import type { Recording, Take, TakeSheet } from '../takes.ts';
import type { Rate } from '../../calc/rate.ts';
import type { Seconds } from '../units.ts';

export interface RecordedTake {
  readonly take: Take;
  /** The first of its files. */
  readonly clip: Recording;
  readonly facts: readonly ClipFacts[];
  /** The picture of the first file that has one. */
  readonly video?: VideoFacts;
  /** From the start of the first clip: all of them, or the part that the take is. */
  readonly fromS: Seconds;
  readonly lengthS: Seconds;
}

/** Undefined while any of its clips is not known. */
export function recordedTake(take: Take, footage: Footage | undefined): RecordedTake | undefined {
  const [clip] = take.clips;
  if (!footage || !clip) return undefined;
  const facts = take.clips.flatMap(({ value }) => {
    const state = footage.clip(value);
    return state.kind === 'facts' ? [state.facts] : [];
  });
  if (facts.length < take.clips.length) return undefined;
  const allS = facts.reduce((sum, { durationS }) => sum + durationS, 0);
  const { from, to } = take.part?.value ?? { from: 0, to: allS };
  const video = facts.find((one) => one.video)?.video;
  return { take, clip, facts, ...(video && { video }), fromS: from, lengthS: Math.max(0, Math.min(to, allS) - from) };
}

/** The takes of a sheet with what their clips say; of several takes in one clip the first. */
export function recordedClips(sheet: TakeSheet, footage: Footage | undefined): RecordedTake[] {
  const seen = new Set<string>();
  return sheet.takes.flatMap((take) => {
    const [clip] = take.clips;
    if (!clip || seen.has(clip.value)) return [];
    seen.add(clip.value);
    return recordedTake(take, footage) ?? [];
  });
}

export interface Fault {
  readonly of: RecordedTake;
  /** Faults with one key come from one setting of the camera. */
  readonly key: string;
}

/** What one setting of the camera has done to many clips is one finding, at the first of them. */
export function alike<T extends Fault>(faults: readonly T[]): T[][] {
  const byKey = new Map<string, T[]>();
  for (const fault of faults) {
    const known = byKey.get(fault.key);
    if (known) known.push(fault);
    else byKey.set(fault.key, [fault]);
  }
  return [...byKey.values()];
}

const mostNamed = 3;

/** `C0012.MP4`, or the first of several. */
export function clipNames(faults: readonly { readonly of: RecordedTake }[]): string {
  return listFirst(
    faults.map(({ of }) => quoted(of.clip.text)),
    mostNamed,
  );
}

/** The other clips, and where the plan says otherwise. */
export function places(faults: readonly Fault[], planned: Val<unknown> | undefined): Related[] {
  const clips = faults.slice(1).map(({ of: { clip } }) => ({ ...rangeOf(clip), message: 'and this clip' }));
  return [...(planned ? [{ ...rangeOf(planned), message: `planned: ${planned.text}` }] : []), ...clips];
}

function rangeOf({ start, end, file }: Val<unknown>): Omit<Related, 'message'> {
  return { start, end, ...(file !== undefined && { file }) };
}

/** The block in which a take says how its camera was really set; it may not be there yet. */
export function settingsOf({ fields }: Take): Block {
  return { ...fields.range, fields: fields.block('camera') };
}

/** The rate that frames of a shot are shown at. */
export function shownRate(shot: Shot | undefined, film: Film): Rate | undefined {
  const of = [...film.deliverables.values()].find(({ pieces }) => shot?.pieces.some((piece) => pieces.includes(piece)));
  return (film.timeline.rate ?? of?.rate)?.value;
}

const named = new Map<number, string>(
  [24, 30, 48, 60, 96, 120, 240].map((whole) => [whole / 1.001, String(Math.round((whole / 1.001) * 1000) / 1000)]),
);

/** A measured rate as it is called: `29.97`, where it is that to within a clock's error. */
export function rateName(fps: number): string {
  const near = [...named].find(([exact]) => Math.abs(fps / exact - 1) < 1e-4);
  if (near) return near[1].replace(/^(29\.97|59\.94|119\.88|239\.76).*$/, '$1');
  return String(Math.abs(fps - Math.round(fps)) < 2e-4 * fps ? Math.round(fps) : Math.round(fps * 100) / 100);
}

/** While the product is here a take can be made again. */
export const again = 'take it again while the product is here';
