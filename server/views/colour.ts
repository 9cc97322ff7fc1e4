/** Light and colour of a shot: its lamps on a temperature scale against the camera, and how bright things come out. */
import { stopsOver } from '../calc/exposure.ts';
import { kelvin, mired, temperatureHex } from '../calc/temperature.ts';
import { exposureError, wantedLux } from '../core/derived/light.ts';
import { shutterSeconds } from '../core/derived/time.ts';
import { wallLight } from '../core/derived/wall.ts';
import { brightestLight, neutralMired, warmerBy, type White, whitesOf } from '../core/derived/whites.ts';
import type { LampPlace, Shot } from '../core/film.ts';
import * as say from '../core/say.ts';
import { fitted, textWidth } from './measure.ts';
import {
  assign,
  blockRange,
  heading,
  margin,
  marksRow,
  type Noted,
  pageWidth,
  type Picture,
  type Place,
  type Source,
} from './picture.ts';
import { cornersOf, hatch } from './shapes.ts';
import { el, type El, from, ink, line, polygon, strokes, text } from './svg.ts';

const left = 190;
const right = pageWidth - margin - 20;

export function drawColour(source: Source, shot: Shot): Picture {
  const { camera } = shot;
  const lamps = shot.lit.map((lamp): Place & { lamp: LampPlace } => ({ lamp, ranges: [blockRange(lamp)] }));
  const roomPlace: Place = { ranges: [blockRange(shot.room)] };
  const balance: Place = { ranges: [camera.whiteBalance] };
  const exposure: Place = {
    ranges: [camera.iso, camera.shutter, camera.aperture, camera.exposure, ...camera.filterNames, shot.keyToFill],
  };
  const wall: Place = { ranges: [shot.backdrop?.tone, shot.backdrop?.brightness, shot.backdrop?.reflects] };
  const head: Place = { ranges: [shot, blockRange(shot)] };
  const { noted, at } = assign(source, [...lamps, roomPlace, balance, exposure, wall, head], shot.name);
  const body: El[] = [heading(`${shot.name}: light and colour`, settingsWords(shot), shot, at(head))];
  let y = 84;
  const temperatures = temperatureScale(shot, y, {
    balance: at(balance),
    of: (lamp) => at(lamps.find((one) => one.lamp === lamp)!),
    room: at(roomPlace),
  });
  body.push(...temperatures.body);
  y = temperatures.bottom + 30;
  const stops = stopsScale(shot, y, { exposure: at(exposure), wall: at(wall) });
  body.push(...stops.body);
  return {
    view: 'colour',
    title: `${shot.name}: light and colour`,
    description: `${settingsWords(shot)}. ${temperatures.words.join('; ')}. ${stops.words.join('; ')}.`,
    width: pageWidth,
    height: stops.bottom,
    body,
    noted,
  };
}

function settingsWords(shot: Shot): string {
  const { camera } = shot;
  const shutter = shutterSeconds(shot);
  return [
    camera.whiteBalance ? `white balance ${camera.whiteBalance.text}` : 'white balance not said',
    shutter === undefined ? (camera.shutter?.text ?? 'shutter not said') : say.shutterText(shutter),
    camera.aperture?.text ?? 'aperture not said',
    camera.iso ? `ISO ${camera.iso.text}` : 'ISO not said',
    ...camera.filterNames.map((one) => one.value),
  ].join(' · ');
}

interface Drawn {
  readonly body: readonly El[];
  readonly bottom: number;
  readonly words: readonly string[];
}

// ---- temperature -------------------------------------------------------------------------------------------------

const [warmest, coolest] = [2000, 10_000];
const marksAt = [2000, 2500, 3200, 4000, 5000, 5600, 6500, 8000, 10_000];

/** Evenly spaced in mired, warm on the left: equal steps look about equal. */
export function temperatureX(kelvins: number): number {
  const [from, to] = [mired(warmest), mired(coolest)];
  const part = (from - mired(Math.min(coolest, Math.max(warmest, kelvins)))) / (from - to);
  return left + part * (right - left);
}

function temperatureScale(
  shot: Shot,
  top: number,
  notes: { balance: readonly Noted[]; room: readonly Noted[]; of: (lamp: LampPlace) => readonly Noted[] },
): Drawn {
  const all = [...whitesOf(shot).all, ...backdropWhites(shot)];
  const neutral = neutralMired(shot);
  const coloured = shot.lit.filter((lamp) => !all.some((one) => one.lamp === lamp));
  const body: El[] = [text({ x: margin, y: top + 16 }, 'Colour of the light', { size: 13, bold: true })];
  const stripY = top + 6;
  const count = 60;
  const width = (right - left) / count;
  for (let index = 0; index < count; index++) {
    const at = mired(warmest) + ((mired(coolest) - mired(warmest)) * (index + 0.5)) / count;
    body.push(
      el('rect', {
        x: left + index * width,
        y: stripY,
        width: width + 0.3,
        height: 14,
        fill: temperatureHex(kelvin(at)),
      }),
    );
  }
  body.push(polygon(cornersOf({ x: left, y: stripY, width: right - left, height: 14 })));
  for (const mark of marksAt) {
    const x = temperatureX(mark);
    body.push(
      line({ x, y: stripY + 14 }, { x, y: stripY + 19 }),
      text({ x, y: stripY + 31 }, `${mark} K`, { size: 10.5, anchor: 'middle' }),
    );
  }
  let y = stripY + 46;
  body.push(...balanceLine(shot, neutral, y, y + 26 * (all.length + coloured.length), notes.balance));
  const words: string[] = [];
  for (const white of all) {
    const row = whiteRow(white, neutral, y, white.lamp ? notes.of(white.lamp) : notes.room);
    body.push(...row.body);
    words.push(row.words);
    y += 26;
  }
  for (const lamp of coloured) {
    const said = lamp.colour ? `coloured ${lamp.colour.value}` : 'temperature not known';
    const swatch = el('rect', {
      x: left,
      y: y + 3,
      width: 14,
      height: 14,
      fill: lamp.colour?.value ?? ink.paper,
      stroke: ink.ink,
    });
    body.push(
      from(lamp, [name(lamp.name, y), swatch, text({ x: left + 22, y: y + 15 }, said, { size: 12 })]),
      ...marksRow({ x: left + 180, y: y + 10 }, notes.of(lamp)),
    );
    words.push(`${lamp.name}: ${said}`);
    y += 26;
  }
  return { body, bottom: y + 22, words };
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

function name(words: string, y: number, marks = 0): El {
  return text({ x: margin, y: y + 15 }, fitted(words, 12, left - margin - 8 - marks * 25, true), {
    size: 12,
    bold: true,
  });
}

function shareWords({ lamp, share }: White): string {
  return lamp?.aim === 'backdrop' ? 'on the backdrop' : `${say.percentText(share)} of the light`;
}

/** A lamp as a diamond on the scale; a change as a bar between its ends; how far it is from neutral in words. */
function whiteRow(
  white: White,
  neutral: number | undefined,
  y: number,
  noted: readonly Noted[],
): { body: El[]; words: string } {
  const [x, end] = [temperatureX(kelvin(white.mired.from)), temperatureX(kelvin(white.mired.to))];
  const who = white.lamp?.name ?? 'room';
  const off = neutral === undefined ? 0 : warmerBy(white, neutral);
  const against =
    neutral === undefined
      ? ''
      : Math.abs(off) < 0.5
        ? ', neutral'
        : `, ${say.num(Math.abs(off), 0)} mired ${off > 0 ? 'warmer' : 'bluer'}`;
  const dimmed = white.dimmedTo ? ` at ${say.percentText(white.dimmedTo.from)}` : '';
  const behind = white.warms ? ' behind its filter' : '';
  const filtered = dimmed || behind ? `${dimmed}${behind} (${say.kelvinText(kelvin(white.mired.from))})` : '';
  const words = `${white.temperature.text}${filtered}${against}`;
  const middle = y + 11;
  const diamond = (at: number) =>
    polygon(
      [
        { x: at, y: middle - 7 },
        { x: at + 7, y: middle },
        { x: at, y: middle + 7 },
        { x: at - 7, y: middle },
      ],
      { fill: temperatureHex(kelvin(white.mired.from)), 'stroke-width': 1.4 },
    );
  const beside = Math.max(x, end) + 14;
  const room = right - beside > textWidth(words, 12);
  const label = room
    ? text({ x: beside, y: y + 15 }, words, { size: 12, halo: true })
    : text({ x: Math.min(x, end) - 14, y: y + 15 }, words, { size: 12, anchor: 'end', halo: true });
  const body = [
    line({ x: left, y: middle }, { x: right, y: middle }, { stroke: ink.faint }),
    from(white.lamp ?? white.room, [name(`${who}, ${shareWords(white)}`, y, noted.length)]),
    from(white.temperature, [
      ...(end === x ? [] : [line({ x, y: middle }, { x: end, y: middle }, { 'stroke-width': 4 }), diamond(end)]),
      diamond(x),
      label,
    ]),
    ...marksRow({ x: left - 16 - (noted.length - 1) * 25, y: middle }, noted),
  ];
  return { body, words: `${who} ${words}` };
}

function balanceLine(
  { camera }: Shot,
  neutral: number | undefined,
  top: number,
  bottom: number,
  noted: readonly Noted[],
): El[] {
  const { whiteBalance } = camera;
  if (neutral === undefined) {
    const words = whiteBalance
      ? 'The camera balances by itself: nothing holds.'
      : 'White balance is not said: the camera decides.';
    return [
      from(whiteBalance, [text({ x: left, y: bottom + 14 }, words, { size: 12 })]),
      ...marksRow({ x: left + 290, y: bottom + 10 }, noted),
    ];
  }
  const x = temperatureX(kelvin(neutral));
  const anchor = x > right - 120 ? 'end' : x < left + 120 ? 'start' : 'middle';
  const words = `neutral for the camera: ${say.kelvinText(kelvin(neutral))}`;
  return [
    from(whiteBalance, [
      line({ x, y: top - 8 }, { x, y: bottom + 2 }, { 'stroke-width': 1.6, 'stroke-dasharray': '6 3' }),
      polygon(
        [
          { x, y: bottom },
          { x: x - 5, y: bottom + 8 },
          { x: x + 5, y: bottom + 8 },
        ],
        { fill: ink.ink },
      ),
      text({ x, y: bottom + 20 }, words, { size: 12, bold: true, anchor }),
    ]),
    ...marksRow({ x: x + (anchor === 'end' ? 16 : 130), y: bottom + 15 }, noted),
  ];
}

// ---- brightness --------------------------------------------------------------------------------------------------

const span = 5;

/** Stops on the page, 0 in the middle; what lies beyond the scale is drawn at its end. */
export function stopsX(stops: number): number {
  return left + ((Math.max(-span, Math.min(span, stops)) + span) / (2 * span)) * (right - left);
}

interface Level {
  readonly name: string;
  readonly stops: number;
  readonly words: string;
  readonly range?: Parameters<typeof from>[0];
  readonly strong?: boolean;
}

function stopsScale(shot: Shot, top: number, notes: { exposure: readonly Noted[]; wall: readonly Noted[] }): Drawn {
  const body: El[] = [
    text({ x: margin, y: top + 16 }, 'Brightness in stops', { size: 13, bold: true }),
    ...marksRow({ x: left + 330, y: top + 11 }, [...notes.exposure, ...notes.wall]),
  ];
  const levels = levelsOf(shot);
  const ratio = ratioWords(shot);
  const axis = top + (ratio ? 52 : 34);
  if (ratio) body.push(from(shot.keyToFill, [text({ x: left, y: top + 16 }, ratio, { size: 12 })]));
  for (let stop = -span; stop <= span; stop++) {
    const x = stopsX(stop);
    body.push(
      line({ x, y: axis }, { x, y: axis + 6 }),
      text({ x, y: axis - 5 }, stop > 0 ? `+${stop}` : String(stop).replace('-', '−'), {
        size: 10.5,
        anchor: 'middle',
      }),
    );
  }
  body.push(line({ x: left, y: axis }, { x: right, y: axis }));
  let y = axis + 12;
  if (levels.length === 0) {
    const words = 'Not known: settings are automatic or not said, or a lamp has no output or place.';
    body.push(text({ x: left, y: y + 15 }, words, { size: 12 }));
    return { body, bottom: y + 34, words: [words] };
  }
  const bottom = y + levels.length * 26;
  body.push(...plannedLine(shot, axis, bottom));
  for (const one of levels) {
    body.push(...levelRow(one, y));
    y += 26;
  }
  return { body, bottom: bottom + 30, words: levels.map((one) => `${one.name}: ${one.words}`) };
}

/** Key against fill, where both are known. */
function ratioWords(shot: Shot): string | undefined {
  const { key, lamps } = brightestLight(shot);
  const fill = lamps.find((one) => one.lamp.role?.value === 'fill');
  if (!key || !fill || key === fill || fill.lux <= 0 || key.lux <= 0) return undefined;
  const stops = Math.log2(key.lux / fill.lux);
  const wanted = shot.keyToFill ? `, ${shot.keyToFill.text} wanted` : '';
  return `${key.lamp.name} is ${say.brighterText(stops)} than ${fill.lamp.name}${wanted}`;
}

/** All against what the settings make middle grey of; 0 is what the meter wants. */
function levelsOf(shot: Shot): Level[] {
  const wanted = wantedLux(shot);
  const planned = shot.camera.exposure?.value ?? 0;
  const error = exposureError(shot, 0);
  const light = brightestLight(shot);
  const levels: Level[] = [];
  if (error !== undefined) {
    const what = shot.camera.meter === 'backdrop' ? 'screen' : shot.subject.name;
    const off = Math.abs(error) < 0.05 ? 'as planned' : `${say.brighterText(error)} than planned`;
    levels.push({
      name: what,
      stops: error + planned,
      words: off,
      strong: true,
      range: shot.camera.exposure ?? shot.subject,
    });
  }
  if (wanted === undefined) return levels;
  for (const { lamp, lux, share } of light.lamps) {
    if (lux <= 0) continue;
    levels.push({
      name: lamp.name,
      stops: stopsOver(lux, wanted),
      words: `${say.luxText(lux)}, ${say.percentText(share)} of the light`,
      range: lamp.level ?? lamp,
    });
  }
  if (light.roomLux > 0)
    levels.push({
      name: 'room',
      stops: stopsOver(light.roomLux, wanted),
      words: `${say.luxText(light.roomLux)}, ${say.percentText(light.roomShare)} of the light`,
      range: shot.room?.light,
    });
  const wall = shot.backdrop?.screenName ? undefined : wallLight(shot, 0);
  if (wall?.complete && wall.totalLux > 0)
    levels.push({
      name: 'light on the backdrop',
      stops: stopsOver(wall.totalLux, wanted),
      words: say.luxText(wall.totalLux),
      range: shot.backdrop?.behind,
    });
  return levels;
}

function levelRow({ name: who, stops, words, range, strong }: Level, y: number): El[] {
  const [zero, x] = [stopsX(0), stopsX(stops)];
  const box = cornersOf({ x: Math.min(zero, x), y: y + 4, width: Math.abs(x - zero), height: 14 });
  const bar = strong ? polygon(box, { fill: ink.ink }) : polygon(box, { fill: ink.shade });
  const lines = strong ? [] : [strokes(hatch(box, 5, stops < 0 ? 135 : 45), { stroke: ink.line, 'stroke-width': 0.8 })];
  const beyond = Math.abs(stops) > span ? ` (${say.num(stops, 1)})` : '';
  const said = `${signed(stops)}${beyond ? ' beyond the scale' : ''}: ${words}`;
  const onRight = x >= zero ? right - x > 250 : right - zero > 250;
  const at = onRight ? Math.max(x, zero) + 8 : Math.min(x, zero) - 8;
  return [
    from(range, [
      name(who, y),
      bar,
      ...lines,
      text({ x: at, y: y + 15 }, said, { size: 12, anchor: onRight ? 'start' : 'end', halo: true, bold: strong }),
    ]),
  ];
}

function signed(stops: number): string {
  const words = say.num(Math.abs(stops), 1);
  return `${words === '0' ? '' : stops > 0 ? '+' : '−'}${words}`;
}

/** Where the metered thing is meant to be. */
function plannedLine({ camera }: Shot, top: number, bottom: number): El[] {
  const planned = camera.exposure?.value ?? 0;
  const x = stopsX(planned);
  const words = planned === 0 ? 'middle grey' : `planned: ${camera.exposure!.text} from middle grey`;
  return [
    from(camera.exposure, [
      line({ x, y: top }, { x, y: bottom + 4 }, { 'stroke-width': 1.6, 'stroke-dasharray': '6 3' }),
      text({ x, y: bottom + 18 }, words, { size: 12, bold: true, anchor: 'middle' }),
    ]),
  ];
}
