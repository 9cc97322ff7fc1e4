/** Uneven tone on flat things: even noise that lies on them in space, and melts where they are not sharp. */
import type { Grain, Sum } from '../../core/derived/lit/scene.ts';
import type { RowPart } from './coverage.ts';

const side = 64;

/** The same noise each time: numbers from a counter, mixed (the finaliser of MurmurHash3, public domain). */
const noise = Float32Array.from({ length: side * side }, (_, index) => {
  let mixed = Math.imul(index + 1, 0x9e3779b1);
  mixed = Math.imul(mixed ^ (mixed >>> 16), 0x85ebca6b);
  mixed = Math.imul(mixed ^ (mixed >>> 13), 0xc2b2ae35);
  return ((mixed ^ (mixed >>> 16)) >>> 0) / 0xffffffff - 0.5;
});

/** Noise that is smooth between whole numbers. */
function noiseAt(x: number, y: number): number {
  const [left, top] = [Math.floor(x), Math.floor(y)];
  const [right, down] = [x - left, y - top];
  const [x0, x1] = [left & (side - 1), (left + 1) & (side - 1)];
  const [y0, y1] = [(top & (side - 1)) * side, ((top + 1) & (side - 1)) * side];
  const upper = noise[y0 + x0]! + (noise[y0 + x1]! - noise[y0 + x0]!) * right;
  const lower = noise[y1 + x0]! + (noise[y1 + x1]! - noise[y1 + x0]!) * right;
  return upper + (lower - upper) * down;
}

/** Places that are reckoned exactly; between them a plane is as good as even. */
const stride = 16;
/** Sizes of spots, as shares of the grain's, and how much of it each gives. */
const layers = [
  { size: 4.3, part: 0.6 },
  { size: 1, part: 1 },
  { size: 0.37, part: 0.8 },
] as const;

/** Makes the light of a row lighter and darker. */
export function grainRow(grain: Grain, y: number, { from, to }: RowPart, scale: number, colours: Float32Array): void {
  const height = y / scale;
  const at = (sum: Sum, x: number) => sum[0] + sum[1] * x + sum[2] * height;
  for (let start = from; start < to; start += stride) {
    const end = Math.min(to, start + stride);
    const [left, right] = [(start + 0.5) / scale, (end + 0.5) / scale];
    const [near, nearEnd] = [at(grain.near, left), at(grain.near, right)];
    const share = Math.abs(near) * grain.share * scale;
    const soft = Math.abs(at(grain.blur, left)) * scale;
    const [u, v] = [at(grain.across, left) / near, at(grain.up, left) / near];
    const count = end - start;
    const [du, dv] = [(at(grain.across, right) / nearEnd - u) / count, (at(grain.up, right) / nearEnd - v) / count];
    for (const { size, part } of layers) {
      const [wide, high] = [grain.widthMm * size, grain.heightMm * size];
      const seen = Math.min(shown(wide * share, soft), shown(high * share * grain.slant, soft));
      const strength = 2 * grain.strength * part * seen;
      if (strength < 0.004) continue;
      for (let x = start, step = 0; x < end; x++, step++) {
        const more = 1 + strength * noiseAt((u + du * step) / wide, (v + dv * step) / high);
        colours[x * 3] = colours[x * 3]! * more;
        colours[x * 3 + 1] = colours[x * 3 + 1]! * more;
        colours[x * 3 + 2] = colours[x * 3 + 2]! * more;
      }
    }
  }
}

/** What a blur disc of a half width, and the pixels, leave of spots of a size, all in pixels. */
function shown(size: number, soft: number): number {
  const ratio = (soft * soft + 1) / (size * size + 1e-9);
  return Math.exp(-1.5 * ratio);
}
