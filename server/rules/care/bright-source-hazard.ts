import { outputLuxAt1m } from '../../core/derived/light.ts';
import type { LampPlace, Shot } from '../../core/film.ts';
import { type Context, defineRule, type Limit } from '../../core/rule.ts';
import { luxText, quoted } from '../../core/say.ts';
import { facesLens } from './placement.ts';
import { careful } from './caution-text.ts';
import { lampSize } from '../../core/derived/lamp-size.ts';

const messages = {
  lamp: '{shot}: {lamp} is of risk group {group}: its light hurts {whom}. Nobody looks into it, it points away from people, and it is out between takes. {closing}',
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
  shot(shot, context) {
    for (const place of shot.lit) checkLamp(shot, place, context);
    checkSun(shot, context);
  },
});

function checkLamp(shot: Shot, place: LampPlace, { film, report }: Ctx): void {
  const group = place.lamp?.riskGroup?.value ?? 0;
  if (group < 2 || (group === 2 && isVeiled(place))) return;
  const { closing } = careful(film, 'optical').data;
  const data = { shot: shot.name, lamp: quoted(place.name), group, closing };
  if (facesLens(shot, place)) report({ message: 'lens', data, at: place });
  else
    report({
      message: 'lamp',
      data: { ...data, whom: group >= 3 ? 'eyes and skin before anybody looks away' : 'eyes that stare into it' },
      at: place,
    });
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

function checkSun(shot: Shot, { film, limits, report }: Ctx): void {
  const { room } = shot;
  const { product } = film;
  if (!room?.light || room.source !== 'window' || room.light.value < limits.sun) return;
  const isClear = product.finish === 'transparent';
  if (!isClear && !product.hazards.some((val) => val.value === 'glass')) return;
  const { closing } = careful(film, 'fire').data;
  const what = isClear ? 'transparent' : 'of glass';
  const data = { shot: shot.name, light: luxText(room.light.value), what, closing };
  const cause = { start: product.start, end: product.end, as: 'sun', isWide: true };
  report({ message: 'sun', data, at: room.light, cause });
}
