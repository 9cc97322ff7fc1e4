/** What to bring: everything from the kits that the film uses, once, with what else it needs. */
import type { Film, Gear, LampPlace, Shot } from '../film.ts';
import { fits } from '../resolve/kit.ts';
import { isBuiltIn, isHands, isOwnLight, isPhone } from './built-in.ts';
import { isWindow } from './lamp-size.ts';
import { isFarOff } from './past-backdrop.ts';
import { turningRpm } from './time.ts';

export interface Packed {
  readonly kind:
    | 'camera'
    | 'lens'
    | 'support'
    | 'filter'
    | 'lamp'
    | 'lamp stand'
    | 'rolling stand'
    | 'boom'
    | 'reflector'
    | 'modifier'
    | 'turntable'
    | 'microphone'
    | 'screen'
    | 'backdrop'
    | 'surface'
    | 'card'
    | 'battery'
    | 'supply';
  /** As the kit or the spec calls it; empty where it has no name. */
  readonly name: string;
  /** Of lamps and what is on them as many as are up at once, of cards and batteries as many as the kit has. */
  readonly count: number;
  /** As written, of what no kit has. */
  readonly size?: string | undefined;
}

/** What is packed. Windows, hands, and the lens inside a phone are not. */
export function packing(film: Film): readonly Packed[] {
  const shots = [...film.shots.values()];
  const named = (kind: Packed['kind'], pick: (shot: Shot) => readonly (string | undefined)[]) =>
    unique(shots.flatMap(pick)).map((name) => ({ kind, name, count: 1 }));
  return [
    ...named('camera', ({ camera }) => [camera.body?.name ?? camera.bodyName?.value]),
    ...named('lens', ({ camera: { lens, lensName } }) => [
      lens && isBuiltIn(lens) ? '' : (lens?.name ?? lensName?.value),
    ]),
    ...named('support', ({ camera: { support, supportName } }) => [isHands(support) ? '' : supportName?.value]),
    ...named('filter', ({ camera }) => camera.filterNames.map((one) => one.value)),
    ...lamps(shots, film),
    ...turntables(film),
    ...named('microphone', ({ microphoneName }) => [microphoneName?.value]),
    ...named('screen', ({ backdrop }) => [backdrop?.screenName?.value]),
    ...cards(film),
    ...batteries(film),
    ...supplies(film),
  ];
}

/**
 * What is behind and under the product, and what turns it where that is no turntable of the kit, such as a wheel: no plan says whether it is brought, or is the wall and the table of the place. A landscape
 * is there.
 */
export function around(film: Film): readonly Packed[] {
  const all = [...film.shots.values()].flatMap(({ backdrop, surface }): Packed[] => [
    ...(backdrop?.material && !isFarOff(backdrop)
      ? [{ kind: 'backdrop', name: backdrop.material.value, count: 1, size: backdrop.size?.text } as const]
      : []),
    // A sweep is its own surface.
    ...(surface?.material && surface.material !== backdrop?.material
      ? [{ kind: 'surface', name: surface.material.value, count: 1, size: surface.size?.text } as const]
      : []),
  ]);
  const isTurned = [...film.shots.values()].some((shot) => turningRpm(shot) !== 0 && tableNameOf(shot) === undefined);
  const turns: Packed[] =
    isTurned && film.kit.turntables.size === 0 ? [{ kind: 'supply', name: 'what turns the product', count: 1 }] : [];
  return [...new Map([...all, ...turns].map((one) => [`${one.kind} ${one.name} ${one.size}`, one])).values()];
}

/** As many of each as are up at once, and what holds them and is on them. */
function lamps(shots: readonly Shot[], film: Film): Packed[] {
  const ups = shots.map(({ lit }) => lit.filter((place) => !isWindow(place) && !isOwnLight(place, film)));
  const most = (kind: Packed['kind'], pick: (place: LampPlace) => readonly string[]) =>
    mostAtOnce(ups.map((up) => [...new Map(up.map((place) => [place.origin, place])).values()].flatMap(pick))).map(
      ([name, count]): Packed => ({ kind, name, count }),
    );
  const heldBy = (kind: Packed['kind'], word: string) => most(kind, ({ held }) => (held === word ? [''] : []));
  const sizes = new Map(ups.flat().map(({ origin, size }) => [origin, size?.text]));
  return [
    ...most('lamp', ({ bouncesName, kitName }) => (bouncesName ? [] : [kitName.value])),
    ...most('reflector', ({ bouncesName, origin }) => (bouncesName ? [origin] : [])).map((one) => ({
      ...one,
      size: sizes.get(one.name),
    })),
    ...heldBy('lamp stand', 'stand'),
    ...heldBy('rolling stand', 'rolling-stand'),
    ...heldBy('boom', 'boom'),
    ...most('modifier', ({ modifierNames }) => modifierNames.map(({ value }) => value)),
  ];
}

/** The largest number of each name that one of the lists has. */
function mostAtOnce(lists: readonly (readonly string[])[]): [string, number][] {
  const most = new Map<string, number>();
  for (const list of lists) {
    const here = new Map<string, number>();
    for (const name of list) here.set(name, (here.get(name) ?? 0) + 1);
    for (const [name, count] of here) most.set(name, Math.max(most.get(name) ?? 0, count));
  }
  return [...most];
}

/** One of several that no shot names is packed as well; where the kit has none, see `around`. */
function turntables({ shots, kit }: Film): Packed[] {
  const used = [...shots.values()].flatMap((shot) => {
    const name = tableNameOf(shot);
    return name === undefined && (turningRpm(shot) === 0 || kit.turntables.size === 0) ? [] : [name ?? ''];
  });
  return [...new Set(used)].map((name) => ({ kind: 'turntable', name, count: 1 }));
}

/** What the shot turns or stands on, if that is a turntable of the kit or said to be. */
function tableNameOf(shot: Shot): string | undefined {
  const { table, tableName } = shot.turn ?? {};
  return tableName?.value ?? (turningRpm(shot) === 0 ? undefined : table?.name);
}

/** A camera or a lamp, which takes cards or batteries: those that each day names, else all of the kit that fit. */
interface User {
  readonly name: string;
  readonly isPhone: boolean;
}

function camerasOf(film: Film, counts: (shot: Shot) => boolean): User[] {
  const shots = [...film.shots.values()];
  const bodies = new Set(shots.flatMap((shot) => (shot.camera.body && counts(shot) ? shot.camera.body : [])));
  return [...bodies].map((body) => ({ name: body.name, isPhone: isPhone(body, shots) }));
}

function cards(film: Film): Packed[] {
  const users = camerasOf(film, () => true);
  return taken(
    'card',
    [...film.kit.cards.values()],
    users,
    namedBy(film, ({ cards }) => cards),
  );
}

function batteries(film: Film): Packed[] {
  const onBattery = [...film.shots.values()].flatMap(({ lit }) => lit.filter(({ runsOn }) => runsOn === 'battery'));
  const lit = new Set(onBattery.map(({ kitName }) => kitName.value));
  const users = [
    ...camerasOf(film, ({ camera }) => camera.runsOn === 'battery'),
    ...[...lit].map((name) => ({ name, isPhone: false })),
  ];
  return taken(
    'battery',
    [...film.kit.batteries.values()],
    users,
    namedBy(film, ({ batteries }) => batteries),
  );
}

/** The names that the days say; undefined where one of them says none. */
function namedBy({ schedule }: Film, pick: (day: Film['schedule'][number]) => Film['schedule'][number]['cards']) {
  const said = schedule.map(pick);
  return said.length === 0 || said.includes(undefined)
    ? undefined
    : new Set(said.flatMap((names) => names?.map(({ value }) => value) ?? []));
}

function taken(
  kind: 'card' | 'battery',
  all: readonly Gear[],
  users: readonly User[],
  named: ReadonlySet<string> | undefined,
): Packed[] {
  const has = new Set(users.flatMap((user) => fitting(all, user, named)));
  const known = [...has].map(({ name, count }): Packed => ({ kind, name, count }));
  const others = [...(named ?? [])].filter((name) => !all.some((one) => one.name === name));
  return [...known, ...others.map((name): Packed => ({ kind, name, count: 1 }))];
}

function fitting(all: readonly Gear[], user: User, named: ReadonlySet<string> | undefined): readonly Gear[] {
  if (named) return all.filter((one) => named.has(one.name));
  const own = all.filter((one) => fits(one, user.name));
  return user.isPhone && own.length === 1 && own[0]!.count === 1 ? [] : own;
}

function supplies({ care, shots, product }: Film): Packed[] {
  const onMains = [...shots.values()].some(
    ({ lit, camera }) => camera.runsOn === 'mains' || lit.some((lamp) => lamp.runsOn === 'mains'),
  );
  const others = [
    ...(care?.cableReel ? ['cable reel'] : []),
    ...(onMains && !care?.cableReel ? ['mains cables'] : []),
    ...(product.hazards.some((one) => one.value === 'liquid') ? ['drip tray and cloths'] : []),
    'tape, gloves, air blower',
    'grey or colour chart',
    'carrier for a second copy',
  ];
  return others.map((name) => ({ kind: 'supply', name, count: 1 }));
}

function unique(names: readonly (string | undefined)[]): string[] {
  return [...new Set(names.filter((name): name is string => Boolean(name)))];
}
