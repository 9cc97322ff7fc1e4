/** What a lit scene is made of, in space: flat panels, their light at a place, and what a ray from one of them meets. */
import { luminance, type Rgb } from '../../../calc/colour.ts';
import { addScaled, angleBetweenDeg, dot, lengthOf, rectangle, subtract, type Vec3 } from '../../../calc/geometry.ts';
import type { Lux, Mm } from '../../units.ts';
import type { LitCamera } from './camera.ts';
import { type LitLamp, luxAt, type SetLight, shineLux } from './lamps.ts';
import type { Material } from './materials.ts';
import { filtered, grey, plus, scaled } from './rgb.ts';
import type { Outline, Shade } from './scene.ts';

/** A flat rectangle; the three directions have length 1. */
export interface Panel {
  readonly middle: Vec3;
  readonly across: Vec3;
  readonly up: Vec3;
  readonly normal: Vec3;
  readonly halfAcrossMm: Mm;
  readonly halfUpMm: Mm;
  readonly material: Material;
  /** Light of its own, as it comes out in the picture, over its height from 0 at the bottom to 1. */
  readonly glows?: (up: number) => Rgb;
  readonly isBackdrop?: boolean;
}

/** The set of a shot at a moment. */
export interface LitSet {
  readonly camera: LitCamera;
  readonly light: SetLight;
  /** Light that makes a white face white: five and a half times middle grey. */
  readonly wantedLux: Lux;
  /** Light that comes back from all round. */
  readonly strayLux: Lux;
  readonly wall?: Panel;
  readonly board?: Panel;
  readonly behind: Rgb;
}

export function cornersOf({ middle, across, up, halfAcrossMm, halfUpMm }: Panel): Vec3[] {
  return rectangle(middle, across, up, halfAcrossMm, halfUpMm);
}

/** Where a ray meets a panel's plane, held to the panel; `way` is Infinity where it does not. */
export function meets(panel: Panel, from: Vec3, ray: Vec3): { at: Vec3; way: number; inside: boolean } {
  const steep = dot(ray, panel.normal);
  const out = dot(subtract(panel.middle, from), panel.normal);
  const found = out / steep;
  const way = Math.abs(steep) > 1e-9 && found > 0 ? found : Infinity;
  const on = subtract(addScaled(from, ray, Math.min(way, 1e6)), panel.middle);
  const [x, y] = [dot(on, panel.across), dot(on, panel.up)];
  const [hx, hy] = [held(x, panel.halfAcrossMm), held(y, panel.halfUpMm)];
  const at = addScaled(addScaled(panel.middle, panel.across, hx), panel.up, hy);
  return { at, way, inside: way < Infinity && hx === x && hy === y };
}

function held(value: number, most: number): number {
  return Math.min(most, Math.max(-most, value));
}

/** What falls on a face and comes back all round, as light in the picture. */
export function diffuseAt(set: LitSet, at: Vec3, normal: Vec3, { diffuse }: Material, isBackdrop = false): Rgb {
  let sum = set.light.room;
  for (const lamp of set.light.lamps) {
    if (isBackdrop && lamp.offBackdrop) continue;
    sum = plus(sum, lamp.tint, luxAt(lamp, at, normal));
  }
  // What a meter reads on a lit face counts it already.
  const stray = isBackdrop ? 0 : Math.max(0, set.strayLux - strayShare * luminance(sum));
  return scaled(filtered(plus(sum, grey(stray)), diffuse), 1 / set.wantedLux);
}

/** Light that comes back from all round, of that on the face: common practice, no source. */
export const strayShare = 0.03;

/** The light of a panel at a place on it. */
export function panelLight(set: LitSet, panel: Panel, at: Vec3): Rgb {
  const plain = diffuseAt(set, at, panel.normal, panel.material, panel.isBackdrop);
  if (!panel.glows) return plain;
  return plus(plain, panel.glows((dot(subtract(at, panel.middle), panel.up) / panel.halfUpMm + 1) / 2));
}

/** What a ray from a face meets: the surface, the backdrop or the room. */
export function metLight(set: LitSet, from: Vec3, ray: Vec3): Rgb {
  const board = set.board && ray.y < 0 ? meets(set.board, from, ray) : undefined;
  if (board?.inside) return panelLight(set, set.board!, board.at);
  const wall = set.wall && ray.z > 0 ? meets(set.wall, from, ray) : undefined;
  return wall?.inside ? panelLight(set, set.wall!, wall.at) : set.behind;
}

/** Schlick's approximation of Fresnel's equations: more is mirrored at a slant. */
export function mirrored({ mirrors, spreadDeg }: Material, cosine: number): Rgb {
  // What is rough shadows itself at a slant.
  const grazing = (1 - Math.min(1, Math.max(0, cosine))) ** 5 * Math.max(0, 1 - spreadDeg / 25);
  return plus(scaled(mirrors, 1 - grazing), grey(Math.max(mirrors.r, mirrors.g, mirrors.b) > 0 ? grazing : 0));
}

export function reflected(ray: Vec3, normal: Vec3): Vec3 {
  return addScaled(ray, normal, -2 * dot(ray, normal));
}

/** Spreads under this show a lamp's shape, which is then an outline of its own. */
export const shapedUnderDeg = 6;

/**
 * The light of a face toward the camera: what comes back all round, and what it mirrors. Lamps are left out where a smooth
 * flat face shows them as shapes.
 */
export function faceLightAt(set: LitSet, at: Vec3, normal: Vec3, material: Material, isRound: boolean): Rgb {
  const plain = diffuseAt(set, at, normal, material);
  if (material.mirrors.r + material.mirrors.g + material.mirrors.b === 0) return plain;
  const ray = subtract(at, set.camera.at);
  const way = reflected(scaledVec(ray, 1 / lengthOf(ray)), normal);
  let met = metLight(set, at, way);
  if (isRound || material.spreadDeg >= shapedUnderDeg)
    for (const lamp of set.light.lamps) met = plus(met, lampInMirror(set, lamp, at, way, material.spreadDeg));
  return plus(plain, filtered(met, mirrored(material, dot(way, normal))));
}

/** A lamp as a spread ray sees it: even over its face, with soft ends. */
function lampInMirror(set: LitSet, lamp: LitLamp, at: Vec3, way: Vec3, spreadDeg: number): Rgb {
  const to = subtract(lamp.at, at);
  const distance = lengthOf(to);
  if (dot(to, way) <= 0 || dot(to, lamp.axis) >= 0) return grey(0);
  const spread = Math.tan((spreadDeg * Math.PI) / 180);
  const reach = distance / Math.max(0.05, dot(to, way) / distance);
  const off = subtract(addScaled(at, way, reach), lamp.at);
  const covered =
    between(dot(off, lamp.right) / distance, lamp.halfWidthMm / distance, spread) *
    between(dot(off, lamp.up) / distance, lamp.halfHeightMm / distance, spread);
  return covered > 1e-4 ? scaled(lamp.tint, (covered * shineLux(lamp, at)) / set.wantedLux) : grey(0);
}

/** Share of a spread ray that lands within ±half. */
function between(off: number, half: number, spread: number): number {
  const side = (value: number) => 1 / (1 + Math.exp((-1.7 * value) / spread));
  return side(half - off) - side(-half - off);
}

function scaledVec({ x, y, z }: Vec3, by: number): Vec3 {
  return { x: x * by, y: y * by, z: z * by };
}

/** How a lamp stands to a face's direction: is it before it? */
export function isBefore(panel: Panel, place: Vec3): boolean {
  return dot(subtract(place, panel.middle), panel.normal) > 1;
}

export function slantDeg(panel: Panel, place: Vec3): number {
  return angleBetweenDeg(subtract(place, panel.middle), panel.normal);
}

/** The rectangle of the picture that an outline with its softness fills; undefined outside the picture. */
function frameOf(outline: Outline, aspect: number) {
  let [left, right, top, bottom] = [Infinity, -Infinity, Infinity, -Infinity];
  for (let at = 0; at < outline.length; at += 3) {
    const [x, y, soft] = [outline[at]!, outline[at + 1]!, Math.min(0.2, Math.abs(outline[at + 2]!))];
    left = Math.min(left, x - soft);
    right = Math.max(right, x + soft);
    top = Math.min(top, y - soft);
    bottom = Math.max(bottom, y + soft);
  }
  left = Math.max(0, left);
  top = Math.max(0, top);
  right = Math.min(1, right);
  bottom = Math.min(1 / aspect, bottom);
  return left < right && top < bottom ? { x: left, y: top, width: right - left, height: bottom - top } : undefined;
}

/**
 * Light over the part of the picture that an outline fills, from `light` at its corners, `fine` of them across a whole
 * picture; undefined where it lies outside.
 */
export function shadeOver(
  outline: Outline,
  aspect: number,
  fine: { x: number; y: number },
  light: (x: number, y: number) => Rgb,
): Shade | undefined {
  const frame = outline.length > 6 ? frameOf(outline, aspect) : undefined;
  if (!frame) return undefined;
  const columns = Math.max(3, Math.ceil(frame.width * fine.x)) + 1;
  const rows = Math.max(3, Math.ceil(frame.height * fine.y)) + 1;
  const rgb: number[] = [];
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      const one = light(frame.x + (frame.width * column) / (columns - 1), frame.y + (frame.height * row) / (rows - 1));
      rgb.push(rounded(one.r), rounded(one.g), rounded(one.b));
    }
  }
  return { ...frame, columns, rows, rgb };
}

/** Five digits are more than any code needs. */
function rounded(value: number): number {
  return Number.isFinite(value) ? Math.round(value * 1e5) / 1e5 : 0;
}
