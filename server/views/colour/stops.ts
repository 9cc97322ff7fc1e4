/** How bright things come out, in stops from middle grey. */
import { stopsOver } from '../../calc/exposure.ts';
import { exposureError, wantedLux } from '../../core/derived/light.ts';
import { backdropLight } from '../../core/derived/backdrop-light.ts';
import { brightestLight } from '../../core/derived/white-points.ts';
import type { Shot } from '../../core/film.ts';
import * as say from '../../core/say.ts';
import { pageFor, smallest, usualRoom } from '../page.ts';
import { type Drawn, type Noted, paragraph } from '../picture.ts';
import { cornersOf, hatch } from '../shapes.ts';
import { type El, from, ink, line, polygon, strokes, text } from '../svg.ts';
import { type Band, bandHead, bandOf, bandRow, held } from './rows.ts';
import type { Said } from './temperature.ts';

const span = 5;

/** Stops on the page, 0 in the middle; what lies beyond the scale is drawn at its end. */
export function stopsX(stops: number, { left, right }: Band = bandOf(pageFor(usualRoom))): number {
  return left + ((Math.max(-span, Math.min(span, stops)) + span) / (2 * span)) * (right - left);
}

interface Level {
  readonly name: string;
  readonly stops: number;
  readonly words: string;
  readonly range?: Parameters<typeof from>[0];
  readonly strong?: boolean;
}

export function stopsScale(shot: Shot, band: Band, top: number, noted: readonly Noted[]): Said {
  const { page } = band;
  const head = bandHead(band, 'Brightness in stops', top, noted);
  const levels = levelsOf(shot);
  const ratio = ratioWords(shot);
  const said = ratio
    ? paragraph({ x: page.narrow ? page.left : band.left, y: page.narrow ? head.bottom : top }, page, ratio, {
        range: shot.keyToFill,
      })
    : { body: [], bottom: page.narrow ? head.bottom : top };
  const axis = axisAt(band, said.bottom + 4);
  const body = [...head.body, ...said.body, ...axis.body];
  const start = Math.max(head.bottom, axis.bottom) + 4;
  if (levels.length === 0) {
    const words = 'Not known: settings are automatic or not said, or a lamp has no output or place.';
    const none = paragraph({ x: page.narrow ? page.left : band.left, y: start }, page, words);
    return { body: [...body, ...none.body], bottom: none.bottom + 6, words: [words] };
  }
  const planned = shot.camera.exposure?.value ?? 0;
  let y = start;
  for (const one of levels) {
    const row = levelRow(one, planned, band, y);
    body.push(...row.body);
    y = row.bottom;
  }
  const below = plannedWords(shot, band, y);
  return {
    body: [...body, ...below.body],
    bottom: below.bottom,
    words: levels.map((one) => `${one.name}: ${one.words}`),
  };
}

function axisAt(band: Band, top: number): Drawn {
  const y = top + 16;
  const marks = Array.from({ length: 2 * span + 1 }, (_, index) => index - span);
  const body = marks.flatMap((stop) => {
    const x = stopsX(stop, band);
    const words = stop > 0 ? `+${stop}` : String(stop).replace('-', '−');
    return [
      line({ x, y }, { x, y: y + 6 }),
      text({ x: held(words, x, band, smallest), y: y - 4 }, words, { size: smallest, anchor: 'middle' }),
    ];
  });
  return { body: [...body, line({ x: band.left, y }, { x: band.right, y })], bottom: y + 8 };
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
  return [...meteredLevel(shot), ...(wanted === undefined ? [] : lightLevels(shot, wanted))];
}

function meteredLevel(shot: Shot): Level[] {
  const error = exposureError(shot, 0);
  if (error === undefined) return [];
  const { exposure, meter } = shot.camera;
  return [
    {
      name: meter === 'backdrop' ? 'screen' : shot.subject.name,
      stops: error + (exposure?.value ?? 0),
      words: Math.abs(error) < say.asPlannedStops ? 'as planned' : `${say.brighterText(error)} than planned`,
      strong: true,
      range: exposure ?? shot.subject,
    },
  ];
}

function lightLevels(shot: Shot, wanted: number): Level[] {
  const { lamps, roomLux, roomShare } = brightestLight(shot);
  const level = (name: string, lux: number, range: Level['range'], share?: number): Level => ({
    name,
    stops: stopsOver(lux, wanted),
    words: share === undefined ? say.luxText(lux) : `${say.luxText(lux)}, ${say.percentText(share)} of the light`,
    range,
  });
  const wall = shot.backdrop?.screenName ? undefined : backdropLight(shot, 0);
  return [
    ...lamps.flatMap(({ lamp, lux, share }) => (lux > 0 ? level(lamp.name, lux, lamp.level ?? lamp, share) : [])),
    ...(roomLux > 0 ? [level('room', roomLux, shot.room?.light, roomShare)] : []),
    ...(wall?.complete && wall.totalLux > 0
      ? [level('light on the backdrop', wall.totalLux, shot.backdrop?.behind)]
      : []),
  ];
}

function levelRow({ name, stops, words, range, strong }: Level, planned: number, band: Band, top: number): Drawn {
  const beyond = Math.abs(stops) > span ? ' beyond the scale' : '';
  const said = `${signed(stops)}${beyond}: ${words}`;
  const row = bandRow(band, top, { name, nameAt: range, words: said, wordsAt: range, ...(strong && { bold: true }) });
  const { middle } = row;
  const [zero, x] = [stopsX(0, band), stopsX(stops, band)];
  const box = cornersOf({ x: Math.min(zero, x), y: middle - 7, width: Math.abs(x - zero), height: 14 });
  const bar = polygon(box, { fill: strong ? ink.ink : ink.shade });
  const lines = strong ? [] : [strokes(hatch(box, 5, stops < 0 ? 135 : 45), { stroke: ink.line, 'stroke-width': 0.8 })];
  const goal = stopsX(planned, band);
  const tick = line({ x: goal, y: middle - 11 }, { x: goal, y: middle + 11 }, { 'stroke-width': 1.6 });
  const base = line({ x: band.left, y: middle }, { x: band.right, y: middle }, { stroke: ink.faint });
  return { body: [base, from(range, [bar, ...lines]), tick, ...row.body], bottom: row.bottom };
}

function signed(stops: number): string {
  const words = say.num(Math.abs(stops), 1);
  return `${words === '0' ? '' : stops > 0 ? '+' : '−'}${words}`;
}

/** What the upright strokes mean: where the metered thing is meant to be. */
function plannedWords({ camera: { exposure } }: Shot, band: Band, top: number): Drawn {
  const { left, right } = band;
  const planned = exposure?.value ?? 0;
  const x = stopsX(planned, band);
  const words = planned === 0 ? 'middle grey' : `planned: ${exposure!.text} from middle grey`;
  const sign: El = polygon(
    [
      { x, y: top + 1 },
      { x: x - 5, y: top + 9 },
      { x: x + 5, y: top + 9 },
    ],
    { fill: ink.ink },
  );
  const at = held(words, Math.max(left, Math.min(right, x)), band, undefined, true);
  const said = text({ x: at, y: top + 22 }, words, { bold: true, anchor: 'middle' });
  return { body: [from(exposure, [sign, said])], bottom: top + 28 };
}
