/** Where lamps point, and what hangs from what: small questions that several care rules ask. */
import { angleBetweenDeg, subtract } from '../../calc/geometry.ts';
import { lampPosition } from '../../core/derived/light.ts';
import { cameraPose, subjectPlace } from '../../core/derived/optics.ts';
import { lampTarget } from '../../core/derived/wall.ts';
import type { LampPlace, Shot } from '../../core/film.ts';
import type { Grams } from '../../core/units.ts';

/** Does the lamp shine past the product into the camera, within 20° of the line through the lens? */
export function facesLens(shot: Shot, place: LampPlace): boolean {
  const middle = subjectPlace(shot);
  const pose = cameraPose(shot, 0);
  const target = lampTarget(place, shot);
  const at = target && lampPosition(place, target, 0);
  if (!pose || !at) return false;
  return angleBetweenDeg(subtract(at, middle), subtract(pose.at, middle)) > 160;
}

/** Camera and lens together; undefined where the camera's weight is not known. */
export function cameraWeightG({ camera }: Shot): Grams | undefined {
  const body = camera.body?.weight?.value;
  return body === undefined ? undefined : body + (camera.lens?.weight?.value ?? 0);
}
