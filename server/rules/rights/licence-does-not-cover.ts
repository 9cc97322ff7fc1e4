import { easyReading, holdS } from '../../calc/reading.ts';
import { shared, uncovered } from '../../calc/territory.ts';
import { quote } from '../../core/document/edits.ts';
import { deliverablesOf, needsOf, titleIn, usesByRight } from '../../core/derived/rights.ts';
import type { Deliverable, Film, Right } from '../../core/film.ts';
import { type Context, defineRule, type FixIdea, type Limit, set } from '../../core/rule.ts';
import { listText, quoted, secondsText } from '../../core/say.ts';
import { namesText, notAdvice, paperFault, placesText, territoryText, unsaid } from './rights-text.ts';
import { listOf } from './write-right.ts';

const messages = {
  unsaid: '{name} does not say {keys}: look up in its paper where it may be shown. The film needs it {needed}.',
  use: '{name} may be shown {has}, but {missing}. {closing}',
  territory: '{name} may be shown {has}, but {missing}. {closing}',
  credit: '{name} asks for {credit} to be seen, and no title says that in {where}. {closing}',
} as const;

type Ctx = Context<typeof messages, Record<string, Limit>>;

export default defineRule({
  id: 'licence-does-not-cover',
  family: 'rights',
  summary: 'The film is shown where its paper does not allow it, or without the credit that it asks for.',
  severity: 'error',
  sources: ['ISO 3166-1 country codes', 'Agreement on the European Economic Area', 'common practice, no source'],
  messages,
  film(film, context) {
    for (const [name, uses] of usesByRight(film)) {
      const right = film.rights.get(name);
      if (!right) continue;
      const deliverables = deliverablesOf(uses);
      checkCredit(right, deliverables, film, context);
      // Own work and what belongs to everybody may be shown anywhere.
      if (right.owner !== 'licensed') continue;
      // Of a paper that is not there, that is told with it.
      if (!paperFault(right, film)) checkSaid(right, deliverables, context);
      checkUses(right, deliverables, context);
      checkTerritory(right, deliverables, film, context);
    }
  },
});

function checkSaid(right: Right, deliverables: readonly Deliverable[], { report }: Ctx): void {
  const keys = unsaid(right);
  if (keys.length === 0) return;
  const { shownOn, territory } = needsOf(deliverables);
  const needed = `${placesText(shownOn)}, ${territoryText(territory)}`;
  const lists = { 'shown-on': listOf(shownOn), territory: listOf(territory) };
  report({
    message: 'unsaid',
    severity: 'warning',
    data: { name: quoted(right.name), keys: listText(keys.map(quoted)), needed },
    at: right,
    fixes: [
      set(
        `Say ${listText(keys.map((key) => quoted(`${key}: ${lists[key]}`)))}, if its paper does`,
        ...keys.map((key) => [right, key, lists[key]] as const),
      ),
    ],
  });
}

function checkUses(right: Right, deliverables: readonly Deliverable[], { report }: Ctx): void {
  if (right.shownOn.length === 0) return;
  const missing = deliverables.flatMap((one) => {
    const outside = one.shownOn.filter((place) => !right.shownOn.includes(place));
    return outside.length > 0 ? `${quoted(one.name)} is shown ${placesText(outside)}` : [];
  });
  if (missing.length === 0) return;
  report({
    message: 'use',
    data: { name: quoted(right.name), has: placesText(right.shownOn), missing: listText(missing), closing: notAdvice },
    at: right.shownOnAt ?? right,
    fixes: () =>
      showLess(deliverables, 'shown-on', (one) => one.shownOn.filter((place) => right.shownOn.includes(place))),
  });
}

function checkTerritory(right: Right, deliverables: readonly Deliverable[], film: Film, { report }: Ctx): void {
  if (right.territory.length === 0) return;
  const missing = deliverables.flatMap((one) => {
    const outside = uncovered(one.territory, right.territory);
    const isSaid = one.fields.said('territory');
    // What would say it is taken over from a deliverable that is not there; and an event is in one place, wherever that is.
    if (outside.length === 0 || (one.like && !film.deliverables.has(one.like.value))) return [];
    if (!isSaid && one.shownOn.every((place) => place === 'event' || place === 'internal')) return [];
    const where = territoryText(outside).replace('the EEA', 'all of the EEA');
    return {
      isSaid,
      text: `${quoted(one.name)} is shown ${where}${isSaid ? '' : ' (taken so, no `territory` is said)'}`,
    };
  });
  if (missing.length === 0) return;
  report({
    message: 'territory',
    data: {
      name: quoted(right.name),
      has: territoryText(right.territory),
      missing: listText(missing.map(({ text }) => text)),
      closing: notAdvice,
    },
    severity: missing.some(({ isSaid }) => isSaid) ? 'error' : 'warning',
    at: right.territoryAt ?? right,
    fixes: () => showLess(deliverables, 'territory', (one) => shared(one.territory, right.territory)),
  });
}

function checkCredit(right: Right, deliverables: readonly Deliverable[], film: Film, { report }: Ctx): void {
  const { credit } = right;
  if (!credit) return;
  const wanted = plain(credit.value);
  const credited = film.titles.filter((title) => title.text && plain(title.text.value).includes(wanted));
  const without = deliverables.filter((one) => !credited.some((title) => titleIn(title, film).includes(one)));
  if (without.length === 0) return;
  report({
    message: 'credit',
    severity: 'warning',
    data: { name: quoted(right.name), credit: quoted(credit.value), where: namesText(without), closing: notAdvice },
    at: credit,
    fixes: () => addCredit(credit.value, film),
  });
}

/** Shows each only where its paper covers it; none where that is nowhere. */
function showLess(
  deliverables: readonly Deliverable[],
  key: 'shown-on' | 'territory',
  left: (one: Deliverable) => readonly string[],
): FixIdea[] {
  const has = (one: Deliverable) => (key === 'territory' ? one.territory : one.shownOn);
  const changed = deliverables.filter((one) => has(one).join() !== left(one).join());
  if (changed.some((one) => left(one).length === 0)) return [];
  const where = key === 'territory' ? territoryText : placesText;
  const each = changed.map((one) => `${quoted(one.name)} ${where(left(one))}`);
  return [set(`Show ${listText(each)} only`, ...changed.map((one) => [one, key, listOf(left(one))] as const))];
}

/** Names them at the end of the film, for as long as reading takes. */
function addCredit(credit: string, film: Film): FixIdea[] {
  const { cutS } = film;
  const hold = Math.ceil(holdS(credit, easyReading) * 10) / 10;
  if (cutS === undefined || cutS < hold) return [];
  const at = secondsText(Math.floor((cutS - hold) * 10 + 1e-6) / 10);
  const title = `Name them at the end: ${quoted(credit)}, at ${at} for ${secondsText(hold)}`;
  const item = `{ text: ${quote(credit)}, at: ${at}, hold: ${secondsText(hold)} }`;
  return [{ title, add: [{ block: { ...film.at, fields: film.fields }, key: 'titles', text: item }] }];
}

/** Words for comparing: letter case, spaces and what stands between words make no difference. */
function plain(text: string): string {
  return text
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, ' ')
    .trim();
}
