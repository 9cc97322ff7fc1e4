/** What the client sees in their plan and reads otherwise than before. What only the maker cares about is no change. */
import { shownStretch } from '../core/derived/edit.ts';
import { fieldAt, lensAt, tiltDeg } from '../core/derived/optics.ts';
import { turningRpm } from '../core/derived/time.ts';
import type { Deliverable, Film, Piece, Product, Right, Shot, Val } from '../core/film.ts';
import * as say from '../core/say.ts';
import { align } from './align.ts';
import { aboutText, changeText } from './change-text.ts';
import { cameOrWent, changed } from './changes.ts';
import type { Effect, PlanChange } from './comparison.ts';
import { changesBetween, type Fact, fact, type Facts } from './facts.ts';

/** Each in a few words: `deliverable story: length 24 s → 20 s`. */
export function seenChanges(was: Film, is: Film): string[] {
  return changesSeen(was, is).map((change) => `${aboutText(change)}: ${changeText(change)}`);
}

function changesSeen(was: Film, is: Film): PlanChange[] {
  return [
    ...changed('film', [], changesBetween(filmFacts(was), filmFacts(is)), []),
    ...named('deliverable', was.deliverables, is.deliverables, (one, film) => deliverableFacts(one, film), [was, is]),
    ...changed('product', [], changesBetween(productFacts(was.product), productFacts(is.product)), []),
    ...shotChanges(was, is),
    ...cutChanges(was, is),
    ...titleChanges(was, is),
    ...named('right', was.rights, is.rights, rightFacts, [was, is]),
    ...changed('fees', [], changesBetween(feeFacts(was), feeFacts(is)), []),
  ];
}

/** Names and values, and what kind of quantity a value is that can be written in several ways. */
type Rows = readonly (readonly [name: string, text: string | undefined, quantity?: string])[];

function facts(rows: Rows): Facts {
  return new Map(
    rows.flatMap(([name, text, quantity]) =>
      fact(name, text).map(([key, one]): [string, Fact] => [key, { ...one, ...(quantity && { quantity }) }]),
    ),
  );
}

function list(vals: readonly Val<string>[]): string {
  return vals.map(({ value }) => value).join(', ');
}

function named<T>(
  kind: string,
  before: ReadonlyMap<string, T>,
  after: ReadonlyMap<string, T>,
  factsOf: (one: T, film: Film) => Facts,
  [was, is]: readonly [Film, Film],
): PlanChange[] {
  const names = [...new Set([...after.keys(), ...before.keys()])];
  return names.flatMap((name) => {
    const [a, b] = [before.get(name), after.get(name)];
    if (!a || !b)
      return [cameOrWent(kind, name, a && new Map(), undefined)].map((one) => withWhat(one, b !== undefined));
    return changed(kind, [name], changesBetween(factsOf(a, was), factsOf(b, is)), []);
  });
}

function withWhat(change: PlanChange, isNew: boolean): PlanChange {
  return { ...change, what: isNew ? 'added' : 'removed' };
}

function filmFacts({ title, brief, music, sounds, schedule }: Film): Facts {
  return facts([
    ['title', title?.value],
    ['purpose', brief?.purpose?.value],
    ['must-show', list(brief?.mustShow ?? [])],
    ['must-not-show', list(brief?.mustNotShow ?? [])],
    ['due', brief?.due?.text],
    ['music', music?.track?.value],
    ['voice', sounds.flatMap(({ words }) => words?.value ?? []).join(' / ')],
    ['days', schedule.flatMap(({ day }) => day?.text ?? []).join(', ')],
  ]);
}

function deliverableFacts(one: Deliverable, film: Film): Facts {
  const stretch = shownStretch(one, film);
  const runs = one.lengthS ?? (stretch && stretch.to - stretch.from);
  return facts([
    ['raster', one.raster?.text],
    ['length', runs === undefined ? undefined : say.secondsText(runs)],
    ['sound', one.sound === 'none' ? 'none' : 'with sound'],
    ['shown-on', [...one.shownOn].sort().join(', ')],
    ['territory', [...one.territory].sort().join(', ')],
    ['published', one.published?.text],
    ['loop', one.loop ? 'seamless' : undefined],
    ['need-not-show', list(one.needNotShow)],
  ]);
}

function productFacts({ size, finish, colour, arrives, returns, units }: Product): Facts {
  return facts([
    ['size', size?.text, 'box'],
    ['finish', finish],
    ['colour', colour?.value],
    ['arrives', arrives?.text],
    ['returns', returns?.text],
    ['units', units?.text],
  ]);
}

function rightFacts({ kind, owner, shownOn, territory, until, credit }: Right): Facts {
  return facts([
    ['kind', kind?.value],
    ['owner', owner],
    ['shown-on', [...shownOn].sort().join(', ')],
    ['territory', [...territory].sort().join(', ')],
    ['until', until?.text],
    ['credit', credit?.value],
  ]);
}

function feeFacts({ fees }: Film): Facts {
  return facts([
    ['currency', fees?.currency],
    ['shooting-hour', fees?.shootingHour],
    ['shooting-day', fees?.shootingDay],
    ['editing-hour', fees?.editingHour],
    ['editing-time', fees?.editingTimeS === undefined ? undefined : say.hoursText(fees.editingTimeS)],
    ['version-time', fees?.versionTimeS === undefined ? undefined : say.hoursText(fees.versionTimeS)],
    ...[...(fees?.fixed ?? [])],
    ['tax', fees?.tax && `${fees.tax} %`],
    ['valid-until', fees?.validUntil === undefined ? undefined : say.dateText(fees.validUntil)],
  ]);
}

// -- pictures ------------------------------------------------------------------------------------------------------------

/** Only those that the cut shows, now or then: another that is tried is no matter of the client's. */
function shotChanges(was: Film, is: Film): PlanChange[] {
  const inCut = (film: Film) => new Map([...film.shots].filter(([, shot]) => shot.pieces.length > 0));
  const [before, after] = [inCut(was), inCut(is)];
  return [...after].flatMap(([name, shot]) => {
    const old = before.get(name);
    // A shot that came or went is said of the cut.
    return old ? changed('shot', [name], changesBetween(shotFacts(old), shotFacts(shot)), looks(old, shot)) : [];
  });
}

function shotFacts({ sketch, subject, shows, people, action, backdrop, surface, turn, sharp, onPurpose }: Shot): Facts {
  return facts([
    ['subject', subject.name],
    ['shows', list(shows)],
    ['people', list(people)],
    ['what', action?.what?.value],
    [
      'backdrop',
      [backdrop?.screenName?.value ?? backdrop?.material?.value, backdrop?.colour?.value].filter(Boolean).join(', '),
    ],
    ['backdrop footage', backdrop?.footage?.value],
    ['surface', [surface?.material?.value, surface?.colour?.value].filter(Boolean).join(', ')],
    ['sketch', sketch?.value],
    ['sharp', sharp],
    ['turn', turn?.starts?.text, 'direction'],
    ['on-purpose', list(onPurpose)],
  ]);
}

/** What nobody sees who does not hold both beside each other is no change: common practice, no source. */
const seenFrom = { times: 1.25, degrees: 10 };

function looks(was: Shot, is: Shot): Effect[] {
  const [a, b] = [widthMm(was), widthMm(is)];
  const times = a && b ? a / b : 1;
  const side = (is.camera.angle?.value.from ?? 0) - (was.camera.angle?.value.from ?? 0);
  const [up, before] = [tiltDeg(is, 0), tiltDeg(was, 0)];
  const turns = [turningRpm(was) !== 0, turningRpm(is) !== 0];
  return [
    times >= seenFrom.times || times <= 1 / seenFrom.times ? `seen ${say.num(times, 1)} times as large` : '',
    Math.abs(side) >= seenFrom.degrees ? `seen from ${say.angleText(Math.abs(side), 0)} further round` : '',
    Math.abs(up - before) >= seenFrom.degrees
      ? `seen from ${Math.abs(up) > Math.abs(before) ? 'higher up' : 'less high up'}`
      : '',
    turns[0] === turns[1] ? '' : turns[1] ? 'turns' : 'no longer turns',
  ].flatMap((text) => (text ? [{ name: '', text }] : []));
}

/** How much the picture shows across, at the subject. */
function widthMm(shot: Shot): number | undefined {
  const lens = lensAt(shot, 0);
  return lens && fieldAt(lens, lens.distanceMm).widthMm;
}

// -- the film in time ----------------------------------------------------------------------------------------------------

function cutChanges(was: Film, is: Film): PlanChange[] {
  return align(was.cut, is.cut, [(one) => `${nameOf(one)} ${lengthOf(one)}`, nameOf]).flatMap(
    ({ before, after, moved }) => {
      if (!before || !after)
        return [
          withWhat(cameOrWent('piece', pieceName((after ?? before)!), undefined, undefined), after !== undefined),
        ];
      const lengths = changesBetween(facts([['length', lengthOf(before)]]), facts([['length', lengthOf(after)]]));
      if (!moved) return changed('piece', [pieceName(after)], lengths, []);
      const change = changed('piece', [pieceName(after)], lengths, [{ name: '', text: '' }])[0]!;
      return [{ ...change, what: 'moved', effects: [], was: `piece ${before.index + 1}` } as const];
    },
  );
}

function nameOf({ shotName, footage, colour }: Piece): string {
  return shotName?.value ?? footage?.value ?? colour?.value ?? '';
}

function lengthOf({ lengthS }: Piece): string {
  return lengthS === undefined ? '' : say.secondsText(lengthS);
}

function pieceName(piece: Piece): string {
  return `${piece.index + 1}, ${nameOf(piece)}`;
}

function titleChanges(was: Film, is: Film): PlanChange[] {
  const wordsOf = ({ text }: Film['titles'][number]) => text?.value ?? '';
  return align(was.titles, is.titles, [wordsOf, () => '']).flatMap(({ before, after }) => {
    const name = say.quoted(wordsOf((after ?? before)!));
    if (!before || !after) return [withWhat(cameOrWent('title', name, undefined, undefined), after !== undefined)];
    return changed(
      'title',
      [name],
      changesBetween(facts([['text', wordsOf(before)]]), facts([['text', wordsOf(after)]])),
      [],
    );
  });
}
