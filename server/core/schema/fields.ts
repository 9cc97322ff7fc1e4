/**
 * What may be written where, from the schemas: the one source for hovers, completions, messages and pages.
 *
 * A path is made of keys and list positions: `['shots', 'reveal', 'camera', 'iso']`, `['cut', 0, 'zoom']`.
 */
import configSchema from '../../../schemas/config.schema.json' with { type: 'json' };
import kitSchema from '../../../schemas/kit.schema.json' with { type: 'json' };
import shootSchema from '../../../schemas/shoot.schema.json' with { type: 'json' };
import takesSchema from '../../../schemas/takes.schema.json' with { type: 'json' };
import { once, onceAt } from '../memo.ts';
import type { FileKind } from '../paths.ts';

export type { FileKind };

export type FieldPath = readonly (string | number)[];

/** value: one word, text or number · values: one, or a list of them · block: fixed keys · named: blocks or values under names of the user's own · lines: a list of blocks. */
export type Shape = 'value' | 'values' | 'block' | 'named' | 'lines';

export interface Field {
  readonly key: string;
  readonly title: string;
  readonly description: string;
  readonly shape: Shape;
  /** True for a block, a list of blocks and blocks under names. */
  readonly isBlock: boolean;
  /** True where a list may stand. */
  readonly isList: boolean;
  /** True where the block around it makes no sense without it. */
  readonly required: boolean;
  /** As it would be written after the key. */
  readonly examples: readonly string[];
  /** The kind of quantity: `length`, `shutter`, `colour`… */
  readonly quantity?: string;
  /** The units that may be written, in words. */
  readonly unit?: string;
  /** How the name of its file ends; empty where it may be any file. */
  readonly endings: readonly string[];
  /** Where `A to B` may be written: something that changes, what gear can do, or a time from and to. */
  readonly ends?: 'change' | 'range' | 'period';
  /** Words that may stand in place of the quantity. */
  readonly special: readonly string[];
  /** All words that may be written, where nothing else may. */
  readonly words: readonly string[];
  /** What a name written here refers to; several where it may be any of them. */
  readonly names: readonly string[];
  /** What the names below it are names of. */
  readonly defines?: string;
  /** Keys of which a block has one and no more; empty where any may stand together. */
  readonly oneOf: readonly string[];
  /** What happens when it is left out. */
  readonly default?: string;
}

/** A field as the schema has it, with its block looked up. */
export interface RawField {
  readonly title?: string;
  readonly description?: string;
  readonly type?: string | readonly string[];
  readonly pattern?: string;
  readonly enum?: readonly string[];
  readonly minimum?: number;
  readonly exclusiveMinimum?: number;
  readonly maximum?: number;
  readonly items?: RawField;
  readonly properties?: Readonly<Record<string, RawField>>;
  readonly additionalProperties?: boolean | RawField;
  readonly propertyNames?: { readonly pattern: string };
  readonly required?: readonly string[];
  readonly if?: {
    readonly not: { readonly required: readonly string[]; readonly properties?: Readonly<Record<string, RawField>> };
  };
  readonly then?: { readonly required: readonly string[] };
  readonly examples?: readonly unknown[];
  readonly $ref?: string;
  readonly 'x-quantity'?: string;
  readonly 'x-unit'?: string;
  readonly 'x-endings'?: readonly string[];
  readonly 'x-ends'?: Field['ends'];
  readonly 'x-special'?: readonly string[];
  readonly 'x-default'?: string;
  readonly 'x-names'?: string | readonly string[];
  /** True where words of one's own may stand instead of a name. */
  readonly 'x-free'?: boolean;
  readonly 'x-defines'?: string;
  readonly 'x-one-of'?: readonly string[];
  /** The key of a block that its value alone stands for: `C0017.MP4` for `{ clip: C0017.MP4 }`. */
  readonly 'x-short'?: string;
  /** True for a list in which one line may stand without the list. */
  readonly 'x-alone'?: boolean;
}

interface Schema extends RawField {
  readonly $defs: Readonly<Record<string, RawField>>;
}

const schemas = {
  shoot: shootSchema,
  takes: takesSchema,
  kit: kitSchema,
  config: configSchema,
} as unknown as Record<FileKind, Schema>;

/** The field with the block that it points to; what the field says of itself wins. */
export function lookUp(kind: FileKind, raw: RawField): RawField {
  return raw.$ref ? withBlock(raw, kind) : raw;
}

const withBlock = onceAt((raw: RawField, kind: FileKind): RawField => ({
  ...schemas[kind].$defs[raw.$ref!.slice('#/$defs/'.length)],
  ...raw,
}));

/** What is below a key or a list position, or undefined where nothing may be. */
export function below(kind: FileKind, raw: RawField, step: string | number): RawField | undefined {
  if (typeof step === 'number') return raw.items && lookUp(kind, raw.items);
  if (raw['x-alone'] && raw.items) return below(kind, lookUp(kind, raw.items), step);
  const own = raw.properties && Object.hasOwn(raw.properties, step) ? raw.properties[step] : undefined;
  const inner = own ?? (typeof raw.additionalProperties === 'object' ? raw.additionalProperties : undefined);
  return inner && lookUp(kind, inner);
}

/** The whole file. */
export function rootOf(kind: FileKind): RawField {
  return schemas[kind];
}

/** The field at a path as the schema has it. */
export function rawAt(kind: FileKind, path: FieldPath): RawField | undefined {
  let here: RawField | undefined = schemas[kind];
  for (const step of path) here = here && below(kind, here, step);
  return here;
}

/** The field at a path; the whole file for an empty one; undefined where nothing may be written. */
export function fieldAt(kind: FileKind, path: FieldPath): Field | undefined {
  const raw = rawAt(kind, path);
  const last = path.at(-1);
  if (!raw) return undefined;
  const around = path.length > 0 ? rawAt(kind, path.slice(0, -1)) : undefined;
  // A place in a list of values says nothing of its own: it is told by the list.
  if (typeof last === 'number' && around && !raw.title)
    return { ...toField(around, lastKey(path), false), shape: 'value' };
  return toField(raw, lastKey(path), isRequired(around, last));
}

/** The fields that may stand in the block at a path, in their order; none where names are the user's own. */
export function childrenOf(kind: FileKind, path: FieldPath): Field[] {
  const raw = rawAt(kind, path);
  return Object.entries(raw?.properties ?? {}).map(([key, inner]) =>
    toField(lookUp(kind, inner), key, isRequired(raw, key)),
  );
}

function isRequired(around: RawField | undefined, key: string | number | undefined): boolean {
  return typeof key === 'string' && (around?.required?.includes(key) ?? false);
}

function lastKey(path: FieldPath): string {
  return String(path.findLast((step) => typeof step === 'string') ?? '');
}

export function shapeOf(raw: RawField): Shape {
  if (raw['x-alone']) return 'lines';
  const types = typesOf(raw);
  if (types.includes('object'))
    return typeof raw.additionalProperties === 'object' && !raw.properties ? 'named' : 'block';
  if (!types.includes('array')) return 'value';
  return types.length > 1 ? 'values' : 'lines';
}

export function typesOf(raw: RawField): readonly string[] {
  return raw.type === undefined ? [] : typeof raw.type === 'string' ? [raw.type] : raw.type;
}

/** `25`, `-1.5`; not `025`, `1e3`, `0x19`, which YAML takes for numbers too. A plus only where there is a minus. */
export function isNumber(field: RawField, text: string): boolean {
  if (!/^[+-]?(?:0|[1-9]\d*)(?:\.\d+)?$/.test(text)) return false;
  return !text.startsWith('+') || (field.exclusiveMinimum === undefined && (field.minimum ?? -1) < 0);
}

/** The field as one value of it: what a list of values says of each. */
export function oneOf(field: RawField): RawField {
  return field.items && shapeOf(field) === 'values' ? withItems(field) : field;
}

const withItems = once((field: RawField): RawField => ({ ...field, ...field.items }));

function toField(raw: RawField, key: string, required: boolean): Field {
  const shape = shapeOf(raw);
  const names = raw['x-names'] ?? [];
  return {
    key,
    title: raw.title ?? key,
    description: raw.description ?? '',
    shape,
    isBlock: shape === 'block' || shape === 'named' || shape === 'lines',
    isList: shape === 'values' || shape === 'lines',
    required,
    examples: (raw.examples ?? []).map((example) => yamlText(example)),
    special: raw['x-special'] ?? [],
    words: raw.enum ?? raw.items?.enum ?? [],
    names: typeof names === 'string' ? [names] : names,
    oneOf: raw['x-one-of'] ?? [],
    endings: raw['x-endings'] ?? [],
    ...(raw['x-quantity'] !== undefined && { quantity: raw['x-quantity'] }),
    ...(raw['x-unit'] !== undefined && { unit: raw['x-unit'] }),
    ...(raw['x-ends'] !== undefined && { ends: raw['x-ends'] }),
    ...(raw['x-defines'] !== undefined && { defines: raw['x-defines'] }),
    ...(raw['x-default'] !== undefined && { default: raw['x-default'] }),
  };
}

/** The blocks of a file that have a key, by the name of the block's own field: `['camera']` for `iso`. */
export function blocksWith(kind: FileKind, key: string): string[] {
  return [...blockIndex(kind)].filter(([, block]) => Object.hasOwn(block.properties ?? {}, key)).map(([name]) => name);
}

const blockIndexes = new Map<FileKind, Map<string, RawField>>();

function blockIndex(kind: FileKind): Map<string, RawField> {
  const known = blockIndexes.get(kind);
  if (known) return known;
  const index = new Map<string, RawField>();
  const visit = (raw: RawField, name: string) => {
    if (raw.properties && name && !index.has(name)) index.set(name, raw);
    if (raw.items) visit(lookUp(kind, raw.items), name);
    if (typeof raw.additionalProperties === 'object') visit(lookUp(kind, raw.additionalProperties), name);
    for (const [key, inner] of Object.entries(raw.properties ?? {})) visit(lookUp(kind, inner), key);
  };
  visit(schemas[kind], '');
  blockIndexes.set(kind, index);
  return index;
}

/** A value as one would write it on one line of YAML. */
export function yamlText(value: unknown, inside = false): string {
  if (Array.isArray(value)) return `[${value.map((item) => yamlText(item, true)).join(', ')}]`;
  if (typeof value === 'object' && value !== null) {
    return `{ ${Object.entries(value)
      .map(([key, inner]) => `${key}: ${yamlText(inner, true)}`)
      .join(', ')} }`;
  }
  const text = String(value);
  const needsQuotes =
    /^[#&*!|>'"%@`[\]{},?-]( |$)|^[#&*!|>'"%@`[{]|: | #|^\s|\s$/.test(text) || (inside && /[,[\]{}]/.test(text));
  return typeof value === 'string' && needsQuotes ? JSON.stringify(text) : text;
}

const endsText = {
  change: 'it changes evenly from A to B',
  range: 'everything from A to B',
  period: 'the time from A to B',
};

/** Hover text for a field, in Markdown. It holds words of the schemas only, nothing of the user's. */
export function fieldMarkdown(field: Field): string {
  const facts: string[] = [];
  const code = (words: readonly string[]) => words.map((word) => `\`${word}\``).join(' · ');
  if (field.unit) facts.push(`Unit: ${field.unit}`);
  if (field.words.length > 0) facts.push(`One of: ${code(field.words)}`);
  if (field.special.length > 0) facts.push(`Or: ${code(field.special)}`);
  if (field.ends) facts.push(`\`A to B\`: ${endsText[field.ends]}`);
  if (field.shape === 'values') facts.push('One, or a list: `[a, b]`');
  if (field.required) facts.push('Needed');
  else if (field.default) facts.push(`Left out: ${field.default}`);
  if (field.examples[0]) facts.push(`Example: \`${field.key ? `${field.key}: ` : ''}${field.examples[0]}\``);
  // The name of a thing is the user's own, and may hold what acts in Markdown.
  const name = field.key !== field.title && /^[\w-]+$/.test(field.key) ? ` · \`${field.key}\`` : '';
  return [`**${field.title}**${name}`, field.description, facts.map((fact) => `- ${fact}`).join('\n')]
    .filter(Boolean)
    .join('\n\n');
}
