import type { Film, Shot } from '../../core/film.ts';
import { defineRule } from '../../core/rule.ts';
import { listFirst, listText } from '../../core/say.ts';
import { careful } from './closing.ts';

export default defineRule({
  id: 'dark-room-hazard',
  family: 'care',
  summary: 'People work in the dark around cables, stands, glass or liquid.',
  severity: 'info',
  sources: ['common practice, no source'],
  messages: {
    dark: '{shots}: a dark room with {things}. Tape or ramp what people could trip over, keep a work light within reach and the way out lit, and call before the lamps go out.{said} {closing}',
  },
  film(film, { report }) {
    for (const shots of darkShots(film)) {
      const things = inTheWay(shots, film);
      if (things.length === 0) continue;
      const { data } = careful(film, 'handling', ['cables-taped', 'exit-lit']);
      const names = shots.map((shot) => shot.name);
      report({
        message: 'dark',
        data: { shots: listFirst(names, 4), things: listText(things), ...data },
        at: shots[0]!.room!.light!,
      });
    }
  },
});

/** Shots in a room of less than 1 lx, those that take the value over from one place together. */
function darkShots(film: Film): Shot[][] {
  const byPlace = new Map<number, Shot[]>();
  for (const shot of film.shots.values()) {
    const light = shot.room?.light;
    if (!light || light.value >= 1) continue;
    const others = byPlace.get(light.start);
    if (others) others.push(shot);
    else byPlace.set(light.start, [shot]);
  }
  return [...byPlace.values()];
}

/** The most of everything that is in the way in any of the shots. */
function inTheWay(shots: readonly Shot[], { product }: Film): string[] {
  const most = (count: (shot: Shot) => number) => Math.max(...shots.map(count));
  const hazard = (...words: readonly string[]) => product.hazards.some((val) => words.includes(val.value));
  return [
    ...counted(most(cables), 'cable'),
    ...counted(most(stands), 'stand'),
    ...(hazard('glass', 'sharp') ? ['things that cut'] : []),
    ...(hazard('liquid') ? ['liquid'] : []),
    ...(shots.some((shot) => shot.people.length > 0) ? ['more than one person'] : []),
  ];
}

/** One with a battery of its own has a cable where the spec says so. */
function cables({ lit }: Shot): number {
  return lit.filter(({ runsOn, runsOnAt, lamp }) => runsOn === 'mains' && (runsOnAt || !lamp?.battery)).length;
}

function stands({ lit, camera }: Shot): number {
  return lit.filter((place) => place.held === 'stand').length + (camera.supportName ? 1 : 0);
}

function counted(count: number, what: string): string[] {
  if (count === 0) return [];
  return [count === 1 ? `a ${what}` : `${count} ${what}s`];
}
