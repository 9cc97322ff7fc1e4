/** What the plan leaves open and only the client can say, and what they are to bring and to sign. */
import { shownOfPieceS } from '../../core/derived/edit.ts';
import { type RightUse, usesByRight } from '../../core/derived/rights.ts';
import { everythingShown, shownIn } from '../../core/derived/shown.ts';
import type { Deliverable, Film, Right } from '../../core/film.ts';
import * as say from '../../core/say.ts';
import { called, dayText, plain } from './plain-words.ts';

export function openQuestions(film: Film): string[] {
  return [
    ...briefQuestions(film),
    ...deliverableQuestions([...film.deliverables.values()]),
    ...productQuestions(film),
    ...shownQuestions(film),
    ...paperQuestions(film),
    ...dayQuestions(film),
  ];
}

/** What is brought and signed, to tick off. */
export function toBring(film: Film): string[] {
  const { arrives, returns, units } = film.product;
  const count = units?.value ?? 1;
  const needed = usedUp(film);
  return [
    `The product${count > 1 ? `, ${say.num(count, 0)} of it` : ''}${arrives ? `: here by ${dayText(arrives.value)}` : ''}` +
      (returns ? `${arrives ? ', ' : ': '}back with you from ${dayText(returns.value)}` : ''),
    ...(needed > 0 ? [`Of these ${say.num(needed, 0)} are used up while filming and do not come back`] : []),
    ...unproven(film).flatMap(({ name, kind }) => (kind in signed ? [`Signed: ${signed[kind]!(called(name))}`] : [])),
  ];
}

function briefQuestions({ brief }: Film): string[] {
  return [
    ...(brief?.purpose ? [] : ['What should the film do, in one sentence?']),
    ...(brief?.due ? [] : ['On which day do you need the finished files?']),
    ...(brief && brief.mustShow.length > 0 ? [] : ['What must be seen in the film?']),
  ];
}

/** What is open alike for several is asked once. */
function deliverableQuestions(all: readonly Deliverable[]): string[] {
  const asked = new Map<string, string[]>();
  for (const one of all) {
    for (const question of [formQuestion(one), whereQuestion(one)]) {
      if (question !== '') asked.set(question, [...(asked.get(question) ?? []), called(one.name)]);
    }
  }
  return [...asked].map(([question, names]) => `${say.listText(names)}: ${question}?`);
}

function formQuestion({ lengthS, raster, longestS }: Deliverable): string {
  const isLong = lengthS !== undefined || longestS !== undefined;
  return parts(!raster && 'wide, upright or square', !isLong && 'how long may it be');
}

function whereQuestion({ fields }: Deliverable): string {
  return parts(
    !fields.said('shown-on') && 'where will it be shown (web, social media, events …)',
    !fields.said('territory') && 'in which countries',
    !fields.said('published') && 'from when to when',
  );
}

function parts(...all: readonly (string | false)[]): string {
  return say.listText(all.filter((one) => one !== false));
}

function productQuestions(film: Film): string[] {
  const { size, arrives, returns, units } = film.product;
  const used = usedUp(film);
  return [
    ...(size ? [] : ['How large is the product: width, depth and height?']),
    ...stayQuestion(arrives !== undefined, returns !== undefined),
    ...(used > 0 && !units ? [`Filming uses up ${say.num(used, 0)} of the product: how many can you send?`] : []),
  ];
}

function stayQuestion(isArriving: boolean, isReturning: boolean): string[] {
  if (!isArriving && !isReturning) return ['On which day does the product arrive, and when must it be back with you?'];
  if (isArriving && isReturning) return [];
  return [isArriving ? 'When must the product be back with you?' : 'On which day does the product arrive?'];
}

/** Units that all takes use up. */
function usedUp({ shots }: Film): number {
  return [...shots.values()].reduce((sum, { usesUp, takes }) => sum + (usesUp?.value ?? 0) * takes, 0);
}

/** What they asked to see, and no shot or not every film shows. */
function shownQuestions(film: Film): string[] {
  if (film.shots.size === 0) return [];
  const wanted = (film.brief?.mustShow ?? []).map(({ value }) => value);
  const shown = everythingShown(film);
  const nowhere = wanted.filter((item) => !shown.has(item));
  const left = film.cutS === undefined ? [] : [...film.deliverables.values()];
  return [
    ...nowhere.map((item) => `No picture shows ${called(item)} yet. Which moment should show it?`),
    ...left.flatMap((one) => {
      const missing = wanted.filter((item) => shown.has(item) && !isSeen(item, one, film)).map(called);
      return missing.length > 0
        ? [`${called(one.name)} does not show ${say.listText(missing)}. Is that all right?`]
        : [];
    }),
  ];
}

function isSeen(item: string, deliverable: Deliverable, film: Film): boolean {
  return (
    deliverable.needNotShow.some(({ value }) => value === item) ||
    deliverable.pieces.some(
      (piece) =>
        piece.shot &&
        shownIn(piece.shot).some(({ value }) => value === item) &&
        shownOfPieceS(piece, deliverable, film) > 0,
    )
  );
}

function dayQuestions({ schedule }: Film): string[] {
  if (schedule.length === 0) return ['Which day suits you for filming?'];
  const open = schedule.filter(({ day }) => !day).length;
  return open > 0 ? [`Which ${open > 1 ? `${open} days suit` : 'day suits'} you for filming?`] : [];
}

// -- papers -----------------------------------------------------------------------------------------------------------

/** What the client, or somebody in the picture, signs. */
const signed: Readonly<Record<string, (name: string) => string>> = {
  release: (name) => `the consent of the person seen as ${name}`,
  mark: (name) => `your consent that the mark ${name} is seen`,
  place: (name) => `the permission to film at ${name}`,
};

/** What somebody else may hold. */
const licensed: Readonly<Record<string, (name: string) => string>> = {
  music: (name) => `the music ${name}`,
  sound: (name) => `the sound ${name}`,
  footage: (name) => `the film ${name}`,
  font: (name) => `the typeface ${name}`,
  artwork: (name) => `the artwork ${name}`,
};

function paperQuestions(film: Film): string[] {
  const open = unproven(film).filter(({ kind }) => kind in licensed);
  return open.map(
    ({ name, kind }) =>
      `There is no licence yet for ${licensed[kind]!(called(name))}. Do you have one, or shall another take its place?`,
  );
}

const kinds: Readonly<Record<RightUse['as'], string>> = {
  music: 'music',
  sound: 'sound',
  footage: 'footage',
  font: 'font',
  person: 'release',
  shown: 'mark',
  place: 'place',
};

/** What is seen or heard under a name, and has no paper that is there. */
function unproven(film: Film): { readonly name: string; readonly kind: string }[] {
  const names = [...new Set([...usesByRight(film).keys(), ...film.rights.keys()])];
  const wanted = (film.brief?.needsRights ?? []).map(({ value }) => value);
  return [...new Set([...names, ...wanted])].flatMap((name) => {
    const right = film.rights.get(name);
    if (isProven(right, film)) return [];
    const use = usesByRight(film).get(name)?.[0];
    return [{ name: plain(name), kind: right?.kind?.value ?? (use ? kinds[use.as] : 'mark') }];
  });
}

function isProven(right: Right | undefined, film: Film): boolean {
  const isOurs = right?.owner === 'own' || right?.owner === 'public-domain';
  return right !== undefined && (right.proof ? film.exists(right.proof.value) : isOurs);
}
