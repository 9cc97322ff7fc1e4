/** What a day's takes use up: cards, and batteries of cameras and lamps. Bytes, watts, watt-hours, seconds. */
import type { Battery, CameraBody, Card, Film, LampPlace, Shot } from '../film.ts';
import { fits } from '../resolve/kit.ts';
import type { Seconds, Share, Watts } from '../units.ts';
import { type DayPlan, takesS } from './schedule.ts';

/** Cards that the day names, else all in the kit, as far as they fit the camera. */
export function cardsFor({ day }: DayPlan, camera: string, film: Film): Card[] {
  const names = day?.cards?.map((val) => val.value) ?? [...film.kit.cards.keys()];
  return [...new Set(names)].flatMap((name) => film.kit.cards.get(name) ?? []).filter((card) => fits(card, camera));
}

/** The longest share of the day without emptying the cards; takes are spread evenly over it. */
export function longestStretch({ day }: DayPlan): Share {
  const offload = [...(day?.offload ?? [])].map((val) => val.value).sort((a, b) => a - b);
  if (offload.length === 0) return 1;
  const { from, to } = day?.hours?.value ?? { from: 0, to: 0 };
  if (from === to) return 1 / (offload.length + 1);
  const times = [from, ...offload.filter((at) => at > from && at < to), to];
  return Math.max(...times.slice(1).map((at, index) => (at - times[index]!) / (to - from)));
}

/** A camera, or a lamp that runs on its battery. */
export interface Device {
  readonly name: string;
  /** What it is called in the kit. */
  readonly gear: string;
  readonly drawW: Watts;
  /** The shots for which it is on. */
  readonly shots: readonly Shot[];
  /** Energy that is built in. */
  readonly ownWh: number;
}

/** All that draws on batteries on a day and states its draw: cameras first. */
export function devicesOf(plan: DayPlan): Device[] {
  return [...camerasOf(plan), ...lampsOf(plan)];
}

function camerasOf({ shots }: DayPlan): Device[] {
  const bodies = new Set<CameraBody>();
  for (const { camera } of shots) if (camera.body) bodies.add(camera.body);
  return [...bodies].flatMap(({ name, draw }): Device[] => {
    const own = shots.filter((shot) => shot.camera.body?.name === name);
    return draw ? [{ name, gear: name, drawW: draw.value, shots: own, ownWh: 0 }] : [];
  });
}

function lampsOf(plan: DayPlan): Device[] {
  const places = new Set<LampPlace>();
  for (const { lit } of plan.shots) for (const place of lit) if (place.runsOn === 'battery') places.add(place);
  const seen = new Set<string>();
  return [...places].flatMap((place): Device[] => {
    const { lamp, origin, name } = place;
    if (!lamp?.draw || seen.has(origin)) return [];
    seen.add(origin);
    const shots = plan.shots.filter((shot) => shot.lit.some((one) => one.origin === origin));
    const level = Math.max(place.level?.value.from ?? 1, place.level?.value.to ?? 1);
    const ownWh = lamp.battery?.value ?? 0;
    return [{ name, gear: lamp.name, drawW: lamp.draw.value * level, shots, ownWh }];
  });
}

/** Seconds for which it is on: takes with what comes between them, or four times what is recorded. */
export function onS({ shots }: Device, film: Film): Seconds {
  const sum = (seconds: (shot: Shot) => Seconds) => shots.reduce((all, shot) => all + seconds(shot), 0);
  return Math.max(
    sum((shot) => takesS(shot, film)),
    4 * sum((shot) => shot.takes * (shot.record?.value ?? 0)),
  );
}

/** Batteries that the day names, else all of the kit, as far as they fit. */
export function batteriesFor({ day }: DayPlan, gear: string, film: Film): Battery[] {
  const names = day?.batteries?.map((val) => val.value) ?? [...film.kit.batteries.keys()];
  return [...new Set(names)].flatMap((name) => film.kit.batteries.get(name) ?? []).filter((one) => fits(one, gear));
}
