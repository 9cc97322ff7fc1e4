/** What a meter said of lamps alone, beside what their kit makes of them. */
import type { Film, KitLamp, LampPlace, Shot, Val } from '../film.ts';
import type { TakeSheet } from '../takes.ts';
import type { LightOutput, Lux, Share } from '../units.ts';
import { luxToward } from './light.ts';

export interface LampReading {
  readonly place: LampPlace;
  readonly lamp: KitLamp;
  readonly shot: Shot;
  readonly output: Val<LightOutput>;
  readonly measured: Val<Lux>;
  readonly reckoned: Lux;
  /** Of what is reckoned. */
  readonly share: Share;
}

/** The readings of a sheet that say something about a lamp of the kit. */
export function lampReadings({ measured }: TakeSheet, film: Film): LampReading[] {
  return [...measured].flatMap(([name, { lamps }]) => {
    const shot = film.shots.get(name);
    if (!shot) return [];
    return [...lamps.values()].flatMap(({ name: { value }, light }) => {
      const place = shot.lit.find((one) => one.name === value);
      return (place && light && readingOf(place, shot, light)) ?? [];
    });
  });
}

function readingOf(place: LampPlace, shot: Shot, measured: Val<Lux>): LampReading | undefined {
  const { lamp, bounces, changes, aim } = place;
  const reckoned = luxToward(place);
  // What the plan itself says was measured is not reckoned from the kit.
  if (!lamp?.output || !measured.value || bounces || changes || aim !== 'product' || place.measured || !reckoned)
    return undefined;
  return { place, lamp, shot, output: lamp.output, measured, reckoned, share: measured.value / reckoned };
}
