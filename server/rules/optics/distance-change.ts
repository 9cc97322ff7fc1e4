import { tiltDeg } from '../../core/derived/optics.ts';
import { focusText } from '../../core/derived/sharp.ts';
import { still, tryShot } from '../../core/derived/showings.ts';
import type { Camera, Shot } from '../../core/film.ts';
import { lengthText } from '../../core/say.ts';
import type { Mm } from '../../core/units.ts';

type Change = readonly [camera: Camera, key: 'distance' | 'focus' | 'height', text: string];

/**
 * Another distance of the camera. A focus in figures goes along, so that what was sharp stays sharp, and so does the height
 * of a camera that looks down, so that it still does.
 */
export function distanceChange(shot: Shot, mm: Mm, text: string): Change[] {
  const { camera } = shot;
  const now = camera.distance?.value.from;
  const distance: Change = [camera, 'distance', text];
  return now === undefined ? [distance] : [distance, ...focusChange(camera, mm - now), ...heightChange(shot, mm / now)];
}

function focusChange(camera: Camera, byMm: Mm): Change[] {
  const focus = camera.focus?.value;
  if (typeof focus !== 'object' || Math.min(focus.from, focus.to) + byMm <= 0) return [];
  const [from, to] = [focusText(focus.from + byMm), focusText(focus.to + byMm)];
  return [[camera, 'focus', from === to ? from : `${from} to ${to}`]];
}

/** From here on it is the height that takes the camera away. */
const looksDownDeg = 60;

function heightChange(shot: Shot, times: number): Change[] {
  const mm = heightAlong(shot, times);
  return mm === undefined ? [] : [[shot.camera, 'height', lengthText(Math.round(mm))]];
}

/** Where the height of a camera that looks down goes with its distance; undefined for all others. */
function heightAlong(shot: Shot, times: number): Mm | undefined {
  const { camera, subject } = shot;
  const height = camera.height?.value;
  if (!height || height.from !== height.to || tiltDeg(shot, 0) < looksDownDeg) return undefined;
  return subject.heightMm + (height.from - subject.heightMm) * times;
}

/**
 * The nearest whole centimetre farther back from which a shot fits, a hundredth of the way at a time; undefined for a camera that
 * moves, and where none does up to `mostCm`.
 */
export function fartherCm(
  shot: Shot,
  mostCm: (nowCm: number) => number,
  fits: (tried: Shot) => boolean,
): number | undefined {
  const { distance } = shot.camera;
  if (!distance || distance.value.from !== distance.value.to) return undefined;
  const nowCm = distance.value.from / 10;
  for (let cm = Math.floor(nowCm) + 1; cm <= mostCm(nowCm); cm += Math.max(1, Math.round(cm / 100))) {
    const heightMm = heightAlong(shot, cm / nowCm);
    const height = heightMm === undefined ? shot.camera.height : still(heightMm);
    if (fits(tryShot(shot, { camera: { distance: still(cm * 10), height } }))) return cm;
  }
  return undefined;
}
