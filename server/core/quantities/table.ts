/**
 * The quantities that files have: what each is called, how it is written and read, and in which bounds it lies. The
 * schemas name them in `x-quantity`; their patterns and units are made from this table by `npm run generate`.
 *
 * Bounds are those beyond which nothing is that is filmed at home; what is would take computations (beats of a film,
 * frames of a shot) out of all measure. They come from practice, no source.
 */
import * as u from '../units.ts';
import { familyNamed, type FamilyName, patternUpTo, unitsPattern } from './families.ts';

/** Which numbers a field takes. */
export type NumberRange = keyof typeof numberPatterns;

const above0 = String.raw`(?=[\d.]*[1-9])`;
const to100 = String.raw`(?:100(?:\.0{1,9})?|\d{1,2}(?:\.\d{1,9})?)`;

/** The patterns of these numbers. */
export const numberPatterns = {
  any: `[+-]?${u.digits}`,
  'from 0': u.digits,
  'above 0': `${above0}${u.digits}`,
  'from 0 to 100': to100,
  'above 0 to 100': `${above0}${to100}`,
} as const;

/** The least and the most that one kind of value may be. */
interface Bounds {
  readonly read: u.Reader<number>;
  /** Of what is not nothing; where a quantity has a sign, without it. */
  readonly least: string;
  readonly most: string;
  /** Both as numbers. */
  readonly from: number;
  readonly to: number;
}

export interface Quantity<T = unknown> {
  /** What a message calls it. */
  readonly called: string;
  /** How it is written, as hovers and messages say it. */
  readonly units: string;
  /** The families of its units. */
  readonly families: readonly FamilyName[];
  /** The numbers that a field takes where it says nothing else in `x-range`. */
  readonly range: NumberRange;
  /** The pattern of one value around that of its number; absent where the schema lists words or takes any text. */
  readonly form?: (number: string, range: NumberRange) => string;
  /** The pattern of what may stand behind a value that has no second end. */
  readonly afterOne?: string;
  readonly read?: u.Reader<T>;
  /** One for each way in which it is written. */
  readonly bounds?: readonly Bounds[];
  /** The unit that is meant where none is written, where only one can be. */
  readonly onlyUnit?: string;
  /** What people write behind a number that stands alone. */
  readonly behindNumber?: RegExp;
  /** Units of something else that are said where this one's are meant. */
  readonly near?: { readonly for: RegExp; readonly unit: string; readonly why: string };
}

/** One that can be read. */
type Readable<T> = Quantity<T> & { readonly read: u.Reader<T> };

type Rest = Partial<Quantity<number>> & { readonly range: NumberRange; readonly within?: readonly [string, string] };

/** A number and a unit of one family. */
function measured(
  family: FamilyName,
  units: string,
  read: u.Reader<number>,
  { within, ...rest }: Rest,
): Readable<number> {
  const form = within ? upTo(family, within[1], read) : (number: string) => `${number} ${unitsPattern(family)}`;
  const own = { called: familyNamed(family).called, units, families: [family], form, read };
  return { ...own, ...(within && { bounds: [between(read, ...within)] }), ...rest };
}

/** The pattern of numbers with a unit of a family, of which none has more digits than the most that may be written. */
function upTo(family: FamilyName, most: string, read: u.Reader<number>, several = (number: string) => number) {
  return (number: string) => patternUpTo(family, read(most)!, (digits) => several(shorter(number, digits)));
}

/** The pattern of a number with so many digits before its point at most. */
function shorter(number: string, digits: number): string {
  return number.replace(/(?<!\\\.)\\d\{1,9\}/g, `\\d{1,${digits}}`);
}

/** A number that stands alone. */
function bare<T>(
  called: string,
  units: string,
  read: u.Reader<T>,
  behindNumber: RegExp,
  within?: readonly [string, string],
): Readable<T> {
  const bounds = within && [between(u.number, ...within)];
  return { called, units, families: [], range: 'above 0', form: (n) => n, read, behindNumber, bounds };
}

function between(read: u.Reader<number>, least: string, most: string): Bounds {
  return { read, least, most, from: read(least)!, to: read(most)! };
}

function counted(unit: string): u.Reader<number> {
  const form = new RegExp(`^([+-]?[\\d.]+) ${unit}$`);
  return (text) => u.number(form.exec(text)?.[1] ?? '');
}

function shutterS(text: string): number | undefined {
  const read = u.shutter(text);
  return read?.kind === 'time' ? read.s : undefined;
}

/** Neither a number nor a unit: a form of its own. */
function written<T>(called: string, units: string, form: string | undefined, read?: u.Reader<T>): Quantity<T> {
  return { called, units, families: [], range: 'any', ...(form && { form: () => form }), ...(read && { read }) };
}

const timecode = String.raw`\d{2}:[0-5]\d:[0-5]\d[:;]\d{2}`;
const withoutUnit = 'a number without a unit';
const sizeUnits = 'one unit at the end: mm, cm, m (in, ft accepted)';
const ofLength = ['0.001 mm', '10000 m'] as const;
const sides = [between(u.lengthMm, ...ofLength)];
const isDecibel = /^db(?:fs)?$/i;

export const quantities = {
  length: measured('length', 'mm, cm, m (in, ft accepted)', u.lengthMm, { range: 'from 0', within: ofLength }),
  size: {
    called: 'a size',
    units: sizeUnits,
    families: [],
    range: 'above 0',
    form: upTo('length', ofLength[1], u.lengthMm, (n) => `${n} x ${n}`),
    read: u.sizeMm,
    bounds: sides,
  },
  box: {
    called: 'a size',
    units: sizeUnits,
    families: [],
    range: 'above 0',
    form: upTo('length', ofLength[1], u.lengthMm, (n) => `${n} x ${n}(?: x ${n})?`),
    read: u.sizeMm,
    bounds: sides,
  },
  raster: written(
    'a picture size in pixels',
    'pixels, width x height, without spaces',
    String.raw`[1-9]\d{0,4}x[1-9]\d{0,4}`,
    u.raster,
  ),
  'film-time': {
    called: 'a time in the film',
    units: 's, beats, frames, or a timecode such as 00:00:12:10',
    families: ['time', 'beats'],
    range: 'above 0',
    form: (n: string, range: NumberRange) => {
      const frames = range === 'above 0' ? String.raw`(?=\d*[1-9])\d{1,8}` : String.raw`\d{1,8}`;
      const time = upTo('time', '24 h', u.realTimeS)(n);
      return `(?:${time}|${shorter(n, 6)} beats?|${frames} frames?|${timecode})`;
    },
    read: u.filmTime,
    bounds: [
      between(u.realTimeS, '0.001 ms', '24 h'),
      between(counted('beats?'), '0.001 beats', '100000 beats'),
      between(counted('frames?'), '1 frame', '10000000 frames'),
    ],
  },
  'real-time': measured('time', 'ms, s, min, h', u.realTimeS, { range: 'from 0', within: ['0.001 ms', '1000 h'] }),
  shutter: {
    called: 'a shutter time or angle',
    units: 's, ms, or an angle in °',
    families: ['time', 'angle'],
    range: 'above 0',
    form: (n: string) => `(?:1/${n} s|${n} (?:s|ms)|${n}°)`,
    read: u.shutter,
    bounds: [between(shutterS, '1/1000000 s', '3600 s'), between(u.angleDeg, '0.01°', '3600°')],
  },
  aperture: {
    called: 'an f-number',
    units: 'f-number, written f/8',
    families: [],
    range: 'above 0',
    form: (n: string) => `f/${shorter(n, 4)}`,
    read: u.aperture,
    bounds: [between(u.aperture, 'f/0.5', 'f/1000')],
  },
  rate: bare(
    'a frame rate',
    'frames a second, without a unit',
    u.rate,
    /^(?:fps|p|i?frames?\/s|frames? (?:a|per) second|hz)$/i,
    ['0.01', '10000'],
  ),
  angle: measured('angle', '°', u.angleDeg, {
    range: 'any',
    within: ['0.0001°', '36000°'],
    form: (n) => `${shorter(n, 5)}°`,
    onlyUnit: '°',
  }),
  direction: measured(
    'angle',
    '° clockwise from above (minus is anticlockwise), or ° left / ° right of the camera',
    u.angleDeg,
    {
      range: 'any',
      within: ['0.0001°', '36000°'],
      form: (n) => `${shorter(n, 5)}°`,
      afterOne: ' (?:left|right)',
      onlyUnit: '°',
    },
  ),
  kelvin: measured('kelvin', 'K (kelvin)', u.kelvin, {
    range: 'above 0',
    within: ['500 K', '100000 K'],
    onlyUnit: 'K',
  }),
  mired: measured('mired', 'mired (plus is warmer)', u.mired, {
    range: 'any',
    within: ['0.01 mired', '2000 mired'],
    onlyUnit: 'mired',
  }),
  stops: measured('stops', 'stops', u.stops, { range: 'any', within: ['0.001 stops', '50 stops'], onlyUnit: 'stops' }),
  lux: measured('lux', 'lx (lux)', u.lux, { range: 'from 0', within: ['0.001 lx', '10000000 lx'], onlyUnit: 'lx' }),
  'light-output': {
    called: "a lamp's output",
    units: 'lx at a distance, cd, or lm',
    families: ['lux', 'candela', 'lumens'],
    range: 'above 0',
    form: (n: string) => `(?:${n} lx at ${n} ${unitsPattern('length')}|${n} (?:cd|lm))`,
    read: u.lightOutput,
    bounds: [
      between(u.candela, '0.1 cd', '100000000 cd'),
      between(u.lumens, '0.1 lm', '10000000 lm'),
      between((text) => u.lux(text.split(' at ')[0]!), '0.1 lx', '10000000 lx'),
      between((text) => u.lengthMm(text.split(' at ').at(-1)!), '1 mm', '1000 m'),
    ],
  },
  luminance: measured('luminance', 'cd/m²', u.luminance, {
    range: 'above 0',
    within: ['0.01 cd/m²', '1000000 cd/m²'],
    onlyUnit: 'cd/m²',
  }),
  frequency: measured('frequency', 'Hz, kHz', u.hertz, { range: 'above 0', within: ['0.001 Hz', '100000 kHz'] }),
  tempo: measured('tempo', 'bpm (beats a minute)', u.tempoBpm, {
    range: 'above 0',
    within: ['1 bpm', '1000 bpm'],
    onlyUnit: 'bpm',
  }),
  turning: measured('turning', 'rpm (turns a minute)', u.turningRpm, {
    range: 'any',
    within: ['0.001 rpm', '10000 rpm'],
    onlyUnit: 'rpm',
  }),
  speed: measured('speed', 'mm/s, cm/s, m/s', u.speedMmS, { range: 'from 0', within: ['0.001 mm/s', '1000 m/s'] }),
  share: measured('share', '%', u.share, { range: 'from 0 to 100', within: ['0.001 %', '10000 %'], onlyUnit: '%' }),
  /** Against real life: a day in a second is 8 640 000 %. */
  'playing-speed': measured('share', '%', u.share, { range: 'any', within: ['0.001 %', '90000000 %'], onlyUnit: '%' }),
  times: bare('a number of times', 'times, without a unit', u.number, /^[x×]$/i, ['0.01', '100']),
  'bit-rate': measured('bit-rate', 'kb/s, Mb/s, Gb/s (bits)', u.bitRate, {
    range: 'above 0',
    within: ['1 kb/s', '1000 Gb/s'],
  }),
  'byte-rate': measured('byte-rate', 'kB/s, MB/s, GB/s (bytes)', u.byteRate, {
    range: 'above 0',
    within: ['1 kB/s', '1000 GB/s'],
  }),
  bytes: measured('bytes', 'MB, GB, TB (1000s) or MiB, GiB, TiB (1024s)', u.bytes, {
    range: 'above 0',
    within: ['1 kB', '10000 TB'],
  }),
  loudness: measured('loudness', 'LUFS (LKFS is the same)', u.loudnessLufs, {
    range: 'any',
    within: ['0.01 LUFS', '100 LUFS'],
    onlyUnit: 'LUFS',
    near: { for: isDecibel, unit: 'LUFS', why: 'is a level in decibels, and loudness over time is in LUFS' },
  }),
  'true-peak': measured('true-peak', 'dBTP', u.truePeakDbtp, {
    range: 'any',
    within: ['0.01 dBTP', '100 dBTP'],
    onlyUnit: 'dBTP',
    near: { for: isDecibel, unit: 'dBTP', why: 'does not say that the true peak is meant' },
  }),
  decibels: measured('decibels', 'dB', u.decibels, { range: 'any', within: ['0.01 dB', '200 dB'], onlyUnit: 'dB' }),
  amps: measured('amps', 'A (amperes)', u.amps, { range: 'above 0', within: ['0.01 A', '10000 A'], onlyUnit: 'A' }),
  watts: measured('watts', 'W, kW', u.watts, { range: 'above 0', within: ['0.01 W', '1000 kW'] }),
  'watt-hours': measured('watt-hours', 'Wh', u.wattHours, {
    range: 'above 0',
    within: ['0.01 Wh', '1000000 Wh'],
    onlyUnit: 'Wh',
  }),
  weight: measured('weight', 'g, kg (oz, lb accepted)', u.weightG, {
    range: 'above 0',
    within: ['0.001 g', '100000 kg'],
  }),
  celsius: measured('celsius', '°C', u.celsius, { range: 'any', within: ['0.01 °C', '5000 °C'], onlyUnit: '°C' }),
  /** Of reading, in the settings alone. */
  pace: measured('pace', 'wpm (words a minute)', u.wordsPerMinute, { range: 'above 0', form: (n) => `${n} wpm` }),
  colour: written('a colour', 'six hexadecimal digits after #, in quotes', '#[0-9a-fA-F]{6}', u.colour),
  date: written('a date', 'year-month-day', String.raw`\d{4}-(?:0[1-9]|1[0-2])-(?:0[1-9]|[12]\d|3[01])`, u.dateDays),
  hours: written('a time of day', 'hours:minutes', String.raw`(?:[01]\d|2[0-3]):[0-5]\d`, u.minutesOfDay),
  timecode: written('a timecode', 'timecode, hours:minutes:seconds:frames', timecode, u.filmTime),
  region: {
    called: 'a region',
    units: 'country code, volts (V), hertz (Hz)',
    families: [],
    range: 'above 0',
    form: (n: string) => `(?:[A-Z]{2}(?: ${n} V)?(?: ${n} Hz)?|${n} V(?: ${n} Hz)?|${n} Hz)`,
    read: u.region,
    bounds: [
      between((text) => u.volts(/[\d.]+ V/.exec(text)?.[0] ?? ''), '1 V', '1000 V'),
      between((text) => u.hertz(/[\d.]+ Hz/.exec(text)?.[0] ?? ''), '1 Hz', '1000 Hz'),
    ],
  },
  country: written('a country', 'country code', '[A-Z]{2}'),
  chroma: written('a chroma sampling', '4:2:0, 4:2:2 or 4:4:4', undefined),
  path: written('a path', "path from the repo's root, with forward slashes", undefined),
  beside: written('a file in the same folder', 'name of a file in the same folder', undefined),
  clip: written('a path of a clip', 'path below the footage folder, with forward slashes', undefined),
  master: written('a path of a master', 'path below the masters folder, with forward slashes', undefined),
  /** In the settings alone, which name its currency. */
  amount: bare('an amount of money', 'an amount of money without its currency', u.number, /^(?:\p{Sc}|[A-Z]{3})$/u, [
    '0.0001',
    '100000000',
  ]),
  number: bare('a plain number', withoutUnit, u.number, /^(?:iso|asa)$/i, ['0.0001', '10000000']),
  'whole-number': bare(
    'a whole number',
    'a whole number without a unit',
    u.number,
    /^(?:x|×|bits?|-?bit|takes?|times|pieces?)$/i,
  ),
  'codec-level': bare('a codec level', withoutUnit, u.number, /^$/),
} as const satisfies Readonly<Record<string, Quantity>>;

export type QuantityName = keyof typeof quantities;

/** Quantities that are read as one number. */
export type MeasureName = {
  [Name in QuantityName]: (typeof quantities)[Name] extends Readable<number> ? Name : never;
}[QuantityName];

/** By the name that a schema gives; undefined for a field that is no quantity. */
export function quantityNamed(name: string | undefined): Quantity | undefined {
  return name !== undefined && Object.hasOwn(quantities, name) ? quantities[name as QuantityName] : undefined;
}
