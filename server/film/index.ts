/** Films put together from their plans. A program of its own, loaded when it is asked for. */
import { readFileSync } from 'node:fs';
import type { Deliverable, Film } from '../core/film.ts';
import { quoted } from '../core/say.ts';
import type { ClipState, Footage } from '../core/footage.ts';
import type { Sheets } from '../core/takes.ts';
import type { Ended, Ffmpeg } from '../footage/decode/ffmpeg.ts';
import type { Located } from '../footage/footage-folder.ts';
import type { Assembly, ClipFile } from './assembly.ts';
import { Drawer } from './drawn.ts';
import { brightenTable } from './grade.ts';
import { wideName, wideTable } from './wide-table.ts';
import { planFilm } from './plan.ts';
import { previewFrame, takePreview } from './preview.ts';
import { type Tables, tablesOf } from './tables.ts';
import { type Words, wordsOver } from './words.ts';
import { excerpt, type Only, stretchesOnly } from './excerpt.ts';
import { makeFilm } from './run.ts';

export { reelOf, sceneOf } from './reel-of.ts';
export { assemblyText } from './say.ts';

/** Clips that are known and that can be found. */
export interface Clips extends Pick<Footage, 'clip'> {
  located(of: 'clip' | 'master', path: string): Located;
  /** Whether anything that was asked for is still being read. */
  readonly isReading: boolean;
  settled(): Promise<void>;
}

export interface FilmToAssemble {
  readonly film: Film;
  readonly sheets: Sheets;
  readonly deliverable: Deliverable;
  /** Undefined where there is no footage folder. */
  readonly footage?: (Footage & Clips) | undefined;
  /** Files of the repo: bought footage, music, sounds. */
  readonly media: Clips;
  readonly isDraft: boolean;
  /** What is made of it, where that is not all. */
  readonly only?: Only;
}

export interface PlannedFilm {
  /** Absent where something stands in the way. */
  readonly assembly?: Assembly;
  readonly words?: Words;
  readonly tables?: Tables;
  /** What stands in the way, and what is other than one may expect, in words. */
  readonly faults: readonly string[];
  readonly notes: readonly string[];
}

/** What would be made, once all clips that it needs are read. */
export async function plannedFilm(asked: FilmToAssemble): Promise<PlannedFilm> {
  const { assembly, faults, notes } = await plannedPictures(asked);
  if (!assembly) return { faults, notes };
  const read = (path: string) => bytesOf(asked.media, path);
  const words = wordsOver(assembly, { ...asked, read });
  const tables = tablesOf(assembly, read);
  const said = { faults: [...tables.faults, ...words.faults], notes: [...notes, ...words.notes] };
  return said.faults.length > 0 ? said : { assembly, words, tables, ...said };
}

async function plannedPictures(asked: FilmToAssemble): Promise<Omit<PlannedFilm, 'words' | 'tables'>> {
  const { footage, media } = asked;
  const plan = () => planFilm({ ...asked, media: (path): ClipState => media.clip(path) });
  let planned = plan();
  // What is heard of one clip may ask for another.
  while (footage?.isReading || media.isReading) {
    await Promise.all([footage?.settled(), media.settled()]);
    planned = plan();
  }
  const { assembly } = planned;
  if (!assembly || !asked.only) return planned;
  const stretches = stretchesOnly(asked.only, asked, assembly);
  if (stretches.length > 0) return { ...planned, assembly: excerpt(assembly, stretches) };
  return { faults: ['There is nothing of that in this deliverable.'], notes: [] };
}

export interface HowToMake {
  readonly file: string;
  readonly program: Ffmpeg;
  readonly threads: number;
  readonly signal?: AbortSignal | undefined;
  readonly progress?: ((frames: number) => void) | undefined;
  readonly say?: ((note: string) => void) | undefined;
  look?(part: string): Promise<void>;
}

/** The bytes of a file of the repo, or why they can't be had. */
function bytesOf(media: Clips, path: string): Uint8Array | string {
  const at = media.located('clip', path);
  if ('problem' in at) return at.problem === 'missing' ? 'is not there' : 'is none of the files of the repo';
  return at.bytes > largestFileBytes ? 'is larger than anything of its kind' : readFileSync(at.file);
}

const largestFileBytes = 50e6;

export async function assembleFilm(asked: FilmToAssemble, planned: PlannedFilm, how: HowToMake): Promise<Ended> {
  const { film, footage, media, deliverable } = asked;
  const assembly = planned.assembly!;
  const words = planned.words!;
  const tables = planned.tables!;
  const made = new Map([...words.made, ...tables.made]);
  const brighten = film.grade?.brightenStops ? 'brighten.cube' : undefined;
  if (brighten) made.set(brighten, Buffer.from(brightenTable(film.grade!.brightenStops)));
  const { colourSpace } = assembly.output;
  if (colourSpace !== 'bt709') made.set(wideName, Buffer.from(wideTable(colourSpace)));
  const fileOf = ({ of, path }: Pick<ClipFile, 'of' | 'path'>) => {
    const at = (of === 'footage' ? footage! : media).located('clip', path);
    if ('problem' in at) throw new Error(`${path} is ${at.problem}`);
    return at.file;
  };
  const drawer = new Drawer(film, deliverable, assembly.output);
  const ended = await makeFilm({
    assembly,
    ...how,
    places: {
      fileOf,
      tableOf: (converts) => tables.names.get(converts)!,
      ...(brighten && { brighten }),
      hasFpsMode: how.program.hasFpsMode,
      saturation: film.grade?.saturation ?? 1,
    },
    made,
    overlays: words.overlays,
    draw: (picture, frame, frames) => drawer.draw(picture, frame, frames),
  });
  // A part of a film has other frames.
  return ended.why === undefined && !asked.only ? previewOf(asked, assembly, how) : ended;
}

async function previewOf(
  { film, deliverable }: FilmToAssemble,
  { output }: Assembly,
  { file, program, signal, say }: HowToMake,
): Promise<Ended> {
  const { preview } = deliverable;
  if (!preview?.at) return {};
  const frame = previewFrame(deliverable, film, output);
  if (frame === undefined) {
    say?.(`${quoted(deliverable.name)} has no preview: ${preview.at.text} is not in it.`);
    return {};
  }
  const taken = { film: file, frame, output, text: preview.text?.value };
  const { why, ...ended } = await takePreview(program, taken, signal);
  if (why !== undefined) say?.(`The preview of ${quoted(deliverable.name)} could not be taken: ${why}.`);
  return ended.cancelled ? { why: why ?? 'cancelled', ...ended } : {};
}
