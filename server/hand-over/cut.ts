/**
 * The cut of one deliverable as other programs take it: which frames of which file each piece shows, on whole frames of
 * the film. What has not been shot, or lies elsewhere, stands in it all the same, by the plan.
 */
import { framesToS, nearestFrame, parseRate, type Rate, rateFps } from '../calc/rate.ts';
import { hasDropFrame } from '../calc/timecode.ts';
import { beatsBetween } from '../core/derived/beat-grid.ts';
import { beatOfFilmS, shownStretch } from '../core/derived/edit.ts';
import { rateName } from '../core/derived/recorded-clips.ts';
import type { Deliverable, Film, Val } from '../core/film.ts';
import { filmSeconds } from '../core/resolve/edit.ts';
import { quoted } from '../core/say.ts';
import type { Take } from '../core/takes.ts';
import type { Ends, Seconds } from '../core/units.ts';
import { clockS, type TitleOn } from '../film/assembly.ts';
import {
  type FileSpan,
  joined,
  type Recorded,
  type RecordedFile,
  recordedOf,
  type Run,
  runsOf,
  takeMoment,
} from '../film/clip-stretch.ts';
import { cutFaults, pieceName, type PieceOn, piecesOn } from '../film/grid.ts';
import { takeFor } from '../film/pick.ts';
import { titlesOn } from '../film/titles-on.ts';
import { CannotHandOver, type ToHandOver } from './kind.ts';

export interface Cut {
  readonly title: string;
  readonly deliverable: Deliverable;
  readonly rate: Rate;
  /** The number of its first frame, and whether numbers are counted drop-frame. */
  readonly startFrame: number;
  readonly drop: boolean;
  readonly frames: number;
  readonly pieces: readonly CutPiece[];
  /** Music, then sounds. */
  readonly heard: readonly Heard[];
  readonly titles: readonly TitleOn[];
  /** The frames nearest to the beats of the music. */
  readonly beats: readonly number[];
  /** What is other than one may expect, in words. */
  readonly notes: readonly string[];
}

export interface CutPiece {
  readonly on: PieceOn;
  /** What is called by its name in another program: the shot, the bought footage or the colour. */
  readonly name: string;
  /** Within the film. */
  readonly start: number;
  readonly end: number;
  /** A plain colour, six hexadecimal digits after #, where it shows no recording. */
  readonly colour?: string;
  /** One after the other, with the halves of its dissolves; empty for a plain colour. */
  readonly runs: readonly Run<Source>[];
  readonly take?: Take | undefined;
}

/** A file that a piece shows; one that is not recorded yet has no path. */
export interface Source extends FileSpan {
  readonly of: 'footage' | 'repo';
  readonly path?: string;
  readonly rate: Rate;
  /** As many frames as it has, where that is known. */
  readonly frames?: number;
}

export interface Heard {
  readonly what: 'music' | 'sound';
  readonly name: string;
  /** In the repo, where the spec names it. */
  readonly path?: string;
  readonly fromS: Seconds;
  /** Frames of the film. */
  readonly start: number;
  readonly frames: number;
  readonly gainDb: number;
}

export function cutOf(asked: ToHandOver): Cut {
  const { film, deliverable } = asked;
  if (!deliverable) throw new CannotHandOver('This spec has no deliverable: `deliver` says what the film is to be.');
  const rate = (deliverable.rate ?? film.timeline.rate)?.value;
  const name = quoted(deliverable.name);
  if (!rate) throw new CannotHandOver(`${name} says no \`rate\`, so how many frames it has a second is not known.`);
  const stretch = shownStretch(deliverable, film);
  if (!stretch) throw new CannotHandOver(`How long ${name} runs is not known: each piece of the cut needs a length.`);
  const frames = nearestFrame(stretch.to - stretch.from, rate);
  const notes = new Set<string>();
  const all = piecesOn(film.cut, stretch, rate);
  const [fault] = cutFaults(all);
  if (fault !== undefined) throw new CannotHandOver(fault);
  const pieces = all
    .filter(({ start, end }) => end > 0 && start < frames)
    .map((on) => cutPiece(on, { asked, rate, frames, notes }));
  if (pieces.length === 0) throw new CannotHandOver('There is nothing to hand over: the cut is empty.');
  return {
    title: film.title?.value.trim() ?? name,
    deliverable,
    rate,
    frames,
    ...startOf(film, rate),
    pieces,
    heard: deliverable.sound === 'none' ? [] : heardIn(film, stretch, rate, frames),
    titles: titlesOn(film, deliverable, stretch, rate, frames),
    beats: beatsIn(film, stretch, rate, frames),
    notes: [...notes],
  };
}

/** The frames of a piece between two frames of the film, run by run. */
export function runsBetween({ runs }: CutPiece, from: number, to: number): Run<Source>[] {
  return runs.flatMap((run) => {
    const [start, end] = [Math.max(run.start, from), Math.min(run.end, to)];
    return end > start ? [{ ...run, start, end, fromS: momentAt(run, start) }] : [];
  });
}

/** The moment of its file that a run shows at a frame of the film. */
export function momentAt({ start, fromS, stepS }: Run<Source>, frame: number): Seconds {
  return Math.max(0, fromS + (frame - start) * stepS);
}

/** How fast a run plays: 1 as it was recorded, minus backwards, 0 a still. */
export function speedOf({ stepS }: Run<Source>, rate: Rate): number {
  const speed = stepS * rateFps(rate);
  return Math.abs(speed - Math.round(speed)) < 1e-9 ? Math.round(speed) : speed;
}

/** The number of the frame that stands at a moment; clocks of containers round to a millisecond. */
export function frameAt(moment: Seconds, rate: Rate): number {
  return Math.floor((moment + clockS) * rateFps(rate));
}

// -- pieces ----------------------------------------------------------------------------------------------------------

interface Making {
  readonly asked: ToHandOver;
  readonly rate: Rate;
  readonly frames: number;
  readonly notes: Set<string>;
}

function cutPiece(on: PieceOn, making: Making): CutPiece {
  const { piece } = on;
  const place = { on, start: Math.max(0, on.start), end: Math.min(making.frames, on.end) };
  if (on.outerStart < 0 && on.outerStart + on.dissolve > 0)
    making.notes.add(`${pieceName(piece)} still dissolves where the film starts: it begins with a plain cut.`);
  if (piece.colour) return { ...place, name: piece.colour.value, colour: piece.colour.value, runs: [] };
  const name = (piece.shotName ?? piece.footage)?.text ?? '';
  if (piece.footage) return { ...place, name, runs: runsIn(on, bought(piece.footage, making), making) };
  const take = takeFor(piece, making.asked.sheets);
  if (!take) making.notes.add(`${quoted(name)} has no take yet: its place is kept.`);
  const apart = piece.sound === 'keep' ? take?.sound?.path : undefined;
  if (apart)
    making.notes.add(`${pieceName(piece)} keeps its sound, which lies apart in ${quoted(apart.text)}: lay it there.`);
  const recorded = take ? taken(take, making) : planned(name, making.rate);
  return { ...place, name, runs: runsIn(on, recorded, making), take };
}

/** Where the recording lacks frames the place is kept whole, and it is said. */
function runsIn(on: PieceOn, recorded: Recorded<Source>, { rate, frames, notes }: Making): readonly Run<Source>[] {
  const runs = runsOf(on, recorded, rate, frames);
  if (typeof runs !== 'string') return runs;
  notes.add(runs);
  const [start, end] = [Math.max(0, on.outerStart), Math.min(frames, on.outerEnd)];
  const fromS = recorded.startS + recorded.pace * takeMoment(on, start, rate);
  const stepS = (recorded.pace * on.piece.speed) / rateFps(rate);
  return [{ file: recorded.files[0]!, start, end, fromS, stepS }];
}

function taken(take: Take, { asked: { footage }, rate, notes }: Making): Recorded<Source> {
  const recorded = footage && recordedOf(take, footage);
  if (typeof recorded === 'object') return { ...recorded, files: recorded.files.map(sourceOf) };
  if (recorded !== undefined) notes.add(recorded);
  return byPlan(take, rate);
}

function sourceOf({ of, path, text, startS, endS, video }: RecordedFile): Source {
  return { of, path, text, startS, endS, rate: measuredRate(video.rate), frames: video.frames };
}

/** 24000/1001 where 23.976 was measured: clocks of containers are not that exact. */
export function measuredRate(fps: number): Rate {
  return parseRate(rateName(fps)) ?? { num: Math.round(fps * 1000), den: 1000 };
}

/** A take whose clips are not here: as long as need be, at the rate that was planned. */
function byPlan({ clips, part, action, shot, asSet }: Take, rate: Rate): Recorded<Source> {
  const [clip] = clips;
  const handlesS = shot?.handlesS ?? 0;
  return {
    files: [
      {
        of: 'footage',
        path: clip!.value,
        text: clip!.text,
        rate: (asSet ?? shot)?.camera.rate?.value ?? rate,
        startS: 0,
        endS: Infinity,
      },
    ],
    part: { from: 0, to: Infinity },
    startS: action ? Math.max(0, action.value - handlesS) : (part?.value.from ?? 0),
    pace: 1,
  };
}

function planned(text: string, rate: Rate): Recorded<Source> {
  return {
    files: [{ of: 'footage', text, rate, startS: 0, endS: Infinity }],
    part: { from: 0, to: Infinity },
    startS: 0,
    pace: 1,
  };
}

function bought({ value, text }: Val<string>, { asked: { film, media }, rate, notes }: Making): Recorded<Source> {
  const file = film.rights.get(value)?.media;
  if (!file) {
    notes.add(`${quoted(text)} in \`rights\` names no \`file\`: its place is kept.`);
    return planned(text, rate);
  }
  const state = media(file.value);
  const files =
    state.kind === 'facts' ? joined([{ path: file.value, text: file.text, facts: state.facts }], 'repo') : undefined;
  if (typeof files === 'object')
    return { files: files.map(sourceOf), startS: 0, part: { from: 0, to: files.at(-1)!.endS }, pace: 1 };
  notes.add(files ?? `${quoted(file.text)}, which ${quoted(text)} in \`rights\` names, can't be read.`);
  const [plain] = planned(file.text, rate).files;
  return { ...planned(file.text, rate), files: [{ ...plain!, of: 'repo', path: file.value }] };
}

// -- what stands beside the pieces -----------------------------------------------------------------------------------

/** Where its time codes start, as `timeline` says; with numbers that are left out where it is written so. */
function startOf({ timeline: { starts }, music }: Film, rate: Rate): Pick<Cut, 'startFrame' | 'drop'> {
  const clock = { rate, ...(music?.tempo && { tempoBpm: music.tempo.value }) };
  const startS = filmSeconds(starts?.value, clock) ?? 0;
  const drop = starts?.value.kind === 'timecode' && starts.value.drop && hasDropFrame(rate);
  return { startFrame: nearestFrame(startS, rate), drop };
}

function heardIn(film: Film, stretch: Ends<Seconds>, rate: Rate, frames: number): Heard[] {
  const pathOf = (track: string | undefined) => {
    const path = track === undefined ? undefined : film.rights.get(track)?.media?.value;
    return path === undefined ? {} : { path };
  };
  const { music } = film;
  const heard: Heard[] = [];
  if (music) {
    const fromS = music.trimS + stretch.from;
    const lastFrames = music.length ? nearestFrame(music.length.value - fromS, rate) : frames;
    const [track, length] = [music.track?.value, Math.min(frames, lastFrames)];
    if (length > 0)
      heard.push({
        what: 'music',
        name: track ?? 'music',
        ...pathOf(track),
        fromS,
        start: 0,
        frames: length,
        gainDb: 0,
      });
  }
  for (const { track, atS, lengthS, gain } of film.sounds) {
    const at = nearestFrame(atS - stretch.from, rate);
    const end = lengthS === undefined ? frames : nearestFrame(atS + lengthS - stretch.from, rate);
    const [start, last] = [Math.max(0, at), Math.min(frames, end)];
    if (last > start)
      heard.push({
        what: 'sound',
        name: track?.text ?? 'sound',
        ...pathOf(track?.value),
        fromS: framesToS(start - at, rate),
        start,
        frames: last - start,
        gainDb: gain?.value ?? 0,
      });
  }
  return heard;
}

function beatsIn(film: Film, stretch: Ends<Seconds>, rate: Rate, frames: number): number[] {
  const beatS = beatOfFilmS(film);
  // Closer than frames nothing can be cut on them.
  if (!beatS || beatS < framesToS(1, rate)) return [];
  return beatsBetween(film, stretch, 1, frames)
    .map(({ atS }) => nearestFrame(atS - stretch.from, rate))
    .filter((frame) => frame >= 0 && frame < frames);
}
