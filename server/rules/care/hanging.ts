/** What hangs, and how high: the finding weighs it, the sheet lists it whatever was said. */
import { along } from '../../core/derived/moments.ts';
import { tiltDeg } from '../../core/derived/optics.ts';
import type { Film, LampPlace, Shot } from '../../core/film.ts';
import type { Range } from '../../core/document/node.ts';
import { lengthText, listFirst, quoted } from '../../core/say.ts';
import type { Degrees, Grams, Mm } from '../../core/units.ts';
import { cameraWeightG } from './placement.ts';

export interface Hanging {
  readonly text: string;
  readonly grams?: Grams;
  /** No higher than a head is above a table. */
  readonly low: boolean;
  /** Farther to the side of the product than it is high above the surface. */
  readonly beside: boolean;
  readonly at: Range;
}

/** How far a camera looks down before it counts as overhead. */
export const overheadDeg: Degrees = 60;

/** Lamps and cameras over the surface that a clamp, a boom or an arm holds. */
export function hangingIn(film: Film, tilt: Degrees): Hanging[] {
  const shots = [...film.shots.values()];
  return [...lampsOf(shots), ...camerasOf(shots, tilt)];
}

/** No higher above the surface than this, nobody's head comes under it. */
const lowMm: Mm = 600;

/** Overhead and boom say so; a clamp does where the lamp is not beside the product. */
function isOverhead(lamp: LampPlace): boolean {
  if (lamp.held === 'overhead' || lamp.held === 'boom') return true;
  return lamp.held === 'clamp' && lamp.distance !== undefined && lamp.height !== undefined && !isBeside(lamp);
}

function isBeside({ distance, height }: LampPlace): boolean {
  const far = along(distance?.value, 0);
  const high = along(height?.value, 0);
  return far !== undefined && high !== undefined && high <= far * Math.SQRT1_2;
}

function weightText(grams: Grams | undefined): string {
  if (grams === undefined) return '';
  return grams < 1000 ? ` of ${Math.round(grams)} g` : ` of ${(grams / 1000).toFixed(1).replace(/\.0$/, '')} kg`;
}

/** Legs under the camera hold it, and no clamp or arm. */
function standsOnFloor({ camera: { support } }: Shot): boolean {
  return support?.standsOn === 'floor' && !support.reach;
}

/** So light that nobody is hurt by it: a bulb as large as a grain on its wire. */
const hardlyAnythingG: Grams = 50;

/** Each lamp once, at the highest of its places. */
function lampsOf(shots: readonly Shot[]): Hanging[] {
  const places = new Map<string, LampPlace>();
  for (const place of shots.flatMap(({ lit }) => lit)) {
    if (place.role?.value === 'practical' || !isOverhead(place)) continue;
    if ((place.lamp?.weight?.value ?? Infinity) < hardlyAnythingG) continue;
    const other = places.get(place.origin);
    if (!other || heightMm(place) > heightMm(other)) places.set(place.origin, place);
  }
  return [...places.values()].map((place) => {
    const height = along(place.height?.value, 0);
    const above = height === undefined ? '' : `, ${lengthText(height)} above the surface`;
    const weight = weightText(place.lamp?.weight?.value);
    return {
      text: `${quoted(place.name)}${weight} hangs overhead${above}`,
      grams: place.lamp?.weight?.value,
      low: (height ?? Infinity) <= lowMm,
      beside: isBeside(place),
      at: place.heldAt ?? place,
    };
  });
}

function heightMm({ height }: LampPlace): Mm {
  return height ? Math.max(height.value.from, height.value.to) : Infinity;
}

/** All shots together in which a camera looks down, with the greatest height. */
function camerasOf(shots: readonly Shot[], tilt: Degrees): Hanging[] {
  const down = shots.filter(
    (shot) =>
      !standsOnFloor(shot) &&
      shot.camera.height &&
      shot.camera.distance &&
      Math.max(tiltDeg(shot, 0), tiltDeg(shot, 1)) >= tilt - 1e-6,
  );
  const [first] = down;
  if (!first) return [];
  const heights = down.map(({ camera }) => Math.max(camera.height!.value.from, camera.height!.value.to));
  const names = listFirst(
    down.map(({ name }) => quoted(name)),
    4,
  );
  const text = `a camera${weightText(cameraWeightG(first))} looks down from ${lengthText(Math.max(...heights))} above the surface (${names})`;
  return [
    { text, grams: cameraWeightG(first), low: Math.max(...heights) < lowMm, beside: false, at: first.camera.height! },
  ];
}
