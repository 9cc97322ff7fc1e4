/** What is the same in every shot: said once, ahead of the set-ups. */
import type { Film, Shot } from '../../core/film.ts';
import { litNote } from '../lit/index.ts';
import { circuitOf } from '../power.ts';
import type { SheetBlock } from './blocks.ts';
import { placeRows } from './set-up-rows.ts';
import { shotRows } from './shot.ts';
import type { Common } from './words.ts';

/** What is dialled in or looked for at each shot stands with it, even where it is the same. */
const ofEachShot: ReadonlySet<string> = new Set([
  'Place',
  'Exposure',
  'Focus',
  'Light',
  'Shows',
  'Camera moves',
  'Subject moves',
]);

/** The rows that say the same of all of these shots; none where there is only one. */
export function commonOf(shots: readonly Shot[], film: Film): Common {
  const [first, ...others] = shots;
  if (!first || others.length === 0) return new Map();
  const rowsOf = (shot: Shot) => [...shotRows(shot, film), ...placeRows(shot)];
  const rest = others.map((shot) => new Map(rowsOf(shot)));
  return new Map(
    rowsOf(first).filter(([name, value]) => !ofEachShot.has(name) && rest.every((one) => one.get(name) === value)),
  );
}

export function commonBlocks(film: Film, common: Common): SheetBlock[] {
  if (common.size === 0) return placesBlock(film);
  return [
    { kind: 'heading', level: 2, words: 'The same in all shots' },
    { kind: 'facts', rows: [...common] },
    ...placesBlock(film),
    ...heaviest(film),
  ];
}

/** A tape laid from somewhere else, or from the floor, puts all of the set elsewhere. */
function placesBlock({ shots }: Film): SheetBlock[] {
  if (shots.size === 0) return [];
  const lamps = [...shots.values()].flatMap(({ lit }) => lit);
  const backdrop = lamps.some(({ aim }) => aim === 'backdrop') ? ' or of the backdrop that it lights' : '';
  const ofLamps = lamps.length > 0 ? `, and from a lamp to the middle of the product${backdrop}` : '';
  const words = `Heights count from the surface that the product stands on; distances run from the lens to the middle of what is named${ofLamps}.`;
  return [{ kind: 'text', words }];
}

/** Who knows that the heaviest load is carried need not be told of the others. */
function heaviest(film: Film): SheetBlock[] {
  const all = [...film.shots.values()].flatMap((shot) => {
    const circuit = circuitOf(shot, film);
    return circuit ? [{ shot, circuit }] : [];
  });
  const most = all.reduce<(typeof all)[number] | undefined>(
    (most, one) => (one.circuit.va > (most?.circuit.va ?? -1) ? one : most),
    undefined,
  );
  if (!most) return [];
  const more = all.length > 1 ? ` Most of all in ${most.shot.setUpName?.value ?? most.shot.name}.` : '';
  return [{ kind: 'text', words: `${most.circuit.words}${more}` }];
}

/** Under no picture of its own, as it holds for all. */
export function litBlock(isLit: boolean | undefined): SheetBlock[] {
  return isLit
    ? [{ kind: 'text', words: `Pictures as lit: ${litNote.slice(0, 1).toLowerCase()}${litNote.slice(1)}` }]
    : [];
}
