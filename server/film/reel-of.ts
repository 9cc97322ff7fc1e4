/** Makes what the panel plays of a checked film: the drawn film, whatever takes there are. */
import { generalFlashes, mostFlashes, redFlashes } from '../calc/flash.ts';
import { luminance } from '../calc/colour.ts';
import { nearestFrame, type Rate, rateFps, sToFrames } from '../calc/rate.ts';
import { beatGrid, beatsBetween } from '../core/derived/beat-grid.ts';
import { beatOfFilmS, shownStretch } from '../core/derived/edit.ts';
import { type FlashRun, flashRuns } from '../core/derived/flashes.ts';
import { litPiece, type LitScene } from '../core/derived/lit/index.ts';
import { momentShowing } from '../core/derived/time.ts';
import type { Deliverable, Film, Piece, Shot } from '../core/film.ts';
import type { ClipState } from '../core/footage.ts';
import { quoted } from '../core/say.ts';
import type { Ends, Raster, Seconds } from '../core/units.ts';
import { blockRange } from '../views/picture.ts';
import { takeMoment } from './clip-stretch.ts';
import { lookOf } from './framing.ts';
import { cutFaults, type PieceOn, piecesOn, stretchesOf } from './grid.ts';
import type { Look, Reel, ReelBeats, ReelFlash, ReelPicture, ReelPiece, ReelSound, ReelTitle } from './reel.ts';
import { soundOf } from './sound-plan.ts';
import { titlesOn } from './titles-on.ts';
import { wordsOver } from './words.ts';

export interface ToPlay {
  readonly film: Film;
  readonly deliverable: Deliverable;
  /** Where a file of the repo lies on this machine; undefined where it is not there, or leads out of the repo. */
  locate(path: string): string | undefined;
  /** The bytes of such a file, or why it can't be read. */
  read(path: string): Uint8Array | string;
}

/** Nobody plays hours of drawings; a length that is a slip of the pen must not fill the memory. */
const mostFrames = 1_000_000;

/** Or why it can't be played, in words. */
export function reelOf(asked: ToPlay): Reel | string {
  const { film, deliverable } = asked;
  const name = quoted(deliverable.name);
  const raster = deliverable.raster?.value;
  const rate = (deliverable.rate ?? film.timeline.rate)?.value;
  const stretch = shownStretch(deliverable, film);
  if (!raster) return `${name} says no \`raster\`, so the shape of its picture is not known.`;
  if (!rate) return `${name} says no \`rate\`, so how many frames it has a second is not known.`;
  if (!stretch) return `How long ${name} runs is not known: each piece of the cut needs a length.`;
  const frames = nearestFrame(stretch.to - stretch.from, rate);
  if (frames < 1) return 'There is nothing to play: the cut is empty.';
  if (frames > mostFrames) return `${name} has ${frames} frames: more than can be played here.`;
  const pieces = piecesOn(film.cut, stretch, rate).filter(
    ({ outerStart, outerEnd }) => outerEnd > 0 && outerStart < frames,
  );
  const words = titlesOf(asked, { stretch, rate, frames, raster });
  const heard = soundsOf(asked, { stretch, rate, frames });
  const beatS = beatOfFilmS(film);
  return {
    deliverable: deliverable.name,
    raster,
    rate,
    frames,
    fromS: stretch.from,
    pieces: pieces.map((piece) => reelPiece(piece, deliverable, frames)),
    stretches: stretchesOf(pieces, frames).map(({ start, end, piece, into }) => ({
      start,
      end,
      picture: pictureOf(piece, deliverable, start, end, rate),
      ...(into && {
        into: {
          share: into.share,
          step: into.step,
          picture: pictureOf(into.piece, deliverable, start, end, rate),
        },
      }),
    })),
    titles: words.titles,
    ...(beatS && {
      beats: {
        first: sToFrames((film.music?.firstBeatS ?? 0) - (film.music?.trimS ?? 0) - stretch.from, rate),
        step: sToFrames(beatS, rate),
        ...playedOn(film, stretch, rate),
      },
    }),
    flashes: flashesOf(film, deliverable, pieces),
    sounds: heard.sounds,
    notes: [...new Set([...cutFaults(pieces), ...words.notes, ...heard.notes])],
  };
}

/** With the beat before the first frame and the one after the last. */
function playedOn(film: Film, { from, to }: Ends<Seconds>, rate: Rate): Pick<ReelBeats, 'played'> {
  if (!beatGrid(film)?.isPlayed) return {};
  const around = beatOfFilmS(film)! * 1.5;
  const beats = beatsBetween(film, { from: from - around, to: to + around });
  const [first] = beats;
  return first ? { played: { number: first.beat, at: beats.map(({ atS }) => sToFrames(atS - from, rate)) } } : {};
}

// -- pictures --------------------------------------------------------------------------------------------------------

function pictureOf(
  on: PieceOn | undefined,
  deliverable: Deliverable,
  start: number,
  end: number,
  rate: Rate,
): ReelPicture {
  if (!on) return { kind: 'plain', colour: '#000000' };
  const { piece } = on;
  if (piece.colour) return { kind: 'plain', colour: piece.colour.value };
  const look = lookOf(on, deliverable, start, end);
  return {
    kind: 'drawn',
    piece: piece.index,
    fromS: takeMoment(on, start, rate),
    stepS: piece.speed / rateFps(rate),
    ...look,
  };
}

/** A drawing of a push is as fine as its closest frame needs, up to here. */
const mostFiner = 2.5;

function reelPiece({ piece, start, end }: PieceOn, deliverable: Deliverable, frames: number): ReelPiece {
  const looks = looksOf(piece, deliverable);
  const around = lookAround(looks);
  const written = blockRange(piece);
  const shot = blockRange(piece.shot);
  return {
    index: piece.index,
    name: (piece.shotName ?? piece.footage ?? piece.colour)?.text ?? '',
    start: Math.max(0, start),
    end: Math.min(frames, end),
    ...(written && { written }),
    ...(shot && { shot }),
    around,
    finer: Math.min(mostFiner, Math.max(...looks.map(({ zoom }) => zoom)) / around.zoom),
  };
}

/** Its start and its end. */
function looksOf({ zoom, shift, zoomBy, shiftBy }: Piece, { name }: Deliverable): Look[] {
  const [by, more] = [zoomBy.get(name)?.value ?? 1, shiftBy.get(name)?.value ?? 0];
  return (['from', 'to'] as const).map((end) => ({ zoom: zoom[end] * by, shift: shift[end] + more }));
}

/** The closest look that has all of these in it. Between two ends nothing lies outside them: both change evenly. */
function lookAround(looks: readonly Look[]): Look {
  const sides = looks.flatMap(({ zoom, shift }) => [(-shift - 0.5) / zoom, (-shift + 0.5) / zoom]);
  const [left, right] = [Math.min(...sides), Math.max(...sides)];
  const zoom = Math.min(1 / (right - left), ...looks.map((one) => one.zoom));
  return { zoom, shift: ((0 - left - right) / 2) * zoom };
}

export interface PieceMoment {
  /** In the cut, from 0. */
  readonly piece: number;
  /** Of the take. */
  readonly atS: Seconds;
  /** What flashes, by its number, is off. */
  readonly without?: number | undefined;
  /** Tell whether it moves, which takes three more scenes. */
  readonly tellsMoves?: boolean | undefined;
}

/** What a drawing shows. */
export interface PieceScene {
  /** Undefined where lens or rasters are not known. */
  readonly scene: LitScene | undefined;
  /** Whether another moment of the piece looks otherwise, but for what the cut does with it; where that was asked. */
  readonly moves?: boolean;
}

export function sceneOf(film: Film, deliverable: Deliverable, moment: PieceMoment): PieceScene {
  const { piece: index, atS, without, tellsMoves } = moment;
  const piece = film.cut[index];
  if (!piece?.shot) return { scene: undefined, moves: false };
  const lit = without === undefined ? piece.shot : darkened(film, deliverable, piece.shot, without);
  const around = lookAround(looksOf(piece, deliverable));
  const whole: Piece = {
    ...piece,
    shot: lit,
    zoom: { from: around.zoom, to: around.zoom },
    shift: { from: around.shift, to: around.shift },
    // Both are in the numbers already.
    zoomBy: new Map(),
    shiftBy: new Map(),
  };
  const at = (part: number) => litPiece(film, whole, deliverable, part);
  const scene = at(momentShowing(piece, atS));
  if (tellsMoves !== true) return { scene };
  const looks = () => [0, 0.37, 1].map((part) => JSON.stringify(at(part)));
  return { scene, moves: piece.speed !== 0 && new Set(looks()).size > 1 };
}

// -- flashes ---------------------------------------------------------------------------------------------------------

function flashesOf(film: Film, deliverable: Deliverable, pieces: readonly PieceOn[]): ReelFlash[] {
  return flashRuns(film).flatMap((run, light): ReelFlash[] => {
    if (run.deliverable !== deliverable) return [];
    const { source, frames, fps } = run;
    const inOneSecond = Math.max(generalFlashes(frames, fps).inOneSecond, redFlashes(frames, fps).inOneSecond);
    const among = source.kind === 'cuts' ? source.pieces.map(({ piece }) => piece) : source.shot.pieces;
    const on = pieces.filter(({ piece }) => among.includes(piece));
    if (inOneSecond === 0 || on.length === 0) return [];
    if (source.kind === 'cuts') {
      const ends = { from: Math.max(0, on[0]!.start), to: on.at(-1)!.end };
      // Few changes of colour are cuts, and are shown as they are.
      return inOneSecond > mostFlashes ? [{ ...ends, of: 'colours', light, on: [], inOneSecond }] : [];
    }
    const shares = sharesOf(run);
    return on.map(({ start, end }) => ({
      from: Math.max(0, start),
      to: end,
      of: 'light',
      light,
      on: shares.slice(0, end - start),
      inOneSecond,
    }));
  });
}

/** How far each frame is from the darkest of them towards the brightest. */
function sharesOf({ frames }: FlashRun): number[] {
  const light = frames.map(({ linear }) => luminance(linear));
  const [least, most] = [Math.min(...light), Math.max(...light)];
  return light.map((one) => (most > least ? Math.round(((one - least) / (most - least)) * 1000) / 1000 : 1));
}

/** A shot without what flashes in it. */
function darkened(film: Film, deliverable: Deliverable, shot: Shot, light: number): Shot {
  const run = flashRuns(film)[light];
  if (run?.deliverable !== deliverable || run.source.kind === 'cuts' || run.source.shot !== shot) return shot;
  const { source } = run;
  if (source.kind === 'lamp') return { ...shot, lit: shot.lit.filter((one) => one !== source.lamp) };
  const { backdrop } = shot;
  return backdrop?.brightness
    ? { ...shot, backdrop: { ...backdrop, brightness: { ...backdrop.brightness, value: 0 } } }
    : shot;
}

// -- words and sound -------------------------------------------------------------------------------------------------

interface Line {
  readonly stretch: Ends<Seconds>;
  readonly rate: Rate;
  readonly frames: number;
}

/** Titles are drawn for a picture whose shorter side has so many pixels: a panel is seldom larger. */
const titleLines = 720;

function titlesOf(
  { film, deliverable, read }: ToPlay,
  { stretch, rate, frames, raster }: Line & { readonly raster: Raster },
): { titles: ReelTitle[]; notes: string[] } {
  const smaller = Math.min(1, titleLines / Math.min(raster.width, raster.height));
  const size = { width: Math.round(raster.width * smaller), height: Math.round(raster.height * smaller) };
  const titles = titlesOn(film, deliverable, stretch, rate, frames);
  const { overlays, made, faults, notes } = wordsOver(
    { output: { raster: size }, titles, corners: [] },
    { film, deliverable, read },
  );
  return {
    titles: overlays.map(({ name, ...place }) => ({ ...place, raster: size, rgbaBase64: base64(made.get(name)!) })),
    notes: [...faults, ...notes],
  };
}

function base64(bytes: Uint8Array): string {
  const parts: string[] = [];
  for (let at = 0; at < bytes.length; at += 8192) parts.push(String.fromCharCode(...bytes.subarray(at, at + 8192)));
  return btoa(parts.join(''));
}

/** How long a file is turns out when it is played: until then it has no end. */
const endless: ClipState = {
  kind: 'facts',
  facts: {
    bytes: 0,
    container: '',
    durationS: Infinity,
    indexAt: 'none',
    audio: [{ codec: '', channels: 2, sampleRateHz: 48_000, durationS: Infinity }],
  },
};

/** Music and sounds. What was recorded with takes is not heard: no take is seen. */
function soundsOf({ film, deliverable, locate }: ToPlay, line: Line): { sounds: ReelSound[]; notes: string[] } {
  const { sound, faults, notes } = soundOf({
    film,
    deliverable,
    output: { rate: line.rate },
    frames: line.frames,
    stretch: line.stretch,
    pieces: [],
    media: (path) => (locate(path) === undefined ? { kind: 'missing' } : endless),
    clip: () => ({ kind: 'missing' }),
  });
  const names = new Map([...film.rights.values()].map(({ name, media }) => [media?.value, name]));
  const sounds = (sound?.cues ?? []).map(({ path, fromS, lengthS, atSample, gainDb }) => ({
    file: locate(path)!,
    name: names.get(path) ?? path,
    fromS,
    lengthS,
    atS: atSample / sound!.sampleRate,
    gainDb,
  }));
  return { sounds, notes: [...faults, ...notes] };
}
