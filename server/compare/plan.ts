/** What changed in the plan, block by block. Whatever a block is called, what it says is compared. */
import type { CheckResult } from '../core/checker.ts';
import type { Film, Gear, Named, Piece } from '../core/film.ts';
import type { Fields } from '../core/resolve/fields.ts';
import { gearKinds } from '../core/resolve/kit.ts';
import type { FieldPath } from '../core/schema/fields.ts';
import { align } from './align.ts';
import { asText, cameOrWent, changed } from './changes.ts';
import type { Effect, PlanChange } from './comparison.ts';
import { changesBetween, fact, type Facts, factsOf, topOf } from './facts.ts';
import { deliverableMeasures, filmMeasures, pieceMeasures } from '../core/derived/measures.ts';
import { effectsBetween, textsOf } from './measures.ts';
import { shotChanges } from './shots.ts';
import { sheetChanges } from './takes.ts';

/** Blocks of the top of the file that are compared name by name, line by line, or as they come out in the shots. */
const elsewhere = [
  ...['shots', 'set-ups', 'lamps', 'deliver', 'rights', 'cut', 'titles', 'sounds', 'schedule'],
  ...['camera', 'backdrop', 'surface', 'room', 'on-purpose', 'key-to-fill'],
];

export function planChanges(before: CheckResult, after: CheckResult): PlanChange[] {
  const [was, is] = [before.film, after.film];
  if (after.kind === 'takes') return sheetChanges(before, after);
  if (!was || !is) return wholeFile(before, after);
  return [
    ...filmChange(before, after, was, is),
    ...shotChanges(was, is),
    ...named('set-up', was.setUps, is.setUps, (one) => factsOf(one.fields, 'shoot', ['set-ups', one.name], inShots)),
    ...named('lamp', was.lamps, is.lamps, (one) => factsOf(one.fields, 'shoot', ['lamps', one.name])),
    ...pieceChanges(was, is),
    ...lines('title', was.titles, is.titles, ['titles', 0], ({ text }) => text?.value ?? ''),
    ...lines('sound', was.sounds, is.sounds, ['sounds', 0], ({ track }) => track?.value ?? ''),
    ...named(
      'deliverable',
      was.deliverables,
      is.deliverables,
      (one) => factsOf(one.fields, 'shoot', ['deliver', one.name]),
      (a, b) => effectsBetween(textsOf(deliverableMeasures(a, was)), textsOf(deliverableMeasures(b, is))),
    ),
    ...named('right', was.rights, is.rights, (one) => factsOf(one.fields, 'shoot', ['rights', one.name])),
    ...lines('day', was.schedule, is.schedule, ['schedule', 0], ({ day }) => day?.text ?? ''),
    ...gearChanges(was, is),
  ];
}

/** What a set-up says of these shows in its shots. */
const inShots = ['camera', 'backdrop', 'surface', 'room', 'lit', 'key-to-fill'];

/** A kit or a settings file. */
function wholeFile(before: CheckResult, after: CheckResult): PlanChange[] {
  const facts = ({ kind, doc }: CheckResult) => factsOf(topOf(doc.root), kind, []);
  return changed('file', [], changesBetween(facts(before), facts(after)), []);
}

function filmChange(before: CheckResult, after: CheckResult, was: Film, is: Film): PlanChange[] {
  const facts = ({ doc }: CheckResult, film: Film): Facts =>
    new Map([
      ...factsOf(topOf(doc.root), 'shoot', [], elsewhere),
      // Said in the settings where the spec says none.
      ...fact('region', film.region?.text),
      // Without a shot, nothing else shows them.
      ...(was.shots.size === 0 || is.shots.size === 0 ? factsOf(topOf(doc.root), 'shoot', [], notTaken) : []),
    ]);
  const fields = changesBetween(facts(before, was), facts(after, is));
  return changed('film', [], fields, effectsBetween(textsOf(filmMeasures(was)), textsOf(filmMeasures(is))));
}

/** All of the top but what shots take over. */
const notTaken = elsewhere.slice(0, elsewhere.indexOf('camera'));

function named<T extends Named>(
  kind: string,
  before: ReadonlyMap<string, T>,
  after: ReadonlyMap<string, T>,
  facts: (one: T) => Facts,
  effects: (before: T, after: T) => Effect[] = () => [],
): PlanChange[] {
  const names = [...new Set([...after.keys(), ...before.keys()])];
  return names.flatMap((name) => {
    const [a, b] = [before.get(name), after.get(name)];
    if (!a || !b) return [cameOrWent(kind, name, a && facts(a), b && facts(b))];
    return changed(kind, [name], changesBetween(facts(a), facts(b)), effects(a, b));
  });
}

// -- lists -----------------------------------------------------------------------------------------------------------

function pieceChanges(before: Film, after: Film): PlanChange[] {
  return align(before.cut, after.cut, [(one) => asText(pieceFacts(one)), pieceKey]).flatMap(
    ({ before: a, after: b, moved }) => {
      if (!a || !b) return [cameOrWent('piece', pieceName((a ?? b)!), a && pieceFacts(a), b && pieceFacts(b))];
      const fields = changesBetween(pieceFacts(a), pieceFacts(b));
      const effects = effectsBetween(textsOf(pieceMeasures(a, before)), textsOf(pieceMeasures(b, after)));
      if (!moved) return changed('piece', [pieceName(b)], fields, effects);
      return [
        {
          what: 'moved',
          kind: 'piece',
          names: [pieceName(b)],
          all: false,
          fields,
          effects,
          was: `piece ${a.index + 1}`,
        },
      ];
    },
  );
}

function pieceFacts(piece: Piece): Facts {
  return factsOf(piece.fields, 'shoot', ['cut', 0]);
}

function pieceKey({ shotName, footage, colour }: Piece): string {
  return JSON.stringify([shotName?.value, footage?.value, colour?.value]);
}

function pieceName({ index, shotName, footage, colour }: Piece): string {
  return [`${index + 1}`, shotName?.value ?? footage?.value ?? colour?.value].filter(Boolean).join(', ');
}

/** Lines of a list that are told apart by one of their fields; those without a partner are paired in their order. */
function lines<T extends { readonly fields: Fields }>(
  kind: string,
  before: readonly T[],
  after: readonly T[],
  path: FieldPath,
  keyOf: (one: T) => string,
): PlanChange[] {
  const facts = (one: T) => factsOf(one.fields, 'shoot', path);
  const name = (one: T, of: readonly T[]) => [`${of.indexOf(one) + 1}`, keyOf(one)].filter(Boolean).join(', ');
  return align(before, after, [(one) => asText(facts(one)), keyOf, () => '']).flatMap(
    ({ before: a, after: b, moved }): PlanChange[] => {
      if (!a || !b) {
        return [cameOrWent(kind, b ? name(b, after) : name(a!, before), a && facts(a), b && facts(b))];
      }
      const fields = changesBetween(facts(a), facts(b));
      if (!moved) return changed(kind, [name(b, after)], fields, []);
      const was = `${kind} ${before.indexOf(a) + 1}`;
      return [{ what: 'moved', kind, names: [name(b, after)], all: false, fields, effects: [], was }];
    },
  );
}

// -- gear ------------------------------------------------------------------------------------------------------------

/** Gear that the film uses before or after, and that its kits describe differently. */
function gearChanges(before: Film, after: Film): PlanChange[] {
  const used = new Set([...usedGear(before), ...usedGear(after)]);
  return gearKinds.flatMap((kind) => {
    const of = (film: Film) => {
      const all = film.kit[kind] as ReadonlyMap<string, Gear>;
      return new Map([...all].filter(([name]) => used.has(name)));
    };
    return named(`kit ${kind}`, of(before), of(after), (gear) => factsOf(gear.fields, 'kit', [kind, gear.name]));
  });
}

function usedGear(film: Film): string[] {
  const shots = [...film.shots.values()].flatMap(({ camera, backdrop, turn, microphone }) => [
    camera.body?.name,
    camera.lens?.name,
    camera.support?.name,
    ...camera.filters.map((filter) => filter.name),
    backdrop?.screen?.name,
    turn?.table?.name,
    microphone?.name,
  ]);
  const lamps = [...film.lamps.values()].flatMap(({ lamp, modifiers }) => [
    lamp?.name,
    ...modifiers.map((one) => one.name),
  ]);
  const days = film.schedule.flatMap(({ cards, batteries }) =>
    [...(cards ?? []), ...(batteries ?? [])].map((one) => one.value),
  );
  return [...shots, ...lamps, ...days, film.care?.cableReel?.value].filter((name) => name !== undefined);
}
