import type { Film, Shot } from '../../core/film.ts';
import { defineRule } from '../../core/rule.ts';
import { listFirst, listText } from '../../core/say.ts';
import { allSaid, careful } from './caution-text.ts';

export default defineRule({
  id: 'dark-room-hazard',
  family: 'care',
  summary: 'People work in the dark around cables, stands, glass or liquid.',
  severity: 'info',
  sources: ['common practice, no source'],
  messages: {
    dark: '{shots}: a dark room with {things}{lit}. {arrange}, keep a work light within reach, and call before the lamps go out.{said} {closing}',
  },
  film(film, { report }) {
    const shots = darkShots(film);
    const things = inTheWay(shots, film);
    if (things.length === 0 || allSaid(film, ['cables-taped', 'exit-lit'])) return;
    const { data } = careful(film, 'handling', ['cables-taped', 'exit-lit']);
    report({
      message: 'dark',
      data: {
        shots: listFirst(
          shots.map((shot) => shot.name),
          4,
        ),
        things: listText(things),
        lit: shots.some((shot) => shot.lit.length > 0) ? ', once the lamps are out' : '',
        arrange: arrangeText(film),
        ...data,
      },
      at: shots[0]!.room!.light!,
    });
  },
});

/** What is not under `care.precautions` yet. */
function arrangeText(film: Film): string {
  const tape = allSaid(film, ['cables-taped']) ? [] : ['tape or ramp what people could trip over'];
  const exit = allSaid(film, ['exit-lit']) ? [] : ['keep the way out lit'];
  const text = [...tape, ...exit].join(', ');
  return text.charAt(0).toUpperCase() + text.slice(1);
}

const people = 'more than one person';

/** Shots in a room of less than 1 lx. */
function darkShots(film: Film): Shot[] {
  return [...film.shots.values()].filter(({ room }) => room?.light && room.light.value < 1);
}

/**
 * The most of everything that is in the way in any of the shots. While lamps are lit, people see the cables and stands
 * between which they work: there it takes something that hurts, or several people, for the moment when they go out.
 */
function inTheWay(shots: readonly Shot[], film: Film): string[] {
  const { product } = film;
  if (shots.length === 0) return [];
  const most = (count: (shot: Shot) => number) => Math.max(...shots.map(count));
  const hazard = (...words: readonly string[]) => product.hazards.some((val) => words.includes(val.value));
  const gear = [...counted(most(cables), 'cable'), ...counted(most(stands), 'stand')];
  const hurts = [
    ...(hazard('glass', 'sharp') ? ['things that cut'] : []),
    ...(hazard('liquid') ? ['liquid'] : []),
    ...(shots.some((shot) => shot.people.length > 0) ? [people] : []),
  ];
  const unlit = shots.some((shot) => shot.lit.length === 0);
  // With cables taped, light in every shot and nothing that hurts, several people work as in any other room.
  const isPeopleAlone = hurts.length === 1 && hurts[0] === people;
  if (!unlit && isPeopleAlone && allSaid(film, ['cables-taped'])) return [];
  return hurts.length > 0 || unlit ? [...gear, ...hurts] : [];
}

/** One with a battery of its own has a cable where the spec says so. */
function cables({ lit }: Shot): number {
  return lit.filter(({ runsOn, runsOnAt, lamp }) => runsOn === 'mains' && (runsOnAt || !lamp?.battery)).length;
}

function stands({ lit, camera }: Shot): number {
  return (
    lit.filter((place) => place.held === 'stand' || place.held === 'rolling-stand').length +
    (camera.supportName && (camera.support?.standsOn ?? 'floor') === 'floor' ? 1 : 0)
  );
}

function counted(count: number, what: string): string[] {
  if (count === 0) return [];
  return [count === 1 ? `a ${what}` : `${count} ${what}s`];
}
