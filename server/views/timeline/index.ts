/** The film in time: beats, pieces, movement, light, titles, sound, flashes, and what each deliverable uses. */
import { rateFps } from '../../calc/rate.ts';
import { beatOfFilmS } from '../../core/derived/edit.ts';
import type { Film } from '../../core/film.ts';
import * as say from '../../core/say.ts';
import type { Seconds } from '../../core/units.ts';
import { pageFor, type Room, usualRoom } from '../page.ts';
import {
  assign,
  blockRange,
  type Drawn,
  heading,
  type Noted,
  type Picture,
  type Place,
  type Source,
} from '../picture.ts';
import { type El, ink, line } from '../svg.ts';
import { type Axis, axisOf } from './axis.ts';
import { type Bar, drawRow, type Row } from './bar.ts';
import { deliverableBars } from './deliverables.ts';
import { flashBars } from './flashes.ts';
import { lightChanges, movement } from './moves.ts';
import { offBeat, pieceRow } from './pieces.ts';
import { beatsOf, ruler } from './ruler.ts';
import { musicRow, soundBars } from './sound.ts';
import { titleBars } from './titles.ts';

export function drawTimeline(source: Source, film: Film, room: Room = usualRoom): Picture {
  const page = pageFor(room);
  const axis = axisOf(page, lengthOf(film));
  const { music, timeline } = film;
  const head: Place = { ranges: [film.cutAt, blockRange(music), blockRange(timeline)] };
  const rows = axis.lengthS > 0 ? rowsOf(film, axis).filter((row) => row.bars.length > 0) : [];
  const { noted, at } = assign(source, [...rows.flatMap((row) => row.bars), head]);
  const top = heading(page, title, summary(film), film.cutAt, at(head));
  const drawn = axis.lengthS > 0 ? drawRows(film, rows, axis, top.bottom + 4, at) : { body: [], bottom: top.bottom };
  return {
    view: 'timeline',
    title,
    description: describe(film, rows),
    width: page.width,
    height: drawn.bottom,
    body: [...top.body, ...drawn.body],
    noted,
    ...(axis.lengthS > 0 && {
      axis: { left: axis.left, right: axis.right, top: top.bottom + 4, bottom: drawn.bottom, lengthS: axis.lengthS },
    }),
  };
}

const title = 'The film in time';

function drawRows(film: Film, rows: readonly Row[], axis: Axis, y: number, at: (bar: Bar) => readonly Noted[]): Drawn {
  const times = ruler(film, axis, y);
  const beats = beatsOf(film, axis, times.bottom);
  const body: El[] = [];
  let bottom = beats.bottom + 2;
  for (const row of rows) {
    const drawn = drawRow(row, axis, bottom, at);
    body.push(...drawn.body);
    bottom = drawn.bottom;
  }
  return { body: [...times.body, ...beats.body, ...cutLines(film, axis, beats.bottom, bottom), ...body], bottom };
}

function lengthOf({ cutS, cut, titles }: Film): Seconds {
  const pieces = cut.reduce((most, piece) => Math.max(most, piece.endS ?? 0), cutS ?? 0);
  return titles.reduce((most, { atS = 0, holdS = 0 }) => Math.max(most, atS + holdS), pieces);
}

function summary(film: Film): string {
  const { timeline, music, cutS, cut } = film;
  const parts = [
    cutS !== undefined && `${say.secondsText(cutS)} in ${cut.length} ${cut.length === 1 ? 'piece' : 'pieces'}`,
    timeline.rate && `${timeline.rate.text} frames a second`,
    music?.tempo && timeline.rate && `${music.tempo.text}: a beat is ${say.num(beatFrames(film)!, 3)} frames`,
  ];
  return parts.filter(Boolean).join(' · ');
}

function beatFrames(film: Film): number | undefined {
  const beatS = beatOfFilmS(film);
  const rate = film.timeline.rate?.value;
  return beatS && rate ? beatS * rateFps(rate) : undefined;
}

/** Cuts through all rows, as many as can be told from each other. */
function cutLines({ cut }: Film, axis: Axis, top: number, bottom: number): El[] {
  let last = -Infinity;
  return cut.slice(1).flatMap(({ startS }) => {
    if (startS === undefined) return [];
    const x = axis.x(startS);
    if (x - last < 2) return [];
    last = x;
    return [line({ x, y: top - 2 }, { x, y: bottom - 8 }, { stroke: ink.faint })];
  });
}

function rowsOf(film: Film, axis: Axis): Row[] {
  return [
    pieceRow(film, axis),
    { name: 'Off the beat', height: 16, bars: offBeat(film) },
    { name: 'Movement', height: 18, bars: film.cut.flatMap(movement) },
    { name: 'Light', height: 18, bars: film.cut.flatMap(lightChanges) },
    { name: 'Titles', height: 20, bars: titleBars(film) },
    musicRow(film),
    { name: 'Sound', height: 18, bars: soundBars(film) },
    { name: 'Flashes', height: 26, bars: flashBars(film) },
    { name: 'Deliverables', height: 18, bars: deliverableBars(film) },
  ];
}

function describe(film: Film, rows: readonly Row[]): string {
  const said = rows.map(({ name, bars }) => {
    const some = bars
      .slice(0, 12)
      .map(({ words, fromS, toS }) => `${words} from ${say.secondsText(fromS)} to ${say.secondsText(toS)}`);
    const more = bars.length > 12 ? `, and ${bars.length - 12} more` : '';
    return `${name}: ${some.join('; ')}${more}.`;
  });
  return [`${summary(film)}.`, ...said].join(' ');
}
