/** Which moments of which file the frames of a piece show. */
import { rateFps, type Rate } from '../calc/rate.ts';
import { framesText } from '../core/derived/edit.ts';
import { recordedTake } from '../core/derived/recorded-clips.ts';
import type { Piece } from '../core/film.ts';
import type { ClipFacts, Footage, VideoFacts } from '../core/footage.ts';
import { quoted, secondsText } from '../core/say.ts';
import type { Take } from '../core/takes.ts';
import type { Ends, Seconds } from '../core/units.ts';
import { clockS } from './assembly.ts';
import { pieceName, type PieceOn } from './grid.ts';

/** A file of a recording, as far as its place in it goes. */
export interface FileSpan {
  /** As the user wrote it. */
  readonly text: string;
  /** Where in the recording its picture starts and ends. */
  readonly startS: Seconds;
  readonly endS: Seconds;
}

/** One recording: its files, joined without a gap. */
export interface Recorded<File extends FileSpan = RecordedFile> {
  readonly files: readonly File[];
  /** The moment of the recording at which the take starts. */
  readonly startS: Seconds;
  /** Where in the recording the take lies: what is before and after it was never meant to be seen. */
  readonly part: Ends<Seconds>;
  /** Seconds of the recording for a second of real life: more than 1 where the camera slowed it itself. */
  readonly pace: number;
}

export interface RecordedFile extends FileSpan {
  readonly of: 'footage' | 'repo';
  readonly path: string;
  readonly facts: ClipFacts;
  readonly video: VideoFacts;
}

/** A take as it lies there, or why it can't be used, in words. */
export function recordedOf(take: Take, footage: Footage): Recorded | string {
  const recorded = recordedTake(take, footage);
  if (!recorded) return missing(take, footage);
  const files = joined(
    take.clips.map(({ value, text }, index) => ({ path: value, text, facts: recorded.facts[index]! })),
  );
  if (typeof files === 'string') return files;
  const pace = paceOf(take, files[0]!.video);
  const handlesS = (take.shot?.handlesS ?? 0) * pace;
  const part = take.part?.value ?? { from: 0, to: files.at(-1)!.endS };
  return { files, part, startS: take.action ? take.action.value - handlesS : part.from, pace };
}

const problems: Readonly<Record<string, string>> = {
  missing: 'is not in the footage folder',
  outside: 'leads out of the footage folder, and nothing outside is opened',
  empty: 'is empty',
  growing: 'is still being copied',
  'not-a-file': 'is no ordinary file',
  'too-many': 'was not looked at: the sheet names too many clips',
  pending: 'has not been read',
};

function missing({ clips }: Take, footage: Footage): string {
  for (const { value, text } of clips) {
    const state = footage.clip(value);
    if (state.kind === 'unreadable') return `The clip ${quoted(text)} can't be read: ${state.why}.`;
    if (state.kind !== 'facts') return `The clip ${quoted(text)} ${problems[state.kind]}.`;
  }
  return 'The take names no clip.';
}

/** Files one after the other, or why they make no picture. */
export function joined(
  all: readonly { readonly path: string; readonly text: string; readonly facts: ClipFacts }[],
  of: RecordedFile['of'] = 'footage',
): RecordedFile[] | string {
  let startS = 0;
  const files: RecordedFile[] = [];
  for (const { path, text, facts } of all) {
    const { video } = facts;
    if (!video || video.frames === 0) return `The clip ${quoted(text)} has no picture.`;
    const endS = startS + video.frames / video.rate;
    files.push({ of, path, text, facts, video, startS, endS });
    startS = endS;
  }
  return files;
}

function paceOf({ captured, shot }: Take, { rate }: VideoFacts): number {
  if (captured) return rateFps(captured.value) / rate;
  return shot?.interval ? 1 / (shot.interval.value * rate) : 1;
}

/** The moment of the take that a frame of the piece shows: frames backwards are those forwards in the other order. */
export function takeMoment({ piece, start, end }: PieceOn, frame: number, rate: Rate): Seconds {
  const index = piece.speed < 0 ? end - 1 - frame : frame - start;
  return piece.fromS + (Math.abs(piece.speed) * index) / rateFps(rate);
}

/** A run of frames that one file gives. */
export interface Run<File extends FileSpan = RecordedFile> {
  readonly file: File;
  readonly start: number;
  readonly end: number;
  /** The moment of the file in its first frame, and how far each frame goes on. */
  readonly fromS: Seconds;
  readonly stepS: Seconds;
}

/** All frames of a piece that are seen, within the film, file by file; or which of them the recording does not have. */
export function runsOf<File extends FileSpan>(
  on: PieceOn,
  recorded: Recorded<File>,
  rate: Rate,
  filmFrames: number,
): Run<File>[] | string {
  const first = Math.max(0, on.outerStart);
  const last = Math.min(filmFrames, on.outerEnd);
  const stepS = (recorded.pace * on.piece.speed) / rateFps(rate);
  const moment = (frame: number) => recorded.startS + recorded.pace * takeMoment(on, frame, rate);
  const runs: Run<File>[] = [];
  let lacking = 0;
  for (let frame = first; frame < last; frame++) {
    const atS = moment(frame);
    const isIn = ({ from, to }: Ends<Seconds>) => atS > from - clockS && atS < to - clockS;
    const file = isIn(recorded.part)
      ? recorded.files.find(({ startS, endS }) => isIn({ from: startS, to: endS }))
      : undefined;
    const run = runs.at(-1);
    if (!file) lacking++;
    else if (run?.file === file && run.end === frame) runs[runs.length - 1] = { ...run, end: frame + 1 };
    else runs.push({ file, start: frame, end: frame + 1, fromS: Math.max(0, atS - file.startS), stepS });
  }
  return lacking === 0 ? runs : lacks(on.piece, recorded, [moment(first), moment(last - 1)], lacking);
}

function lacks(piece: Piece, { files, part }: Recorded<FileSpan>, ends: readonly number[], lacking: number): string {
  const [from, to] = [Math.min(...ends), Math.max(...ends)];
  const name = quoted(files.map(({ text }) => text).join(', '));
  const isAll = part.from === 0 && part.to === files.at(-1)!.endS;
  return (
    `${pieceName(piece)} takes ${secondsText(from)} to ${secondsText(to)} of ${name}, ${isAll ? 'which' : 'whose take'} runs from ${secondsText(part.from)} to ` +
    `${secondsText(part.to)}: ${framesText(lacking)} are missing. Make the piece or its dissolves shorter, or start it elsewhere.`
  );
}
