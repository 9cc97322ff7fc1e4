/** Pictures of a file: every one small, in linear light, for what changes in time; a few whole, as coded, for codes and bars. */
import { BarMeter, endCodes, type EndCodes, type LumaFrame } from '../../calc/code-values.ts';
import { linearFromSrgb, luminance } from '../../calc/colour.ts';
import { FlashMeter } from '../../calc/flash-picture.ts';
import { findJumps } from '../../calc/picture-cuts.ts';
import { strongestPulse } from '../../calc/pulse.ts';
import { findRepeats } from '../../calc/repeats.ts';
import type { PictureMeasured } from '../../core/decoded.ts';
import { Chunked } from './chunked.ts';
import { decodeFile, type Ended, type Ffmpeg, type RunLimits } from './ffmpeg.ts';
import type { Packets } from './packets.ts';

/** Cells of a small picture along its longer and its shorter side, and parts of it that brightness is followed in. */
const [longCells, shortCells] = [64, 36];
const cellsInPart = 4;

/** Measures the pictures of a file whose packets are known. */
export async function measurePicture(
  program: Ffmpeg,
  file: string,
  packets: Packets,
  limits: RunLimits & { readonly progress?: (frames: number) => void },
): Promise<Ended & { readonly picture?: PictureMeasured }> {
  const small = await measureSmall(program, file, packets, limits);
  if (small.ended.why !== undefined) return small.ended;
  const whole = await measureWhole(program, file, packets, limits);
  if (whole.ended.cancelled) return whole.ended;
  const { fps, raster, bitrate } = packets;
  return { picture: { fps, raster, bitrate, ...small.measured, ...whole.measured } };
}

/** The light of each 16-bit code: of a picture for an ordinary display (IEC 61966-2-1, which WCAG takes, too). */
const linearOfCode = Float32Array.from({ length: 65536 }, (_, code) => {
  const value = code / 65535;
  return linearFromSrgb({ r: value, g: value, b: value }).r;
});

type Small = Omit<PictureMeasured, 'fps' | 'raster' | 'bitrate' | 'endCodes' | 'bars'>;

async function measureSmall(
  program: Ffmpeg,
  file: string,
  packets: Packets,
  limits: RunLimits & { readonly progress?: (frames: number) => void },
): Promise<{ ended: Ended; measured: Small }> {
  const upright = packets.raster.height > packets.raster.width;
  const [across, down] = upright ? [shortCells, longCells] : [longCells, shortCells];
  const meter = new SmallMeter(across, down, packets.fps);
  const frameBytes = across * down * 6;
  const chunked = new Chunked(frameBytes, (bytes) => {
    meter.push(new Uint16Array(Uint8Array.from(bytes).buffer));
    limits.progress?.(meter.frames);
  });
  const filter = `scale=${across}:${down}:flags=area+accurate_rnd+full_chroma_int,format=rgb48le`;
  const timing = program.hasFpsMode ? ['-fps_mode', 'passthrough'] : ['-vsync', 'passthrough'];
  const output = ['-map', '0:V:0', '-an', '-sn', '-dn', '-vf', filter, ...timing, '-f', 'rawvideo'];
  const run = { before: ['-noautorotate'], output };
  const ended = await decodeFile(program, file, run, (chunk) => chunked.push(chunk), limits);
  return { ended, measured: meter.read() };
}

/** Change of linear light under which all of a picture is black: code 20 of 255, where displays show hardly anything. */
const blackBelow = 0.007;
const lightWindowS = 0.5;

/** Follows small pictures of 16 bits, red, green and blue of each cell. */
class SmallMeter {
  readonly #across: number;
  readonly #down: number;
  readonly #fps: number;
  readonly #flashes: FlashMeter;
  /** How much each picture differs from the one before, and from the one before that. */
  readonly #changes: number[] = [];
  readonly #skips: number[] = [];
  readonly #black: boolean[] = [];
  readonly #parts: Float32Array[] = [];
  readonly #means: [number, number, number][] = [];
  #before: readonly Uint16Array[] = [];

  constructor(across: number, down: number, fps: number) {
    this.#across = across;
    this.#down = down;
    this.#fps = fps;
    this.#flashes = new FlashMeter(across * down, fps);
  }

  get frames(): number {
    return this.#changes.length;
  }

  push(codes: Uint16Array): void {
    const [last, secondLast] = this.#before;
    this.#changes.push(last ? difference(codes, last) : Infinity);
    this.#skips.push(secondLast ? difference(codes, secondLast) : Infinity);
    this.#before = [codes, ...this.#before].slice(0, 2);
    const light = new Float32Array(codes.length);
    for (let at = 0; at < codes.length; at++) light[at] = linearOfCode[codes[at]!]!;
    this.#flashes.push(light);
    this.#parts.push(this.#partsOf(light));
    this.#means.push(meanOf(light));
    this.#black.push(light.every((one) => one < blackBelow));
  }

  /** Brightness of 4 by 4 cells together. */
  #partsOf(light: Float32Array): Float32Array {
    const across = Math.floor(this.#across / cellsInPart);
    const parts = new Float32Array(across * Math.floor(this.#down / cellsInPart));
    for (let cell = 0; cell < this.#across * this.#down; cell++) {
      const column = Math.floor((cell % this.#across) / cellsInPart);
      const row = Math.floor(cell / this.#across / cellsInPart);
      const [r, g, b] = [light[cell * 3]!, light[cell * 3 + 1]!, light[cell * 3 + 2]!];
      parts[row * across + column]! += luminance({ r, g, b }) / cellsInPart ** 2;
    }
    return parts;
  }

  read(): Small {
    const changes = Float32Array.from(this.#changes);
    return {
      frames: changes.length,
      pulse: strongestPulse(this.#parts, Math.floor(this.#across / cellsInPart), this.#fps),
      repeats: findRepeats(changes, this.#fps),
      jumps: findJumps(changes, Float32Array.from(this.#skips)),
      black: { start: leading(this.#black), end: leading([...this.#black].reverse()) },
      flashes: this.#flashes.read(),
      light: this.#light(),
    };
  }

  #light(): (readonly [number, number, number])[] {
    const count = Math.max(1, Math.round(lightWindowS * this.#fps));
    return Array.from({ length: Math.ceil(this.#means.length / count) }, (_, index) => {
      const part = this.#means.slice(index * count, (index + 1) * count);
      const mean = (channel: 0 | 1 | 2) => part.reduce((sum, one) => sum + one[channel], 0) / part.length;
      return [rounded(mean(0)), rounded(mean(1)), rounded(mean(2))] as const;
    });
  }
}

function rounded(value: number): number {
  return Number(value.toPrecision(5));
}

/** Mean absolute difference as a share of full scale. */
function difference(one: Uint16Array, other: Uint16Array): number {
  let sum = 0;
  for (let at = 0; at < one.length; at++) sum += Math.abs(one[at]! - other[at]!);
  return sum / one.length / 65535;
}

function meanOf(light: Float32Array): [number, number, number] {
  const sum: [number, number, number] = [0, 0, 0];
  for (let at = 0; at < light.length; at += 3)
    for (const channel of [0, 1, 2] as const) sum[channel] += light[at + channel]!;
  return sum.map((one) => (one * 3) / light.length) as [number, number, number];
}

function leading(flags: readonly boolean[]): number {
  const first = flags.indexOf(false);
  return first < 0 ? flags.length : first;
}

// ---- whole pictures ------------------------------------------------------------------------------------------------

/** So many are looked at, evenly over the file; those that can be decoded without others. */
const wholeFrames = 12;

/** Codes and bars, of frames as they are coded; nothing of pictures that are not in luma and chroma. */
async function measureWhole(
  program: Ffmpeg,
  file: string,
  { durationS }: Packets,
  limits: RunLimits,
): Promise<{ ended: Ended; measured: Pick<PictureMeasured, 'endCodes' | 'bars'> }> {
  const step = (durationS / wholeFrames).toFixed(4);
  const filter = `select='isnan(prev_selected_t)+gte(t-prev_selected_t,${step})',extractplanes=y`;
  const timing = program.hasFpsMode ? ['-fps_mode', 'passthrough'] : ['-vsync', 'passthrough'];
  const format = ['-strict', '-1', '-f', 'yuv4mpegpipe'];
  const output = ['-map', '0:V:0', '-an', '-sn', '-dn', '-vf', filter, ...timing, ...format];
  const bars = new BarMeter();
  let most: EndCodes | undefined;
  const reader = new Y4mReader((frame) => {
    bars.push(frame);
    const { top, bottom } = endCodes(frame);
    most = { top: Math.max(top, most?.top ?? 0), bottom: Math.max(bottom, most?.bottom ?? 0) };
  });
  const run = { before: ['-noautorotate', '-skip_frame', 'nokey'], output };
  const ended = await decodeFile(program, file, run, (chunk) => reader.push(chunk), limits);
  return { ended, measured: most ? { endCodes: most, bars: bars.read() } : {} };
}

/** Takes raw pictures of one plane apart: a line that says what they are, then each after a line that says `FRAME`. */
class Y4mReader {
  readonly #take: (frame: LumaFrame) => void;
  #rest: Buffer = Buffer.alloc(0);
  #frames?: Chunked;

  constructor(take: (frame: LumaFrame) => void) {
    this.#take = take;
  }

  push(chunk: Buffer): void {
    if (this.#frames) {
      this.#frames.push(chunk);
      return;
    }
    this.#rest = Buffer.concat([this.#rest, chunk]);
    const end = this.#rest.indexOf('\n');
    if (end < 0) return;
    const shape = y4mShape(this.#rest.toString('latin1', 0, end));
    const before = 'FRAME\n'.length;
    const bytes = shape.width * shape.height * (shape.bits > 8 ? 2 : 1);
    this.#frames = new Chunked(before + bytes, (piece) => {
      const copy = Uint8Array.from(piece.subarray(before));
      this.#take({ ...shape, codes: shape.bits > 8 ? new Uint16Array(copy.buffer) : copy });
    });
    this.#frames.push(this.#rest.subarray(end + 1));
  }
}

/** `YUV4MPEG2 W1920 H1080 F25:1 Ip A1:1 Cmono10 XYSCSS=400 XCOLORRANGE=LIMITED` */
function y4mShape(head: string): Omit<LumaFrame, 'codes'> {
  const value = (key: RegExp) => key.exec(head)?.[1];
  return {
    width: Number(value(/ W(\d+)/)),
    height: Number(value(/ H(\d+)/)),
    bits: Number(value(/ Cmono(\d+)/) ?? 8),
    range: value(/XCOLORRANGE=(\w+)/) === 'FULL' ? 'full' : 'limited',
  };
}
