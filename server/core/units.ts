/**
 * Reads quantities as people write them: a number, a space and a unit.
 *
 * Every reader takes the text as written and answers in the one unit its name or type says, or undefined when the
 * text is no such quantity. What is wrong with it is said by the schema check; nothing here throws.
 */
import { type Rate, parseRate } from '../calc/rate.ts';
import { once } from './memo.ts';
import { familyNamed, type FamilyName } from './quantities/families.ts';

export type Mm = number;
export type Seconds = number;
export type Degrees = number;
export type Kelvin = number;
export type Mired = number;
export type Stops = number;
export type Lux = number;
export type Hertz = number;
/** 1 is all of it: `60 %` is 0.6. */
export type Share = number;
export type Grams = number;
export type Watts = number;
export type MmPerSecond = number;
export type BitsPerSecond = number;
export type Bytes = number;

/** Two ends that differ for a change or a range, and are equal for a single value. */
export interface Ends<T = number> {
  readonly from: T;
  readonly to: T;
}

export interface Raster {
  readonly width: number;
  readonly height: number;
}

export interface Box {
  readonly widthMm: Mm;
  /** Absent where two numbers were given. */
  readonly depthMm?: Mm;
  readonly heightMm: Mm;
}

/** Exposure time of one frame, as it was written: the other form follows from the frame rate. */
export type Shutter =
  | { readonly kind: 'time'; readonly s: Seconds }
  | { readonly kind: 'angle'; readonly deg: Degrees };

/** Time in the finished film, as it was written; seconds follow from tempo and frame rate. */
export type FilmTime =
  | { readonly kind: 'beats'; readonly beats: number }
  | { readonly kind: 'seconds'; readonly s: Seconds }
  | { readonly kind: 'frames'; readonly frames: number }
  | {
      readonly kind: 'timecode';
      readonly h: number;
      readonly m: number;
      readonly s: number;
      readonly f: number;
      readonly drop: boolean;
    };

/** What a lamp gives at full level, as its maker states it. */
export type LightOutput =
  | { readonly kind: 'lux'; readonly lux: Lux; readonly atMm: Mm }
  | { readonly kind: 'candela'; readonly cd: number }
  | { readonly kind: 'lumens'; readonly lm: number };

/** Where one films: country, mains volts and mains frequency, each only where said. */
export interface Region {
  readonly country?: string;
  readonly volts?: number;
  readonly mainsHz?: Hertz;
}

export type Reader<T> = (text: string) => T | undefined;

/** Nine digits on either side of the point are more than anything measured needs, and keep all arithmetic finite. */
export const digits = '\\d{1,9}(?:\\.\\d{1,9})?';
const plainNumber = new RegExp(`^[+-]?${digits}$`);

/** `25`, `-1.5`, `+2`: plain decimal numbers only. */
export function number(text: string): number | undefined {
  return plainNumber.test(text) ? Number(text) : undefined;
}

/** A reader for a number and a unit of a family. */
function unitReader(name: FamilyName): Reader<number> {
  const { units, alsoRead = {} } = familyNamed(name);
  const factors = new Map(Object.entries(alsoRead));
  for (const [unit, { factor, one }] of Object.entries(units))
    for (const as of [unit, one]) if (as) factors.set(as, factor);
  return (text) => {
    const space = text.indexOf(' ');
    const value = space < 0 ? undefined : number(text.slice(0, space));
    const factor = factors.get(text.slice(space + 1));
    return value === undefined || factor === undefined ? undefined : value * factor;
  };
}

/** `45 cm` in mm. */
export const lengthMm = unitReader('length');
/** `1.5 s`, `14 ms`, `50 min`, `1 h` in seconds. */
export const realTimeS = unitReader('time');
/** `5600 K`. */
export const kelvin = unitReader('kelvin');
/** `-131 mired`. */
export const mired = unitReader('mired');
/** `1 stop`, `1.5 stops`. */
export const stops = unitReader('stops');
/** `4 lx`. */
export const lux = unitReader('lux');
/** `250 cd/m²` (`cd/m2` too). */
export const luminance = unitReader('luminance');
/** `50 Hz`, `20 kHz` in hertz. */
export const hertz = unitReader('frequency');
/** `100 bpm`. */
export const tempoBpm = unitReader('tempo');
/** `160 wpm`. */
export const wordsPerMinute = unitReader('pace');
/** `2 rpm`. */
export const turningRpm = unitReader('turning');
/** `15 cm/s` in mm a second. */
export const speedMmS = unitReader('speed');
/** `60 %` as 0.6. */
export const share = unitReader('share');
/** `20 Mb/s` in bits a second. */
export const bitRate = unitReader('bit-rate');
/** `60 MB/s` in bytes a second. */
export const byteRate = unitReader('byte-rate');
/** `128 GB` (1000³) or `80 MiB` (1024²) in bytes. */
export const bytes = unitReader('bytes');
/** `-14 LUFS` (`LKFS` is the same). */
export const loudnessLufs = unitReader('loudness');
/** `-1 dBTP`. */
export const truePeakDbtp = unitReader('true-peak');
/** `-24 dB`. */
export const decibels = unitReader('decibels');
/** `230 V`. */
export const volts = unitReader('volts');
/** `16 A`, `30 mA` in amperes. */
export const amps = unitReader('amps');
/** `65 W`, `2 kW` in watts. */
export const watts = unitReader('watts');
/** `30 Wh`. */
export const wattHours = unitReader('watt-hours');
/** `420 g`, `1.6 kg`, `3 lb`, `5 oz` in grams. */
export const weightG = unitReader('weight');
/** `23 °C`. */
export const celsius = unitReader('celsius');
/** `1200 cd`. */
export const candela = unitReader('candela');
/** `5000 lm`. */
export const lumens = unitReader('lumens');

const angleForm = new RegExp(`^([+-]?${digits})°( left| right)?$`);
/** `180°`, `-0.8°`; `50° left` is 50°, `50° right` is 310° (clockwise from above, camera left is plus). */
export function angleDeg(text: string): Degrees | undefined {
  const match = angleForm.exec(text);
  if (!match) return undefined;
  const value = Number(match[1]);
  return match[2] === ' right' ? (360 - value) % 360 : value;
}

const sizeForm = new RegExp(`^(${digits}) x (${digits})(?: x (${digits}))? (\\S+)$`);
/** `9 x 6 x 7 cm` (wide x deep x high) or `60 x 34 cm` (wide x high). */
export function sizeMm(text: string): Box | undefined {
  const match = sizeForm.exec(text);
  const factor = match && lengthMm(`1 ${match[4]}`);
  if (!factor) return undefined;
  const [a, b] = [Number(match[1]) * factor, Number(match[2]) * factor];
  return match[3] === undefined
    ? { widthMm: a, heightMm: b }
    : { widthMm: a, depthMm: b, heightMm: Number(match[3]) * factor };
}

/** `1920x1080` in pixels. */
export function raster(text: string): Raster | undefined {
  const match = /^([1-9]\d{0,4})x([1-9]\d{0,4})$/.exec(text);
  return match ? { width: Number(match[1]), height: Number(match[2]) } : undefined;
}

const fractionForm = new RegExp(`^1/(${digits}) s$`);
/** `1/50 s`, `0.02 s`, `20 ms` or `180°`. */
export function shutter(text: string): Shutter | undefined {
  const fraction = fractionForm.exec(text);
  if (fraction && Number(fraction[1]) > 0) return { kind: 'time', s: 1 / Number(fraction[1]) };
  const s = realTimeS(text);
  if (s !== undefined && s > 0) return { kind: 'time', s };
  const deg = angleDeg(text);
  return deg !== undefined && deg > 0 ? { kind: 'angle', deg } : undefined;
}

const apertureForm = new RegExp(`^f/(${digits})$`);
/** `f/1.6` as 1.6. */
export function aperture(text: string): number | undefined {
  const match = apertureForm.exec(text);
  return match && Number(match[1]) > 0 ? Number(match[1]) : undefined;
}

/** `25`, `23.976` (exactly 24000/1001). */
export const rate: Reader<Rate> = (text) => (number(text) === undefined ? undefined : parseRate(text));

const countedForm = new RegExp(`^([+-]?${digits}) (beats?|frames?)$`);
/** `8 beats`, `3 s`, `40 frames`, `00:00:12:10` (`;` before the frames is drop frame). */
export function filmTime(text: string): FilmTime | undefined {
  const code = /^(\d{2}):(\d{2}):(\d{2})([:;])(\d{2})$/.exec(text);
  if (code) {
    const [h, m, s, f] = [code[1], code[2], code[3], code[5]].map(Number) as [number, number, number, number];
    return { kind: 'timecode', h, m, s, f, drop: code[4] === ';' };
  }
  const counted = countedForm.exec(text);
  if (counted) {
    const value = Number(counted[1]);
    return counted[2]!.startsWith('beat') ? { kind: 'beats', beats: value } : { kind: 'frames', frames: value };
  }
  const s = realTimeS(text);
  return s === undefined ? undefined : { kind: 'seconds', s };
}

/** `2600 lx at 1 m`, `1200 cd`, `5000 lm`. */
export function lightOutput(text: string): LightOutput | undefined {
  const at = / at /.exec(text);
  if (at) {
    const value = lux(text.slice(0, at.index));
    const atMm = lengthMm(text.slice(at.index + 4));
    return value === undefined || !atMm ? undefined : { kind: 'lux', lux: value, atMm };
  }
  const cd = candela(text);
  if (cd !== undefined) return { kind: 'candela', cd };
  const lm = lumens(text);
  return lm === undefined ? undefined : { kind: 'lumens', lm };
}

const regionForm = new RegExp(`^(?=.)([A-Z]{2})?(?:(?:^| )(${digits}) V)?(?:(?:^| )(${digits}) Hz)?$`);
/** `DE`, `50 Hz`, `JP 60 Hz`, `BR 220 V 60 Hz`. */
export function region(text: string): Region | undefined {
  const match = regionForm.exec(text);
  if (!match) return undefined;
  return {
    ...(match[1] && { country: match[1] }),
    ...(match[2] && { volts: Number(match[2]) }),
    ...(match[3] && { mainsHz: Number(match[3]) }),
  };
}

/** `"#7a3b2e"`. */
export const colour: Reader<string> = (text) => (/^#[0-9a-fA-F]{6}$/.test(text) ? text.toLowerCase() : undefined);

/** `2026-12-02`, a real day of the calendar; days since 1970-01-01. */
export function dateDays(text: string): number | undefined {
  if (!/^\d{4}-\d{2}-\d{2}$/.test(text)) return undefined;
  const ms = Date.parse(`${text}T00:00:00Z`);
  return Number.isNaN(ms) || new Date(ms).toISOString().slice(0, 10) !== text ? undefined : ms / 86_400_000;
}

/** `09:00` in minutes since midnight. */
export function minutesOfDay(text: string): number | undefined {
  const match = /^([01]\d|2[0-3]):([0-5]\d)$/.exec(text);
  return match ? Number(match[1]) * 60 + Number(match[2]) : undefined;
}

/** `A` or `A to B`, each end read alike. The same reader for the same kind of end, so that values read once are known again. */
export function ends<T>(one: Reader<T>): Reader<Ends<T>> {
  return endsReader(one) as Reader<Ends<T>>;
}

const endsReader = once((one: Reader<unknown>): Reader<Ends<unknown>> => (text) => {
  const cut = text.indexOf(' to ');
  const from = one(cut < 0 ? text : text.slice(0, cut));
  const to = cut < 0 ? from : one(text.slice(cut + 4));
  return from === undefined || to === undefined ? undefined : { from, to };
});
