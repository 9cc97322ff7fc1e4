/** What changed in the shots. What is the same change in several of them is said once. */
import type { Film, Shot } from '../core/film.ts';
import { groupBy } from '../core/group-by.ts';
import type { Effect, FieldChange, PlanChange } from './comparison.ts';
import { changesBetween, fact, type Facts, factsOf } from './facts.ts';
import { shotMeasures } from '../core/derived/measures.ts';
import { brighterBy, effectsBetween, shotTexts } from './measures.ts';

/** Blocks that a shot takes over from its set-up and the top of the file; each is compared as it comes out. */
const merged = ['camera', 'backdrop', 'surface', 'room'] as const;
/** Compared as they come out, too: written or not. */
const resolved = ['lit', 'on-purpose', 'key-to-fill'];

/** More shots than this are counted and not listed, where it is all of them. */
const few = 3;

export function shotChanges(before: Film, after: Film): PlanChange[] {
  const pairs = [...after.shots.values()].map((shot) => ({ shot, was: before.shots.get(shot.name) }));
  const added = pairs.filter(({ was }) => !was).map(({ shot }) => shot);
  const removed = [...before.shots.values()].filter((shot) => !after.shots.has(shot.name));
  const renamed = renames(removed, added);
  const both = pairs.flatMap(({ shot, was }) => (was ? [{ before: was, after: shot }] : []));
  return [
    ...shared(both, before, after),
    ...[...renamed].map(([shot, was]) => one('renamed', shot, was.name)),
    ...added.filter((shot) => !renamed.has(shot)).map((shot) => whole('added', shot)),
    ...removed.filter((shot) => ![...renamed.values()].includes(shot)).map((shot) => one('removed', shot)),
    ...order(before, after),
  ];
}

function factsOfShot(shot: Shot): Facts {
  const own = factsOf(shot.fields, 'shoot', ['shots', shot.name], [...merged, ...resolved]);
  const blocks = merged.flatMap((key) => {
    const block = shot[key];
    const inner = block ? [...factsOf(block.fields, 'shoot', ['shots', shot.name, key])] : [];
    return inner.map(([name, entry]): [string, typeof entry] => {
      const called = key !== 'camera' ? `${key} ${name}` : name === 'use' ? 'camera' : name;
      return [called, { ...entry, name: called }];
    });
  });
  const list = (items: readonly { readonly value: string }[]) => items.map((item) => item.value).join(', ');
  return new Map([
    ...own,
    ...blocks,
    ...fact('lit', shot.lit.map((lamp) => lamp.name).join(', ') || 'none'),
    ...fact('on-purpose', list(shot.onPurpose)),
    ...fact('key-to-fill', shot.keyToFill?.text),
  ]);
}

/** One thing that happened to one or more shots. */
interface Detail {
  readonly field?: FieldChange;
  readonly effect?: Effect;
  readonly shots: string[];
}

function shared(pairs: readonly { before: Shot; after: Shot }[], was: Film, is: Film): PlanChange[] {
  const count = is.shots.size;
  const details = new Map<string, Detail>();
  const note = (shot: Shot, detail: Omit<Detail, 'shots'>) => {
    const key = JSON.stringify(detail);
    const known = details.get(key);
    if (known) known.shots.push(shot.name);
    else details.set(key, { ...detail, shots: [shot.name] });
  };
  for (const { before, after } of pairs) {
    const { fields, effects } = between({ shot: before, film: was }, { shot: after, film: is });
    for (const field of fields) note(after, { field });
    for (const effect of effects) note(after, { effect });
  }
  const groups = groupBy([...details.values()], (detail) => [detail.shots.join('\n')]);
  return [...groups.values()].flatMap((group) => {
    const fields = group.flatMap((detail) => detail.field ?? []);
    const effects = group.flatMap((detail) => detail.effect ?? []);
    const names = group[0]!.shots;
    return [{ what: 'changed', kind: 'shot', names, all: names.length === count && count > few, fields, effects }];
  });
}

interface Planned {
  readonly shot: Shot;
  readonly film: Film;
}

function between(before: Planned, after: Planned): { fields: FieldChange[]; effects: Effect[] } {
  const fields = changesBetween(factsOfShot(before.shot), factsOfShot(after.shot));
  const [was, is] = [before, after].map(({ shot, film }) => shotMeasures(shot, film));
  const measured = effectsBetween(shotTexts(before.shot, before.film), shotTexts(after.shot, after.film));
  // What has no name stands first, beside the fields.
  const nameless = measured.filter((effect) => effect.name === '');
  const named = measured.filter((effect) => effect.name !== '');
  return { fields, effects: [...nameless, ...brighterBy(was!, is!), ...named] };
}

/** A shot that went and one that came, alike in all but the name. */
function renames(removed: readonly Shot[], added: readonly Shot[]): Map<Shot, Shot> {
  const found = new Map<Shot, Shot>();
  for (const shot of added) {
    const was = removed.find(
      (one) => ![...found.values()].includes(one) && changesBetween(factsOfShot(one), factsOfShot(shot)).length === 0,
    );
    if (was) found.set(shot, was);
  }
  return found;
}

function one(what: PlanChange['what'], shot: Shot, was?: string): PlanChange {
  return { what, kind: 'shot', names: [shot.name], all: false, fields: [], effects: [], was };
}

/** A new shot with all that is written for it. */
function whole(what: PlanChange['what'], shot: Shot): PlanChange {
  const facts = factsOf(shot.fields, 'shoot', ['shots', shot.name]);
  const fields = [...facts.values()].map(({ name, text }) => ({ name, after: text }));
  return { ...one(what, shot), fields };
}

/** Shots are filmed in the order in which they stand, where no day says another. */
function order(before: Film, after: Film): PlanChange[] {
  const [was, is] = [[...before.shots.keys()], [...after.shots.keys()]];
  const common = is.filter((name) => before.shots.has(name));
  if (was.filter((name) => after.shots.has(name)).join('\n') === common.join('\n')) return [];
  const field = { name: 'order of shots', before: was.join(', '), after: is.join(', ') };
  return [{ what: 'changed', kind: 'film', names: [], all: false, fields: [field], effects: [] }];
}
