/** What a shot has on the mains, in words. */
import { circuitLimitVa, isContinuousLoad } from '../calc/mains.ts';
import { loadsOf, longestDayHours } from '../core/derived/electrical-loads.ts';
import type { Range } from '../core/document/node.ts';
import type { Film, Shot } from '../core/film.ts';
import * as say from '../core/say.ts';
import { blockRange } from './picture.ts';

export interface Circuit {
  readonly va: number;
  readonly words: string;
  /** Where the circuit is written, or what else is on it. */
  readonly range?: Range;
  readonly ranges: readonly (Range | undefined)[];
}

/** VA that the circuit takes on the longest day; undefined where the circuit or the voltage is not known. */
export function circuitVa(film: Film): number | undefined {
  const rating = film.care?.circuit?.value;
  if (!rating || !film.mainsVolts) return undefined;
  const continuous = isContinuousLoad(film.region?.value.country, longestDayHours(film) ?? 0);
  return circuitLimitVa(film.mainsVolts, rating, continuous);
}

/** A load's name without the marks that messages put round it. */
export function plainName(name: string): string {
  return name.replaceAll('`', '');
}

/** Undefined where nothing is on the mains. */
export function circuitOf(shot: Shot, film: Film): Circuit | undefined {
  const { loads, watts, va, unknown } = loadsOf(shot, film);
  if (loads.length === 0 && unknown.length === 0) return undefined;
  const { care } = film;
  const each = loads.map((load) => `${plainName(load.name)} ${say.num(load.watts, 0)} W`);
  const open = unknown.length > 0 ? `, and ${say.listText(unknown.map(plainName))} of unknown draw` : '';
  const limit = circuitVa(film);
  const circuit =
    limit === undefined
      ? ''
      : `, ${say.num(va, 0)} of the ${say.num(limit, 0)} VA that a circuit of ${care!.circuit!.text} takes`;
  return {
    va,
    words: `On the mains: ${each.join(', ')}${open}. Together ${say.num(watts, 0)} W${circuit}.`,
    ...(care && { range: care.circuit ?? care.alsoOnCircuit ?? care }),
    ranges: [care?.circuit, care?.alsoOnCircuit, care?.cableReel, blockRange(care)],
  };
}
