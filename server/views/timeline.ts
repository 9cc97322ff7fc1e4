/** The film in time: beats, pieces, movement, light, titles, sound, flashes, and what each deliverable uses. */
import { framesPerBeat, nearestBeat, tempo } from '../calc/beats.ts';
import { generalFlashes, mostFlashes, redFlashes } from '../calc/flash.ts';
import { rateFps, sToFrames } from '../calc/rate.ts';
import { frameToTimecode, timecodeText } from '../calc/timecode.ts';
import { beatOfFilmS } from '../core/derived/edit.ts';
import { flashRuns } from '../core/derived/flashes.ts';
import type { Range } from '../core/document/node.ts';
import type { Film, LampPlace, Piece, Shot } from '../core/film.ts';
import * as say from '../core/say.ts';
import type { Seconds } from '../core/units.ts';
import { fitted, textWidth } from './measure.ts';
import {
  assign,
  blockRange,
  heading,
  margin,
  markPitch,
  marksRow,
  type Noted,
  pageWidth,
  type Picture,
  type Place,
  type Source,
} from './picture.ts';
import { cornersOf, hatch } from './shapes.ts';
import { el, type El, from, ink, line, polygon, strokes, text } from './svg.ts';
import { showsPiece } from '../core/resolve/edit.ts';

const left = 118;
const right = pageWidth - margin;

interface Bar extends Place {
  readonly fromS: Seconds;
  readonly toS: Seconds;
  readonly words: string;
  /** Drawn inside, over the bar's ground. */
  readonly inside?: (x: number, width: number, y: number) => readonly El[];
  readonly plain?: boolean;
}

interface Row {
  readonly name: string;
  readonly height: number;
  readonly bars: readonly Bar[];
}

export function drawTimeline(source: Source, film: Film): Picture {
  const lengthS = lengthOf(film);
  const { music, timeline } = film;
  const head: Place = { ranges: [film.cutAt, blockRange(music), blockRange(timeline)] };
  const rows = lengthS > 0 ? rowsOf(film).filter((row) => row.bars.length > 0) : [];
  const bars = rows.flatMap((row) => row.bars);
  const { noted, at } = assign(source, [...bars, head]);
  const scale = (seconds: Seconds) => left + ((right - left) * seconds) / lengthS;
  const body: El[] = [heading('The film in time', summary(film), film.cutAt, at(head))];
  let y = 78;
  if (lengthS > 0) {
    body.push(...ruler(film, lengthS, scale, y));
    y += 34;
    const beats = beatsOf(film, lengthS, scale, y);
    body.push(...beats.body);
    y += beats.height;
  }
  const top = y;
  for (const row of rows) {
    const marked = row.bars.some((bar) => at(bar).length > 0);
    const lanes = lanesOf(row.bars);
    body.push(text({ x: margin, y: y + 15 }, row.name, { size: 12, bold: true }));
    if (marked) y += 24;
    for (const [index, bar] of row.bars.entries()) {
      const barY = y + lanes[index]! * (row.height + 3);
      body.push(...drawBar(bar, scale, barY, row.height));
    }
    if (marked) body.push(...rowMarks(row, scale, y - 13, at));
    y += (Math.max(...lanes) + 1) * (row.height + 3) + 7;
  }
  const lines = cutLines(film, scale, top, y);
  return {
    view: 'timeline',
    title: 'The film in time',
    description: describe(film, rows),
    width: pageWidth,
    height: y + 8,
    body: [...lines, ...body],
    noted,
  };
}

/** Marks above their bars, pushed right where they would touch. */
function rowMarks(row: Row, scale: (s: Seconds) => number, y: number, at: (bar: Bar) => readonly Noted[]): El[] {
  let free = 0;
  return row.bars.flatMap((bar) => {
    const notes = at(bar);
    if (notes.length === 0) return [];
    const x = Math.max(scale(bar.fromS) + 12, free);
    free = x + notes.length * markPitch;
    return marksRow({ x, y }, notes);
  });
}

function lengthOf(film: Film): Seconds {
  const ends = [film.cutS ?? 0, ...film.cut.map((piece) => piece.endS ?? 0)];
  const titles = film.titles.map((title) => (title.atS ?? 0) + (title.holdS ?? 0));
  return Math.max(...ends, ...titles, 0);
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

// ---- ruler and beats ---------------------------------------------------------------------------------------------

function ruler(film: Film, lengthS: Seconds, scale: (s: Seconds) => number, y: number): El[] {
  const step = [0.5, 1, 2, 5, 10, 20, 30, 60, 120, 300, 600].find((one) => scale(one) - scale(0) >= 80) ?? 1200;
  const ticks = Array.from({ length: Math.floor(lengthS / step + 1e-6) + 1 }, (_, index) => index * step);
  const rate = film.timeline.rate?.value;
  const code = (seconds: Seconds) =>
    rate ? timecodeText(frameToTimecode(Math.round(sToFrames(seconds, rate)), rate, false)) : '';
  return [
    line({ x: left, y: y + 20 }, { x: right, y: y + 20 }),
    ...ticks.flatMap((seconds) => {
      const x = scale(seconds);
      const anchor = x > right - 30 ? 'end' : seconds === 0 ? 'start' : 'middle';
      return [
        line({ x, y: y + 14 }, { x, y: y + 26 }),
        text({ x, y: y - 1 }, say.secondsText(seconds), { size: 11, anchor }),
        text({ x, y: y + 10 }, code(seconds), { size: 10, anchor, fill: ink.soft }),
      ];
    }),
  ];
}

function firstBeatS({ music }: Film): Seconds {
  return music ? music.firstBeatS - music.trimS : 0;
}

function beatsOf(
  film: Film,
  lengthS: Seconds,
  scale: (s: Seconds) => number,
  y: number,
): { body: El[]; height: number } {
  const beatS = beatOfFilmS(film);
  if (!beatS) return { body: [], height: 0 };
  const px = scale(beatS) - scale(0);
  const every = [1, 2, 4, 8, 16, 32, 64].find((one) => one * px >= 4) ?? 128;
  const numbered = [1, 2, 4, 8, 16, 32, 64].find((one) => one >= every && one * px >= 26) ?? 128;
  const start = firstBeatS(film);
  const ticks: El[] = [];
  for (
    let beat = Math.max(0, Math.ceil(-start / beatS / every) * every);
    start + beat * beatS <= lengthS + 1e-6;
    beat += every
  ) {
    const x = scale(start + beat * beatS);
    const tall = beat % numbered === 0;
    ticks.push(line({ x, y: y + (tall ? 4 : 8) }, { x, y: y + 14 }, { stroke: tall ? ink.ink : ink.line }));
    if (tall) ticks.push(text({ x, y: y + 25 }, String(beat), { size: 10, anchor: 'middle', fill: ink.soft }));
  }
  const name = text({ x: margin, y: y + 15 }, 'Beats', { size: 12, bold: true });
  return { body: [from(film.music?.tempo, [name, ...ticks])], height: 34 };
}

/** Cuts through all rows; one that misses its beat says by how many frames. */
function cutLines(film: Film, scale: (s: Seconds) => number, top: number, bottom: number): El[] {
  return film.cut.slice(1).flatMap((piece) => {
    if (piece.startS === undefined) return [];
    const x = scale(piece.startS);
    return [line({ x, y: top - 4 }, { x, y: bottom }, { stroke: ink.faint })];
  });
}

// ---- rows --------------------------------------------------------------------------------------------------------

function rowsOf(film: Film): Row[] {
  return [
    { name: 'Cut', height: 40, bars: film.cut.flatMap((piece) => pieceBar(piece, film)) },
    { name: 'Off the beat', height: 16, bars: offBeat(film) },
    { name: 'Movement', height: 18, bars: film.cut.flatMap(movement) },
    { name: 'Light', height: 18, bars: film.cut.flatMap(lightChanges) },
    { name: 'Titles', height: 20, bars: titleBars(film) },
    { name: 'Sound', height: 18, bars: soundBars(film) },
    { name: 'Flashes', height: 26, bars: flashBars(film) },
    { name: 'Deliverables', height: 18, bars: deliverableBars(film) },
  ];
}

function pieceBar(piece: Piece, film: Film): Bar[] {
  const { startS, endS } = piece;
  if (startS === undefined || endS === undefined) return [];
  const name =
    piece.shotName?.value ?? piece.footage?.value ?? (piece.colour ? `plain ${piece.colour.value}` : 'piece');
  const next = film.cut[piece.index + 1];
  const inside = (x: number, width: number, y: number): El[] => {
    const perS = width / Math.max(endS - startS, 1e-9);
    return [
      text({ x: x + 5, y: y + 34 }, fitted(`${piece.length?.text ?? ''}${speedWords(piece)}`, 10.5, width - 8), {
        size: 10.5,
        fill: ink.soft,
      }),
      ...wedge(x, y, piece.fadeInS * perS, 40, 'in'),
      ...wedge(x + width, y, -piece.fadeOutS * perS, 40, 'out'),
      ...(piece.dissolveS > 0 ? dissolveSign(x, y, (piece.dissolveS * perS) / 2) : []),
      ...(next?.dissolveS ? dissolveSign(x + width, y, (-next.dissolveS * perS) / 2) : []),
    ];
  };
  return [{ fromS: startS, toS: endS, words: name, inside, ranges: [blockRange(piece), piece.length] }];
}

function speedWords({ speed }: Piece): string {
  return speed === 1 ? '' : ` at ${say.percentText(speed)}`;
}

/** A fade: black that gives way. */
function wedge(x: number, y: number, width: number, height: number, kind: 'in' | 'out'): El[] {
  if (Math.abs(width) < 0.5) return [];
  const points = [
    { x, y },
    { x: x + width, y },
    { x, y: y + height },
  ];
  return [
    from(undefined, [
      polygon(points, { fill: ink.ink, 'fill-opacity': 0.75, stroke: ink.ink }),
      el('title', {}, [`fade ${kind}`]),
    ]),
  ];
}

/** Half of a dissolve, crossed: two pictures share it. */
function dissolveSign(x: number, y: number, width: number): El[] {
  const box = cornersOf({ x: Math.min(x, x + width), y, width: Math.abs(width), height: 40 });
  return [strokes([...hatch(box, 5, 45), ...hatch(box, 5, 135)], { stroke: ink.ink, 'stroke-width': 0.6 })];
}

/** Cuts that miss their beat by more than a frame, with the frames that they are late. */
function offBeat(film: Film): Bar[] {
  const rate = film.timeline.rate?.value;
  const bpm = film.music?.tempo?.value;
  if (!rate || !bpm) return [];
  const grid = framesPerBeat(rate, tempo(bpm));
  const first = sToFrames(firstBeatS(film), rate);
  return film.cut.slice(0, -1).flatMap((piece) => {
    const frame = piece.endFrame;
    if (frame === undefined || piece.endS === undefined || film.cut[piece.index + 1]!.dissolveS > 0) return [];
    const halves = [...film.cut].some((one) => one.length?.value.kind === 'beats' && one.length.value.beats % 1 !== 0);
    const { late } = nearestBeat(frame, grid, first, halves ? 0.5 : 1);
    if (Math.abs(late) <= 1 + 1e-6) return [];
    const words = `${say.num(Math.abs(late), 1)} frames ${late > 0 ? 'late' : 'early'}`;
    return [{ fromS: piece.endS, toS: piece.endS, words, plain: true, ranges: [piece.length] }];
  });
}

function movement(piece: Piece): Bar[] {
  const { startS, endS, shot } = piece;
  if (startS === undefined || endS === undefined) return [];
  const ranges: (Range | undefined)[] = [piece.zoomAt, piece.shiftAt, piece.speedAt, piece.turnShown];
  const words = [...pieceMoves(piece), ...(shot ? shotMoves(shot, ranges) : [])];
  return words.length > 0 ? [{ fromS: startS, toS: endS, words: words.join(', '), ranges }] : [];
}

function pieceMoves({ zoom, shift }: Piece): string[] {
  const zooms =
    zoom.from !== zoom.to
      ? [`push ${zoom.to > zoom.from ? 'in' : 'out'} ${say.num(zoom.from, 2)} to ${say.num(zoom.to, 2)}`]
      : [];
  return shift.from !== shift.to
    ? [...zooms, `shift ${say.percentText(shift.from)} to ${say.percentText(shift.to)}`]
    : zooms;
}

function shotMoves({ camera, turn, action }: Shot, ranges: (Range | undefined)[]): string[] {
  const words: string[] = [];
  for (const [name, change] of [
    ['distance', camera.distance],
    ['height', camera.height],
    ['angle', camera.angle],
    ['slide', camera.slide],
    ['focal', camera.focal],
  ] as const) {
    if (!change || change.value.from === change.value.to) continue;
    ranges.push(change);
    words.push(`${name} ${change.text}`);
  }
  const focus = camera.focus;
  if (focus && typeof focus.value === 'object' && focus.value.from !== focus.value.to)
    words.push(`focus ${focus.text}`);
  if (turn?.speed) words.push(`turns at ${turn.speed.text}`);
  if (turn?.by) words.push(`turns by ${turn.by.text}`);
  if (turn) ranges.push(blockRange(turn));
  if (action?.what) words.push(action.what.value.replace(/\.$/, ''));
  return words;
}

function lightChanges(piece: Piece): Bar[] {
  const { startS, endS, shot } = piece;
  const changing = shot?.lit.filter((lamp) => lamp.changes) ?? [];
  if (startS === undefined || endS === undefined || changing.length === 0) return [];
  const words = changing.map((lamp) => `${lamp.name}: ${changeWords(lamp)}`).join(', ');
  return [{ fromS: startS, toS: endS, words, ranges: changing.map((lamp) => blockRange(lamp)) }];
}

function changeWords({ level, distance, angle, height, temperature }: LampPlace): string {
  return [level, distance, angle, height, temperature]
    .flatMap((change) => (change && change.value.from !== change.value.to ? change.text : []))
    .join(', ');
}

function titleBars({ titles }: Film): Bar[] {
  return titles.flatMap((title) => {
    const { atS, holdS = 0, fadeS } = title;
    if (atS === undefined) return [];
    const inside = (x: number, width: number, y: number): El[] => {
      const perS = width / Math.max(holdS, 1e-9);
      const fade = Math.min(fadeS * perS, width / 2);
      return fade < 1 ? [] : [...ramp(x, y, fade), ...ramp(x + width, y, -fade)];
    };
    const words = title.text?.value.trim().replace(/\s+/g, ' ') ?? 'title';
    return [{ fromS: atS, toS: atS + holdS, words, inside, ranges: [blockRange(title)] }];
  });
}

function ramp(x: number, y: number, width: number): El[] {
  return [line({ x, y: y + 20 }, { x: x + width, y }, { 'stroke-width': 0.9 })];
}

function soundBars(film: Film): Bar[] {
  const { music, sounds, cutS } = film;
  const bars: Bar[] = [];
  if (music && cutS !== undefined) {
    const lasts = music.length ? Math.min(cutS, music.length.value - music.trimS) : cutS;
    const name = `music: ${music.track?.value ?? 'no track named'}`;
    bars.push({ fromS: 0, toS: lasts, words: name, ranges: [music.track, music.length, blockRange(music)] });
  }
  for (const sound of sounds) {
    const toS = sound.atS + (sound.lengthS ?? 0);
    bars.push({ fromS: sound.atS, toS, words: sound.track?.value ?? 'sound', ranges: [blockRange(sound)] });
  }
  for (const piece of film.cut) {
    if (piece.sound !== 'keep' || piece.startS === undefined || piece.endS === undefined) continue;
    bars.push({ fromS: piece.startS, toS: piece.endS, words: 'sound of the take', ranges: [piece.soundAt] });
  }
  return bars;
}

/** The most flashes in any second of each stretch that flashes, once for each place that it is written. */
function flashBars(film: Film): Bar[] {
  const seen = new Set<string>();
  return flashRuns(film).flatMap((run): Bar[] => {
    const { source, frames, fps, at } = run;
    const piece =
      source.kind === 'cuts'
        ? source.pieces[0]!.piece
        : source.shot.pieces.find((one) => showsPiece(run.deliverable, one));
    const last = source.kind === 'cuts' ? source.pieces.at(-1)!.piece : piece;
    const key = `${at.start}-${piece?.index}`;
    if (piece?.startS === undefined || last?.endS === undefined || seen.has(key)) return [];
    seen.add(key);
    const [general, red] = [generalFlashes(frames, fps).inOneSecond, redFlashes(frames, fps).inOneSecond];
    const count = Math.max(general, red);
    if (count === 0) return [];
    const over = count > mostFlashes ? `, over ${mostFlashes}` : '';
    const words = `${count} ${count === 1 ? 'flash' : 'flashes'} in a second${red > 0 ? ' (red)' : ''}${over}`;
    const inside = (x: number, width: number, y: number): El[] => {
      const beats = Math.min(60, Math.max(1, Math.round((last.endS! - piece.startS!) * count)));
      const step = width / beats;
      return Array.from({ length: beats }, (_, index) =>
        el('rect', { x: x + index * step, y: y + 19, width: Math.max(0.6, step / 2), height: 7, fill: ink.ink }),
      );
    };
    return [{ fromS: piece.startS, toS: last.endS, words, inside, ranges: [at] }];
  });
}

function deliverableBars(film: Film): Bar[] {
  return [...film.deliverables.values()].flatMap((one): Bar[] => {
    const span = one.sectionS ?? (film.cutS === undefined ? undefined : { from: 0, to: film.cutS });
    if (!span) return [];
    const words = [
      one.name,
      one.raster && say.rasterText(one.raster.value),
      say.secondsText(span.to - span.from),
    ].filter(Boolean);
    return [
      { fromS: span.from, toS: span.to, words: words.join(', '), ranges: [one.length, one.section, one.longest, one] },
    ];
  });
}

// ---- drawing -----------------------------------------------------------------------------------------------------

/** Bars that overlap in time go below each other. */
function lanesOf(bars: readonly Bar[]): number[] {
  const ends: number[] = [];
  return bars.map(({ fromS, toS }) => {
    const free = ends.findIndex((end) => end <= fromS + 1e-6);
    const lane = free < 0 ? ends.length : free;
    ends[lane] = Math.max(toS, fromS + 1e-6);
    return lane;
  });
}

function drawBar(bar: Bar, scale: (s: Seconds) => number, y: number, height: number): El[] {
  const [x, end] = [scale(bar.fromS), scale(bar.toS)];
  const range = bar.ranges.find((one) => one !== undefined);
  if (bar.plain) {
    const words = text({ x: Math.min(x + 7, right - textWidth(bar.words, 11)), y: y + 12 }, bar.words, {
      size: 11,
      bold: true,
      fill: ink.alarm,
      halo: true,
    });
    const flag = polygon(
      [
        { x, y },
        { x: x + 6, y: y + 6 },
        { x, y: y + 12 },
      ],
      { fill: ink.alarm, stroke: ink.alarm },
    );
    return [from(range, [flag, words])];
  }
  const width = Math.max(end - x, 1);
  const words = fitted(bar.words, 12, width - 8);
  const box = el('rect', { x, y, width, height, fill: ink.shade, stroke: ink.ink, 'stroke-width': 1 });
  return [
    from(range, [
      box,
      ...(bar.inside?.(x, width, y) ?? []),
      ...(words
        ? [
            text({ x: x + 5, y: y + (height < 30 ? Math.min(14, height / 2 + 5) : 17) }, words, {
              size: 12,
              halo: height >= 30,
            }),
          ]
        : []),
      el('title', {}, [bar.words]),
    ]),
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
