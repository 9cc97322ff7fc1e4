/** Names that may stand before a colon: fields with their meaning, names of the user's own, and whole blocks. */
import {
  childrenOf,
  type Field,
  fieldAt,
  type FieldPath,
  fieldMarkdown,
  type FileKind,
  rawAt,
} from '../../core/schema/fields.ts';
import { limitsFor } from './limit-keys.ts';
import type { Item } from './item.ts';
import { escapeSnippet } from './item.ts';
import { type KnownName, missingNames, namesFor, ruleNames } from './known-names.ts';
import { byNeed } from './shots-by-need.ts';
import type { Ask } from './ask.ts';
import type { InsertionPoint } from './insertion-point.ts';

/** What a key is written as: before it, its line's dash and indentation; behind it, what its value needs. */
export interface Frame {
  readonly start: number;
  readonly end: number;
  /** Before what stands behind the cursor and belongs to something else. */
  readonly insertEnd?: number;
  readonly before: string;
  /** Column of the key. */
  readonly column: number;
  readonly flow: boolean;
  readonly hasColon: boolean;
}

export function frameOf(ask: Ask, spot: InsertionPoint, dash: boolean): Frame {
  const moves = !spot.flow && !spot.hasDash && spot.start - spot.lineStart !== spot.column;
  const before = `${spot.needsBlank ? ' ' : ''}${moves ? ' '.repeat(spot.column) : ''}${dash ? '- ' : ''}`;
  const column = spot.column + (dash ? 2 : 0);
  return {
    start: moves ? spot.lineStart : spot.start,
    before,
    column,
    flow: spot.flow,
    ...behindCursor(ask, spot),
  };
}

/** A key is put before another key that stands right behind the cursor, and over what is left of its own. */
function behindCursor(
  { kind, text, offset }: Ask,
  spot: InsertionPoint,
): Pick<Frame, 'end' | 'insertEnd' | 'hasColon'> {
  const { path, end, hasColon } = spot;
  const behind = text.slice(offset, end);
  const isOther =
    /^\s+\S/.test(behind) || (offset > spot.start && rawAt(kind, path)?.properties?.[behind] !== undefined);
  if (!isOther) return { end, hasColon };
  return {
    end: end + /^\s*(?::[ \t]*)?/.exec(text.slice(end, end + 40))![0].length,
    insertEnd: offset,
    hasColon: false,
  };
}

/** The fields of a block that are not there yet, those that it needs first. */
export function fieldItems(kind: FileKind, path: FieldPath, spot: InsertionPoint, frame: Frame): Item[] {
  const around = fieldAt(kind, path);
  const there = new Set(spot.siblings.keys());
  const chosen = around?.oneOf.some((key) => there.has(key));
  const open = childrenOf(kind, path).filter(({ key }) => !there.has(key) && !(chosen && around?.oneOf.includes(key)));
  const rank = ({ key, required }: Field) => (required ? 0 : seldom.has(key) ? 2 : 1);
  return open.toSorted((a, b) => rank(a) - rank(b)).map((field) => keyItem(field, frame));
}

/** Keys that few films need, which would come before others that start alike (common practice, no source). */
const seldom: ReadonlySet<string> = new Set([
  'format',
  'key-to-fill',
  'like',
  'longest',
  'moved-from',
  'off-centre',
  'on-purpose',
  'published',
  'runs-on',
  'section',
  'slide',
  'support',
  'timeline',
  'way-up',
]);

export function placeOf({ start, end, insertEnd }: Frame): Pick<Item, 'start' | 'end' | 'insertEnd'> {
  return { start, end, ...(insertEnd !== undefined && { insertEnd }) };
}

function keyItem(field: Field, frame: Frame): Item {
  return {
    label: field.key,
    kind: 'key',
    detail: [field.title, field.unit ?? ''].filter(Boolean).join(' · '),
    documentation: fieldMarkdown(field),
    ...behindKey(field, field.key, frame),
    more: !field.isBlock,
    ...placeOf(frame),
  };
}

function behindKey(
  field: Field,
  name: string,
  { before, column, flow, hasColon }: Frame,
): { text: string; isSnippet: boolean } {
  if (hasColon) return { text: before + name, isSnippet: false };
  if (!field.isBlock) return { text: `${before}${name}: `, isSnippet: false };
  if (flow)
    return { text: `${escapeSnippet(name)}: ${field.shape === 'lines' ? '[{ $1 }]' : '{ $1 }'}`, isSnippet: true };
  const dash = field.shape === 'lines' ? '- ' : '';
  return { text: `${before}${name}:\n${' '.repeat(column + 2)}${dash}`, isSnippet: false };
}

/** Names that are wanted in a block of names. */
export function ownNameItems(field: Field, ask: Ask, spot: InsertionPoint, frame: Frame): Item[] {
  const inner = fieldAt(ask.kind, [...spot.path, 'x']);
  const kind = field.defines;
  const known: KnownName[] = kind
    ? [...missingNames(field, ask.here), ...(kind === 'lamp-place' ? lampsOfKit(ask) : [])]
    : [...namesFor(field, ask.here), ...ruleNames(ask.kind, ask.rules)];
  const free = known.filter(({ name }) => !spot.siblings.has(name));
  const names = ask.kind === 'takes' && field.key === 'takes' ? byNeed(free, ask.sheet) : free;
  return names.map(({ name, what }): Item => ({
    label: name,
    kind: 'name',
    detail: what,
    ...behindKey(inner ?? field, name, frame),
    more: inner ? !inner.isBlock : false,
    ...placeOf(frame),
  }));
}

/** A lamp place may have the name of the lamp that stands there, and then says no `use`. */
function lampsOfKit({ here, kind }: Ask): KnownName[] {
  const use = fieldAt(kind, ['lamps', 'x', 'use']);
  return use ? namesFor(use, here) : [];
}

/** The limits of one rule, under its name in the settings. */
export function limitItems(ask: Ask, spot: InsertionPoint, frame: Frame): Item[] {
  if (ask.kind !== 'config' || spot.path[0] !== 'rules' || spot.path.length !== 2) return [];
  return limitsFor(ask.rules, String(spot.path[1]))
    .filter(({ name }) => !spot.siblings.has(name))
    .map(({ name, meaning, usual }) => ({
      label: name,
      kind: 'key' as const,
      detail: `${meaning} Usually ${usual}.`,
      text: `${frame.before}${name}${frame.hasColon ? '' : ': '}`,
      isSnippet: false,
      more: false,
      ...placeOf(frame),
    }));
}
