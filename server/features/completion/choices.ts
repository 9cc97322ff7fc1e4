/** What may stand behind a colon or in a list: words, names with what they are, paths, and values ranked by the rules. */
import { child, type Range } from '../../core/document/node.ts';
import type { Film, Shot } from '../../core/film.ts';
import { type Field, fieldMarkdown, rawAt } from '../../core/schema/fields.ts';
import { fits } from '../../core/schema/repair.ts';
import { exampleBelow } from './blocks.ts';
import type { Ask } from './ask.ts';
import { aloneNames, clipNames, isClip } from './clip-names.ts';
import { type Item, nameText } from './item.ts';
import { namesFor, pathsFor, ruleNames } from './known-names.ts';
import { limitsFor } from './limit-keys.ts';
import type { InsertionPoint } from './insertion-point.ts';
import { mostTried, shotsAt, type TriedValue, tryValues, weight } from './trial.ts';
import type { FieldValues } from './field-values.ts';
import { valuesAt } from './values.ts';

interface Choice {
  readonly label: string;
  readonly kind: Item['kind'];
  readonly detail?: string;
  readonly warned?: string;
  /** Offered as a way to write it, and of no use once something else is typed. */
  readonly isExample?: boolean;
}

/** What stands behind a colon, as far as it is replaced: behind or before ` to ` only that end. */
interface Written extends Range {
  /** What stands before ` to `, with it; empty elsewhere. */
  readonly before: string;
  readonly text: string;
  /** The characters before the cursor. */
  readonly typed: string;
  readonly isWhole: boolean;
}

export function choiceItems(field: Field, ask: Ask, spot: InsertionPoint): Item[] {
  if (field.isBlock && field.shape !== 'values') return blockItems(field, ask, spot);
  // Right behind the colon of what may be a list, that may begin in the next line.
  if (spot.needsBlank && field.isList) return [];
  const written = writtenAt(field, ask, spot);
  const { before, start, end, isWhole } = written;
  const all = fitting(choicesOf(field, ask, spot, written), written);
  // What stands there alone is no choice.
  if (isWhole && all.length === 1) return [];
  return all.map((one, index) => {
    const stands = isWhole && index === 0;
    return {
      label: one.label,
      kind: one.kind,
      ...(one.detail && { detail: one.detail }),
      ...(one.warned && { warned: one.warned }),
      documentation: fieldMarkdown(field),
      text: stands ? ask.text.slice(start, end) : `${spot.needsBlank && before === '' ? ' ' : ''}${asText(one)}`,
      isSnippet: false,
      ...(one.filter !== undefined && { filter: one.filter }),
      ...(stands && { stands }),
      more: false,
      start,
      end,
    };
  });
}

function asText({ label, kind }: Choice): string {
  return kind === 'name' || kind === 'path' ? nameText(label) : label;
}

function writtenAt(field: Field, ask: Ask, spot: InsertionPoint): Written {
  const { text, offset } = ask;
  const before = field.ends ? (/^.* to /.exec(text.slice(spot.start, offset))?.[0] ?? '') : '';
  const start = spot.start + before.length;
  const behind = text.slice(offset, spot.end);
  const second = field.ends ? behind.search(/ to(?: |$)/) : -1;
  const end = Math.max(offset, second < 0 ? spot.end : offset + second);
  const own = text.slice(start, end).trim();
  return { before, start, end, text: own, typed: text.slice(start, offset), isWhole: isWhole(field, ask, spot, own) };
}

/** A value that is right as it stands is there to be exchanged: then everything is offered, itself first. */
function isWhole(field: Field, ask: Ask, spot: InsertionPoint, written: string): boolean {
  const { kind, here } = ask;
  const raw = rawAt(kind, spot.path);
  const text = unquoted(written);
  if (text === '') return false;
  if (field.words.includes(text)) return true;
  if (field.names.length > 0) return namesFor(field, here).some(({ name }) => name === text);
  if (namesPath(field)) return pathsFor(field, here).some(({ name }) => name === text);
  if (field.quantity === 'clip' && ask.sheet?.footage) return isClip(ask, text);
  return raw !== undefined && fits(raw, text);
}

/** Is it a file of the repo? */
function namesPath({ quantity }: Field): boolean {
  return quantity === 'path' || quantity === 'beside';
}

function unquoted(text: string): string {
  return /^(["']).*\1$/s.test(text) ? text.slice(1, -1) : text;
}

/** In the order of use: those that start with what is typed first. What is typed in quotes is compared here. */
function fitting(
  choices: readonly Choice[],
  { text, typed, isWhole: whole }: Written,
): (Choice & { filter?: string })[] {
  const inQuotes = /^["']/.test(typed);
  const letters = inQuotes ? typed.slice(1).replace(/["']$/, '') : typed;
  const bare = (label: string) => (label.startsWith('"') ? label.slice(1) : label);
  const starts = choices.filter(({ label }) => bare(label).startsWith(letters));
  const all = [...starts, ...choices.filter((one) => !starts.includes(one))];
  if (whole) {
    const own = all.find(({ label }) => label === text || label === unquoted(text));
    const others = all.filter((one) => one !== own && !one.isExample);
    const first: Choice = own ?? { label: text, kind: 'value' };
    return [first, ...others].map((one) => ({ ...one, ...(typed !== '' && { filter: typed }) }));
  }
  if (letters === '') return choices.map((one) => ({ ...one, ...(typed !== '' && { filter: typed }) }));
  if (inQuotes)
    return all.filter(({ label }) => bare(label).includes(letters)).map((one) => ({ ...one, filter: typed }));
  // Words and names are found by any of their letters, and a number only by how it starts.
  return all.filter((one) => one.kind !== 'value' || starts.includes(one));
}

function choicesOf(field: Field, ask: Ask, spot: InsertionPoint, written: Written): Choice[] {
  const { before } = written;
  const there = new Set(listed(ask, spot));
  const plain: Choice[] = [
    ...field.words.map((word): Choice => ({ label: word, kind: 'word' })),
    ...namesFor(field, ask.here).map(({ name, what }): Choice => ({ label: name, kind: 'name', detail: what })),
    ...(field.names.includes('rule')
      ? ruleNames(ask.kind, ask.rules).map(({ name, what }): Choice => ({ label: name, kind: 'name', detail: what }))
      : []),
    ...(namesPath(field)
      ? pathsFor(field, ask.here).map(({ name, what }): Choice => ({ label: name, kind: 'path', detail: what }))
      : []),
    ...clipNames(field, ask).map(({ name, what }): Choice => ({ label: name, kind: 'path', detail: what })),
    // A shot may do without what it takes over, and a kit may have none.
    ...(field.names.includes('filter') ? [nothing] : []),
    ...limitValues(ask, spot),
    ...revisionNow(ask, spot),
  ];
  const special = field.special.map((word): Choice => ({ label: word, kind: 'word' }));
  const values = valueChoices(field, ask, spot, written);
  // Behind ` to ` stands a second value of the same kind, and neither a word nor another change.
  if (before !== '') return values ?? secondEnds(field, before);
  const tried = new Set(values?.map(({ label }) => label));
  const untried = plain.filter(({ label }) => !tried.has(label));
  const all = (values ? [...values, ...untried] : [...plain, ...special]).filter(({ label }) => !there.has(label));
  const labels = new Set(all.map(({ label }) => label));
  // Over a text of the user's own nothing should pop up with each word.
  const free = ask.text.slice(spot.start, ask.offset).trim() === '' || field.quantity !== undefined;
  // People and things that are shown may be named here first; other names stand for something that is defined.
  const named = field.names.length > 0 && !field.names.includes('shown-thing');
  const open = free && all.length <= special.length && !named && !namesPath(field);
  const isInList = typeof spot.path.at(-1) === 'number';
  const examples = open
    ? field.examples.filter((text) => !labels.has(text) && !(isInList && text.startsWith('[')))
    : [];
  const own = examples.map(example);
  return [...all.filter((one) => !one.warned), ...all.filter((one) => one.warned), ...own];
}

function example(label: string): Choice {
  return { label, kind: 'value', detail: 'for example', isExample: true };
}

function secondEnds(field: Field, before: string): Choice[] {
  const ends = field.examples.flatMap((text) => / to (.*)/.exec(text)?.[1] ?? []);
  return [...new Set(ends)].filter((text) => before !== `${text} to `).map(example);
}

const nothing: Choice = { label: 'none', kind: 'word', detail: 'nothing on the lens' };

/** Words that a list in brackets or with dashes has already. */
function listed({ here }: Ask, spot: InsertionPoint): string[] {
  if (typeof spot.path.at(-1) !== 'number') return [];
  let node = here.doc.root;
  for (const step of spot.path.slice(0, -1)) {
    node = node?.kind === 'list' ? node.items[Number(step)] : child(node, String(step));
  }
  const items = node?.kind === 'list' ? node.items : [];
  return items.flatMap((item, index) => (item.kind === 'scalar' && index !== spot.path.at(-1) ? [item.text] : []));
}

function limitValues({ kind, rules }: Ask, { path }: InsertionPoint): Choice[] {
  if (kind !== 'config' || path[0] !== 'rules' || path.length !== 3) return [];
  const limit = limitsFor(rules, String(path[1])).find(({ name }) => name === path[2]);
  return limit ? [{ label: limit.usual, kind: 'value', detail: 'as it comes' }] : [];
}

/** What a client agrees to is most often what was committed last. */
function revisionNow({ kind, base }: Ask, { path }: InsertionPoint): Choice[] {
  if (kind !== 'shoot' || path.join('.') !== 'agreed.revision') return [];
  const last = base?.result.film?.lastCommit();
  return last === undefined ? [] : [{ label: last.slice(0, shortCommit), kind: 'value', detail: 'the last commit' }];
}

/** Of a commit's digits: as many as stay its own in a large repo. */
const shortCommit = 12;

const notTried = {
  broken: 'not checked: the file cannot be read as it is',
  long: 'not checked: the file is too long to try every value',
};

/** The values that come into question, tried; undefined for fields in which no value is better than another. */
function valueChoices(
  field: Field,
  ask: Ask,
  spot: InsertionPoint,
  { before, text: own, isWhole: whole }: Written,
): Choice[] | undefined {
  const values = ask.kind === 'shoot' ? valuesAt(spot.path) : undefined;
  if (!values) return undefined;
  const film = ask.base?.result.film;
  const special = before === '' ? field.special : [];
  const unread = (texts: readonly string[], detail: string) =>
    [...texts, ...special].map((label): Choice => ({ label, kind: 'value', detail }));
  if (!ask.base || !film) return unread(field.examples, notTried.broken);
  const likely = values.texts({ film, path: spot.path, shots: shotsOr(film, spot) });
  // Behind ` to ` one value is wanted, and not another change.
  const texts = [
    ...new Set([
      ...(whole ? [unquoted(own)] : []),
      ...(before === '' ? likely : likely.map((text) => text.split(' to ').at(-1)!)),
    ]),
  ].filter((text) => before !== `${text} to `);
  const others = special.filter((word) => !texts.includes(word));
  const all = [...texts.slice(0, mostTried - others.length), ...others];
  const tried = tryValues(
    ask.base,
    spot,
    all.map((text) => before + text),
  );
  return tried ? ranked(tried, values, spot, before) : unread(texts, notTried.long);
}

/** Where it is not known which shot a value bears on, the first one stands for all. */
function shotsOr(film: Film, spot: InsertionPoint): readonly Shot[] {
  const shots = shotsAt(film, spot.path);
  return shots.length > 0 ? shots : [...film.shots.values()].slice(0, 1);
}

function ranked(tried: readonly TriedValue[], values: FieldValues, spot: InsertionPoint, before: string): Choice[] {
  const cost = ({ findings }: TriedValue) => findings.reduce((sum, one) => sum + weight(one.severity), 0);
  return [...tried]
    .sort((a, b) => cost(a) - cost(b))
    .map(({ text, film, findings: [gravest] }) => {
      const note = values.note({ film, path: spot.path, shots: shotsOr(film, spot) }, text);
      const warned = gravest && `${gravest.severity}: ${gravest.message}`;
      const detail = [note, warned ?? ''].filter(Boolean).join(' · ');
      return { label: text.slice(before.length), kind: 'value', detail, ...(warned && { warned }) };
    });
}

/** Only behind a blank: right behind its colon a block goes on in the next line. */
function blockItems(field: Field, ask: Ask, spot: InsertionPoint): Item[] {
  if (spot.needsBlank) return [];
  const base = { kind: 'block' as const, isSnippet: true, more: false, start: spot.start, end: spot.end, filter: '' };
  const braces = field.shape === 'lines' ? '[{ $1 }]' : '{ $1 }';
  const plain = { isSnippet: false, more: false, start: spot.start, end: spot.end };
  const alone = aloneNames(spot.path, ask).map(({ name, what }): Item => {
    return { label: name, kind: 'path', detail: what, text: nameText(name), ...plain };
  });
  const words = field.special.map((word): Item => ({ label: word, kind: 'word', text: word, ...plain }));
  const items: Item[] = [
    ...alone,
    {
      ...base,
      label: braces.replace(' $1 ', '  '),
      detail: `${field.title} on one line`,
      text: braces,
      more: true,
    },
  ];
  const body = spot.flow ? undefined : exampleBelow(field, ask, spot);
  if (body === undefined) return [...items, ...words];
  const line = { ...base, start: spot.start - 1 }; // Over the blank, which nobody wants at the end of a line.
  return [...items, { ...line, label: 'with an example', detail: field.title, text: `\n${body}$0` }, ...words];
}
