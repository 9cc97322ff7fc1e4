/** From light to code values: the grade, the recording's shoulder, the display's transfer, and marks on what clips. */
import { srgbFromLinear } from '../../calc/colour.ts';
import type { Film } from '../../core/film.ts';
import type { LitScene } from '../../core/derived/lit/scene.ts';

export interface Development {
  /** The display that the codes are for: `srgb` for pages and pictures (IEC 61966-2-1), `bt1886` for films. */
  readonly transfer?: 'srgb' | 'bt1886';
  /** Marks what is over the recording's top code. */
  readonly marked?: boolean;
  /** Where photographs are had from; without it, things are seen plain. */
  readonly photograph?: Film['photograph'];
}

/** Up to here light and code go together in recordings that hold more than a screen shows: common practice, no source. */
const knee = 0.6;

/** Rows of a picture. */
export interface Band {
  readonly top: number;
  readonly bottom: number;
}

export class Developer {
  readonly #scene: LitScene;
  readonly #width: number;
  readonly #marked: boolean;
  readonly #curve: Float32Array;

  constructor(scene: LitScene, width: number, { transfer = 'srgb', marked = false }: Development) {
    this.#scene = scene;
    this.#width = width;
    this.#marked = marked;
    this.#curve = curveOf(scene, transfer);
  }

  /** @param light of the rows of the band */
  develop(light: Float32Array, band: Band, pixels: Uint8ClampedArray): void {
    const [curve, width] = [this.#curve, this.#width];
    const { saturation } = this.#scene;
    const bits = new Int32Array(light.buffer);
    const packed = new Uint32Array(pixels.buffer);
    for (let row = band.top, at = 0; row < band.bottom; row++) {
      for (let x = 0, out = row * width; x < width; x++, at += 3, out++) {
        let r = curve[placeOf(bits[at]!)]!;
        let g = curve[placeOf(bits[at + 1]!)]!;
        let b = curve[placeOf(bits[at + 2]!)]!;
        if (saturation !== 1) {
          const grey = 0.2126 * r + 0.7152 * g + 0.0722 * b;
          r = held(grey + (r - grey) * saturation);
          g = held(grey + (g - grey) * saturation);
          b = held(grey + (b - grey) * saturation);
        }
        // Up to a code more by place, before it is cut to a whole one: even gradients without steps.
        const more = dither[((row & 3) << 2) | (x & 3)]!;
        // Red lies first in memory on every machine that runs this.
        packed[out] = (r + more) | ((g + more) << 8) | ((b + more) << 16) | 0xff000000;
      }
    }
    if (this.#marked) this.#mark(light, band, pixels);
  }

  /** Thin broken strokes on every pixel with a full channel. */
  #mark(light: Float32Array, band: Band, pixels: Uint8ClampedArray): void {
    const width = this.#width;
    const { fullAt } = this.#scene;
    const gap = Math.max(6, Math.round(width / 120));
    const thick = Math.max(1, Math.round(width / 900));
    for (let y = band.top, at = 0; y < band.bottom; y++) {
      for (let x = 0; x < width; x++, at += 3) {
        if (Math.max(light[at]!, light[at + 1]!, light[at + 2]!) < fullAt) continue;
        const isStroke = (x + y) % gap < thick && (x + width * 2 * gap - y) % (2 * gap) < gap * 1.4;
        if (isStroke) pixels.set(ink, (y * width + x) * 4);
      }
    }
  }
}

const ink = [150, 20, 60, 255];

/** An ordered pattern of four by four (Bayer 1973): it repeats, so that a file of it stays small. */
const dither = [0, 8, 2, 10, 12, 4, 14, 6, 3, 11, 1, 9, 15, 7, 13, 5].map((one) => (one + 0.5) / 16);

/**
 * The curve is a table by the first bits of a number as machines hold it: its power of two and ten bits more, which is a
 * tenth of a code. It goes from 2⁻¹² to 2⁶; what is less is black.
 */
const [leastPower, mostPower] = [-12, 6];
const dropped = 13;
const first = ((leastPower + 127) << 23) >> dropped;
const entries = (mostPower - leastPower) << (23 - dropped);

/** Where light stands in the table, from the bits of its 32-bit number; minus counts as none. */
function placeOf(bits: number): number {
  const place = (bits >> dropped) - first;
  return place < 0 ? 0 : place < entries ? place : entries - 1;
}

/** Codes 0 to 255, not rounded yet. */
function curveOf({ fullAt, brightenStops }: LitScene, transfer: 'srgb' | 'bt1886'): Float32Array {
  const brighter = 2 ** brightenStops;
  const steps = Int32Array.from({ length: entries }, (_, index) => (index + first) << dropped);
  const curve = Float32Array.from(new Float32Array(steps.buffer), (light) => {
    const shown = shoulder(light * brighter, fullAt * brighter);
    return 255 * (transfer === 'srgb' ? srgbFromLinear({ r: shown, g: 0, b: 0 }).r : shown ** (1 / 2.4));
  });
  curve[0] = 0;
  return curve;
}

function held(code: number): number {
  return code < 0 ? 0 : code > 255 ? 255 : code;
}

/** Light on the screen, 1 at most: what is over the knee bends so that a full channel is white. */
function shoulder(light: number, fullAt: number): number {
  if (fullAt <= 1 || light <= knee) return Math.min(1, light);
  const part = Math.min(1, (light - knee) / (fullAt - knee));
  return knee + (1 - knee) * (1 - (1 - part) ** ((fullAt - knee) / (1 - knee)));
}
