import type { Shot } from '../../core/film.ts';
import { defineRule } from '../../core/rule.ts';
import { listText } from '../../core/say.ts';
import { careful } from './closing.ts';

export default defineRule({
  id: 'dark-room-hazard',
  family: 'care',
  summary: 'People work in the dark around cables, stands, glass or liquid.',
  severity: 'info',
  sources: ['common practice, no source'],
  messages: {
    dark: '{shot}: a dark room with {things}. Tape or ramp what people could trip over, keep a work light within reach and the way out lit, and call before the lamps go out.{said} {closing}',
  },
  shot(shot, { film, report }) {
    const light = shot.room?.light;
    if (!light || light.value >= 1) return;
    const things = inTheWay(shot);
    if (film.product.hazards.some((val) => val.value === 'glass' || val.value === 'sharp'))
      things.push('things that cut');
    if (film.product.hazards.some((val) => val.value === 'liquid')) things.push('liquid');
    if (shot.people.length > 0) things.push('more than one person');
    if (things.length === 0) return;
    const { data } = careful(film, 'handling', ['cables-taped', 'exit-lit']);
    report({ message: 'dark', data: { shot: shot.name, things: listText(things), ...data }, at: light });
  },
});

function inTheWay({ lit, camera }: Shot): string[] {
  const cables = lit.filter((place) => place.runsOn === 'mains').length;
  const stands = lit.filter((place) => place.held === 'stand').length + (camera.supportName ? 1 : 0);
  return [...counted(cables, 'cable'), ...counted(stands, 'stand')];
}

function counted(count: number, what: string): string[] {
  if (count === 0) return [];
  return [count === 1 ? `a ${what}` : `${count} ${what}s`];
}
