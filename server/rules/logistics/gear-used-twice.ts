import { luxOnFace } from '../../calc/light.ts';
import { outputLuxAt1m } from '../../core/derived/light.ts';
import { groupBy } from '../../core/group-by.ts';
import type { Film, KitLamp, LampPlace, Shot, Val } from '../../core/film.ts';
import { fits } from '../../core/resolve/kit.ts';
import { type Context, defineRule, type FixIdea, type Limit, set } from '../../core/rule.ts';
import { listText, percentText, quoted } from '../../core/say.ts';
import type { Lux } from '../../core/units.ts';
import { lampSize } from '../../core/derived/lamp-size.ts';

const messages = {
  lamp: '{shot}: {places} are all {gear}, lit at once, and the kit has {count}. Use another lamp, or do without one.',
  modifier: '{shot}: {gear} is on {places} at once, and the kit has {count}. Do without one, or bring another.',
  filter: '{shot}: {gear} is on the lens {times} times, and the kit has {count}. Name it once.',
} as const;

type Ctx = Context<typeof messages, Record<string, Limit>>;

export default defineRule({
  id: 'gear-used-twice',
  family: 'logistics',
  summary: 'A shot needs more of a thing at once than the kit holds.',
  severity: 'error',
  sources: ['the kit'],
  messages,
  shot(shot, context) {
    checkLamps(shot, context);
    checkModifiers(shot, context);
    checkFilters(shot, context);
  },
});

function checkLamps(shot: Shot, { film, report }: Ctx): void {
  for (const [lamp, places] of groupBy(shot.lit, ({ lamp }) => (lamp ? [lamp] : []))) {
    if (places.length <= lamp.count) continue;
    const last = places[lamp.count]!;
    report({
      message: 'lamp',
      data: {
        shot: shot.name,
        places: listText(places.map((place) => quoted(place.name))),
        gear: quoted(lamp.name),
        count: lamp.count,
      },
      at: whereLit(shot, last),
      fixes: () => otherLamps(last, shot, film),
    });
  }
}

function checkModifiers(shot: Shot, { report }: Ctx): void {
  for (const [{ name, count }, places] of groupBy(shot.lit, ({ modifiers }) => modifiers)) {
    if (places.length <= count) continue;
    const last = places[count]!;
    const at = last.modifierNames.find((val) => val.value === name) ?? last;
    report({
      message: 'modifier',
      data: { shot: shot.name, gear: quoted(name), places: listText(places.map((one) => quoted(one.name))), count },
      at,
      cause: { ...at, as: 'modifier' },
      fixes: () => without(last, name),
    });
  }
}

/** The lamp without it, turned down to what it gave through it. */
function without(place: LampPlace, name: string): FixIdea[] {
  const { level, modifiers, modifierNames } = place;
  const now = level?.value.from ?? 1;
  if (place.movedFrom || place.measured || (level && level.value.to !== now)) return [];
  const bare = { ...place, modifiers: modifiers.filter((one) => one.name !== name) };
  const [wanted, full] = [luxFrom(place, place.lamp, now), luxFrom(bare, place.lamp, 1)];
  if (!wanted || !full || wanted / full < (place.lamp?.level?.value.from ?? 0.01)) return [];
  const share = wanted / full;
  const text = percentText(share, share < 0.1 ? 1 : 0);
  const left = modifierNames.map(({ value }) => value).filter((one) => one !== name);
  const title = `Take ${quoted(name)} off ${quoted(place.name)} and set its level to ${text} (as bright, harder shadows)`;
  if (left.length === 0)
    return [{ ...set(title, [place, 'level', text]), remove: [{ block: place, key: 'modifier' }] }];
  return [set(title, [place, 'level', text], [place, 'modifier', left.length > 1 ? `[${left.join(', ')}]` : left[0]!])];
}

function checkFilters(shot: Shot, { film, report }: Ctx): void {
  for (const [name, same] of groupBy(shot.camera.filterNames, ({ value }) => [value])) {
    const filter = film.kit.filters.get(name);
    if (!filter || same.length <= filter.count) continue;
    const data = { shot: shot.name, gear: quoted(name), times: same.length, count: filter.count };
    report({ message: 'filter', data, at: same[filter.count]! });
  }
}

/** Where the shot says that it lights the place, else where the place is written. */
function whereLit(shot: Shot, place: LampPlace): Val<string> | LampPlace {
  return shot.litNames?.find((val) => val.value === place.name) ?? place;
}

/** Lamps of the kit that are left over in this shot, set so that they give the same light from the same place. */
function otherLamps(place: LampPlace, shot: Shot, film: Film): FixIdea[] {
  const { level, temperature } = place;
  if (place.movedFrom || place.measured || (level && level.value.from !== level.value.to)) return [];
  const wanted = luxFrom(place, place.lamp, level?.value.from ?? 1);
  return [...film.kit.lamps.values()].flatMap((lamp) => {
    const used = shot.lit.filter((one) => one.lamp === lamp).length;
    const full = luxFrom(place, lamp, 1);
    if (used >= lamp.count || !wanted || !full || !giveWhite(lamp, temperature?.value)) return [];
    if (!place.modifiers.every((modifier) => fits(modifier, lamp.name))) return [];
    const share = wanted / full;
    if (share > 1 || share < (lamp.level?.value.from ?? 0.01)) return [];
    const text = percentText(share, share < 0.1 ? 1 : 0);
    const title = `Use ${quoted(lamp.name)} at ${text} for ${quoted(place.name)} (the same light)`;
    return [set(title, [place, 'use', lamp.name], [place, 'level', text])];
  });
}

function giveWhite(lamp: KitLamp, wanted: { from: number; to: number } | undefined): boolean {
  const range = lamp.temperature?.value;
  return !range || !wanted || (range.from <= wanted.from && wanted.to <= range.to);
}

/** Lux on the axis from this place, were it this lamp at this level. */
function luxFrom(place: LampPlace, lamp: KitLamp | undefined, level: number): Lux | undefined {
  const as: LampPlace = { ...place, lamp };
  const luxAt1m = outputLuxAt1m(as);
  const distance = place.distance?.value;
  if (luxAt1m === undefined || !distance) return undefined;
  const lostStops = place.modifiers.reduce((sum, modifier) => sum + modifier.loses, 0);
  return luxOnFace({ ...lampSize(as), luxAt1m, level, distanceM: distance.from / 1000, angleDeg: 0, lostStops });
}
