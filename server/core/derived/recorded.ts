/** What the camera writes: the bits and the colour space of a shot, said or those of its mode, and what else it could write. */
import type { Film, Mode, Shot } from '../film.ts';
import type { Cause } from '../rule.ts';
import { modeHas } from '../resolve/shots.ts';

/** Bits for each sample; undefined where neither the spec nor the kit tells. */
export function recordedBits({ camera }: Shot): number | undefined {
  if (camera.bits || camera.fields.said('bits')) return camera.bits?.value;
  return camera.mode?.bits;
}

/** Colour space and curve; a mode that has several records the first unless the spec says another. */
export function recordedSpace({ camera }: Shot): string | undefined {
  if (camera.colourSpace || camera.fields.said('colour-space')) return camera.colourSpace?.value;
  return camera.mode?.colourSpaces[0];
}

/** What all shots take over from the modes of a kit is one cause, which the spec has no place for. */
export function ofKit({ product: { start, end } }: Film, as: string): Cause {
  return { start, end, as, isWide: true };
}

/** The camera's first mode that has what the shot asks, and this instead of its bits or colour space. */
export function modeWith(shot: Shot, change: { bits?: number; colourSpace?: string }): Mode | undefined {
  const { body, raster, rate, codec } = shot.camera;
  const space = change.colourSpace ?? recordedSpace(shot);
  const bits = change.bits ?? recordedBits(shot);
  return body?.modes.find(
    (mode) =>
      modeHas(mode, { raster, rate, codec }) &&
      (bits === undefined || mode.bits === bits) &&
      (space === undefined || mode.colourSpaces.includes(space)),
  );
}
