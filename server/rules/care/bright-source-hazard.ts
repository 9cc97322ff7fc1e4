import { outputLuxAt1m } from '../../core/derived/light.ts';
import type { LampPlace, Shot } from '../../core/film.ts';
import { type Context, defineRule, type Limit } from '../../core/rule.ts';
import { listText, luxText, quoted } from '../../core/say.ts';
import { facesLens } from './placement.ts';
import { careful } from './caution-text.ts';
import { lampSize } from '../../core/derived/lamp-size.ts';
import type { Kelvin } from '../../core/units.ts';

const messages = {
  bright:
    '{lamps} {are} of risk group {group}: the light hurts {whom}. Nobody looks into it, it points away from people, and it is out between takes. {closing}',
  lens: '{shot}: {lamp} is of risk group {group} and shines towards the camera: look at the screen, never through a finder, and shade it until the take. {closing}',
  sun: '{shot}: {light} of daylight is direct sun, and the product is {what}. What is round and clear gathers it into a point that can burn paper and cloth. Shade it whenever nobody is there. {closing}',
} as const;

type Ctx = Context<typeof messages, { sun: Limit }>;

export default defineRule({
  id: 'bright-source-hazard',
  family: 'care',
  summary: 'Light that hurts eyes is on the set, or sun falls on what gathers it.',
  severity: 'warning',
  sources: [
    'IEC 62471 risk groups; exempt below a radiance of 100 W/(m² sr), weighted for blue light (from memory)',
    'IEC TR 62778: 0.9 mW of that in a lumen of cool white light (from memory)',
    'direct sun from 20 000 lx: common practice, no source',
  ],
  limits: {
    sun: { quantity: 'number', default: '20000', meaning: 'Lux of daylight from which it counts as direct sun.' },
  },
  messages,
  film(film, context) {
    const shots = [...film.shots.values()];
    const bright = new Set(
      shots.flatMap((shot) => shot.lit.filter((place) => isBright(place) && !facesLens(shot, place))),
    );
    for (const group of [3, 2])
      tellBright(
        [...bright].filter((place) => riskGroup(place) === group),
        group,
        context,
      );
  },
  shot(shot, context) {
    for (const place of shot.lit) checkLens(shot, place, context);
    checkSun(shot, context);
  },
});

function riskGroup({ lamp }: LampPlace): number {
  return lamp?.riskGroup?.value ?? 0;
}

function isBright(place: LampPlace): boolean {
  const group = riskGroup(place);
  return group >= 3 || (group === 2 && !isVeiled(place));
}

/** All of a group at once: it is one habit. From group 2 one looks away before it hurts (IEC 62471, from memory): a note. */
function tellBright(places: readonly LampPlace[], group: number, { film, report }: Ctx): void {
  const [first] = places;
  if (!first) return;
  report({
    message: 'bright',
    ...(group === 2 && { severity: 'info' as const }),
    data: {
      lamps: listText([...new Set(places.map(({ name }) => quoted(name)))]),
      are: places.length === 1 ? 'is' : 'are',
      group,
      whom: group === 2 ? 'eyes that stare into it' : 'eyes and skin before anybody looks away',
      closing: careful(film, 'optical').data.closing,
    },
    at: first,
  });
}

function checkLens(shot: Shot, place: LampPlace, { film, report }: Ctx): void {
  if (!isBright(place) || !facesLens(shot, place)) return;
  const { closing } = careful(film, 'optical').data;
  const data = { shot: shot.name, lamp: quoted(place.name), group: riskGroup(place), closing };
  report({ message: 'lens', data, at: place });
}

/** Above what no eye is harmed by, however long it looks: 100 W/(m² sr) at 0.9 mW/lm. */
const harmlessCdPerM2 = 100 / 0.0009;

/** Is the source behind a cloth or paper that spreads its light over so large an area that it may be looked at? */
function isVeiled(place: LampPlace): boolean {
  const losesStops = place.modifiers.reduce((sum, one) => sum + one.loses, 0);
  if (losesStops <= 0 || !place.modifiers.some((one) => one.size)) return false;
  const candela = outputLuxAt1m(place); // Lux at 1 m are candela, at any distance.
  const { widthM, heightM } = lampSize(place);
  return candela !== undefined && (candela * 2 ** -losesStops) / (widthM * heightM) < harmlessCdPerM2;
}

/** So cool is the light of clouds and of the sky, and never the sun's (5000 K to 5800 K, common practice, no source). */
const skyK: Kelvin = 6500;

function checkSun(shot: Shot, { film, limits, report }: Ctx): void {
  const { room } = shot;
  const { product } = film;
  if (!room?.light || room.source !== 'window' || room.light.value < limits.sun) return;
  if ((room.temperature?.value ?? 0) >= skyK) return;
  const isClear = product.finish === 'transparent';
  const isGlass = product.hazards.some((val) => val.value === 'glass');
  // What breaks and is dull or mirrors, a pot of clay, gathers nothing.
  if (!isClear && !(isGlass && product.finish === 'glossy')) return;
  const { closing } = careful(film, 'fire').data;
  const what = isClear ? 'transparent' : 'of glossy glass';
  const data = { shot: shot.name, light: luxText(room.light.value), what, closing };
  const cause = { start: product.start, end: product.end, as: 'sun', isWide: true };
  report({ message: 'sun', data, at: room.light, cause });
}
