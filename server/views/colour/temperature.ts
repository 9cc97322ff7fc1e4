/** The colours of the lamps on a scale that is even in mired. */
import { kelvin, mired, temperatureHex } from '../../calc/temperature.ts';
import { neutralMired, warmerBy, type White, whitesOf } from '../../core/derived/white-points.ts';
import type { LampPlace, Shot } from '../../core/film.ts';
import * as say from '../../core/say.ts';
import { textWidth } from '../measure.ts';
import { letters, pageFor, smallest, usualRoom } from '../page.ts';
import { type Drawn, type Noted, paragraph } from '../picture.ts';
import { cornersOf } from '../shapes.ts';
import { el, type El, from, ink, line, type Point, polygon, text } from '../svg.ts';
import { type Band, bandHead, bandOf, bandRow, held } from './rows.ts';

const [warmest, coolest] = [2000, 10_000];
const marksAt = [2000, 2500, 3200, 4000, 5000, 5600, 6500, 8000, 10_000];

/** Evenly spaced in mired, warm on the left: equal steps look about equal. */
export function temperatureX(kelvins: number, { left, right }: Band = bandOf(pageFor(usualRoom))): number {
  const [start, end] = [mired(warmest), mired(coolest)];
  const part = (start - mired(Math.min(coolest, Math.max(warmest, kelvins)))) / (start - end);
  return left + part * (right - left);
}

export interface TemperatureNotes {
  readonly balance: readonly Noted[];
  readonly room: readonly Noted[];
  of(lamp: LampPlace): readonly Noted[];
}

/** The scale as drawn, and what it says. */
export interface Said extends Drawn {
  readonly words: readonly string[];
}

export function temperatureScale(shot: Shot, band: Band, top: number, notes: TemperatureNotes): Said {
  const all = [...whitesOf(shot).all, ...backdropWhites(shot)];
  const neutral = neutralMired(shot);
  const coloured = shot.lit.filter((lamp) => !all.some((one) => one.lamp === lamp));
  const head = bandHead(band, 'Colour of the light', top);
  const strip = stripOf(band, band.page.narrow ? head.bottom + 4 : top + 2);
  const body = [...head.body, ...strip.body];
  const words: string[] = [];
  let y = Math.max(head.bottom, strip.bottom) + 6;
  for (const white of all) {
    const row = whiteRow(white, neutral, band, y, white.lamp ? notes.of(white.lamp) : notes.room);
    body.push(...row.body);
    words.push(...row.words);
    y = row.bottom;
  }
  for (const lamp of coloured) {
    const row = colouredRow(lamp, band, y, notes.of(lamp));
    body.push(...row.body);
    words.push(...row.words);
    y = row.bottom;
  }
  const balance = balanceWords(shot, neutral, band, y, notes.balance);
  return { body: [...body, ...balance.body], bottom: balance.bottom, words };
}

/** The colours themselves, with the temperatures that have room. */
function stripOf(band: Band, y: number): Drawn {
  const { left, right } = band;
  const count = 60;
  const width = (right - left) / count;
  const colours = Array.from({ length: count }, (_, index) => {
    const at = mired(warmest) + ((mired(coolest) - mired(warmest)) * (index + 0.5)) / count;
    return el('rect', { x: left + index * width, y, width: width + 0.3, height: 14, fill: temperatureHex(kelvin(at)) });
  });
  let free = -Infinity;
  const ticks = marksAt.flatMap((mark) => {
    const x = temperatureX(mark, band);
    const words = `${mark} K`;
    const half = textWidth(words, smallest) / 2;
    if (x - half < free) return [];
    free = x + half + 8;
    return [
      line({ x, y: y + 14 }, { x, y: y + 19 }),
      text({ x: held(words, x, band, smallest), y: y + 31 }, words, { size: smallest, anchor: 'middle' }),
    ];
  });
  const rim = polygon(cornersOf({ x: left, y, width: right - left, height: 14 }));
  return { body: [...colours, rim, ...ticks], bottom: y + 36 };
}

/** White lamps on the backdrop: they give nothing to the face, and are seen behind it. */
function backdropWhites({ lit }: Shot): White[] {
  return lit.flatMap((lamp) => {
    if (lamp.aim !== 'backdrop' || lamp.colour || !lamp.temperature) return [];
    const warms = lamp.modifiers.reduce((sum, modifier) => sum + modifier.warms, 0);
    const { from: start, to } = lamp.temperature.value;
    const ends = { from: mired(start) + warms, to: mired(to) + warms };
    return [{ lamp, share: 0, temperature: lamp.temperature, warms, mired: ends }];
  });
}

/** A lamp as a diamond on the scale; a change as a bar between its ends. */
function whiteRow(white: White, neutral: number | undefined, band: Band, top: number, noted: readonly Noted[]): Said {
  const who = white.lamp?.name ?? 'room';
  const words = whiteWords(white, neutral);
  const row = bandRow(band, top, {
    name: `${who}, ${shareWords(white)}`,
    nameAt: white.lamp ?? white.room,
    words,
    wordsAt: white.temperature,
    noted,
  });
  const [x, end] = [temperatureX(kelvin(white.mired.from), band), temperatureX(kelvin(white.mired.to), band)];
  const { middle } = row;
  const fill = temperatureHex(kelvin(white.mired.from));
  const change = line({ x, y: middle }, { x: end, y: middle }, { 'stroke-width': 4 });
  const signs = [...(end === x ? [] : [change, diamond({ x: end, y: middle }, fill)]), diamond({ x, y: middle }, fill)];
  return {
    body: [...neutralTick(neutral, band, middle), from(white.temperature, signs), ...row.body],
    bottom: row.bottom,
    words: [`${who} ${words}`],
  };
}

/** The line that a row stands on, and on it where neutral is. */
function neutralTick(neutral: number | undefined, band: Band, y: number): El[] {
  const base = line({ x: band.left, y }, { x: band.right, y }, { stroke: ink.faint });
  if (neutral === undefined) return [base];
  const x = temperatureX(kelvin(neutral), band);
  return [base, line({ x, y: y - 11 }, { x, y: y + 11 }, { 'stroke-width': 1.6 })];
}

function diamond({ x, y }: Point, fill: string): El {
  const points = [
    { x, y: y - 7 },
    { x: x + 7, y },
    { x, y: y + 7 },
    { x: x - 7, y },
  ];
  return polygon(points, { fill, 'stroke-width': 1.4 });
}

function shareWords({ lamp, share }: White): string {
  return lamp?.aim === 'backdrop' ? 'on the backdrop' : `${say.percentText(share)} of the light`;
}

/** Its temperature, what changes that on the way, and how far it is from neutral. */
function whiteWords(white: White, neutral: number | undefined): string {
  const dimmed = white.dimmedTo ? ` at ${say.percentText(white.dimmedTo.from)}` : '';
  const behind = white.warms ? ' behind its filter' : '';
  const filtered = dimmed || behind ? `${dimmed}${behind} (${say.kelvinText(kelvin(white.mired.from))})` : '';
  return `${white.temperature.text}${filtered}${offWords(white, neutral)}`;
}

function offWords(white: White, neutral: number | undefined): string {
  if (neutral === undefined) return '';
  const off = warmerBy(white, neutral);
  return Math.abs(off) < 0.5 ? ', neutral' : `, ${say.num(Math.abs(off), 0)} mired ${off > 0 ? 'warmer' : 'bluer'}`;
}

function colouredRow(lamp: LampPlace, band: Band, top: number, noted: readonly Noted[]): Said {
  const words = lamp.colour ? `coloured ${lamp.colour.value}` : 'temperature not known';
  const row = bandRow(band, top, { name: lamp.name, nameAt: lamp, words, wordsAt: lamp.colour ?? lamp, noted });
  const fill = lamp.colour?.value ?? ink.paper;
  const swatch = el('rect', { x: band.left, y: row.middle - 7, width: 14, height: 14, fill, stroke: ink.ink });
  return { body: [from(lamp, [swatch]), ...row.body], bottom: row.bottom, words: [`${lamp.name}: ${words}`] };
}

/** Below the rows: what is neutral. */
function balanceWords(
  { camera: { whiteBalance } }: Shot,
  neutral: number | undefined,
  band: Band,
  top: number,
  noted: readonly Noted[],
): Drawn {
  const { page, left, right } = band;
  const said = { range: whiteBalance, noted };
  if (neutral === undefined) {
    const words = whiteBalance
      ? 'The camera balances by itself: nothing holds.'
      : 'White balance is not said: the camera decides.';
    return paragraph({ x: page.narrow ? page.left : left, y: top + 2 }, page, words, said);
  }
  const x = temperatureX(kelvin(neutral), band);
  const sign = polygon(
    [
      { x, y: top + 1 },
      { x: x - 5, y: top + 9 },
      { x: x + 5, y: top + 9 },
    ],
    { fill: ink.ink },
  );
  const words = `neutral for the camera: ${say.kelvinText(kelvin(neutral))}`;
  const width = textWidth(words, letters.words, true);
  const start = Math.max(page.left, Math.min(x - width / 2, (page.narrow ? page.right : right) - width));
  const below = paragraph({ x: start, y: top + 11 }, page, words, { ...said, bold: true });
  return { body: [from(whiteBalance, [sign]), ...below.body], bottom: below.bottom };
}
