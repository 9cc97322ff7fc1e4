/**
 * Units by family: the units that measure the same thing, each with its factor to the one that computations use, and
 * the other ways in which people write it. Readers, patterns and repairs are made from this.
 */

export interface Unit {
  /** To the unit of the answer of the family's reader. */
  readonly factor: number;
  /** Ways to write it that we understand and do not take, in small letters. */
  readonly ways: string;
  /** How it is written behind a 1: `1 stop`. */
  readonly one?: string;
}

export interface Family {
  /** What a message calls a value with such a unit. */
  readonly called: string;
  /** The units that files may have, as they are written there. */
  readonly units: Readonly<Record<string, Unit>>;
  /** Units that no field takes, and that can be read all the same. */
  readonly alsoRead?: Readonly<Record<string, number>>;
}

const unit = (factor: number, ways: string, one?: string): Unit => ({ factor, ways, ...(one && { one }) });

const prefixes = { '': 1, k: 1e3, M: 1e6, G: 1e9, T: 1e12, Ki: 1024, Mi: 1024 ** 2, Gi: 1024 ** 3, Ti: 1024 ** 4 };
const prefixed = (name: string) =>
  Object.fromEntries(Object.entries(prefixes).map(([prefix, factor]) => [prefix + name, factor]));

/** Where a unit belongs to several families, the first is the one that is meant. */
export const families = {
  length: {
    called: 'a length',
    units: {
      mm: unit(1, 'millimetre millimetres millimeter millimeters'),
      cm: unit(10, 'centimetre centimetres centimeter centimeters'),
      m: unit(1000, 'metre metres meter meters'),
      in: unit(25.4, 'inch inches " ″'),
      ft: unit(304.8, "foot feet ' ′"),
    },
  },
  time: {
    called: 'a time',
    units: {
      ms: unit(0.001, 'msec millisecond milliseconds'),
      s: unit(1, 'sec secs second seconds'),
      min: unit(60, 'mins minute minutes'),
      h: unit(3600, 'hr hrs hour hours'),
    },
  },
  beats: {
    called: 'a time in the film',
    units: { beats: unit(1, '', 'beat'), frames: unit(1, 'fr', 'frame') },
  },
  kelvin: { called: 'a colour temperature', units: { K: unit(1, 'kelvin kelvins °k') } },
  mired: { called: 'a shift in mired', units: { mired: unit(1, 'mireds mrd') } },
  stops: { called: 'a number of stops', units: { stops: unit(1, 'ev f-stops f-stop', 'stop') } },
  lux: { called: 'a light level', units: { lx: unit(1, 'lux') } },
  candela: { called: 'a light output', units: { cd: unit(1, 'candela') } },
  lumens: { called: 'a light output', units: { lm: unit(1, 'lumen lumens') } },
  luminance: {
    called: 'a brightness',
    units: { 'cd/m²': unit(1, 'cd/m2 cd/m^2 nit nits') },
    alsoRead: { 'cd/m2': 1 },
  },
  frequency: { called: 'a frequency', units: { Hz: unit(1, 'hertz'), kHz: unit(1000, 'kilohertz') } },
  tempo: { called: 'a tempo', units: { bpm: unit(1, '') } },
  turning: { called: 'a speed of turning', units: { rpm: unit(1, 'r/min turns/min') } },
  speed: {
    called: 'a speed',
    units: {
      'mm/s': unit(1, 'mm/sec mmps'),
      'cm/s': unit(10, 'cm/sec cmps'),
      'm/s': unit(1000, 'm/sec mps'),
    },
  },
  share: { called: 'a share in per cent', units: { '%': unit(0.01, 'percent pct per-cent') } },
  'bit-rate': {
    called: 'a bit rate',
    units: {
      'kb/s': unit(1e3, 'kbps kbit/s kbits/s'),
      'Mb/s': unit(1e6, 'mbps mbit/s mbits/s'),
      'Gb/s': unit(1e9, 'gbps gbit/s'),
    },
    alsoRead: prefixed('b/s'),
  },
  'byte-rate': {
    called: 'a byte rate',
    units: { 'kB/s': unit(1e3, 'kbps'), 'MB/s': unit(1e6, 'mbps mbyte/s'), 'GB/s': unit(1e9, 'gbps') },
    alsoRead: prefixed('B/s'),
  },
  bytes: {
    called: 'an amount of data',
    units: {
      kB: unit(1e3, ''),
      MB: unit(1e6, ''),
      GB: unit(1e9, ''),
      TB: unit(1e12, ''),
      KiB: unit(1024, ''),
      MiB: unit(1024 ** 2, ''),
      GiB: unit(1024 ** 3, ''),
      TiB: unit(1024 ** 4, ''),
    },
    alsoRead: prefixed('B'),
  },
  loudness: { called: 'a loudness', units: { LUFS: unit(1, ''), LKFS: unit(1, '') } },
  'true-peak': { called: 'a true peak', units: { dBTP: unit(1, '') } },
  decibels: { called: 'a level in decibels', units: { dB: unit(1, 'decibel decibels') } },
  volts: { called: 'a voltage', units: {}, alsoRead: { V: 1 } },
  amps: { called: 'a current', units: { A: unit(1, 'amp amps ampere amperes') }, alsoRead: { mA: 0.001 } },
  watts: { called: 'a power', units: { W: unit(1, 'watt watts'), kW: unit(1000, 'kilowatt kilowatts') } },
  'watt-hours': { called: 'an energy', units: { Wh: unit(1, 'watt-hours') } },
  weight: {
    called: 'a weight',
    units: {
      g: unit(1, 'gram grams gr'),
      kg: unit(1000, 'kgs kilo kilos kilogram kilograms'),
      lb: unit(453.59237, 'lbs pound pounds'),
      oz: unit(28.349523125, 'ounce ounces'),
    },
  },
  celsius: { called: 'a temperature', units: { '°C': unit(1, 'c ℃') } },
  angle: { called: 'an angle', units: { '°': unit(1, 'deg degs degree degrees') } },
  pace: { called: 'a pace of reading', units: {}, alsoRead: { wpm: 1 } },
} as const satisfies Readonly<Record<string, Family>>;

export type FamilyName = keyof typeof families;

export function familyNamed(name: FamilyName): Family {
  return families[name];
}

const unitsByWay = new Map(
  Object.entries<Family>(families).map(([name, { units }]) => [
    name as FamilyName,
    new Map(
      Object.entries(units).flatMap(([as, { ways, one = '' }]) =>
        [as, as.toLowerCase(), one, ...ways.split(' ')].filter(Boolean).map((way) => [way, as] as const),
      ),
    ),
  ]),
);

/** The unit of a family that somebody meant by a word. */
export function unitMeant(family: FamilyName, word: string): string | undefined {
  const units = unitsByWay.get(family);
  return units?.get(word) ?? units?.get(word.toLowerCase());
}

/** The families that know a unit as it is written. */
export function familiesWith(word: string): FamilyName[] {
  return [...unitsByWay].filter(([, units]) => units.has(word)).map(([name]) => name);
}

/** A number with its unit, as files have it. */
export function withUnit(number: string, unit: string): string {
  if (unit === '°') return `${number}°`;
  return `${number} ${Math.abs(Number(number)) === 1 ? (singulars.get(unit) ?? unit) : unit}`;
}

const singulars = new Map(
  Object.values<Family>(families).flatMap(({ units }) =>
    Object.entries(units).flatMap(([unit, { one }]) => (one ? [[unit, one] as const] : [])),
  ),
);

/** The units of a family as a pattern: `(?:mm|cm|m)`, `stops?`. */
export function unitsPattern(name: FamilyName): string {
  return patternOf(Object.entries(familyNamed(name).units));
}

/** As many digits before its point as the reader of a number takes. */
const mostDigits = 9;

/**
 * Numbers with the units of a family as a pattern, in which no number has more digits before its point than the most
 * that there is has in that unit.
 * @param most in the unit of the answer of the family's reader
 * @param number the pattern of what stands before the unit
 */
export function patternUpTo(name: FamilyName, most: number, number: (digits: number) => string): string {
  const byDigits = new Map<number, [string, Unit][]>();
  for (const entry of Object.entries(familyNamed(name).units)) {
    const digits = Math.min(mostDigits, String(Math.floor(most / entry[1].factor + 1e-6)).length);
    byDigits.set(digits, [...(byDigits.get(digits) ?? []), entry]);
  }
  const all = [...byDigits].map(([digits, units]) => `${number(digits)} ${patternOf(units)}`);
  return all.length === 1 ? all[0]! : `(?:${all.join('|')})`;
}

function patternOf(all: readonly (readonly [string, Unit])[]): string {
  const units = all.map(([unit, { one }]) => (one ? `${one}s?` : unit));
  return units.length === 1 ? units[0]! : `(?:${units.join('|')})`;
}
