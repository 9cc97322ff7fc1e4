/** The titles on the frames of a deliverable. */
import { nearestFrame, type Rate } from '../calc/rate.ts';
import type { Deliverable, Film, Title } from '../core/film.ts';
import type { Ends, Seconds } from '../core/units.ts';
import type { TitleOn } from './assembly.ts';

/** Those that it shows any of; one without a time, a length or words is none. */
export function titlesOn(
  film: Film,
  deliverable: Deliverable,
  stretch: Ends<Seconds>,
  rate: Rate,
  frames: number,
): TitleOn[] {
  return film.titles.flatMap((title) => titleOn(title, deliverable, stretch, rate, frames));
}

function titleOn(title: Title, { name }: Deliverable, { from }: Ends<Seconds>, rate: Rate, frames: number): TitleOn[] {
  if (title.atS === undefined || title.holdS === undefined || !title.text) return [];
  if (title.onlyIn && !title.onlyIn.some((one) => one.value === name)) return [];
  const start = nearestFrame(title.atS - from, rate);
  const end = nearestFrame(title.atS + title.holdS - from, rate);
  const [first, last] = [Math.max(0, start), Math.min(frames, end)];
  if (last <= first) return [];
  const fadeFrames = Math.min(nearestFrame(title.fadeS, rate), Math.floor((end - start) / 2));
  return [{ title, startFrame: first, frames: last - first, skip: first - start, all: end - start, fadeFrames }];
}
