/** The still that stands for a film before it plays, taken from the finished film, and its text, each in a file beside it. */
import { randomBytes } from 'node:crypto';
import { renameSync, rmSync, writeFileSync } from 'node:fs';
import { basename, dirname, extname, join } from 'node:path';
import { nearestFrame, rateFps } from '../calc/rate.ts';
import { shownStretch } from '../core/derived/edit.ts';
import { isShown } from '../core/derived/preview.ts';
import type { Deliverable, Film } from '../core/film.ts';
import { type Ended, type Ffmpeg, inputOf, startProgram } from '../footage/decode/ffmpeg.ts';
import type { Output } from './assembly.ts';

export interface PreviewFiles {
  readonly picture: string;
  readonly text: string;
}

/** Beside the film, under its name. */
export function previewFilesOf(film: string): PreviewFiles {
  const name = join(dirname(film), `${basename(film, extname(film))}-preview`);
  return { picture: `${name}.png`, text: `${name}.txt` };
}

/** The frame of the deliverable to take; undefined where none is asked for, or it is not in it. */
export function previewFrame(deliverable: Deliverable, film: Film, { rate }: Output): number | undefined {
  const stretch = shownStretch(deliverable, film);
  const atS = deliverable.preview?.atS;
  if (atS === undefined || !stretch || !isShown(atS, stretch)) return undefined;
  const last = nearestFrame(stretch.to - stretch.from, rate) - 1;
  return Math.max(0, Math.min(last, nearestFrame(atS - stretch.from, rate)));
}

const mostS = 600;

/** Of a film that is made, by its path. */
export async function takePreview(
  program: Ffmpeg,
  { film, frame, output, text }: { film: string; frame: number; output: Output; text: string | undefined },
  signal?: AbortSignal,
): Promise<Ended> {
  const files = previewFilesOf(film);
  // Put in their places when they are whole: what a link there leads to is not written.
  const part = join(dirname(film), `.preview-${randomBytes(6).toString('hex')}.png`);
  const words = `${part}.txt`;
  // Half a frame early, so that no rounding takes the next one.
  const fromS = Math.max(0, (frame - 0.5) / rateFps(output.rate));
  const matrix = output.colourSpace === 'bt709' ? 'bt709' : 'bt2020';
  const args = [
    ...['-hide_banner', '-nostdin', '-loglevel', 'error', '-y'],
    ...inputOf(film, ['-an', '-ss', fromS.toFixed(6)]),
    ...['-map', '0:v:0', '-frames:v', '1', '-map_metadata', '-1'],
    ...[
      '-vf',
      `scale=in_color_matrix=${matrix}:in_range=tv:out_range=pc:flags=accurate_rnd+full_chroma_int,format=rgb24`,
    ],
    ...['-c:v', 'png', '-f', 'image2', `file:${part}`],
  ];
  try {
    const { child, ended } = startProgram(program.path, args, { mostS, ...(signal && { signal }) });
    child.stdin.end();
    child.stdout.resume();
    const how = await ended;
    if (how.why !== undefined) return how;
    renameSync(part, files.picture);
    if (text === undefined) return {};
    writeFileSync(words, `${text.trim()}\n`);
    renameSync(words, files.text);
    return {};
  } finally {
    for (const one of [part, words]) rmSync(one, { force: true });
  }
}
