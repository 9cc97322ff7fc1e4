/**
 * Makes the file of an assembly: each segment becomes raw frames in a run of its own, and one run for the whole film takes
 * them in. So nothing is held but the frames that are on their way, whatever the number of clips; and what gives a frame too
 * few is told instead of standing still.
 */
import { randomBytes } from 'node:crypto';
import { mkdtempSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import type { Writable } from 'node:stream';
import { framesText } from '../core/derived/edit.ts';
import { type Ended, type Ffmpeg, type Running, startProgram } from '../footage/decode/ffmpeg.ts';
import { type Assembly, type DrawnPicture, partOf, type Segment } from './assembly.ts';
import { encodeArgs, type Overlay, type SoundFile } from './encode.ts';
import { gainOf, levelsOf, mixArgs, mixName, soundName, writeStretches } from './sound.ts';
import { frameBytes, type Places, segmentRun } from './graph.ts';

export interface ToMake {
  readonly assembly: Assembly;
  /** Where the film is to lie, by its full path. */
  readonly file: string;
  readonly program: Ffmpeg;
  readonly threads: number;
  readonly places: Places;
  /** Files of the working folder, by name. */
  readonly made: ReadonlyMap<string, Uint8Array>;
  readonly overlays: readonly Overlay[];
  /** Red, green, blue and alpha of a frame of a drawing. */
  draw(picture: DrawnPicture, frame: number, frames: number): Uint8ClampedArray;
  readonly signal?: AbortSignal | undefined;
  readonly progress?: ((frames: number) => void) | undefined;
  /** Says what is other than one may expect. */
  readonly say?: ((note: string) => void) | undefined;
  /** Looks at the finished file before it stands in its place. */
  look?(part: string): Promise<void>;
}

/** Undefined when the film is made; else why it is not, in words. Nothing is left of one that is not. */
export async function makeFilm(asked: ToMake): Promise<Ended> {
  const folder = mkdtempSync(join(tmpdir(), 'shoot-spec-film-'));
  // No name of the user's: it is named in a sheet of ours when it is looked at.
  const part = join(dirname(asked.file), `.assemble-${randomBytes(6).toString('hex')}.part`);
  try {
    for (const [name, bytes] of asked.made) writeFileSync(join(folder, name), bytes);
    const ended = await new Making(asked, folder, part).make();
    if (ended.why !== undefined) return ended;
    await asked.look?.(part);
    if (asked.signal?.aborted) return { why: 'cancelled', cancelled: true };
    renameSync(part, asked.file);
    return {};
  } finally {
    rmSync(part, { force: true });
    rmSync(folder, { recursive: true, force: true });
  }
}

/** A run that takes longer hangs. */
const mostS = 4 * 3600;
/** Frames that run backwards are held until the first of them can be shown. */
const mostHeldBytes = 200e6;

class Making {
  readonly #frameBytes: number;
  #frames = 0;

  constructor(
    private readonly asked: ToMake,
    private readonly folder: string,
    private readonly part: string,
  ) {
    this.#frameBytes = frameBytes(asked.assembly.output);
  }

  async make(): Promise<Ended> {
    const { assembly, overlays, threads } = this.asked;
    const { output } = assembly;
    const mixed = await this.#mixed();
    if (mixed && 'why' in mixed) return mixed;
    const sound = mixed;
    const film = this.#start(encodeArgs({ output, overlays, sound, file: this.part, threads }));
    for (const segment of assembly.segments.flatMap((one) => this.#inChunks(one))) {
      const ended = await this.#give(segment, film);
      if (ended.why === undefined) continue;
      film.stop(ended);
      await film.ended;
      return ended;
    }
    film.child.stdin.end();
    return film.ended;
  }

  /** All that is heard, as loud as it is planned. */
  async #mixed(): Promise<SoundFile | (Ended & { readonly why: string }) | undefined> {
    const { assembly, places, say } = this.asked;
    const { sound } = assembly;
    if (!sound) return undefined;
    const mixing = this.#start(mixArgs(sound, places));
    mixing.child.stdin.end();
    mixing.child.stdout.resume();
    const ended = await mixing.ended;
    if (ended.why !== undefined) return { ...ended, why: ended.why };
    const { gainDb, note } = gainOf(sound, await levelsOf(join(this.folder, mixName), sound));
    if (note !== undefined) say?.(note);
    await writeStretches(this.folder, sound);
    const { sampleRate, channels, bitrateBps } = sound;
    return { name: soundName, sampleRate, channels, bitrateBps, gainDb };
  }

  #start(args: readonly string[]): Running {
    const { program, signal } = this.asked;
    return startProgram(program.path, args, { mostS, ...(signal && { signal }) }, this.folder);
  }

  #inChunks(segment: Segment): Segment[] {
    const pictures = [segment.picture, segment.into?.picture];
    if (!pictures.some((one) => one?.kind === 'clip' && one.stepS < 0)) return [segment];
    const most = Math.max(1, Math.floor(mostHeldBytes / (this.#frameBytes * 2)));
    const end = segment.startFrame + segment.frames;
    const chunks: Segment[] = [];
    for (let at = segment.startFrame; at < end; at += most) chunks.push(partOf(segment, at, Math.min(end, at + most))!);
    return chunks;
  }

  /** Exactly as many frames as the segment has. */
  async #give(segment: Segment, film: Running): Promise<Ended> {
    const { args, drawn } = segmentRun(segment, this.asked.assembly.output, this.asked.places);
    const running = this.#start(args);
    const fed = this.#feed(drawn, segment.frames, running.child.stdin);
    const before = this.#frames;
    let bytes = 0;
    try {
      for await (const chunk of running.child.stdout as AsyncIterable<Buffer>) {
        bytes += chunk.length;
        await given(film, chunk);
        this.#tell(before + Math.floor(bytes / this.#frameBytes));
      }
    } catch (error) {
      running.stop({ why: (error as Error).message });
    }
    await fed;
    const ended = await running.ended;
    if (ended.why !== undefined) return ended;
    const made = bytes / this.#frameBytes;
    return made === segment.frames
      ? {}
      : { why: `${framesText(segment.frames - made)} of ${framesText(segment.frames)} are missing` };
  }

  #tell(frames: number): void {
    if (frames === this.#frames) return;
    this.#frames = frames;
    this.asked.progress?.(frames);
  }

  async #feed(drawn: readonly DrawnPicture[], frames: number, stdin: Writable): Promise<void> {
    for (let frame = 0; frame < frames && drawn.length > 0 && stdin.writable; frame++) {
      for (const picture of drawn) {
        const { buffer, byteOffset, byteLength } = this.asked.draw(picture, frame, frames);
        await written(stdin, Buffer.from(buffer, byteOffset, byteLength));
      }
    }
    stdin.end();
  }
}

/** The film may end before it has taken all: how it ended is then what went wrong. */
async function given({ child, ended }: Running, chunk: Buffer): Promise<void> {
  await written(child.stdin, chunk);
  if (!child.stdin.writable) throw new Error((await ended).why ?? 'the film ended before all frames were in it');
}

/** Waits until it is taken; what nobody takes any more is told by how the program ends. */
async function written(stream: Writable, chunk: Buffer): Promise<void> {
  await new Promise<void>((done) => stream.write(chunk, () => done()));
}
