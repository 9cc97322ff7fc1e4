/** What is not written as the format wants it: one finding for each problem, at its characters, in plain words. */
import {
  type ListNode,
  type MapNode,
  type Node,
  type Pair,
  pairsOf,
  type Range,
  type ScalarNode,
} from '../document/node.ts';
import type { Problem } from '../document/problem.ts';
import type { Fix } from '../finding.ts';
import { listText, quoted } from '../say.ts';
import { dateDays } from '../units.ts';
import { type Explained, explainValue, replace } from './explain.ts';
import type { FileKind, RawField } from './fields.ts';
import { outOfBounds } from './bounds.ts';
import { fileKinds } from '../paths.ts';
import { below, blocksWith, fieldAt, lookUp, oneOf, rootOf, shapeOf, yamlText } from './fields.ts';
import * as validators from './generated/validate.js';
import type { Complaint } from './generated/validate.js';
import { asKey, nearest } from '../nearest.ts';
import { countryMeant, countryName, isCountry } from './country.ts';
import { isEmpty, mostValues, toPlain } from './plain.ts';
import { fits, thousandsMeant } from './repair.ts';

/** The rules that the check of the format has findings for. */
export const schemaRules = [
  'unknown-key',
  'missing-key',
  'wrong-shape',
  'wrong-unit',
  'unknown-word',
  'bad-name',
  'empty-value',
  'out-of-range',
] as const;

export interface SchemaProblem extends Range {
  readonly rule: (typeof schemaRules)[number];
  readonly message: string;
  readonly fixes: readonly Fix[];
  /** For a key or a value of which it is plain what is meant: the node, and the text that is. */
  readonly slip?: { readonly node: ScalarNode; readonly means: string };
  /** For a block that lacks keys: the block, and each key with an example of its value. */
  readonly lacks?: {
    readonly block: MapNode;
    readonly keys: readonly { readonly key: string; readonly example: string }[];
  };
  /** For a value that can't be read: the node, and a text as it usually is. */
  readonly doubt?: { readonly node: ScalarNode; readonly usual: string };
}

/** How many names a message lists. */
const mostNames = 12;

/** How many complaints of the validator are put into words. */
const mostComplaints = 1000;

export interface SchemaCheckResult {
  /** Of very long files, and of files with very many faults, not all. */
  readonly problems: SchemaProblem[];
  /** Values from which nothing may be computed, such as a distance of nothing. */
  readonly refused: ReadonlySet<Node>;
}

/**
 * Checks a file against its format.
 * @param textProblems what is wrong with its text: that a value is empty because its colour became a comment is said there
 */
export function checkSchema(root: Node, kind: FileKind, textProblems: readonly Problem[] = []): SchemaCheckResult {
  return new SchemaCheck(root, kind, textProblems).run();
}

/** A node in the tree, and how it came to be there. */
interface SchemaPlace {
  readonly node: Node;
  readonly field: RawField;
  /** The last key on the way, absent at the top of the file. */
  readonly pair: Pair | undefined;
  /** True in a list: the node is a line of it. */
  readonly inList: boolean;
  /** The block or list that it is in. */
  readonly above?: SchemaPlace;
}

class SchemaCheck {
  readonly #root: Node;
  readonly #kind: FileKind;
  /** Where the keys start whose colour has become a comment. */
  readonly #colourless: ReadonlySet<number>;
  readonly #found = new Map<string, SchemaProblem>();
  /** Values that have their finding: what the validator says of them is the same problem. */
  readonly #told = new Set<Node>();
  readonly #refused = new Set<Node>();
  readonly #pairs = new WeakMap<MapNode, Map<string, Pair>>();
  /** Names that an unknown key was probably meant to be, by block. */
  readonly #meant = new Map<Node, Set<string>>();

  constructor(root: Node, kind: FileKind, textProblems: readonly Problem[]) {
    this.#root = root;
    this.#kind = kind;
    const cutByHash = textProblems.filter(({ rule }) => rule === 'text-cut-by-hash');
    this.#colourless = new Set(cutByHash.map(({ start }) => start));
  }

  run(): SchemaCheckResult {
    const field = rootOf(this.#kind);
    const { data, values } = toPlain(this.#root, this.#kind, field, {
      scalar: (node, of, key) => this.#scalar(node, of, key),
      map: (node, of, key) => this.#oneOf(node, of, key),
    });
    const validate = validators[this.#kind];
    validate(data);
    const complaints = (validate.errors ?? []).slice(0, mostComplaints);
    for (const complaint of complaints) if (complaint.keyword === 'additionalProperties') this.#unknownKey(complaint);
    const missing = new Map<Node, { place: SchemaPlace; keys: string[] }>();
    for (const complaint of complaints) {
      if (complaint.keyword !== 'required') this.#explain(complaint);
      // Of a file that was not read to its end nobody can say what it lacks.
      else if (values <= mostValues) this.#collectMissing(complaint, missing);
    }
    for (const { place, keys } of missing.values()) this.#missingKeys(place, keys);
    const problems = [...this.#found.values()].sort((a, b) => a.start - b.start || a.end - b.end);
    return { problems, refused: this.#refused };
  }

  #report(
    rule: SchemaProblem['rule'],
    { start, end }: Range,
    message: string,
    fixes: readonly Fix[] = [],
    more: Pick<SchemaProblem, 'slip' | 'doubt' | 'lacks'> = {},
  ): void {
    const id = `${rule} ${start} ${end}`;
    if (!this.#found.has(id)) this.#found.set(id, { rule, message, start, end, fixes, ...more });
  }

  /** What only the text tells: values that are not there, days that are in no calendar and countries on no map. */
  #scalar(node: ScalarNode, field: RawField, pair: Pair | undefined): void {
    if (isEmpty(node)) {
      this.#told.add(node);
      this.#emptyValue(node, field, pair);
      return;
    }
    if (!this.#thousands(node, oneOf(field))) this.#bounds(node, field, pair);
    const quantity = field['x-quantity'];
    if (quantity === 'date') this.#noSuchDay(node, field);
    if (quantity === 'country' || quantity === 'region') this.#noSuchCountry(node, quantity);
  }

  /** True where it is one. */
  #thousands(node: ScalarNode, field: RawField): boolean {
    const meant = node.quoted ? undefined : thousandsMeant(field, node.text);
    if (meant === undefined) return false;
    const message = `${quoted(node.text)} would be ${Number.parseFloat(node.text)}: a point stands before decimals only. Write \`${meant}\`, with nothing between thousands.`;
    const fixes = replace(node, meant, true);
    this.#report('wrong-unit', node, message, fixes, meantInstead(node, fixes));
    return true;
  }

  #bounds(node: ScalarNode, field: RawField, pair: Pair | undefined): void {
    const one = oneOf(field);
    const beyond = outOfBounds(one['x-quantity'] ?? '', node.text);
    if (beyond === undefined) return;
    this.#told.add(node);
    this.#refused.add(node);
    const message = `${quoted(pair?.key.text ?? '')} can't be ${quoted(node.text)}: ${beyond}.`;
    this.#report('out-of-range', node, message, [], usualInstead(node, field));
  }

  #noSuchDay(node: ScalarNode, field: RawField): void {
    const pattern = oneOf(field).pattern;
    if (!pattern || !new RegExp(pattern, 'u').test(node.text)) return;
    const wrong = node.text.split(' to ').find((day) => dateDays(day) === undefined);
    if (wrong) this.#report('out-of-range', node, `There is no day ${quoted(wrong)} in the calendar.`);
  }

  #noSuchCountry(node: ScalarNode, quantity: 'country' | 'region'): void {
    const code = /^[A-Z]{2}(?= |$)/.exec(node.text)?.[0];
    if (code === undefined || isCountry(code)) return;
    const meant = countryMeant(code);
    const instead = quantity === 'region' ? 'the mains alone, `230 V 50 Hz`' : '`EEA` or `worldwide`';
    const message = meant
      ? `There is no country \`${code}\`: write \`${meant.code}\` (${countryName(meant.code)}).`
      : `There is no country \`${code}\`: write the two letters that ISO 3166-1 has for it, for example \`DE\`, or ${instead}.`;
    const fixes = meant ? replace(node, meant.code + node.text.slice(code.length), meant.sure) : [];
    this.#report('unknown-word', node, message, fixes, meantInstead(node, fixes));
    // Mains that are said beside it still count.
    if (quantity === 'country') this.#refused.add(node);
  }

  #emptyValue(node: ScalarNode, field: RawField, pair: Pair | undefined): void {
    const key = pair?.key.text ?? '';
    // An empty line of a list stands right behind its dash.
    const isLine = pair !== undefined && pair.value !== node && node.end === node.start;
    const place =
      node.end > node.start || !pair ? node : isLine ? { start: node.start - 1, end: node.start } : pair.key;
    const example = exampleOf(field);
    const doubt = usualInstead(node, field);
    if (pair && node.end === node.start && this.#colourless.has(pair.key.start)) return;
    if (node.text !== '' && !node.quoted) {
      const message = `${quoted(node.text)} says nothing here. Delete ${quoted(key)}, or write a value, for example \`${example}\`.`;
      return this.#report('empty-value', place, message, [], doubt);
    }
    if (isLine) {
      const fix: Fix = { title: 'Delete this dash', edits: [{ ...place, text: '' }], safe: false };
      return this.#report('empty-value', place, emptyLine(key, example), [fix]);
    }
    const block = ['block', 'named', 'lines'].includes(shapeOf(field));
    const such = example ? `, for example \`${example}\`` : '';
    const message = block
      ? `Nothing stands below ${quoted(key)}. Write what belongs there${such}, or delete the line.`
      : `${quoted(key)} has no value. Write one${such}, or delete the line.`;
    this.#report('empty-value', place, pair ? message : 'This line is empty. Delete it.', [], doubt);
  }

  /** Lines that must say one of several keys, and no two of them. */
  #oneOf(node: MapNode, field: RawField, pair: Pair | undefined): void {
    const choices = field['x-one-of'];
    if (!choices) return;
    const pairs = pairsOf(node);
    const said = pairs.filter(({ key }) => choices.includes(key.text));
    const names = choices.map((name) => `\`${name}\``);
    const what = (field.title ?? pair?.key.text ?? 'line').toLowerCase();
    const isNear = ({ key }: Pair) => !below(this.#kind, field, key.text) && nearest(key.text, choices);
    if (said.length === 0 && !pairs.some(isNear)) {
      this.#report(
        'missing-key',
        firstLine(node),
        `A ${what} needs one of ${listText(names, 'and')}: say which it is.`,
      );
    }
    const second = said[1];
    if (second) {
      const message = `A ${what} is one of ${listText(names, 'and')}, and here are \`${said[0]!.key.text}\` and \`${second.key.text}\`. Delete one, or make two of it.`;
      this.#report('wrong-shape', second.key, message);
    }
  }

  #pairOf(map: MapNode, key: string): Pair | undefined {
    let index = this.#pairs.get(map);
    if (!index) {
      index = new Map();
      for (const pair of pairsOf(map)) if (!index.has(pair.key.text)) index.set(pair.key.text, pair);
      this.#pairs.set(map, index);
    }
    return index.get(key);
  }

  #placeOf(complaint: Complaint): SchemaPlace | undefined {
    let place: SchemaPlace = { node: this.#root, field: rootOf(this.#kind), pair: undefined, inList: false };
    for (const part of complaint.instancePath.split('/').slice(1)) {
      const next = this.#step(place, part.replaceAll('~1', '/').replaceAll('~0', '~'));
      if (!next) return undefined;
      place = next;
    }
    return place;
  }

  #step(above: SchemaPlace, step: string): SchemaPlace | undefined {
    const { node, field, pair } = above;
    if (node.kind === 'list') {
      const item = node.items[Number(step)];
      const inner = shapeOf(field) === 'values' ? oneOf(field) : below(this.#kind, field, 0);
      return item && inner && { node: item, field: inner, pair, inList: true, above };
    }
    const next = node.kind === 'map' ? this.#pairOf(node, step) : undefined;
    const inner = below(this.#kind, field, step);
    return next && inner && { node: next.value, field: inner, pair: next, inList: false, above };
  }

  #explain(complaint: Complaint): void {
    const place = this.#placeOf(complaint);
    if (!place || this.#told.has(place.node)) return;
    const { keyword, params } = complaint;
    if (keyword === 'propertyNames') {
      const pair = place.node.kind === 'map' ? this.#pairOf(place.node, String(params['propertyName'])) : undefined;
      if (pair) this.#badName(pair);
      return;
    }
    if (complaint.propertyName !== undefined || keyword === 'additionalProperties' || keyword === 'if') return;
    this.#told.add(place.node);
    const shape = shapeOf(place.field);
    if (place.node.kind === 'scalar' && (shape === 'value' || shape === 'values')) {
      const { rule, message, fixes } = this.#explainValue(place, place.node);
      const slip = meantInstead(place.node, fixes);
      this.#report(rule, place.node, message, fixes, slip.slip ? slip : usualInstead(place.node, place.field));
      if (rule === 'out-of-range' || rule === 'wrong-unit') this.#refused.add(place.node);
    } else if (!this.#isNameless(place)) {
      this.#wrongShape(place, shape);
    }
  }

  /** Where one other name of the block takes such a value, that one may be meant: `turn: { by: 2 rpm }`. */
  #explainValue(place: SchemaPlace, node: ScalarNode): Explained {
    const { field, pair, above } = place;
    const explained = explainValue(field, pair?.key.text ?? '', node);
    if (explained.rule !== 'wrong-unit' || explained.fixes.length > 0 || !pair) return explained;
    const map = above?.node.kind === 'map' ? above.node : undefined;
    const able = Object.keys(above?.field.properties ?? {}).filter((name) => {
      const other = below(this.#kind, above!.field, name);
      return map && !this.#pairOf(map, name) && other?.['x-quantity'] && fits(other, node.text);
    });
    const [name] = able;
    if (name === undefined || able.length > 1) return explained;
    return {
      ...explained,
      message: `${explained.message} \`${name}\` takes it.`,
      fixes: replace(pair.key, name, false).map((fix) => ({ ...fix, title: `Call it \`${name}\`` })),
    };
  }

  /** `deliver: { raster: 1920x1080, rate: 25 }`: what belongs below a name stands in its place. True where that is so. */
  #isNameless({ field, pair: own, above }: SchemaPlace): boolean {
    if (!own || !above?.pair || above.node.kind !== 'map' || shapeOf(above.field) !== 'named') return false;
    if (!pairsOf(above.node).every((pair) => Object.hasOwn(field.properties ?? {}, pair.key.text))) return false;
    const { node, pair } = above;
    const [name] = Object.keys((above.field.examples?.[0] ?? {}) as object);
    const such = name ? `: write it below one, such as \`${name}\`` : '';
    const message = `Below ${quoted(pair.key.text)} each thing has a name of its own, and here ${quoted(own.key.text)} stands in the place of one${such}.`;
    const edits = [
      { start: node.start, end: node.start, text: `{ ${name}: ` },
      { start: node.end, end: node.end, text: ' }' },
    ];
    const isFixable = name && node.flow && node.alias === undefined;
    const fix: Fix = { title: `Call it ${quoted(name ?? '')}`, edits, safe: false };
    this.#report('wrong-shape', pair.key, message, isFixable ? [fix] : []);
    return true;
  }

  #wrongShape({ node, field, pair, inList }: SchemaPlace, shape: ReturnType<typeof shapeOf>): void {
    const key = pair?.key.text;
    const at = node.kind === 'scalar' ? node : inList || !pair ? firstLine(node) : pair.key;
    const example = exampleOf(field);
    const such = example ? `, for example \`${key && !inList ? `${key}: ` : ''}${example}\`` : '';
    if (!key) {
      const message = `A file of this kind is made of lines with a name and a value, and starts with \`${this.#kind === 'config' ? 'format' : 'title'}:\`.`;
      return this.#report('wrong-shape', at, message);
    }
    const is = node.kind === 'scalar' ? `${quoted(node.text)} alone` : node.kind === 'list' ? 'a list' : 'a block';
    if (shape === 'lines') {
      const message = `${quoted(key)} is a list, in which each line starts with \`- \`, and here is ${is}${such}.`;
      return this.#report('wrong-shape', at, message, node.kind === 'map' ? asOnlyLine(node) : []);
    }
    if (shape === 'named') {
      return this.#report(
        'wrong-shape',
        at,
        `Below ${quoted(key)} each thing has a name of its own, and here is ${is}${such}.`,
      );
    }
    if (shape === 'block') {
      return this.#noBlock(node, field, `${inList ? 'A line of ' : ''}${quoted(key)}`, { at, is, such, inList });
    }
    if (node.kind === 'list' && shape === 'value') return this.#listForValue(node, field, key, at, such);
    const several = shape === 'values' ? ' or a list of values' : '';
    this.#report('wrong-shape', at, `${quoted(key)} is a single value${several}, and here is ${is}${such}.`);
  }

  /** A value or a list where names and values should be; the name of a value is said where it is plain. */
  #noBlock(
    node: Node,
    field: RawField,
    what: string,
    { at, is, such, inList }: { at: Range; is: string; such: string; inList: boolean },
  ): void {
    const words = (field['x-special'] ?? []).map((word) => `, or is \`${word}\``).join('');
    const begin = `${what} is made of names and values${words}, and here is`;
    const name = node.kind === 'scalar' && !node.quoted ? this.#nameFor(field, node.text) : undefined;
    if (node.kind !== 'scalar' || name === undefined) return this.#report('wrong-shape', at, `${begin} ${is}${such}.`);
    const said = `${name}: ${node.text}`;
    const meant = inList ? said : `{ ${said} }`;
    this.#report('wrong-shape', at, `${begin} a value alone: write \`${meant}\`.`, replace(node, meant, false));
  }

  /** The one name of a block that takes such a value: `lid: 20 x 8 x 1 cm` says its size, `key: panel` what is used. */
  #nameFor(field: RawField, text: string): string | undefined {
    const takes = (name: string) => {
      const inner = below(this.#kind, field, name);
      return inner !== undefined && fits(oneOf(inner), text) ? inner : undefined;
    };
    const quantities = Object.keys(field.properties ?? {}).filter((name) => takes(name)?.['x-quantity']);
    if (quantities.length > 0) return quantities.length === 1 ? quantities[0] : undefined;
    return [field['x-one-of']?.[0], 'use'].find((name) => name !== undefined && takes(name)?.['x-names']);
  }

  /** A list of one is that one without brackets; of several the first that can be the value is offered. */
  #listForValue(node: ListNode, field: RawField, key: string, at: Range, such: string): void {
    const { items } = node;
    const [only] = items;
    const isOne = items.length === 1 && only?.kind === 'scalar' && node.flow && node.alias === undefined;
    const message = isOne
      ? `${quoted(key)} takes one value and no list: write it without brackets${such}.`
      : `${quoted(key)} takes one value, and here is a list of ${items.length}${such}.`;
    const texts = items.flatMap((item) =>
      item.kind === 'scalar' && item.alias === undefined && !item.quoted ? item.text : [],
    );
    // `region: [US, 120 V]` are the parts of one value.
    const meant = [texts.join(' '), ...texts].find((text) => (isOne && texts.length === 1) || fits(oneOf(field), text));
    if (meant === undefined || !node.flow || node.alias !== undefined) return this.#report('wrong-shape', at, message);
    const fix: Fix = {
      title: `Write \`${meant}\``,
      edits: [{ start: node.start, end: node.end, text: meant }],
      safe: isOne,
    };
    this.#report('wrong-shape', at, message, [fix]);
  }

  #badName({ key }: Pair): void {
    const meant = asKey(key.text);
    if (key.text === 'none' || key.text === 'product') {
      const message = `${quoted(key.text)} can't be a name, because it already means something everywhere. Call it something else.`;
      return this.#report('bad-name', key, message);
    }
    const write = meant ? `, for example ${quoted(meant)}` : '';
    const message = `${quoted(key.text)} can't be a name: names are small letters, digits and hyphens${write}.`;
    // Other lines may use the name, so the fix is offered and not taken for granted.
    const fixes = meant ? replace(key, meant, false) : [];
    this.#report('bad-name', key, message, fixes);
  }

  #unknownKey(complaint: Complaint): void {
    const place = this.#placeOf(complaint);
    if (place?.node.kind !== 'map') return;
    const { node, field } = place;
    const pair = this.#pairOf(node, String(complaint.params['additionalProperty']));
    if (!pair) return;
    const text = pair.key.text;
    const names = Object.keys(field.properties ?? {});
    const split = pair.value.kind === 'scalar' && isEmpty(pair.value) ? keyAndValue(text, names) : undefined;
    if (split) {
      this.#rememberMeant(node, split.name);
      return this.#noColon(pair, split);
    }
    const near = otherWord(text, names) ?? nearest(text, names);
    const free = near && !this.#pairOf(node, near.word);
    if (free) this.#rememberMeant(node, near.word);
    const where = place.pair ? `in \`${place.pair.key.text}\`` : 'at the top of the file';
    const shown = quoted(text);
    const message = `${shown} means nothing ${where}. ${this.#whatInstead(near?.word, free === true, text, names)}`;
    // A word that means something elsewhere is no slip of the keys: `weight` in `camera` need not be `height`.
    const sure = near?.sure === true && blocksWith(this.#kind, text).length === 0;
    const fixes = free ? replace(pair.key, near.word, sure) : [];
    const slip = free && sure ? { slip: { node: pair.key, means: near.word } } : {};
    this.#report('unknown-key', pair.key, message, fixes, slip);
  }

  /** `{ iso 400 }`. */
  #noColon({ key, value }: Pair, { name, said }: { name: string; said: string }): void {
    this.#told.add(value);
    const at = key.start + name.length;
    const fix: Fix = { title: `Put a colon after ${name}`, edits: [{ start: at, end: at, text: ':' }], safe: false };
    const message = `${quoted(key.text)} has no colon: write \`${name}: ${said}\`.`;
    this.#report('unknown-key', key, message, key.quoted || value.end > value.start ? [] : [fix]);
  }

  #rememberMeant(node: Node, word: string): void {
    const words = this.#meant.get(node) ?? new Set<string>();
    words.add(word);
    this.#meant.set(node, words);
  }

  #whatInstead(near: string | undefined, free: boolean, text: string, names: readonly string[]): string {
    if (near) return free ? `Did you mean \`${near}\`?` : `Did you mean \`${near}\`, which is there already?`;
    const blocks = blocksWith(this.#kind, text).slice(0, 3);
    if (blocks.length > 0)
      return `It belongs in ${listText(
        blocks.map((name) => `\`${name}\``),
        'or',
      )}.`;
    for (const kind of fileKinds) {
      if (kind !== this.#kind && fieldAt(kind, [text])) return `It belongs in ${fileNames[kind]}.`;
    }
    const shown = names.slice(0, mostNames).map((name) => `\`${name}\``);
    const more = names.length > mostNames ? ` and ${names.length - mostNames} more` : '';
    return more ? `Here may stand ${shown.join(', ')}${more}.` : `Here may stand ${listText(shown, 'or')}.`;
  }

  #collectMissing(complaint: Complaint, missing: Map<Node, { place: SchemaPlace; keys: string[] }>): void {
    const place = this.#placeOf(complaint);
    const key = String(complaint.params['missingProperty']);
    if (!place || this.#meant.get(place.node)?.has(key)) return;
    const entry = missing.get(place.node) ?? { place, keys: [] };
    if (!entry.keys.includes(key)) entry.keys.push(key);
    missing.set(place.node, entry);
  }

  #missingKeys({ node, field, pair, inList }: SchemaPlace, keys: readonly string[]): void {
    const at = inList || !pair ? firstLine(node) : pair.key;
    const what = !pair ? 'The file' : inList ? `A line of \`${pair.key.text}\`` : quoted(pair.key.text);
    const needs = keys.map((key) => {
      const inner = field.properties?.[key];
      const raw = inner && lookUp(this.#kind, inner);
      return { key, about: raw?.description ?? '', example: raw ? exampleOf(raw) : '' };
    });
    const [only] = needs;
    const orElse = keys.every((key) => field.then?.required.includes(key)) ? insteadOf(field) : '';
    const names = needs.map(({ key, example }) => `\`${key}: ${example}\``);
    const message =
      needs.length === 1 && only
        ? `${what} needs \`${only.key}\`${orElse}: ${asClause(only.about)}, for example \`${only.key}: ${only.example}\`.`
        : `${what} needs ${listText(needs.map(({ key }) => `${quoted(key)}`))}${orElse}. For example ${listText(names)}.`;
    // What a whole file lacks is a file to be begun.
    const isSayable = pair && node.kind === 'map' && needs.every(({ example }) => example !== '');
    this.#report('missing-key', at, message, [], isSayable ? { lacks: { block: node, keys: needs } } : {});
  }
}

/** `schedule: { day: … }` as a list of that one line. */
function asOnlyLine({ flow, alias, start, end }: MapNode): Fix[] {
  if (!flow || alias !== undefined) return [];
  const edits = [
    { start, end: start, text: '[' },
    { start: end, end, text: ']' },
  ];
  return [{ title: 'Put brackets round it', edits, safe: false }];
}

/** What may be said instead of the keys that a block needs only where it is not. */
function insteadOf({ if: unless }: RawField): string {
  const [key] = unless?.not.required ?? [];
  return key === undefined ? '' : `, or \`${key}\` to take over from another`;
}

/** The value that is meant, where a fix of it is sure. */
function meantInstead(node: ScalarNode, [fix]: readonly Fix[]): Pick<SchemaProblem, 'slip'> {
  const text = fix?.safe ? fix.edits[0]?.text : undefined;
  if (text === undefined) return {};
  return { slip: { node, means: text.startsWith('"') ? (JSON.parse(text) as string) : text } };
}

/** Of files none is usual. */
const namesFile: ReadonlySet<string> = new Set(['path', 'beside', 'clip', 'master']);

/** A value as it usually is, where the field says one. */
function usualInstead(node: ScalarNode, field: RawField): Pick<SchemaProblem, 'doubt'> {
  const one = oneOf(field);
  if ((one['x-quantity'] === undefined && !one.enum) || namesFile.has(one['x-quantity'] ?? '')) return {};
  const examples = (one.examples ?? []).flat().map(String);
  // Beats say nothing where there is no tempo.
  const usual = examples.find((text) => !text.includes('beat')) ?? examples[0];
  return usual === undefined ? {} : { doubt: { node, usual } };
}

function emptyLine(key: string, example: string): string {
  return `This line of ${quoted(key)} is empty. Write what belongs there${example && `, for example \`- ${example}\``}, or delete it.`;
}

const fileNames: Readonly<Record<FileKind, string>> = {
  shoot: 'a shoot spec (`*.shoot.yaml`)',
  takes: 'a take sheet (`*.takes.yaml`)',
  kit: 'a kit (`*.kit.yaml`)',
  config: '`shootspec.yaml`',
};

function keyAndValue(text: string, names: readonly string[]): { name: string; said: string } | undefined {
  const [, name = '', said = ''] = /^([a-z][a-z-]*) +(\S.{0,40})$/.exec(text) ?? [];
  return names.includes(name) ? { name, said } : undefined;
}

/** Words that people bring along, and ours; where several are given, the first that the block knows. */
const otherWords: Readonly<Record<string, readonly string[]>> = {
  against: ['over'],
  background: ['backdrop'],
  color: ['colour'],
  'color-space': ['colour-space'],
  'f-stop': ['aperture'],
  'frame-rate': ['rate'],
  'focal-length': ['focal'],
  comment: ['notes'],
  deliverables: ['deliver'],
  description: ['notes', 'what'],
  dimmer: ['level'],
  duration: ['length', 'lasts', 'hold'],
  for: ['shown-on'],
  fps: ['rate'],
  framerate: ['rate'],
  level: ['codec-level', 'brightness', 'gain'],
  lights: ['lamps'],
  look: ['on-purpose'],
  mounted: ['held', 'way-up'],
  outputs: ['deliver'],
  power: ['runs-on', 'draw'],
  push: ['brighten'],
  reel: ['cable-reel'],
  resolution: ['raster'],
  scenes: ['shots'],
  wb: ['white-balance'],
};

function otherWord(text: string, names: readonly string[]): { word: string; sure: boolean } | undefined {
  const key = asKey(text);
  const words = Object.hasOwn(otherWords, key) ? otherWords[key] : undefined;
  const word = words?.find((each) => names.includes(each));
  return word ? { word, sure: false } : undefined;
}

/** The first sentence of a description, to go on with after a colon. */
function asClause(description: string): string {
  const first = description.split(/\.(?: |$)/)[0] ?? '';
  return first.charAt(0).toLowerCase() + first.slice(1);
}

function exampleOf(field: RawField): string {
  const first = field.examples?.[0];
  return first === undefined ? '' : yamlText(first);
}

/** From the start of a node to the end of its first key or item, so that a long block is not underlined as a whole. */
function firstLine(node: Node): Range {
  if (node.kind === 'map') return node.pairs[0]?.key ?? node;
  if (node.kind === 'list' && !node.flow) {
    const [first] = node.items;
    return first && first !== node ? firstLine(first) : node;
  }
  return node;
}
