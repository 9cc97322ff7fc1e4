/** What of the film needs a paper: each thing that is heard or seen, and the deliverables that have it. */
import type { Range } from '../document/node.ts';
import type { Deliverable, Film, Piece, Shot, Title, Val } from '../film.ts';
import { sharedS } from '../../calc/rate.ts';
import type { Ends, Seconds } from '../units.ts';
import { once, onceIn } from '../memo.ts';
import { showsPiece } from '../resolve/edit.ts';

/** One thing that is heard or seen under one name. */
export interface RightUse {
  /** The name in `rights`, whether it is there or not; undefined for music or a sound without a `track`. */
  readonly name?: string;
  readonly as: 'music' | 'sound' | 'footage' | 'font' | 'shown' | 'person' | 'place';
  /** Where the name is written, or the block that names nothing. */
  readonly at: Range;
  readonly deliverables: readonly Deliverable[];
}

/** All uses that some deliverable has, in the order music, sounds, titles, cut, shots. */
export const rightUses = once((film: Film): readonly RightUse[] =>
  [...soundUses(film), ...fontUses(film), ...footageUses(film), ...shownUses(film), ...placeUses(film)].filter(
    (use) => use.deliverables.length > 0,
  ),
);

/** Uses under a name of `rights`. */
export const usesByRight = once((film: Film): ReadonlyMap<string, readonly RightUse[]> => usesByName(rightUses(film)));

/** Uses under each name. */
export function usesByName(uses: readonly RightUse[]): Map<string, RightUse[]> {
  const byName = new Map<string, RightUse[]>();
  for (const use of uses) {
    if (use.name === undefined) continue;
    const known = byName.get(use.name);
    if (known) known.push(use);
    else byName.set(use.name, [use]);
  }
  return byName;
}

/** The deliverables of some uses, each once. */
export function deliverablesOf(uses: readonly RightUse[]): Deliverable[] {
  return [...new Set(uses.flatMap((use) => use.deliverables))];
}

/** Where and when a paper must let something be seen or heard, to cover the deliverables that have it. */
export interface Needs {
  readonly shownOn: readonly string[];
  readonly territory: readonly string[];
  /** Days since 1970-01-01 of the first and the last day that any of them says. */
  readonly published?: Ends;
}

export function needsOf(deliverables: readonly Deliverable[]): Needs {
  const each = (of: (one: Deliverable) => readonly string[]) => [...new Set(deliverables.flatMap(of))];
  const territory = each((one) => one.territory);
  const days = deliverables.flatMap(({ published }) => (published ? [published.value.from, published.value.to] : []));
  return {
    shownOn: each((one) => one.shownOn),
    territory: territory.includes('worldwide') ? ['worldwide'] : territory,
    ...(days.length > 0 && { published: { from: Math.min(...days), to: Math.max(...days) } }),
  };
}

/** Where a draft of the paper for a right is written. Nobody has signed it, so it proves nothing under that name. */
export function draftPath(name: string): string {
  return `rights/${name}.draft.md`;
}

export function isDraft(path: string): boolean {
  return /\.draft\.\w+$/i.test(path);
}

function soundUses(film: Film): RightUse[] {
  const heard = [...film.deliverables.values()].filter((one) => one.sound !== 'none');
  const uses: RightUse[] = film.sounds.map((sound) => ({
    name: sound.track?.value,
    as: 'sound',
    at: sound.track ?? sound,
    deliverables: heard.filter((one) => plays(one, sound.atS, sound.lengthS)),
  }));
  const { music } = film;
  if (!music) return uses;
  return [{ name: music.track?.value, as: 'music', at: music.track ?? music, deliverables: heard }, ...uses];
}

/** Does some of a stretch of the film lie in what the deliverable shows of it? Unknown lengths count as played. */
function plays({ sectionS, rate }: Deliverable, atS: Seconds | undefined, lengthS: Seconds | undefined): boolean {
  if (!sectionS || atS === undefined || lengthS === undefined) return true;
  return sharedS({ from: atS, to: atS + lengthS }, sectionS, rate?.value) > 0;
}

/** The deliverables in which a title stands. */
export function titleIn(title: Title, film: Film): Deliverable[] {
  const { onlyIn } = title;
  const named = [...film.deliverables.values()].filter(
    (one) => !onlyIn || onlyIn.some((name) => name.value === one.name),
  );
  return named.filter((one) => plays(one, title.atS, title.holdS));
}

function fontUses(film: Film): RightUse[] {
  return film.titles.flatMap((title): RightUse[] => {
    const { font } = title;
    return font ? [{ name: font.value, as: 'font', at: font, deliverables: titleIn(title, film) }] : [];
  });
}

function footageUses(film: Film): RightUse[] {
  const use = (footage: Val<string>, pieces: readonly Piece[]): RightUse => {
    return { name: footage.value, as: 'footage', at: footage, deliverables: having(film, pieces) };
  };
  const uses: RightUse[] = [];
  for (const piece of film.cut) if (piece.footage) uses.push(use(piece.footage, [piece]));
  for (const { backdrop, pieces } of film.shots.values())
    if (backdrop?.footage) uses.push(use(backdrop.footage, pieces));
  return uses;
}

function having(film: Film, pieces: readonly Piece[]): Deliverable[] {
  return [...film.deliverables.values()].filter((one) => pieces.some((piece) => showsPiece(one, piece)));
}

/** People, what the brief wants papers for, and whatever has a right of its name. */
function shownUses(film: Film): RightUse[] {
  const uses: RightUse[] = [];
  for (const shot of film.shots.values()) for (const use of shownIn(shot, film)) uses.push(use);
  return uses;
}

const shownIn = onceIn(({ shows, people, pieces }: Shot, film: Film): readonly RightUse[] => {
  const needsRight = ({ value }: Val<string>) =>
    film.rights.has(value) || film.brief?.needsRights.some((one) => one.value === value) === true;
  const shown = shows.filter(needsRight);
  if (people.length + shown.length === 0) return [];
  const deliverables = having(film, pieces);
  const use = (as: RightUse['as']) => (val: Val<string>) => ({ name: val.value, as, at: val, deliverables });
  return [...people.map(use('person')), ...shown.map(use('shown'))];
});

/** The paper for a place where all is filmed is about every deliverable. */
function placeUses(film: Film): RightUse[] {
  const deliverables = [...film.deliverables.values()];
  return [...film.rights.values()].flatMap((right): RightUse[] =>
    right.kind?.value === 'place' ? [{ name: right.name, as: 'place', at: right, deliverables }] : [],
  );
}
