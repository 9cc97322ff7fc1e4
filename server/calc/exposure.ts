/** Exposure: how much light the settings want, how much a lamp or screen is over, and how noisy the tone is. */

/** Calibration constant of incident meters, lux·s·ISO (ISO 2720:1974 allows 240 to 400 flat; 250 is usual). */
export const incidentConstant = 250;
/** Calibration constant of reflected-light meters, cd/m²·s·ISO (ISO 2720:1974 allows 10.6 to 13.4). */
export const reflectedConstant = 12.5;
/** Reflectance that is taken as mid-grey. */
export const midGreyReflectance = 0.18;

/** Exposure value log2(N² ÷ t), in stops (ISO 2720 relation). `Infinity` at t = 0. */
export function exposureValue(fNumber: number, timeS: number): number {
  return Math.log2((fNumber * fNumber) / timeS);
}

export interface ExposureSettings {
  readonly fNumber: number;
  /** Exposure time in s. */
  readonly timeS: number;
  readonly iso: number;
  /** Light lost in filters, stops; 0 when left out. */
  readonly filterStops?: number;
  /** Image size ÷ object size; 0 when left out. */
  readonly magnification?: number;
  /** Exit pupil ÷ entrance pupil; 1 unless known. */
  readonly pupilFactor?: number;
}

/** What filters and closeness take away as a factor of 1 or more: 2^stops × (1 + m ÷ P)². */
export function lightLossFactor(settings: ExposureSettings): number {
  const close = 1 + (settings.magnification ?? 0) / (settings.pupilFactor ?? 1);
  return 2 ** (settings.filterStops ?? 0) * close * close;
}

/**
 * Lux wanted on the face for a correct exposure: C·N² × loss ÷ (t·ISO), C = 250 (ISO 2720). `Infinity` when time or
 * ISO is 0.
 */
export function luxWanted(settings: ExposureSettings): number {
  const { fNumber, timeS, iso } = settings;
  return (incidentConstant * fNumber * fNumber * lightLossFactor(settings)) / (timeS * iso);
}

/** Luminance in cd/m² that comes out mid-grey: K·N² × loss ÷ (t·ISO), K = 12.5 (ISO 2720). */
export function midGreyCdM2(settings: ExposureSettings): number {
  const { fNumber, timeS, iso } = settings;
  return (reflectedConstant * fNumber * fNumber * lightLossFactor(settings)) / (timeS * iso);
}

/** ISO at which `lux` exposes correctly with the other settings. `Infinity` in the dark. */
export function isoWanted(settings: Omit<ExposureSettings, 'iso'>, lux: number): number {
  return luxWanted({ ...settings, iso: 1 }) / lux;
}

/** Stops over what is wanted, log2(found ÷ wanted); `-Infinity` when nothing is found. */
export function stopsOver(found: number, wanted: number): number {
  return Math.log2(found / wanted);
}

/** Stops over mid-grey of a screen's white: log2(nits × level ÷ mid-grey luminance); level 0 to 1. */
export function screenStops(whiteCdM2: number, level: number, settings: ExposureSettings): number {
  return stopsOver(whiteCdM2 * level, midGreyCdM2(settings));
}

/**
 * Contrast of a lit screen, (white + R) ÷ (black + R): its black is 1 ÷ `panelContrast` of its white, and both give back
 * R = lux × reflectance ÷ π (ambient contrast ratio, IDMS, from memory; Lambert). The matt reflectance of 0.03 is common
 * practice, no source.
 */
export function screenContrast(whiteCdM2: number, spillLux: number, reflectance = 0.03, panelContrast = 1000): number {
  const reflected = (spillLux * reflectance) / Math.PI;
  return (whiteCdM2 + reflected) / (whiteCdM2 / panelContrast + reflected);
}

/** Spill in lux at which a screen's contrast falls to `contrast` (over 1); 0 when it never reaches it. */
export function spillLimitLux(whiteCdM2: number, contrast: number, reflectance = 0.03, panelContrast = 1000): number {
  const reflected = (whiteCdM2 * (1 - contrast / panelContrast)) / (contrast - 1);
  return Math.max(0, (reflected * Math.PI) / reflectance);
}

/** How a surface renders against mid-grey, in stops: log2(E × ρ ÷ (E wanted × 0.18)). */
export function renderedStops(lux: number, reflectance: number, wantedLux: number): number {
  return stopsOver(lux * reflectance, wantedLux * midGreyReflectance);
}

/** Electrons per lx·s·µm² of a modern sensor: an estimate good to about a stop, from memory. */
const electronsPerLuxSecondUm2 = 4000;

/**
 * Signal to noise of a tone in one delivered pixel, counting light only (shot noise): √electrons with the focal-plane
 * exposure of mid-grey H = 10 ÷ ISO lx·s (ISO 12232), × √(tone ÷ 0.18).
 * `pixelUm` is the side of a delivered pixel on the sensor: used width ÷ zoom ÷ delivered width.
 */
export function signalToNoise(iso: number, pixelUm: number, tone = midGreyReflectance): number {
  const electrons = electronsPerLuxSecondUm2 * (10 / iso) * pixelUm * pixelUm;
  return Math.sqrt(electrons * (tone / midGreyReflectance));
}

/** ISO speeds as they are marked, in thirds of a stop (ISO 12232; the list is from memory). */
export const markedIsos: readonly number[] = [
  25, 32, 40, 50, 64, 80, 100, 125, 160, 200, 250, 320, 400, 500, 640, 800, 1000, 1250, 1600, 2000, 2500, 3200, 4000,
  5000, 6400, 8000, 10000, 12800, 16000, 20000, 25600,
];

/** Apertures as they are marked, in thirds of a stop (ISO 517, from memory). */
export const markedFNumbers: readonly number[] = [
  1, 1.1, 1.2, 1.4, 1.6, 1.8, 2, 2.2, 2.5, 2.8, 3.2, 3.5, 4, 4.5, 5, 5.6, 6.3, 7.1, 8, 9, 10, 11, 13, 14, 16, 18, 20,
  22, 25, 29, 32,
];

/** The mark nearest to a value by ratio, that is, in stops; the value itself where there are no marks. */
export function nearestMark(value: number, marks: readonly number[]): number {
  const apart = (mark: number) => Math.abs(Math.log2(mark / value));
  return marks.reduce((best, mark) => (apart(mark) < apart(best) ? mark : best), marks[0] ?? value);
}
