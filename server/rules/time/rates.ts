/** Rates that a shot could be recorded at instead, with the kit's own modes. */
import { rateFps, sameRate, type Rate } from '../../calc/rate.ts';
import { framesPerStep } from '../../calc/shutter.ts';
import type { Film, Shot, Val } from '../../core/film.ts';

/** The rates of all modes that have the shot's raster, codec, bits and colour space; none without a camera in the kit. */
export function ratesOfRaster(shot: Shot): Val<Rate>[] {
  const { body, raster, codec, bits, colourSpace } = shot.camera;
  const size = raster?.value;
  const fitting = (body?.modes ?? []).filter(
    (mode) =>
      (!size || (mode.raster?.value.width === size.width && mode.raster.value.height === size.height)) &&
      (!codec || mode.codec === codec.value) &&
      (!bits || mode.bits === bits.value) &&
      (!colourSpace || mode.colourSpaces.includes(colourSpace.value)),
  );
  return fitting.flatMap((mode) => mode.rates);
}

export function canRecord(shot: Shot, rate: Rate): boolean {
  return ratesOfRaster(shot).some((one) => sameRate(one.value, rate));
}

/** Would every piece that uses the shot step evenly over frames recorded at this rate? Repeated frames are not even. */
export function stepsEvenly(shot: Shot, film: Film, rate: Rate): boolean {
  const edit = film.timeline.rate?.value;
  return shot.pieces.every((piece) => {
    const k = edit ? framesPerStep(Math.abs(piece.speed), rateFps(rate), rateFps(edit)) : 1;
    return piece.speed === 0 || (k >= 0.999 && Math.abs(k - Math.round(k)) <= 0.02 + 1e-6);
  });
}
