/** The quantities that topics take. A key that names its unit (`rpm`, `watts`, `lux`) takes a bare number as well. */
import type { CodecProfile, CodecTier, Chroma, LevelledCodec } from '../calc/codec.ts';
import { parseHex, type Rgb } from '../calc/colour.ts';
import * as units from '../core/units.ts';
import type { Quantity } from './topic.ts';

/** Beyond these nothing is a size that occurs, and arithmetic would run over. */
const [least, most] = [1e-9, 1e12];

/** A quantity of which there is some: above 0. */
function some(read: units.Reader<number>, example: string, largest = most): Quantity<number> {
  return {
    read,
    example,
    refuse: (value) => {
      if (value <= 0) return 'must be above 0';
      return value < least ? 'is too small' : value > largest ? 'is too large' : undefined;
    },
  };
}

function whole(example: string, largest: number, from = 0): Quantity<number> {
  const refuse = (value: number) => {
    if (!Number.isInteger(value) || value < from) return `must be a whole number, ${from} or more`;
    return value > largest ? `must be at most ${largest}` : undefined;
  };
  return { read: units.number, example, refuse };
}

const orBare =
  (read: units.Reader<number>): units.Reader<number> =>
  (text) =>
    units.number(text) ?? read(text);

export const length = (example: string) => some(units.lengthMm, example);
export const aperture = some(units.aperture, 'f/2.8');
/** A shutter time; an angle says no time by itself. */
export const exposureTime = (example: string) =>
  some((text) => {
    const written = units.shutter(text);
    if (written) return written.kind === 'time' ? written.s : undefined;
    return units.realTimeS(text);
  }, example);
export const realTime = some(units.realTimeS, '10 min');
export const iso = some(units.number, '400');
export const lux = some(orBare(units.lux), '800 lx');
export const candela = some(orBare(units.candela), '1200 cd');
export const lumens = some(orBare(units.lumens), '5000 lm');
export const hertz = (example: string) => some(units.hertz, example);
export const flashRate = some(units.hertz, '4 Hz', 1000);
export const kelvin = some(units.kelvin, '3200 K');
export const bitrate = some(units.bitRate, '20 Mb/s');
export const tempo = some(units.tempoBpm, '120 bpm', 10_000);
export const rpm = some(orBare(units.turningRpm), '2 rpm');
export const speed = some(units.speedMmS, '20 mm/s');
export const pxPerMm = some(units.number, '10');
export const wpm = some(orBare(units.wordsPerMinute), '160 wpm');
export const volts = some(orBare(units.volts), '230 V');
export const amps = some(orBare(units.amps), '16 A');
export const watts = some(orBare(units.watts), '300 W');
export const powerFactor: Quantity<number> = { ...some(units.number, '0.9'), refuse: upToOne };
export const frames = whole('1800', 1e9);
export const beatCount = whole('8', 10_000, 1);
export const depth: Quantity<number> = whole('10', 32, 1);
export const rate = { read: units.rate, example: '25' };

/** Plain degrees, as `10°`, `10 deg` or `10`: a sign that few keyboards have. Camera left and right mean nothing here. */
const degrees: units.Reader<number> = (text) => units.angleDeg(`${text.replace(/°$| ?deg$/, '')}°`);
export const shutterAngle: Quantity<number> = some(degrees, '180°');
export const beam: Quantity<number> = {
  ...some(degrees, '60°'),
  refuse: (value) => (value > 0 && value <= 360 ? undefined : 'must be above 0° and at most 360°'),
};
export const tilt = (example: string, largest: number): Quantity<number> => ({
  read: degrees,
  example,
  refuse: (value) => (Math.abs(value) <= largest ? undefined : `must lie between -${largest}° and ${largest}°`),
});

export const area: Quantity<number> = {
  read: units.share,
  example: '30 %',
  refuse: (value) => (value >= 0 && value <= 1 ? undefined : 'must lie between 0 % and 100 %'),
};

/** White of an ordinary display, cd/m², so that the 20 and 160 of ITU-R BT.1702-3 are the 10 % and 80 % of WCAG 2.3.1. */
const whiteCdM2 = 200;
/** Of white, 1 is all of it: a share of it, or cd/m² of an ordinary display. */
export const brightness: Quantity<number> = {
  read: (written) => {
    const cdM2 = units.luminance(written);
    return cdM2 === undefined ? units.share(written) : cdM2 / whiteCdM2;
  },
  example: '100 %',
  refuse: (value) => (value >= 0 && value <= 1 ? undefined : `must lie between 0 % and 100 % (${whiteCdM2} cd/m²)`),
};

export const raster: Quantity<units.Raster> = {
  read: units.raster,
  example: '1920x1080',
  refuse: ({ width, height }) => (Math.max(width, height) <= 100_000 ? undefined : 'is too large'),
};

/** A sensor: `36 x 24 mm`, also without the spaces. */
export const sensor: Quantity<units.Box> = {
  read: (written) => {
    const box = units.sizeMm(written.replace(/(\d) ?x ?(?=\d)/g, '$1 x '));
    return box?.depthMm === undefined ? box : undefined;
  },
  example: '36 x 24 mm',
  refuse: ({ widthMm, heightMm }) => (widthMm > 0 && heightMm > 0 ? undefined : 'must be above 0'),
};

/** `#7a3b2e` or `#777`, encoded sRGB. */
export const colour = (example: string): Quantity<Rgb> => ({ read: parseHex, example });

export const text: Quantity<string> = {
  read: (written) => (written.length <= 10_000 ? written : undefined),
  example: 'Wound by hand since 1911',
  refuse: (written) => (/[\p{L}\p{N}]/u.test(written) ? undefined : 'has no word to read'),
};

function upToOne(factor: number): string | undefined {
  return factor > 0 && factor <= 1 ? undefined : 'must be above 0 and no more than 1';
}

/** One of some words. */
function word<const T extends string>(...words: readonly T[]): Quantity<T> {
  return { read: (written) => words.find((one) => one === written), example: words[0]!, words };
}

export const codec = word<LevelledCodec>('h264', 'h265');
export const profile = word<CodecProfile>(
  'high',
  'main',
  'baseline',
  'high-10',
  'high-4-2-2',
  'main-10',
  'main-4-2-2-10',
);
export const tier = word<CodecTier>('main', 'high');
export const chroma = word<Chroma>('4:2:2', '4:2:0', '4:4:4');
const truths: Readonly<Record<string, 'yes' | 'no'>> = { yes: 'yes', true: 'yes', no: 'no', false: 'no' };
export const yesNo: Quantity<'yes' | 'no'> = {
  read: (written) => truths[written],
  example: 'yes',
  words: ['yes', 'no'],
};
export const circuitRule = word('full-rating', 'nec-continuous');
