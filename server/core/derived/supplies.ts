/** What a day's takes use up: cards, and batteries of cameras and lamps. Bytes, watts, watt-hours, seconds. */
import { energyWh } from '../../calc/data.ts';
import type { Battery, CameraBody, Card, Film, LampPlace, Shot } from '../film.ts';
import { fits } from '../resolve/kit.ts';
import type { Bytes, Seconds, Share, Watts } from '../units.ts';
import { firstBuildMinutes } from './changes.ts';
import { bytesByCamera, type DayPlan, takesS } from './schedule.ts';

/** Users of the same supplies: cameras of cards, or what draws on batteries. */
export interface Sharing<User, Supply> {
  readonly users: readonly User[];
  readonly supplies: readonly Supply[];
}

/**
 * For what each user may take, all users that may take nothing else: together they can't take more than that. Who may
 * take nothing stands alone.
 */
export function sharings<User, Supply>(
  users: readonly User[],
  suppliesOf: (user: User) => readonly Supply[],
): Sharing<User, Supply>[] {
  const all = users.map((user) => ({ user, supplies: new Set(suppliesOf(user)) }));
  return all.flatMap(({ user, supplies }, index): Sharing<User, Supply>[] => {
    if (supplies.size === 0) return [{ users: [user], supplies: [] }];
    const inside = all.filter((other) => other.supplies.size > 0 && covers(supplies, other.supplies));
    // Users that may take the same are one group, that of the first of them.
    if (inside.find((other) => other.supplies.size === supplies.size) !== all[index]) return [];
    return [{ users: inside.map((one) => one.user), supplies: [...supplies] }];
  });
}

/** Cards that the day names, else all in the kit, as far as they fit the camera. */
function cardsFor({ day }: DayPlan, camera: string, film: Film): Card[] {
  const names = day?.cards?.map((val) => val.value) ?? [...film.kit.cards.keys()];
  return [...new Set(names)].flatMap((name) => film.kit.cards.get(name) ?? []).filter((card) => fits(card, camera));
}

function covers<T>(all: ReadonlySet<T>, some: ReadonlySet<T>): boolean {
  return [...some].every((one) => all.has(one));
}

/** The cameras of a day by the cards that they share. */
export function cardSharings(plan: DayPlan, film: Film): Sharing<{ name: string; bytes: Bytes }, Card>[] {
  const cameras = [...bytesByCamera(plan.shots)].map(([name, bytes]) => ({ name, bytes }));
  return sharings(cameras, ({ name }) => cardsFor(plan, name, film));
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
  /** How long the set-ups that a lamp is lit in take to build: it may be on while they are. */
  readonly buildS?: Seconds;
}

/** All that draws on batteries on a day and states its draw: cameras first. */
function devicesOf(plan: DayPlan): Device[] {
  return [...camerasOf(plan), ...lampsOf(plan)];
}

function camerasOf({ shots }: DayPlan): Device[] {
  const bodies = new Set<CameraBody>();
  const onBattery = shots.filter(({ camera }) => camera.runsOn === 'battery');
  for (const { camera } of onBattery) if (camera.body) bodies.add(camera.body);
  return [...bodies].flatMap(({ name, draw }): Device[] => {
    const own = onBattery.filter((shot) => shot.camera.body?.name === name);
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
    return [{ name, gear: lamp.name, drawW: lamp.draw.value * level, shots, ownWh, buildS: buildOf(plan, shots) }];
  });
}

/** Of the set-ups of some shots of a day, what is said of building them, and what the first of a day takes where it is not. */
function buildOf({ works }: DayPlan, shots: readonly Shot[]): Seconds {
  const minutes = works.map(({ buildMinutes }, index) => buildMinutes ?? (index === 0 ? firstBuildMinutes : 0));
  return works.reduce(
    (sum, work, index) => sum + (work.shots.some((shot) => shots.includes(shot)) ? minutes[index]! * 60 : 0),
    0,
  );
}

/** What a device is on around a take besides its reset: it is set, looked at and rehearsed with. */
const mostAroundS: Seconds = 180;

/** Seconds for which it is on: takes with what comes between them, or, for short ones, four times what is recorded. */
function onS({ shots }: Device, film: Film): Seconds {
  const sum = (seconds: (shot: Shot) => Seconds) => shots.reduce((all, shot) => all + seconds(shot), 0);
  return Math.max(
    sum((shot) => takesS(shot, film)),
    sum(({ takes, record }) => takes * ((record?.value ?? 0) + Math.min(3 * (record?.value ?? 0), mostAroundS))),
  );
}

/** Batteries that the day names, else all of the kit, as far as they fit. */
function batteriesFor({ day }: DayPlan, gear: string, film: Film): Battery[] {
  const names = day?.batteries?.map((val) => val.value) ?? [...film.kit.batteries.keys()];
  return [...new Set(names)].flatMap((name) => film.kit.batteries.get(name) ?? []).filter((one) => fits(one, gear));
}

/** What a device takes in a day. */
export interface Need {
  readonly device: Device;
  readonly onS: Seconds;
  readonly needWh: number;
  /** What its own battery does not give. */
  readonly restWh: number;
}

/** What draws on batteries on a day, by the batteries that it shares; what has enough in its own stands alone. */
export function batterySharings(plan: DayPlan, film: Film, usable: Share): Sharing<Need, Battery>[] {
  const batteries = (device: Device) => batteriesFor(plan, device.gear, film);
  const needs = devicesOf(plan)
    .filter((device) => device.ownWh > 0 || batteries(device).length > 0)
    .map((device) => needOf(device, film, usable));
  const short = needs.filter(({ restWh }) => restWh > 0);
  const enough = needs.filter(({ restWh }) => restWh === 0);
  return [
    ...enough.map((need) => ({ users: [need], supplies: batteries(need.device) })),
    ...sharings(short, ({ device }) => batteries(device)),
  ];
}

function needOf(device: Device, film: Film, usable: Share): Need {
  const timeS = onS(device, film);
  const needWh = energyWh(device.drawW, timeS / 3600);
  const ownWh = device.ownWh * usable;
  return { device, onS: timeS, needWh, restWh: needWh <= ownWh * (1 + 1e-6) ? 0 : needWh - ownWh };
}
