import { turningRpm } from '../../core/derived/time.ts';
import type { Film, LampPlace, Shot } from '../../core/film.ts';
import { type Context, defineRule, type Limit } from '../../core/rule.ts';
import { quoted } from '../../core/say.ts';
import { facesLens } from './placement.ts';
import { careful } from './caution-text.ts';

const messages = {
  strong:
    '{shot}: {lamp} is a laser of class {class}. Its beam hurts at once{scatter}, and sensors burn at milliwatts. Take LED line light instead, or a laser person who is responsible for it. {closing}',
  unknown:
    '{shot}: {lamp} is a laser, and the kit does not say its class. Until its label is read it counts as one that hurts. {closing}',
  thrown:
    '{shot}: {lamp} is a laser of class {class}, and {where}. A mirror that turns points everywhere, at eyes as at the lens. Take LED line light instead, or keep the beam off it. {closing}',
  weak: '{shot}: {lamp} is a laser of class {class}. Nobody looks into it, no lens or mirror in its way, and it is out between takes. {closing}',
  product:
    'The product holds a laser. Read the class on its label, and keep its beam off eyes, mirrors and the lens. {closing}',
} as const;

type Ctx = Context<typeof messages, Record<string, Limit>>;

export default defineRule({
  id: 'laser-hazard',
  family: 'care',
  summary: 'A laser is in the plan: of a class that hurts, or thrown into eyes and the lens.',
  severity: 'error',
  sources: ['IEC 60825-1 classes, as summarised in public', 'sensor damage: common practice, no source'],
  messages,
  shot(shot, context) {
    for (const place of shot.lit) checkLaser(shot, place, context);
  },
  film(film, { report }) {
    const at = film.product.hazards.find((val) => val.value === 'laser');
    // The product's own laser may be a lamp of the kit, whose class is told there.
    const isLit = [...film.shots.values()].some(({ lit }) => lit.some(({ lamp }) => lamp?.laserClass));
    const { closing } = careful(film, 'laser').data;
    if (at && !isLit) report({ message: 'product', severity: 'warning', data: { closing }, at });
  },
});

/** `class-3b` as `3B`. */
function className(word: string): string {
  return word.replace('class-', '').toUpperCase();
}

function checkLaser(shot: Shot, place: LampPlace, { film, report }: Ctx): void {
  const word = place.lamp?.laserClass?.value;
  if (!word && place.lamp?.kind?.value !== 'laser') return;
  const { closing } = careful(film, 'laser').data;
  const data = { shot: shot.name, lamp: quoted(place.name), closing };
  if (!word) {
    report({ message: 'unknown', data, at: place });
    return;
  }
  const named = { ...data, class: className(word) };
  if (word === 'class-3b' || word === 'class-4') {
    const scatter = word === 'class-4' ? ', its scattered light too, and it can set fire' : '';
    report({ message: 'strong', data: { ...named, scatter }, at: place });
    return;
  }
  const where = thrown(shot, place, film);
  if (word === 'class-1' || (word === 'class-1m' && !where)) return;
  if (where) report({ message: 'thrown', severity: 'warning', data: { ...named, where }, at: place });
  else report({ message: 'weak', severity: word === 'class-3r' ? 'warning' : 'info', data: named, at: place });
}

/** Where the beam goes that it should not: into the lens, or off something that mirrors. */
function thrown(shot: Shot, place: LampPlace, { product }: Film): string | undefined {
  if (facesLens(shot, place)) return 'it points into the lens';
  const mirrors = ['glossy', 'metallic', 'transparent'].includes(product.finish);
  if (mirrors && turningRpm(shot) !== 0) return `it falls on a ${product.finish} product that turns`;
  return mirrors ? `it falls on a ${product.finish} product` : undefined;
}
