/** Titles and corner words as pictures that lie over the film. */
import { anchorOf, linePitch, capitalPx, panelRoom, titleRoom } from '../core/derived/titles.ts';
import type { Deliverable, Film, Title } from '../core/film.ts';
import { listText, quoted } from '../core/say.ts';
import type { Raster } from '../core/units.ts';
import type { Assembly, CornerOn, Output, TitleOn } from './assembly.ts';
import type { Overlay } from './encode.ts';
import { Ink } from './ink.ts';
import { type Face, faceOf, inkLine, type Line, lineOf, missingIn, shippedFace, shippedFont } from './letters.ts';

export interface Words {
  readonly overlays: readonly Overlay[];
  /** The pictures, by the names of the overlays. */
  readonly made: ReadonlyMap<string, Uint8Array>;
  readonly faults: readonly string[];
  readonly notes: readonly string[];
}

interface Asked {
  readonly film: Film;
  readonly deliverable: Deliverable;
  /** The bytes of a file of the repo, or why it can't be read. */
  read(path: string): Uint8Array | string;
}

interface Worded extends Pick<Assembly, 'titles' | 'corners'> {
  readonly output: Pick<Output, 'raster'>;
}

export function wordsOver(assembly: Worded, asked: Asked): Words {
  const fonts = new Fonts(asked);
  const { raster } = assembly.output;
  const made = new Map<string, Uint8Array>();
  const overlays: Overlay[] = [];
  const lay = (drawn: Drawn | undefined, times: Omit<Overlay, 'name' | keyof Drawn>) => {
    if (!drawn) return;
    const { pixels, ...place } = drawn;
    const name = `words-${overlays.length}.rgba`;
    made.set(name, pixels);
    overlays.push({ name, ...place, ...times });
  };
  for (const { title, ...times } of assembly.titles) {
    const face = fonts.of(title);
    if (face) lay(drawTitle(title, face, asked.deliverable, raster), timesOf(times));
  }
  for (const corner of assembly.corners) {
    const { startFrame, frames } = corner;
    const times = { startFrame, frames, skip: 0, all: frames, fadeFrames: 0 };
    lay(drawCorner(corner, fonts.shipped, raster), times);
  }
  return { overlays, made, faults: fonts.faults, notes: [...fonts.notes] };
}

function timesOf({ startFrame, frames, skip, all, fadeFrames }: Omit<TitleOn, 'title'>) {
  return { startFrame, frames, skip, all, fadeFrames };
}

// -- fonts -----------------------------------------------------------------------------------------------------------

class Fonts {
  readonly faults: string[] = [];
  readonly notes = new Set<string>();
  readonly shipped = shippedFace();
  readonly #known = new Map<string, Face>();

  constructor(private readonly asked: Asked) {}

  /** Undefined, and said, where the words can't be set. */
  of(title: Title): Face | undefined {
    const face = this.#faceOf(title.font?.value);
    const text = title.text?.value ?? '';
    const missing = missingIn(text, face);
    if (missing.length === 0) return face;
    const font = face === this.shipped ? shippedFont : quoted(title.font!.text);
    this.faults.push(
      `${quoted(text.trim())}: the font ${font} has no ${listText(missing.map(quoted))}. Say a \`font\` whose \`file\` in \`rights\` has it.`,
    );
    return undefined;
  }

  #faceOf(name: string | undefined): Face {
    const file = name === undefined ? undefined : this.asked.film.rights.get(name)?.media;
    if (!file) {
      const why = name === undefined ? 'no `font` is said' : `${quoted(name)} in \`rights\` names no \`file\``;
      this.notes.add(`Titles are set in ${shippedFont}: ${why}.`);
      return this.shipped;
    }
    const known = this.#known.get(file.value);
    if (known) return known;
    const bytes = this.asked.read(file.value);
    const face = typeof bytes === 'string' ? undefined : faceOf(bytes);
    if (!face)
      this.faults.push(
        `${quoted(file.text)}, the font ${quoted(name!)}, ${typeof bytes === 'string' ? bytes : 'is no font that can be read'}.`,
      );
    this.#known.set(file.value, face ?? this.shipped);
    return face ?? this.shipped;
  }
}

// -- pictures --------------------------------------------------------------------------------------------------------

interface Drawn {
  readonly pixels: Uint8Array;
  readonly width: number;
  readonly height: number;
  readonly x: number;
  readonly y: number;
}

/** Lines of one height, each with its start, and the foot of the first. */
interface Block {
  readonly lines: readonly { readonly line: Line; readonly x: number; readonly footY: number }[];
  readonly capitalPx: number;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly foot: number;
}

function drawTitle(title: Title, face: Face, deliverable: Deliverable, raster: Raster): Drawn | undefined {
  const capital = capitalPx(title, raster);
  const lines = (title.text?.value ?? '')
    .trim()
    .split(/\n+/)
    .map((line) => lineOf(line, face));
  const room = titleRoom(deliverable, raster, true);
  const { across, down } = anchorOf(title);
  const height = capital * (1 + (lines.length - 1) * linePitch);
  const top = room.topPx + (room.heightPx - height) * down;
  const left = (line: Line) => room.leftPx + (room.widthPx - line.width * capital) * across;
  return draw(blockOf(lines, left, top, capital), { ink: title.colour, panel: title.panel?.value, solid: 1 }, raster);
}

/** Small words, in the lower left corner, on a dark panel that is seen through. */
const cornerShare = 0.022;

function drawCorner({ text }: CornerOn, face: Face, raster: Raster): Drawn | undefined {
  const capital = Math.max(7, cornerShare * Math.min(raster.width, raster.height));
  const known = [...text].map((letter) => (missingIn(letter, face).length > 0 ? '?' : letter)).join('');
  const line = lineOf(known, face);
  const block = blockOf([line], () => 2 * capital, raster.height - 3 * capital, capital);
  return draw(block, { ink: '#ffffff', panel: '#000000', solid: 0.55 }, raster);
}

function blockOf(lines: readonly Line[], left: (line: Line) => number, top: number, capital: number): Block {
  const placed = lines.map((line, at) => ({ line, x: left(line), footY: top + capital * (1 + at * linePitch) }));
  return {
    lines: placed,
    capitalPx: capital,
    left: Math.min(...placed.map(({ x }) => x)),
    right: Math.max(...placed.map(({ x, line }) => x + line.width * capital)),
    top,
    foot: placed.at(-1)!.footY,
  };
}

interface Colours {
  readonly ink: string;
  readonly panel: string | undefined;
  /** Of the panel: 1 hides what is behind it. */
  readonly solid: number;
}

/** With room for what letters have above, below and beside their capitals, within the picture and on even pixels. */
function draw(
  { lines, capitalPx: capital, left, right, top, foot }: Block,
  { ink, panel, solid }: Colours,
  raster: Raster,
): Drawn | undefined {
  const even = (from: number, to: number, most: number) => {
    const first = Math.max(0, 2 * Math.floor(from / 2));
    return [first, Math.min(most, 2 * Math.ceil(to / 2)) - first] as const;
  };
  const [x, width] = even(left - capital, right + capital, raster.width);
  const [y, height] = even(top - capital, foot + capital, raster.height);
  if (width <= 0 || height <= 0) return undefined;
  const letters = new Ink(width, height);
  for (const { line, x: lineX, footY } of lines) inkLine(letters, line, capital, lineX - x, footY - y);
  const board = {
    left: left - capital * panelRoom - x,
    right: right + capital * panelRoom - x,
    top: top - capital * panelRoom - y,
    foot: foot + capital * panelRoom - y,
  };
  return {
    pixels: coloured(letters, rgb(ink), panel === undefined ? undefined : { ...board, colour: rgb(panel), solid }),
    width,
    height,
    x,
    y,
  };
}

interface Board {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly foot: number;
  readonly colour: readonly number[];
  readonly solid: number;
}

function coloured(letters: Ink, ink: readonly number[], board: Board | undefined): Uint8Array {
  const covered = letters.coverage();
  const pixels = new Uint8Array(covered.length * 4);
  for (let at = 0; at < covered.length; at++) {
    const share = covered[at]! / 255;
    const [x, y] = [at % letters.width, Math.floor(at / letters.width)];
    const isBoard = board && x >= board.left && x < board.right && y >= board.top && y < board.foot;
    const behind = isBoard ? board.solid : 0;
    const alpha = share + behind * (1 - share);
    for (let channel = 0; channel < 3; channel++) {
      const back = isBoard ? board.colour[channel]! * behind * (1 - share) : 0;
      pixels[at * 4 + channel] = alpha > 0 ? Math.round((ink[channel]! * share + back) / alpha) : ink[channel]!;
    }
    pixels[at * 4 + 3] = Math.round(alpha * 255);
  }
  return pixels;
}

function rgb(colour: string): readonly number[] {
  return [1, 3, 5].map((at) => parseInt(colour.slice(at, at + 2), 16));
}
