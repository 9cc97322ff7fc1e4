/** What a dark room asks for: the finding says it once, the sheet lists it whatever was said. */
import { givesDaylight } from '../../core/derived/daylight.ts';
import type { Film, Shot } from '../../core/film.ts';
import { quoted } from '../../core/say.ts';
import { stillAsked } from './caution-text.ts';
import { hasCable } from './placement.ts';

/** What is arranged in a dark room, by its word under `care.precautions`. */
const arrangements: Readonly<Record<string, string>> = {
  'exit-lit': 'light the way out',
  'cables-taped': 'tape the cables',
  'stands-weighted': 'weight the stands',
};

export interface DarkRoom {
  readonly shots: readonly Shot[];
  /** Is somebody there besides whoever makes the film? */
  readonly hasOthers: boolean;
  /** The most of everything that is in the way in any of the shots. */
  readonly things: readonly string[];
  /** Words of `precautions` that it asks for: no cables are taped where there are none. */
  readonly asked: readonly string[];
  /** What is not under `precautions` yet, as one would do it. */
  readonly lacking: readonly string[];
}

/**
 * Undefined where nothing is in the way. While lamps are lit, people see the cables and stands between which they work:
 * there it takes something that hurts, or several people, for the moment when they go out.
 */
export function darkRoom(film: Film): DarkRoom | undefined {
  // What comes through a window does not go out.
  const shots = [...film.shots.values()].filter(
    ({ room, lit }) => room?.light && room.light.value < 1 && !lit.some(givesDaylight),
  );
  if (shots.length === 0) return undefined;
  const has = (...words: readonly string[]) => film.product.hazards.some((val) => words.includes(val.value));
  const most = (count: (shot: Shot) => number) => Math.max(...shots.map(count));
  const others = hasOthers(shots, film);
  const hurts = [
    ...(has('glass') ? ['glass'] : []),
    ...(has('sharp') ? ['something sharp'] : []),
    ...(has('liquid') ? ['liquid'] : []),
    ...(others ? ['more than one person'] : []),
  ];
  const [mostCables, mostStands] = [most(cables), most(stands)];
  const things = [...counted(mostCables, 'cable'), ...counted(mostStands, 'stand'), ...hurts];
  const isInTheWay = hurts.length > 0 || shots.some((shot) => shot.lit.length === 0);
  if (!isInTheWay || things.length === 0) return undefined;
  const asked = [
    'exit-lit',
    ...(mostCables > 0 ? ['cables-taped'] : []),
    ...(mostStands > 0 ? ['stands-weighted'] : []),
  ];
  const lacking = stillAsked(film, asked).map((word) => `${arrangements[word]} (${quoted(word)})`);
  return { shots, hasOthers: others, things, asked, lacking };
}

/** A release that is their own is of the maker's own hands. */
function hasOthers(shots: readonly Shot[], { rights }: Film): boolean {
  return shots.some(({ people }) => people.some(({ value }) => rights.get(value)?.owner !== 'own'));
}

function cables({ lit, camera }: Shot): number {
  return lit.filter(hasCable).length + (camera.runsOn === 'mains' ? 1 : 0);
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
