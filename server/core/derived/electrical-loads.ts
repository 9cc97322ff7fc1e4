/** What draws mains power in a shot: lamps that are lit, the screen, a camera that is plugged in, and what else is on the circuit. */
import { apparentVa } from '../../calc/mains.ts';
import { once, onceIn } from '../memo.ts';
import type { Film, LampPlace, Shot } from '../film.ts';
import { quoted } from '../say.ts';
import type { Watts } from '../units.ts';

export interface Load {
  /** For messages. */
  readonly name: string;
  readonly watts: Watts;
  readonly va: number;
}

export interface Loads {
  readonly shot?: Shot;
  readonly loads: readonly Load[];
  readonly watts: Watts;
  readonly va: number;
  /** Names of what is on mains and states no draw. */
  readonly unknown: readonly string[];
}

/** Power factor where a label states none: LED lamps, screens and supplies (common practice, no source). */
const usualFactor = 0.9;

function lampFactor({ lamp }: LampPlace): number {
  return lamp?.powerFactor?.value ?? (lamp?.kind?.value === 'filament' ? 1 : usualFactor);
}

/** Full draw of each: a dimmer is turned up sooner or later. */
function shotLoads(shot: Shot): { loads: Load[]; unknown: string[] } {
  const loads: Load[] = [];
  const unknown: string[] = [];
  const add = (name: string, watts: Watts | undefined, factor: number) => {
    if (watts === undefined) unknown.push(name);
    else loads.push({ name, watts, va: apparentVa(watts, factor) });
  };
  for (const place of shot.lit) {
    if (place.lamp && place.runsOn === 'mains') add(quoted(place.name), place.lamp.draw?.value, lampFactor(place));
  }
  const { screen } = shot.backdrop ?? {};
  if (screen) add(quoted(screen.name), screen.draw?.value, usualFactor);
  const { body, runsOn } = shot.camera;
  if (body && runsOn === 'mains') add(quoted(body.name), body.draw?.value, usualFactor);
  return { loads, unknown };
}

/** All that a shot has on the circuit at once, with what else is on it. */
export const loadsOf = onceIn((shot: Shot, film: Film): Loads => {
  const { loads, unknown } = shotLoads(shot);
  return { ...total([...loads, ...restOf(film)], unknown), shot };
});

function restOf({ care }: Film): Load[] {
  const also = care?.alsoOnCircuit?.value;
  return also ? [{ name: 'what else is on the circuit', watts: also, va: apparentVa(also, usualFactor) }] : [];
}

/** The shot that draws most at once, with what else is on the circuit. */
export const greatestLoads = once((film: Film): Loads => {
  let most: Loads = total(restOf(film), []);
  for (const shot of film.shots.values()) {
    const all = loadsOf(shot, film);
    if (!most.shot || all.va > most.va) most = all;
  }
  return most;
});

function total(loads: readonly Load[], unknown: readonly string[]): Loads {
  const sum = (pick: (load: Load) => number) => loads.reduce((all, one) => all + pick(one), 0);
  return { loads, watts: sum((one) => one.watts), va: sum((one) => one.va), unknown };
}

/** The longest day of the schedule in hours; undefined where no day says its hours. */
export function longestDayHours(film: Film): number | undefined {
  const days = film.schedule.flatMap(({ hours }) => (hours ? (hours.value.to - hours.value.from) / 60 : []));
  return days.length > 0 ? Math.max(...days) : undefined;
}
