/** What may stand behind a colon or in a list: words, names with what they are, paths, and values ranked by the rules. */
import { quote } from '../../core/document/edits.ts';
import type { Film, Shot } from '../../core/film.ts';
import { type Field, fieldMarkdown, rawAt } from '../../core/schema/fields.ts';
import { fits } from '../../core/schema/repair.ts';
import { blockSnippet } from './blocks.ts';
import type { Ask } from './index.ts';
import type { Item } from './item.ts';
import { namesFor, pathsFor, ruleNames } from './known.ts';
import { limitsFor } from './limitKeys.ts';
import type { Spot } from './spot.ts';
import { mostTried, shotsAt, type Tried, tryValues, weight } from './trial.ts';
import { type Values, valuesAt } from './values.ts';

interface Choice {
  readonly label: string;
  readonly kind: Item['kind'];
  readonly detail?: string;
  readonly warned?: string;
}

export function choiceItems(field: Field, ask: Ask, spot: Spot): Item[] {
  if (field.isBlock && field.shape !== 'values') return blockItems(field, spot);
  const written = ask.text.slice(spot.start, spot.end).trim();
  const before = firstEnd(field, ask, spot);
  const choices = choicesOf(field, ask, spot, before);
  const start = spot.start + before.length;
  const typed = ask.text.slice(start, ask.offset);
  const all = fitting(choices, typed, isWhole(field, ask, spot, written));
  return all.map((one) => ({
    label: one.label,
    kind: one.kind,
    ...(one.detail && { detail: one.detail }),
    ...(one.warned && { warned: one.warned }),
    documentation: fieldMarkdown(field),
    text: `${spot.needsBlank && before === '' ? ' ' : ''}${asText(one)}`,
    isSnippet: false,
    ...(one.filter !== undefined && { filter: one.filter }),
    more: false,
    start,
    end: Math.max(spot.end, ask.offset),
  }));
}

/** A name or a path that YAML would read as something else without quotes: they are what somebody chose, and may hold anything. */
function asText({ label, kind }: Choice): string {
  const isFree = kind === 'name' || kind === 'path';
  return isFree && !/^[\p{L}\p{N}_./][\p{L}\p{M}\p{N}_./ ()'-]*$/u.test(label) ? quote(label) : label;
}

/** Behind ` to ` it is the second end that is chosen. */
function firstEnd(field: Field, { text, offset }: Ask, spot: Spot): string {
  return field.ends ? (/^.* to /.exec(text.slice(spot.start, offset))?.[0] ?? '') : '';
}

/** A value that is right as it stands is there to be exchanged: then everything is offered, and nothing left out. */
function isWhole(field: Field, { kind, here }: Ask, spot: Spot, written: string): boolean {
  const raw = rawAt(kind, spot.path);
  const text = /^(["']).*\1$/s.test(written) ? written.slice(1, -1) : written;
  if (text === '') return false;
  if (field.names.length > 0) return namesFor(field, here).some(({ name }) => name === text);
  return raw !== undefined && (fits(raw, text) || field.words.includes(text));
}

/** In the order of use: those that start with what is typed first. What is typed in quotes is compared here. */
function fitting(choices: readonly Choice[], typed: string, whole: boolean): (Choice & { filter?: string })[] {
  const inQuotes = /^["']/.test(typed);
  const letters = inQuotes ? typed.slice(1).replace(/["']$/, '') : typed;
  const bare = (label: string) => (label.startsWith('"') ? label.slice(1) : label);
  if (whole || letters === '') return choices.map((one) => ({ ...one, ...(typed !== '' && { filter: typed }) }));
  const starts = choices.filter(({ label }) => bare(label).startsWith(letters));
  const others = choices.filter((one) => !starts.includes(one) && bare(one.label).includes(letters));
  const shown = inQuotes ? [...starts, ...others] : [...starts, ...choices.filter((one) => !starts.includes(one))];
  return shown.map((one) => (inQuotes ? { ...one, filter: typed } : one));
}

function choicesOf(field: Field, ask: Ask, spot: Spot, before: string): Choice[] {
  const there = new Set(listed(ask, spot));
  const plain: Choice[] = [
    ...field.words.map((word): Choice => ({ label: word, kind: 'word' })),
    ...namesFor(field, ask.here).map(({ name, what }): Choice => ({ label: name, kind: 'name', detail: what })),
    ...(field.names.includes('rule')
      ? ruleNames(ask.kind, ask.rules).map(({ name, what }): Choice => ({ label: name, kind: 'name', detail: what }))
      : []),
    ...(field.quantity === 'path'
      ? pathsFor(field, ask.here).map(({ name, what }): Choice => ({ label: name, kind: 'path', detail: what }))
      : []),
    // A shot may do without what it takes over, and a kit may have none.
    ...(field.names.includes('filter') ? [nothing] : []),
    ...limitValues(ask, spot),
  ];
  const special = field.special.map((word): Choice => ({ label: word, kind: 'word' }));
  const values = valueChoices(field, ask, spot, before);
  const tried = new Set(values?.map(({ label }) => label));
  const untried = plain.filter(({ label }) => !tried.has(label));
  const all = (values ? [...values, ...untried] : [...plain, ...special]).filter(({ label }) => !there.has(label));
  // Over a text of the user's own nothing should pop up with each word.
  const free = ask.text.slice(spot.start, ask.offset).trim() === '' || field.quantity !== undefined;
  const open = free && all.length <= special.length && field.names.length === 0 && field.quantity !== 'path';
  const examples = open ? field.examples : [];
  const own = examples.map((label): Choice => ({ label, kind: 'value', detail: 'for example' }));
  return [...all.filter((one) => !one.warned), ...all.filter((one) => one.warned), ...own];
}

const nothing: Choice = { label: 'none', kind: 'word', detail: 'nothing on the lens' };

/** Words that a list in brackets or with dashes has already. */
function listed({ here }: Ask, spot: Spot): string[] {
  if (typeof spot.path.at(-1) !== 'number') return [];
  let node = here.doc.root;
  for (const step of spot.path.slice(0, -1)) {
    const inside = node?.kind === 'map' ? node.pairs.find((pair) => pair.key.text === step)?.value : undefined;
    node = node?.kind === 'list' ? node.items[Number(step)] : inside;
  }
  const items = node?.kind === 'list' ? node.items : [];
  return items.flatMap((item, index) => (item.kind === 'scalar' && index !== spot.path.at(-1) ? [item.text] : []));
}

function limitValues({ kind, rules }: Ask, { path }: Spot): Choice[] {
  if (kind !== 'config' || path[0] !== 'rules' || path.length !== 3) return [];
  const limit = limitsFor(rules, String(path[1])).find(({ name }) => name === path[2]);
  return limit ? [{ label: limit.usual, kind: 'value', detail: 'as it comes' }] : [];
}

const notTried = {
  broken: 'not checked: the file cannot be read as it is',
  long: 'not checked: the file is too long to try every value',
};

/** The values that come into question, tried; undefined for fields in which no value is better than another. */
function valueChoices(field: Field, ask: Ask, spot: Spot, before: string): Choice[] | undefined {
  const values = ask.kind === 'shoot' ? valuesAt(spot.path) : undefined;
  if (!values) return undefined;
  const film = ask.base?.result.film;
  const unread = (texts: readonly string[], detail: string) =>
    [...texts, ...field.special].map((label): Choice => ({ label, kind: 'value', detail }));
  if (!ask.base || !film) return unread(field.examples, notTried.broken);
  const likely = values.texts({ film, path: spot.path, shots: shotsOr(film, spot) });
  // Behind ` to ` one value is wanted, and not another change.
  const texts = [...new Set(before === '' ? likely : likely.map((text) => text.split(' to ').at(-1)!))].filter(
    (text) => before !== `${text} to `,
  );
  const all = [...texts.slice(0, mostTried - field.special.length), ...field.special];
  const tried = tryValues(
    ask.base,
    spot,
    all.map((text) => before + text),
  );
  return tried ? ranked(tried, values, spot, before) : unread(texts, notTried.long);
}

/** Where it is not known which shot a value bears on, the first one stands for all. */
function shotsOr(film: Film, spot: Spot): readonly Shot[] {
  const shots = shotsAt(film, spot.path);
  return shots.length > 0 ? shots : [...film.shots.values()].slice(0, 1);
}

function ranked(tried: readonly Tried[], values: Values, spot: Spot, before: string): Choice[] {
  const cost = ({ findings }: Tried) => findings.reduce((sum, one) => sum + weight(one.severity), 0);
  return [...tried]
    .sort((a, b) => cost(a) - cost(b))
    .map(({ text, film, findings: [gravest] }) => {
      const note = values.note({ film, path: spot.path, shots: shotsOr(film, spot) }, text);
      const warned = gravest && `${gravest.severity}: ${gravest.message}`;
      const detail = [note, warned ?? ''].filter(Boolean).join(' · ');
      return { label: text.slice(before.length), kind: 'value', detail, ...(warned && { warned }) };
    });
}

function blockItems(field: Field, spot: Spot): Item[] {
  const example = field.examples[0];
  const base = { kind: 'block' as const, isSnippet: true, more: false, start: spot.start, end: spot.end, filter: '' };
  const blank = spot.needsBlank ? ' ' : '';
  const braces = field.shape === 'lines' ? '[{ $1 }]' : '{ $1 }';
  const items: Item[] = [
    {
      ...base,
      label: braces.replace(' $1 ', '  '),
      detail: `${field.title} on one line`,
      text: `${blank}${braces}`,
      more: true,
    },
  ];
  const body =
    example === undefined || spot.flow ? undefined : blockSnippet(example, spot.column + 2, field.shape === 'named');
  if (body === undefined) return items;
  return [...items, { ...base, label: 'with an example', detail: field.title, text: `\n${body}$0` }];
}
