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
    dark: '{shots}: a dark room with {things}{lit}. {arrange}. {closing}',
  },
  film(film, { report }) {
    const shots = darkShots(film);
    const things = inTheWay(shots, film);
    if (things.length === 0 || allSaid(film, ['cables-taped', 'exit-lit'])) return;
    const { closing } = careful(film, 'handling').data;
    report({
      message: 'dark',
      data: {
        shots: listFirst(
          shots.map((shot) => shot.name),
          4,
        ),
        things: listText(things),
        lit: shots.some((shot) => shot.lit.length > 0) ? ', once the lamps are out' : '',
        arrange: arrangeText(film, shots),
        closing,
      },
      at: shots[0]!.room!.light!,
    });
  },
});

/** What is not under `care.precautions` yet. */
function arrangeText(film: Film, shots: readonly Shot[]): string {
  const tape = allSaid(film, ['cables-taped']) ? [] : ['tape or ramp what people could trip over'];
  const exit = allSaid(film, ['exit-lit']) ? [] : ['keep the way out lit'];
  const call = hasOthers(shots, film) ? ['call before the lamps go out'] : [];
  const text = listText([...tape, ...exit, 'keep a work light within reach', ...call]);
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/** Is somebody there besides whoever makes the film? A release that is their own is of their own hands. */
function hasOthers(shots: readonly Shot[], { rights }: Film): boolean {
  return shots.some(({ people }) => people.some(({ value }) => rights.get(value)?.owner !== 'own'));
}

/** Shots in a room of less than 1 lx. */
function darkShots(film: Film): Shot[] {
  return [...film.shots.values()].filter(({ room }) => room?.light && room.light.value < 1);
}

/**
 * The most of everything that is in the way in any of the shots. While lamps are lit, people see the cables and stands
 * between which they work: there it takes something that hurts, or several people, for the moment when they go out. Over
 * taped cables it takes two of these, and more than one cable.
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
    ...(hasOthers(shots, film) ? ['more than one person'] : []),
  ];
  const unlit = shots.some((shot) => shot.lit.length === 0);
  const areTaped = allSaid(film, ['cables-taped']);
  const isEnough = areTaped ? hurts.length > 1 && most(cables) > 1 : hurts.length > 0;
  return unlit || isEnough ? [...gear, ...hurts] : [];
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
