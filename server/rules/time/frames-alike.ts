import { bands, beatHz, lampRippleHz } from '../../calc/flicker.ts';
import { rateFps } from '../../calc/rate.ts';
import type { Shot } from '../../core/film.ts';

/** In step with the frames and too quick for bands, the pulses light each frame alike. */
export function framesAlike(shot: Shot, mainsHz: number): boolean {
  const { rate, mode } = shot.camera;
  const readoutS = mode?.readout?.value;
  if (!rate || readoutS === undefined) return false;
  const ripple = lampRippleHz(mainsHz);
  return beatHz(ripple, rateFps(rate.value)) < 1e-6 && bands(ripple, readoutS) < 0.25;
}
