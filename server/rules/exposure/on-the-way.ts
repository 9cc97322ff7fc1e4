/** Where a lamp or the camera goes from place to place: the moment at which the light is farthest off, and how to mend it. */
import { along } from '../../core/derived/moments.ts';
import { exposureError } from '../../core/derived/light.ts';
import { trial, tryLamp } from '../../core/derived/showings.ts';
import type { Film, LampPlace, Shot } from '../../core/film.ts';
import { type FixIdea, set } from '../../core/rule.ts';
import { lengthText, num, quoted } from '../../core/say.ts';
import type { Ends, Stops } from '../../core/units.ts';
import { judgedOnTheWay, type OffAt } from './judged-exposure.ts';

/** Less than this on the way is no matter of the way. */
const leastChange: Stops = 0.5;

export function farthestOff(shot: Shot, film: Film): OffAt | undefined {
  const all = [...judgedOnTheWay(shot, film)].sort((a, b) => Math.abs(b.error) - Math.abs(a.error));
  const [worst, best] = [all[0], all.at(-1)];
  return worst && best && Math.abs(worst.error - best.error) >= leastChange ? worst : undefined;
}

const measures = ['angle', 'distance', 'height'] as const;
type Measure = (typeof measures)[number];

/** A lamp that travels, and the one thing about its place that changes. */
interface Way {
  readonly lamp: LampPlace;
  readonly measure: Measure;
  readonly ends: Ends;
}

export function waysOf({ lit }: Shot): readonly Way[] {
  return lit.flatMap((lamp) =>
    measures.flatMap((measure) => {
      const ends = lamp[measure]?.value;
      return ends && ends.from !== ends.to ? [{ lamp, measure, ends }] : [];
    }),
  );
}

export function whenText(shot: Shot, { moment }: OffAt): string {
  const [first, last] = [0, 1].map((part) => Math.abs(moment - part));
  const when = first! < 0.25 ? 'at its start' : last! < 0.25 ? 'at its end' : 'half way';
  const places = waysOf(shot).map((way) => `${quoted(way.lamp.name)} at ${placeText(way, along(way.ends, moment)!)}`);
  return places.length > 0 ? `${when}, with ${places.join(' and ')},` : `${when}`;
}

function placeText({ measure }: Way, value: number): string {
  return measure === 'angle' ? `${num(value, 0)}°` : lengthText(Math.round(value / 10) * 10);
}

/** The single way cut short at the end that is too far off. */
export function shorterWay(shot: Shot, { moment }: OffAt, allow: Stops): FixIdea[] {
  const [way, ...others] = waysOf(shot);
  if (!way || others.length > 0) return [];
  const { lamp, measure, ends } = way;
  const isLate = moment >= 0.5;
  const [kept, moved] = isLate ? [ends.from, ends.to] : [ends.to, ends.from];
  for (let share = 0.95; share > 0.1; share -= 0.05) {
    const value = kept + (moved - kept) * share;
    const tried = isLate ? { from: kept, to: value } : { from: value, to: kept };
    if (Math.abs(exposureError(tryLamp(shot, lamp, { [measure]: trial(tried) }), moment) ?? Infinity) > allow) continue;
    const text = `${placeText(way, tried.from)} to ${placeText(way, tried.to)}`;
    return [set(`Let ${quoted(lamp.name)} go from ${text}`, [lamp, measure, text])];
  }
  return [];
}
