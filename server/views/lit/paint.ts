/** A lit scene as pixels. Runs anywhere: typed arrays alone, and nothing is kept from one call to the next. */
import type { Grain, LitArea, LitScene, Shade } from '../../core/derived/lit/scene.ts';
import { Coverage, type RowPart } from './coverage.ts';
import type { Photograph } from '../../core/photograph.ts';
import { grainRow } from './grain.ts';
import { PhotographRow } from './photograph.ts';
import { type Band, Developer, type Development } from './develop.ts';

/** Rows that are painted at a time: so many stay in the processor's own memory. */
const bandRows = 32;

/** RGBA, 8 bits each, row by row. */
export function paintLit(
  scene: LitScene,
  width: number,
  height: number,
  development: Development = {},
): Uint8ClampedArray {
  const pixels = new Uint8ClampedArray(width * height * 4);
  const painters = paintersOf(scene.areas, width, development.photograph ?? (() => undefined));
  const developer = new Developer(scene, width, development);
  const light = new Float32Array(width * bandRows * 3);
  for (let top = 0; top < height; top += bandRows) {
    const band = { top, bottom: Math.min(height, top + bandRows) };
    fill(light, scene.behind);
    for (const painter of painters) painter.paint(light, band);
    developer.develop(light, band, pixels);
  }
  return pixels;
}

/** What is painted, where photographs are at hand and where they are not. */
function paintersOf(
  areas: readonly LitArea[],
  width: number,
  photograph: NonNullable<Development['photograph']>,
): AreaPainter[] {
  const found = (path: string): Photograph | undefined => {
    const one = photograph(path);
    return typeof one === 'string' ? undefined : one;
  };
  return areas.flatMap((area) => {
    if (area.unless !== undefined && found(area.unless)) return [];
    const laid = area.photograph && found(area.photograph.path);
    return area.photograph && !laid ? [] : [new AreaPainter(area, width, laid)];
  });
}

/** Of one colour: a pixel, then twice as many each time. */
function fill(light: Float32Array, rgb: readonly [number, number, number]): void {
  light.set(rgb);
  for (let done = 3; done < light.length; done *= 2) light.copyWithin(done, 0, done);
}

class AreaPainter {
  readonly #width: number;
  readonly #outer: Coverage;
  readonly #inner: Coverage | undefined;
  readonly #shade: RowShade;
  readonly #grain: Grain | undefined;
  readonly #photograph: PhotographRow | undefined;
  readonly #opacity: number;
  readonly #covers: boolean;
  readonly #part: RowPart = { from: 0, to: 0 };
  /** Of one row: how much of each pixel it covers, and in which colour. */
  readonly #shares: Float32Array;
  readonly #colours: Float32Array;

  constructor(area: LitArea, width: number, photograph: Photograph | undefined) {
    const { outline, within, path, shade, opacity, blend, grain, photograph: laid } = area;
    this.#width = width;
    this.#outer = new Coverage(outline, path, width);
    this.#inner = within && new Coverage(within, path, width);
    this.#shade = new RowShade(shade, width);
    this.#grain = grain;
    this.#photograph = laid && photograph && new PhotographRow(laid, photograph, path, width);
    this.#opacity = opacity;
    this.#covers = blend === 'cover';
    this.#shares = new Float32Array(width);
    this.#colours = new Float32Array(width * 3);
  }

  paint(light: Float32Array, band: Band): void {
    const [outer, inner] = [this.#outer, this.#inner];
    const top = Math.max(band.top, Math.floor(Math.max(outer.top, inner?.top ?? 0)));
    const bottom = Math.min(band.bottom, Math.ceil(Math.min(outer.bottom, inner?.bottom ?? band.bottom)));
    for (let row = top; row < bottom; row++) this.#paintRow(light, row, (row - band.top) * this.#width);
  }

  /** @param first where the row begins in `light`, in pixels */
  #paintRow(light: Float32Array, row: number, first: number): void {
    const [part, shares, colours] = [this.#part, this.#shares, this.#colours];
    part.from = 0;
    part.to = this.#width;
    shares.fill(this.#opacity);
    this.#outer.cover(row + 0.5, part, shares);
    if (part.from < part.to) this.#inner?.cover(row + 0.5, part, shares);
    if (part.from >= part.to) return;
    this.#shade.read(row + 0.5, part, colours);
    if (this.#grain) grainRow(this.#grain, row + 0.5, part, this.#width, colours);
    this.#photograph?.lay(row + 0.5, part, colours, shares);
    if (this.#covers) cover(light, first, part, shares, colours);
    else add(light, first, part, shares, colours);
  }
}

function cover(light: Float32Array, first: number, part: RowPart, shares: Float32Array, colours: Float32Array): void {
  for (let x = part.from, from = x * 3, to = (first + x) * 3; x < part.to; x++, from += 3, to += 3) {
    const share = shares[x]!;
    const keep = 1 - share;
    light[to] = light[to]! * keep + colours[from]! * share;
    light[to + 1] = light[to + 1]! * keep + colours[from + 1]! * share;
    light[to + 2] = light[to + 2]! * keep + colours[from + 2]! * share;
  }
}

function add(light: Float32Array, first: number, part: RowPart, shares: Float32Array, colours: Float32Array): void {
  for (let x = part.from, from = x * 3, to = (first + x) * 3; x < part.to; x++, from += 3, to += 3) {
    const share = shares[x]!;
    light[to] = light[to]! + colours[from]! * share;
    light[to + 1] = light[to + 1]! + colours[from + 1]! * share;
    light[to + 2] = light[to + 2]! + colours[from + 2]! * share;
  }
}

/** The light of a shade along one row of pixels. */
class RowShade {
  readonly #shade: Shade;
  readonly #scale: number;
  readonly #corners: Float32Array;

  constructor(shade: Shade, scale: number) {
    this.#shade = shade;
    this.#scale = scale;
    this.#corners = new Float32Array(shade.columns * 3);
  }

  read(y: number, { from, to }: RowPart, colours: Float32Array): void {
    this.#readCorners(y);
    const { x, width, columns } = this.#shade;
    const step = (columns - 1) / Math.max(1e-9, width * this.#scale);
    let place = (from + 0.5 - x * this.#scale) * step;
    for (let column = from; column < to;) {
      const cell = Math.min(columns - 2, Math.max(0, Math.floor(place)));
      // To the end of this cell; the first and the last go on beyond theirs.
      const last = cell >= columns - 2 ? to : Math.min(to, column + Math.max(1, Math.ceil((cell + 1 - place) / step)));
      this.#readCell(cell, { from: column, to: last }, place - cell, step, colours);
      place += (last - column) * step;
      column = last;
    }
  }

  #readCell(cell: number, { from, to }: RowPart, part: number, step: number, colours: Float32Array): void {
    const corners = this.#corners;
    const base = cell * 3;
    const [r, g, b] = [corners[base]!, corners[base + 1]!, corners[base + 2]!];
    const [dr, dg, db] = [corners[base + 3]! - r, corners[base + 4]! - g, corners[base + 5]! - b];
    for (let x = from, at = x * 3, share = part; x < to; x++, at += 3, share += step) {
      const held = share < 0 ? 0 : share > 1 ? 1 : share;
      colours[at] = r + dr * held;
      colours[at + 1] = g + dg * held;
      colours[at + 2] = b + db * held;
    }
  }

  /** The corners of the cells at the height of the row. */
  #readCorners(y: number): void {
    const { rows, columns, rgb, y: top, height } = this.#shade;
    const place = ((y / this.#scale - top) / Math.max(1e-9, height)) * (rows - 1);
    const line = Math.min(rows - 2, Math.max(0, Math.floor(place)));
    const down = Math.min(1, Math.max(0, place - line));
    const from = line * columns * 3;
    for (let index = 0; index < columns * 3; index++) {
      const value = rgb[from + index]!;
      this.#corners[index] = value + (rgb[from + index + columns * 3]! - value) * down;
    }
  }
}
