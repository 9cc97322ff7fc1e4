/**
 * A film of a plan as plain data: which frame of which clip each of its frames shows, how it is framed, and what is heard.
 * Nothing is read here but what is known of the clips, and nothing is run: `graph.ts` says it to ffmpeg.
 */
import type { PixelSize } from '../calc/framing.ts';
import type { Rate } from '../calc/rate.ts';
import type { Title } from '../core/film.ts';
import type { Ends, Raster, Seconds } from '../core/units.ts';

/** A stretch of frames of the film that is made in one go. */
export interface Segment {
  readonly startFrame: number;
  readonly frames: number;
  readonly picture: Picture;
  /** What it turns into. */
  readonly into?: {
    readonly picture: Picture;
    /** How much of it is seen in the first frame, 0 to 1, and how much more in each after it. */
    readonly share: number;
    readonly step: number;
  };
}

export type Picture = ClipPicture | DrawnPicture | PlainPicture;

export interface ClipPicture {
  readonly kind: 'clip';
  readonly clip: ClipFile;
  /** The moment of the file that its first frame shows, and how far each frame goes on: minus is backwards, 0 a still. */
  readonly fromS: Seconds;
  readonly stepS: Seconds;
  readonly framing: Framing;
  /** The table that turns its log recording into a picture, by its path in the repo. */
  readonly converts?: string;
}

/** A file below the footage folder, or of the repo, and what must be known of it to show it right. */
export interface ClipFile {
  readonly of: 'footage' | 'repo';
  readonly path: string;
  /** How long one of its frames stands at most. */
  readonly longestStepS: Seconds;
  readonly pixelAspect: number;
  readonly interlaced: boolean;
  /** In the words of the container; BT.709 where it says nothing. */
  readonly matrix: string;
  readonly fullRange: boolean;
  /** More than 8 bits, or not known. */
  readonly isDeep: boolean;
  /** Its curve of high dynamic range, as it is marked; absent for all others. */
  readonly curve?: 'hlg' | 'pq';
}

/** What the camera would see, by the plan. */
export interface DrawnPicture {
  readonly kind: 'drawn';
  /** Its place in the cut. */
  readonly piece: number;
  /** The moment of the take in its first frame, and how far each frame goes on. */
  readonly fromS: Seconds;
  readonly stepS: Seconds;
  readonly zoom: Ends;
  readonly shift: Ends;
}

export interface PlainPicture {
  readonly kind: 'plain';
  /** Six hexadecimal digits after #. */
  readonly colour: string;
}

/** What part of a clip is seen, from the first frame of a stretch evenly to the last. */
export interface Framing {
  /** Clockwise, until it stands upright. */
  readonly turnDeg: 0 | 90 | 180 | 270;
  readonly mirror: boolean;
  readonly straightenDeg: number;
  /** Upright, with square pixels. */
  readonly raster: PixelSize;
  readonly zoom: Ends;
  readonly shift: Ends;
}

/** A title, or the part of it that a stretch of the film shows. */
export interface TitleOn {
  readonly title: Title;
  /** Where the film shows it first. */
  readonly startFrame: number;
  readonly frames: number;
  /** How many of its frames come before. */
  readonly skip: number;
  /** All frames of the title, and those in which it comes and in which it goes. */
  readonly all: number;
  readonly fadeFrames: number;
}

/** Words that are small in a corner: what is drawn, what is flat. */
export interface CornerOn {
  readonly text: string;
  readonly startFrame: number;
  readonly frames: number;
}

export interface Output {
  readonly name: string;
  readonly raster: Raster;
  readonly rate: Rate;
  readonly container: string;
  readonly codec: string;
  readonly profile?: string;
  readonly level?: string;
  readonly tier: 'main' | 'high';
  readonly bits: 8 | 10;
  readonly chroma: '4:2:0' | '4:2:2' | '4:4:4';
  readonly colourSpace: 'bt709' | 'hlg' | 'pq';
  readonly bitrateBps?: number;
  readonly isDraft: boolean;
}

/** A stretch of a file that is heard. */
export interface Cue {
  readonly of: 'footage' | 'repo';
  readonly path: string;
  /** In the file. */
  readonly fromS: Seconds;
  readonly lengthS: Seconds;
  /** In the film. */
  readonly atSample: number;
  readonly gainDb: number;
  /** Minus is backwards. */
  readonly speed: number;
  readonly pitchKept: boolean;
  readonly fadeInS: Seconds;
  readonly fadeOutS: Seconds;
}

export interface SoundPlan {
  readonly sampleRate: number;
  readonly channels: 1 | 2;
  /** Of the whole deliverable, whose loudness is measured. */
  readonly samples: number;
  readonly cues: readonly Cue[];
  /** Which samples of it the film has, from one to before another. */
  readonly stretches: readonly Ends[];
  readonly bitrateBps: number;
  readonly loudnessLufs?: number;
  readonly truePeakDbtp?: number;
}

export interface Assembly {
  readonly output: Output;
  readonly frames: number;
  readonly segments: readonly Segment[];
  readonly titles: readonly TitleOn[];
  readonly corners: readonly CornerOn[];
  readonly sound?: SoundPlan;
}

/** Moments of a clip are compared with so much room: clocks of containers round to a millisecond. */
export const clockS = 0.001;

/** The stretch of a segment that shows frames `from` to before `to` of the film. */
export function partOf(segment: Segment, from: number, to: number): Segment | undefined {
  const start = Math.max(from, segment.startFrame);
  const end = Math.min(to, segment.startFrame + segment.frames);
  if (end <= start) return undefined;
  const skip = start - segment.startFrame;
  const part = (picture: Picture) => partOfPicture(picture, skip, end - start, segment.frames);
  const { into } = segment;
  return {
    startFrame: start,
    frames: end - start,
    picture: part(segment.picture),
    ...(into && { into: { ...into, picture: part(into.picture), share: into.share + skip * into.step } }),
  };
}

function partOfPicture(picture: Picture, skip: number, frames: number, all: number): Picture {
  if (picture.kind === 'plain') return picture;
  const fromS = picture.fromS + skip * picture.stepS;
  const ends = (whole: Ends) => partOfEnds(whole, skip, frames, all);
  if (picture.kind === 'drawn') return { ...picture, fromS, zoom: ends(picture.zoom), shift: ends(picture.shift) };
  const { framing } = picture;
  return { ...picture, fromS, framing: { ...framing, zoom: ends(framing.zoom), shift: ends(framing.shift) } };
}

function partOfEnds({ from, to }: Ends, skip: number, frames: number, all: number): Ends {
  const step = all > 1 ? (to - from) / (all - 1) : 0;
  return { from: from + step * skip, to: from + step * (skip + frames - 1) };
}
