/** What is part of something else, so that nobody packs it or puts it up. */
import type { CameraBody, Film, LampPlace, Lens, Shot, Support } from '../film.ts';
import { productMiddleMm } from '../product-place.ts';
import { lampPosition } from './light.ts';

/** A lens with a sensor of its own, or with a single f-number, is seldom in anything but a phone (common practice, no source). */
export function isBuiltIn({ sensor, aperture }: Lens): boolean {
  return sensor !== undefined || (aperture !== undefined && aperture.value.from === aperture.value.to);
}

/** A camera that films through such lenses alone has its memory and its battery inside, where only one of each is said. */
export function isPhone(body: CameraBody, shots: readonly Shot[]): boolean {
  const lenses = shots.flatMap(({ camera }) => (camera.body === body && camera.lens ? camera.lens : []));
  return lenses.length > 0 && lenses.every(isBuiltIn);
}

/** A support that carries no load and has no weight is somebody's hands. */
export function isHands(support: Support | undefined): boolean {
  return support?.standsOn === 'hand' && !support.load && !support.weight;
}

/** The light that the product itself gives: seen in the picture, where nothing but the product can be. */
export function isOwnLight(place: LampPlace, { product }: Film): boolean {
  const box = product.size?.value;
  if (place.role?.value !== 'practical' || !box) return false;
  const at = lampPosition(place, { x: 0, y: productMiddleMm(product), z: 0 }, 0);
  const hangsMm = product.hangs?.value ?? 0;
  const reachMm = Math.max(box.widthMm, box.depthMm ?? 0) / 2;
  return at !== undefined && Math.hypot(at.x, at.z) <= reachMm && at.y >= hangsMm && at.y <= hangsMm + box.heightMm;
}
