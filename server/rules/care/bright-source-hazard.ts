import type { LampPlace, Shot } from '../../core/film.ts';
import { type Context, defineRule, type Limit } from '../../core/rule.ts';
import { luxText, quoted } from '../../core/say.ts';
import { facesLens } from './placement.ts';
import { careful } from './caution-text.ts';

const messages = {
  lamp: '{shot}: {lamp} is of risk group {group}: its light hurts {whom}. Nobody looks into it, it points away from people, and it is out between takes. {closing}',
  lens: '{shot}: {lamp} is of risk group {group} and shines towards the camera: look at the screen, never through a finder, and shade it until the take. {closing}',
  sun: '{shot}: {light} from a window is direct sun, and the product is {finish}. What is round and clear or polished gathers it into a point that can burn paper and cloth. Draw the blind whenever nobody is there. {closing}',
} as const;

type Ctx = Context<typeof messages, { sun: Limit }>;

export default defineRule({
  id: 'bright-source-hazard',
  family: 'care',
  summary: 'Light that hurts eyes is on the set, or sun falls on what gathers it.',
  severity: 'warning',
  sources: ['IEC 62471 risk groups (from memory)', 'direct sun from 20 000 lx: common practice, no source'],
  limits: {
    sun: { quantity: 'number', default: '20000', meaning: 'Lux from a window from which it counts as direct sun.' },
  },
  messages,
  shot(shot, context) {
    for (const place of shot.lit) checkLamp(shot, place, context);
    checkSun(shot, context);
  },
});

function checkLamp(shot: Shot, place: LampPlace, { film, report }: Ctx): void {
  const group = place.lamp?.riskGroup?.value ?? 0;
  if (group < 2) return;
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

function checkSun(shot: Shot, { film, limits, report }: Ctx): void {
  const { room } = shot;
  const { finish, hazards } = film.product;
  if (!room?.light || room.source !== 'window' || room.light.value < limits.sun) return;
  const shines = ['transparent', 'metallic', 'glossy'].includes(finish);
  if (!shines && !hazards.some((val) => val.value === 'glass')) return;
  const { closing } = careful(film, 'fire').data;
  const data = {
    shot: shot.name,
    light: luxText(room.light.value),
    finish: shines ? finish : 'of glass',
    closing,
  };
  report({ message: 'sun', data, at: room.light });
}
