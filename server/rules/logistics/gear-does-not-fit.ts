import type { Camera, Day, Film, Gear, LampPlace, Shot, Val } from '../../core/film.ts';
import { fits } from '../../core/resolve/kit.ts';
import { type Context, defineRule, type FixIdea, type Limit, set } from '../../core/rule.ts';
import { lengthText, listText, quoted, stopsText } from '../../core/say.ts';

const messages = {
  lens: '{shot}: {gear} fits {fit}, not {to}. Use one that fits.',
  filter: '{shot}: {gear} fits {fit}, not {to}. The lens needs one of its own, or {stops} less light.',
  colourFilter: '{shot}: {gear} fits {fit}, not {to}. Use one that fits.',
  // Places that take the same value over are joined like shots.
  modifier: '{shot}: {gear} fits {fit}, not {to}. Use one that fits.',
  card: '{gear} fits {fit}, and no shot of this day is filmed with that.',
  battery: '{gear} fits {fit}, and nothing of this day runs on it.',
} as const;

type Ctx = Context<typeof messages, Record<string, Limit>>;

export default defineRule({
  id: 'gear-does-not-fit',
  family: 'logistics',
  summary: 'Two things are used together that do not fit each other.',
  severity: 'error',
  sources: ['the kit'],
  messages,
  shot(shot, context) {
    checkLens(shot, context);
    checkFilters(shot, context);
  },
  lamp(place, context) {
    checkModifiers(place, context);
  },
  film(film, context) {
    checkDays(film, context);
  },
});

/** What something fits, for a message. */
function fitText(gear: Gear): string {
  return listText((gear.fits ?? []).map((val) => quoted(val.value)));
}

function checkLens(shot: Shot, { film, report }: Ctx): void {
  const { camera } = shot;
  const { body, lens, lensName } = camera;
  if (!body || !lens || !lensName || fits(lens, body.name)) return;
  const focal = lens.focal?.value.from ?? 0;
  const apart = (one: { focal?: Val<{ from: number }> }) => Math.abs(Math.log((one.focal?.value.from ?? 1e-9) / focal));
  const others = [...film.kit.lenses.values()]
    .filter((one) => fits(one, body.name))
    .sort((a, b) => apart(a) - apart(b));
  report({
    message: 'lens',
    data: { shot: shot.name, gear: quoted(lens.name), fit: fitText(lens), to: quoted(body.name) },
    at: lensName,
    fixes: others.slice(0, 2).map((one) => {
      const length = one.focal ? ` (${lengthText(one.focal.value.from)})` : '';
      return set(`Use ${quoted(one.name)}${length}`, [camera, 'lens', one.name]);
    }),
  });
}

function checkFilters(shot: Shot, { film, report }: Ctx): void {
  const { camera } = shot;
  const { lens } = camera;
  if (!lens) return;
  for (const val of camera.filterNames) {
    const filter = film.kit.filters.get(val.value);
    if (!filter || fits(filter, lens.name)) continue;
    const data = { shot: shot.name, gear: quoted(filter.name), fit: fitText(filter), to: quoted(lens.name) };
    const others = [...film.kit.filters.values()].filter(
      (one) => fits(one, lens.name) && one.kind === filter.kind && Math.sign(one.warms) === Math.sign(filter.warms),
    );
    others.sort((a, b) => Math.abs(a.loses - filter.loses) - Math.abs(b.loses - filter.loses));
    const fixes = others
      .slice(0, 2)
      .flatMap((one) => inList(`Use ${quoted(one.name)} (${stopsText(one.loses)})`, camera, val, one.name));
    if (filter.loses > 0 && filter.warms === 0) {
      report({ message: 'filter', data: { ...data, stops: stopsText(filter.loses) }, at: val, fixes });
    } else {
      report({ message: 'colourFilter', data, at: val, fixes });
    }
  }
}

/** Puts another name in the place of one of a list, or of the only one. */
function inList(title: string, camera: Camera, val: Val<string>, name: string): FixIdea[] {
  const names = camera.filterNames.map((one) => (one === val ? name : one.value));
  const { own } = camera.fields;
  const isOwn = own !== undefined && val.start >= own.start && val.end <= own.end;
  if (isOwn) return [{ title, edits: [{ start: val.start, end: val.end, text: name }] }];
  return [set(title, [camera, 'filters', names.length === 1 ? name : `[${names.join(', ')}]`])];
}

function checkModifiers(place: LampPlace, { film, report }: Ctx): void {
  const { lamp } = place;
  if (!lamp) return;
  for (const val of place.modifierNames) {
    const modifier = film.kit.modifiers.get(val.value);
    if (!modifier || fits(modifier, lamp.name)) continue;
    const others = [...film.kit.modifiers.values()].filter(
      (one) => fits(one, lamp.name) && Math.sign(one.warms) === Math.sign(modifier.warms),
    );
    others.sort((a, b) => Math.abs(a.loses - modifier.loses) - Math.abs(b.loses - modifier.loses));
    report({
      message: 'modifier',
      data: { shot: place.name, gear: quoted(modifier.name), fit: fitText(modifier), to: quoted(lamp.name) },
      at: val,
      fixes: others.slice(0, 2).map((one) => ({
        title: `Use ${quoted(one.name)} (takes ${stopsText(one.loses)})`,
        edits: [{ start: val.start, end: val.end, text: one.name }],
      })),
    });
  }
}

/** Cards and batteries that are taken along for nothing. */
function checkDays(film: Film, { report }: Ctx): void {
  for (const day of film.schedule) {
    const shots = [...film.shots.values()].filter(
      (shot) => !day.order || !shot.setUpName || day.order.some((one) => one.value === shot.setUpName?.value),
    );
    const cameras = new Set(shots.flatMap((shot) => shot.camera.body?.name ?? []));
    const lamps = shots.flatMap((shot) => shot.lit.flatMap((place) => place.lamp?.name ?? []));
    // Recorders, tables and sliders have cards and batteries of their own.
    const beside = shots.flatMap(({ microphoneName, turn, camera }) =>
      [microphoneName, turn?.tableName, camera.supportName].flatMap((val) => val?.value ?? []),
    );
    const unknown = shots.some((shot) => !shot.camera.body);
    const check = (
      message: 'card' | 'battery',
      named: Day['cards'],
      gear: ReadonlyMap<string, Gear>,
      users: Set<string>,
    ) => {
      const isUseful = (one: Gear | undefined) =>
        unknown || (one && [...users, ...beside].some((name) => fits(one, name)));
      const isIdle = ({ value }: Val<string>) => gear.has(value) && !isUseful(gear.get(value));
      const idle = named?.filter(isIdle) ?? [];
      // One that lies about beside one that fits spoils nothing.
      const severity = idle.length === named?.length ? 'error' : 'info';
      for (const val of idle) {
        const one = gear.get(val.value)!;
        report({ message, data: { gear: quoted(one.name), fit: fitText(one) }, at: val, severity });
      }
    };
    check('card', day.cards, film.kit.cards, cameras);
    check('battery', day.batteries, film.kit.batteries, new Set([...cameras, ...lamps]));
  }
}
