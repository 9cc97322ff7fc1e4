/** What to bring: everything from the kits that the film uses, once, with what else it needs. */
import type { Film, LampPlace, Shot, Val } from '../../core/film.ts';
import type { SheetBlock } from './blocks.ts';

export function packingBlock(film: Film): SheetBlock {
  const shots = [...film.shots.values()];
  return { kind: 'ticks', title: 'To pack', items: [...gear(shots), ...supplies(film)], inRow: true };
}

function gear(shots: readonly Shot[]): string[] {
  const named = (pick: (shot: Shot) => readonly (string | undefined)[]) => unique(shots.flatMap(pick));
  return [
    ...named(({ camera }) => [camera.body?.name ?? camera.bodyName?.value]),
    ...named(({ camera }) => [camera.lens?.name ?? camera.lensName?.value]).map((name) => `lens ${name}`),
    ...named(({ camera }) => [camera.supportName?.value]),
    ...named(({ camera }) => camera.filterNames.map((one) => one.value)).map((name) => `filter ${name}`),
    ...lamps(shots),
    ...named(({ lit }) => lit.flatMap((lamp) => lamp.modifierNames.map((one) => one.value))),
    ...named(({ turn }) => [turn && (turn.tableName ? `turntable ${turn.tableName.value}` : 'turntable')]),
    ...named(({ microphoneName }) => [microphoneName?.value]).map((name) => `microphone ${name}`),
    ...named(({ backdrop }) => [backdrop?.screenName?.value ?? backdrop?.material?.value]).map(
      (name) => `backdrop ${name}`,
    ),
    ...named(({ surface }) => [surface?.material?.value]).map((name) => `surface ${name}`),
  ];
}

/** As many of each as are up at once, and what holds them. */
function lamps(shots: readonly Shot[]): string[] {
  const most = new Map<string, number>();
  for (const { lit } of shots) {
    const here = counted(lit.map((lamp) => lamp.kitName.value));
    for (const [name, count] of here) most.set(name, Math.max(most.get(name) ?? 0, count));
  }
  const stands = shots.reduce((all, { lit }) => Math.max(all, new Set(lit.filter(isOnStand).map(originOf)).size), 0);
  const booms = shots.reduce((all, { lit }) => Math.max(all, lit.filter((lamp) => lamp.held === 'boom').length), 0);
  const times = (count: number, name: string) => (count > 1 ? `${count} × ${name}` : name);
  return [
    ...[...most].map(([name, count]) => times(count, `lamp ${name}`)),
    ...(stands > 0 ? [times(stands, stands > 1 ? 'lamp stands' : 'lamp stand')] : []),
    ...(booms > 0 ? [times(booms, booms > 1 ? 'booms' : 'boom')] : []),
  ];
}

const isOnStand = (lamp: LampPlace) => lamp.held === 'stand';
const originOf = (lamp: LampPlace) => lamp.origin;

function counted(names: readonly string[]): Map<string, number> {
  const counts = new Map<string, number>();
  for (const name of names) counts.set(name, (counts.get(name) ?? 0) + 1);
  return counts;
}

function supplies({ schedule, care, shots, product }: Film): string[] {
  const each = (pick: (day: Film['schedule'][number]) => readonly Val<string>[] | undefined) =>
    unique(schedule.flatMap((day) => pick(day) ?? []).map((one) => one.value));
  const onMains = [...shots.values()].some(({ lit }) => lit.some((lamp) => lamp.runsOn === 'mains'));
  return [
    ...each((day) => day.cards).map((name) => `cards ${name}`),
    ...each((day) => day.batteries).map((name) => `batteries ${name}`),
    ...(care?.cableReel ? ['cable reel'] : []),
    ...(onMains && !care?.cableReel ? ['mains cables'] : []),
    ...(product.hazards.some((one) => one.value === 'liquid') ? ['drip tray and cloths'] : []),
    'tape, gloves, air blower',
    'grey or colour chart',
    'carrier for a second copy',
  ];
}

function unique(names: readonly (string | undefined)[]): string[] {
  return [...new Set(names.filter((name): name is string => Boolean(name)))];
}
