/** Films put together from a plan, a take sheet and clips, as a test says them. */
import { copyFileSync, mkdirSync, mkdtempSync, rmSync, utimesSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { onTestFinished } from 'vitest';
import { assembleFilm, type FilmToAssemble, type HowToMake, plannedFilm } from '../../server/film/index.ts';
import { ffmpeg } from '../../server/footage/decode/ffmpeg.ts';
import { FootageFolder } from '../../server/footage/footage-folder.ts';
import { FootageStore } from '../../server/footage/footage-store.ts';
import { reader } from './filmed.ts';
import { checkerFor, sheet, sheetPath, spec, specPath } from './workspace.ts';

export interface Said {
  /** Blocks of the spec that are not as usual. */
  readonly plan: string;
  /** Blocks of the take sheet. */
  readonly takes?: string;
  /** Clips by their path below the footage folder, each made elsewhere; no folder where left out. */
  readonly clips?: Readonly<Record<string, string>>;
  /** Files of the repo: a path elsewhere, or bytes. */
  readonly files?: Readonly<Record<string, string | Uint8Array>>;
  readonly deliverable?: string;
  /** The kit, where it is not the usual one. */
  readonly kit?: string;
  readonly isDraft?: boolean;
}

export function aFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'assembled-'));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

/** A file that was put there a while ago. */
function put(folder: string, path: string, from: string | Uint8Array): void {
  const file = join(folder, path);
  mkdirSync(dirname(file), { recursive: true });
  if (typeof from === 'string') copyFileSync(from, file);
  else writeFileSync(file, from);
  utimesSync(file, new Date('2026-01-01'), new Date('2026-01-01'));
}

export function toAssemble(said: Said): FilmToAssemble {
  const { plan, takes, clips, files = {}, deliverable, kit, isDraft = false } = said;
  const text = spec(plan);
  const host = {
    [specPath]: text,
    ...(kit !== undefined && { 'kits/camera.kit.yaml': kit }),
    ...(takes !== undefined && { [sheetPath]: `format: 1\n${sheet(takes)}` }),
  };
  const { film, sheets } = checkerFor(host).check(specPath, text)!;
  const root = aFolder();
  const repo = aFolder();
  for (const [path, from] of Object.entries(clips ?? {})) put(root, path, from);
  for (const [path, from] of Object.entries(files)) put(repo, path, from);
  const store = (folder: string) => new FootageStore({ clips: new FootageFolder(folder), reader });
  const named = deliverable === undefined ? [...film!.deliverables.values()][0] : film!.deliverables.get(deliverable);
  return {
    film: film!,
    sheets: sheets ?? [],
    deliverable: named!,
    footage: clips && store(root),
    media: store(repo),
    isDraft,
  };
}

/** What would be made. */
export async function planned(said: Said) {
  return plannedFilm(toAssemble(said));
}

/** The path of the film that comes of it. */
export async function assembled(said: Said, more: Partial<HowToMake> = {}): Promise<string> {
  const asked = toAssemble(said);
  const plan = await plannedFilm(asked);
  if (!plan.assembly) throw new Error(plan.faults.join('\n'));
  const file = join(aFolder(), 'film.mp4');
  const ended = await assembleFilm(asked, plan, { file, program: (await ffmpeg())!, threads: 2, ...more });
  if (ended.why !== undefined) throw new Error(ended.why);
  return file;
}
