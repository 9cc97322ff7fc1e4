/** Some stretches of a film as a film of their own. */
import { nearestFrame } from '../calc/rate.ts';
import { shownStretch } from '../core/derived/edit.ts';
import type { Deliverable, Film } from '../core/film.ts';
import type { Ends, Seconds } from '../core/units.ts';
import { type Assembly, partOf, type Segment } from './assembly.ts';
import { piecesOn } from './grid.ts';

export interface Only {
  /** The pieces of this shot. */
  readonly shot?: string | undefined;
  /** From the start of the cut. */
  readonly fromS?: Seconds | undefined;
  readonly toS?: Seconds | undefined;
}

/** The frames of a deliverable that are asked for, from one to before another. */
export function stretchesOnly(
  { shot, fromS, toS }: Only,
  { film, deliverable }: { readonly film: Film; readonly deliverable: Deliverable },
  { frames, output }: Assembly,
): Ends[] {
  const stretch = shownStretch(deliverable, film)!;
  const frame = (s: Seconds) => nearestFrame(s - stretch.from, output.rate);
  const [from, to] = [fromS === undefined ? 0 : frame(fromS), toS === undefined ? frames : frame(toS)];
  const all =
    shot === undefined
      ? [{ start: 0, end: frames }]
      : piecesOn(film.cut, stretch, output.rate).filter(({ piece }) => piece.shotName?.value === shot);
  return all
    .map(({ start, end }) => ({ from: Math.max(0, from, start), to: Math.min(frames, to, end) }))
    .filter((one) => one.to > one.from);
}

interface Placed {
  readonly startFrame: number;
  readonly frames: number;
}

/** @param stretches from a frame to before another, in order */
export function excerpt(assembly: Assembly, stretches: readonly Ends[]): Assembly {
  let frames = 0;
  const segments: Segment[] = [];
  const titles: Assembly['titles'][number][] = [];
  const corners: Assembly['corners'][number][] = [];
  for (const { from, to } of stretches) {
    const moved = frames - from;
    const placed = <T extends Placed>(one: T): T[] => {
      const start = Math.max(from, one.startFrame);
      const end = Math.min(to, one.startFrame + one.frames);
      return end > start ? [{ ...one, startFrame: start + moved, frames: end - start }] : [];
    };
    for (const segment of assembly.segments) {
      const part = partOf(segment, from, to);
      if (part) segments.push({ ...part, startFrame: part.startFrame + moved });
    }
    for (const title of assembly.titles) {
      const skip = title.skip + Math.max(0, from - title.startFrame);
      titles.push(...placed(title).map((one) => ({ ...one, skip })));
    }
    corners.push(...assembly.corners.flatMap(placed));
    frames += to - from;
  }
  const { sound, output } = assembly;
  const sample = (frame: number) =>
    Math.round(((frame * output.rate.den) / output.rate.num) * (sound?.sampleRate ?? 0));
  const heard = stretches.map(({ from, to }) => ({ from: sample(from), to: sample(to) }));
  return { ...assembly, frames, segments, titles, corners, ...(sound && { sound: { ...sound, stretches: heard } }) };
}
