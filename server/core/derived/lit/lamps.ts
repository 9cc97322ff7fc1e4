/** The lamps of a shot as they stand at a moment: what each gives anywhere on the set, and in which colour. */
import { type Rgb, linearFromSrgb, luminance, parseHex } from '../../../calc/colour.ts';
import { addScaled, angleBetweenDeg, dot, lengthOf, lookAt, subtract, type Vec3 } from '../../../calc/geometry.ts';
import { beamShare, configurationFactor, distanceGain, type LampSize } from '../../../calc/light.ts';
import { duvReference, filamentKelvin, kelvin, mired, whiteXy } from '../../../calc/temperature.ts';
import { tintOf, whiteOff } from '../../../calc/white-balance.ts';
import type { LampPlace, Shot } from '../../film.ts';
import { quoted } from '../../say.ts';
import type { Lux, Mired } from '../../units.ts';
import { lampTarget } from '../backdrop-light.ts';
import { faceLight, isHidden, isKeptOff, lampPosition, levelAt, measuredLux, outputLuxAt1m } from '../light.ts';
import { along } from '../moments.ts';
import { productPlace, subjectPlace } from '../optics.ts';
import { neutralMired, whitesOf } from '../white-points.ts';
import { grey, scaled } from './rgb.ts';
import { lampSize } from '../lamp-size.ts';

export interface LitLamp {
  readonly name: string;
  readonly at: Vec3;
  /** Toward what it aims at, length 1. */
  readonly axis: Vec3;
  /** Level and upright directions of its face, length 1. */
  readonly right: Vec3;
  readonly up: Vec3;
  readonly halfWidthMm: number;
  readonly halfHeightMm: number;
  readonly size: LampSize;
  readonly beamDeg: number;
  /** On its axis, as it is set. */
  readonly luxAt1m: Lux;
  /** Linear, luminance 1. */
  readonly tint: Rgb;
  readonly offBackdrop: boolean;
}

/** The light of a shot at a moment of its action. */
export interface SetLight {
  readonly lamps: readonly LitLamp[];
  readonly room: Rgb;
  readonly assumed: readonly string[];
}

const usualBalanceK = 5600;
/** Of a lamp whose size nobody said. */
const usualHalfMm = 30;

export function setLight(shot: Shot, moment: number, wantedLux: Lux): SetLight {
  const neutral = neutralMired(shot) ?? whitesOf(shot).key?.mired.from ?? mired(usualBalanceK);
  const assumed: string[] = [];
  const unknown = shot.lit.filter((lamp) => !isKnown(lamp, shot, moment));
  const face = faceLight(shot, moment);
  const share = Math.max(wantedLux - face.totalLux, wantedLux / 4) / Math.max(1, unknown.length);
  const lamps = shot.lit.flatMap((lamp) => {
    const placed = placedLamp(lamp, shot, moment, neutral);
    if (!placed) {
      assumed.push(`Lamp ${quoted(lamp.name)} is left out: where it stands is not known`);
      return [];
    }
    if (!unknown.includes(lamp)) return [placed.lamp];
    assumed.push(`Lamp ${quoted(lamp.name)} counts as bright enough: its light is not known`);
    return [{ ...placed.lamp, luxAt1m: share / placed.gain }];
  });
  const { room } = shot;
  const roomTint = room?.temperature ? whiteTint(mired(room.temperature.value), neutral) : grey(1);
  return { lamps, room: scaled(roomTint, face.roomLux), assumed };
}

function isKnown(lamp: LampPlace, shot: Shot, moment: number): boolean {
  return (
    measuredLux(lamp, shot) !== undefined || (outputLuxAt1m(lamp) !== undefined && levelAt(lamp, moment) !== undefined)
  );
}

/** The lamp where it stands, and its light on what it aims at for each lux at 1 m. */
function placedLamp(
  lamp: LampPlace,
  shot: Shot,
  moment: number,
  neutral: Mired,
): { lamp: LitLamp; gain: number } | undefined {
  const target = lampTarget(lamp, shot);
  const at = target && lampPosition(lamp, target, moment);
  if (!at || !target) return undefined;
  const size = lampSize(lamp);
  const sides = [size.widthM * 500, size.heightM * 500].map((half) => half || usualHalfMm);
  const [long, short] = [Math.max(...sides), Math.min(...sides)];
  const { forward, right, up } = lookAt(at, target);
  const placed: LitLamp = {
    name: lamp.name,
    at,
    axis: forward,
    right,
    up,
    halfWidthMm: lamp.longSide === 'upright' ? short : long,
    halfHeightMm: lamp.longSide === 'upright' ? long : short,
    size,
    beamDeg: size.beamDeg ?? 120,
    luxAt1m: 1,
    tint: tintOfLamp(lamp, moment, neutral),
    offBackdrop: isKeptOff(lamp, 'backdrop'),
  };
  const gain = luxAt(placed, target, addScaled({ x: 0, y: 0, z: 0 }, forward, -1));
  return { lamp: { ...placed, luxAt1m: strength(lamp, shot, moment, placed) }, gain: gain || 1 };
}

/** Lux at 1 m as it is set; of a lamp that was measured, what gives that on the face or the backdrop. */
function strength(lamp: LampPlace, shot: Shot, moment: number, unit: LitLamp): Lux {
  const lost = lamp.modifiers.reduce((sum, modifier) => sum + modifier.loses, 0);
  const reckoned = (outputLuxAt1m(lamp) ?? 0) * (levelAt(lamp, moment) ?? 0) * 2 ** -lost;
  const found = faceLight(shot, moment).lamps.find((one) => one.lamp === lamp);
  const measured = measuredLux(lamp, shot);
  if (lamp.aim === 'backdrop') {
    const target = lampTarget(lamp, shot)!;
    const on = luxAt(unit, target, { x: 0, y: 0, z: -1 });
    return measured !== undefined && on > 0 ? measured / on : reckoned;
  }
  if (measured === undefined && isHidden(lamp, unit.at, shot, moment)) return 0;
  if (measured === undefined && !shot.measured?.light) return reckoned;
  const toward = addScaled({ x: 0, y: 0, z: 0 }, unit.axis, -1);
  const on = luxAt(unit, subjectPlace(shot), toward) * Math.cos(((found?.offFaceDeg ?? 0) * Math.PI) / 180);
  return on > 0.02 * luxAt(unit, productPlace(shot), toward) ? (found?.lux ?? 0) / on : reckoned;
}

/** Light on a small face at a place: inverse square or a wide lamp's own law, the beam's edge, Lambert's cosine. */
export function luxAt(lamp: LitLamp, at: Vec3, normal: Vec3): Lux {
  const way = subtract(lamp.at, at);
  const distance = lengthOf(way);
  const cosine = dot(way, normal) / distance;
  return cosine > 0 ? towardLux(lamp, at) * cosine : 0;
}

/** The same on a face that is turned to the lamp. */
export function towardLux(lamp: LitLamp, at: Vec3): Lux {
  const way = subtract(at, lamp.at);
  const distance = lengthOf(way);
  const off = dot(way, lamp.axis) / distance;
  if (off <= 0 || distance < 1) return 0;
  return (
    lamp.luxAt1m * distanceGain(lamp.size, distance / 1000) * beamShare(angleBetweenDeg(way, lamp.axis), lamp.beamDeg)
  );
}

/** Luminance of its face toward a place, times π: what a white face that gets as many lux would show. */
export function shineLux(lamp: LitLamp, toward: Vec3): Lux {
  const share = configurationFactor((2 * lamp.halfWidthMm) / 1000, (2 * lamp.halfHeightMm) / 1000, 1);
  const off = angleBetweenDeg(subtract(toward, lamp.at), lamp.axis);
  return off < 90 ? (lamp.luxAt1m / share) * beamShare(off, Math.max(lamp.beamDeg, 20)) : 0;
}

function tintOfLamp(place: LampPlace, moment: number, neutral: Mired): Rgb {
  const gel = place.colour && parseHex(place.colour.value);
  if (gel) return evened(linearFromSrgb(gel));
  const own = along(place.temperature?.value, moment);
  if (!own) return grey(1);
  const level = along(place.level?.value, moment) ?? 1;
  const dimmed = place.lamp?.kind?.value === 'filament' && !place.fields.said('temperature');
  const warmed = dimmed ? filamentKelvin(own, Math.max(0.01, Math.min(1, level))) : own;
  const warms = place.modifiers.reduce((sum, modifier) => sum + modifier.warms, 0);
  return whiteTint(mired(warmed) + warms, neutral, place.lamp?.duv?.value);
}

/** White light of a reciprocal temperature before a camera that is balanced for another. */
export function whiteTint(light: Mired, neutral: Mired, duv?: number): Rgb {
  const temperature = kelvin(light);
  const xy = whiteOff(temperature, duv === undefined ? 0 : duv - duvReference(temperature));
  return tintOf(xy, whiteXy(kelvin(neutral)));
}

/** The same colour with luminance 1; white for black. */
function evened(rgb: Rgb): Rgb {
  const y = luminance(rgb);
  return y > 0 ? scaled(rgb, 1 / y) : grey(1);
}
