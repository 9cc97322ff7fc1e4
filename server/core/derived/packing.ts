/** What to bring: everything from the kits that the film uses, once, with what else it needs. */
import type { Film, LampPlace, Shot, Val } from '../film.ts';

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
    | 'modifier'
    | 'turntable'
    | 'microphone'
    | 'backdrop'
    | 'surface'
    | 'card'
    | 'battery'
    | 'supply';
  /** As the kit or the spec calls it; empty where it has no name. */
  readonly name: string;
  /** Of lamps and what holds them as many as are up at once, of cards and batteries as many as the kit has. */
  readonly count: number;
}

export function packing(film: Film): readonly Packed[] {
  const shots = [...film.shots.values()];
  const named = (kind: Packed['kind'], pick: (shot: Shot) => readonly (string | undefined)[]) =>
    unique(shots.flatMap(pick)).map((name) => ({ kind, name, count: 1 }));
  return [
    ...named('camera', ({ camera }) => [camera.body?.name ?? camera.bodyName?.value]),
    ...named('lens', ({ camera }) => [camera.lens?.name ?? camera.lensName?.value]),
    ...named('support', ({ camera }) => [camera.supportName?.value]),
    ...named('filter', ({ camera }) => camera.filterNames.map((one) => one.value)),
    ...lamps(shots),
    ...named('modifier', ({ lit }) => lit.flatMap((lamp) => lamp.modifierNames.map((one) => one.value))),
    ...turntables(shots),
    ...named('microphone', ({ microphoneName }) => [microphoneName?.value]),
    ...named('backdrop', ({ backdrop }) => [backdrop?.screenName?.value ?? backdrop?.material?.value]),
    ...named('surface', ({ surface }) => [surface?.material?.value]),
    ...supplies(film),
  ];
}

/** As many of each as are up at once, and what holds them. */
function lamps(shots: readonly Shot[]): Packed[] {
  const most = new Map<string, number>();
  for (const { lit } of shots) {
    const here = counted(lit.map((lamp) => lamp.kitName.value));
    for (const [name, count] of here) most.set(name, Math.max(most.get(name) ?? 0, count));
  }
  const mostOn = (held: string) =>
    shots.reduce(
      (all, { lit }) => Math.max(all, new Set(lit.filter((lamp) => lamp.held === held).map(originOf)).size),
      0,
    );
  const holders = [
    { kind: 'lamp stand', name: '', count: mostOn('stand') },
    { kind: 'rolling stand', name: '', count: mostOn('rolling-stand') },
    { kind: 'boom', name: '', count: mostOn('boom') },
  ] as const;
  return [
    ...[...most].map(([name, count]): Packed => ({ kind: 'lamp', name, count })),
    ...holders.filter(({ count }) => count > 0),
  ];
}

const originOf = (lamp: LampPlace) => lamp.origin;

function counted(names: readonly string[]): Map<string, number> {
  const counts = new Map<string, number>();
  for (const name of names) counts.set(name, (counts.get(name) ?? 0) + 1);
  return counts;
}

function turntables(shots: readonly Shot[]): Packed[] {
  const names = new Set(shots.flatMap(({ turn }) => (turn ? [turn.tableName?.value ?? ''] : [])));
  return [...names].map((name) => ({ kind: 'turntable', name, count: 1 }));
}

function supplies({ schedule, care, shots, product, kit }: Film): Packed[] {
  const each = (pick: (day: Film['schedule'][number]) => readonly Val<string>[] | undefined) =>
    unique(schedule.flatMap((day) => pick(day) ?? []).map((one) => one.value));
  const onMains = [...shots.values()].some(({ lit }) => lit.some((lamp) => lamp.runsOn === 'mains'));
  const others = [
    ...(care?.cableReel ? ['cable reel'] : []),
    ...(onMains && !care?.cableReel ? ['mains cables'] : []),
    ...(product.hazards.some((one) => one.value === 'liquid') ? ['drip tray and cloths'] : []),
    'tape, gloves, air blower',
    'grey or colour chart',
    'carrier for a second copy',
  ];
  return [
    ...each((day) => day.cards).map((name): Packed => ({ kind: 'card', name, count: kit.cards.get(name)?.count ?? 1 })),
    ...each((day) => day.batteries).map((name): Packed => ({
      kind: 'battery',
      name,
      count: kit.batteries.get(name)?.count ?? 1,
    })),
    ...others.map((name): Packed => ({ kind: 'supply', name, count: 1 })),
  ];
}

function unique(names: readonly (string | undefined)[]): string[] {
  return [...new Set(names.filter((name): name is string => Boolean(name)))];
}
