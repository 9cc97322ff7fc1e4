/** Names that may stand before a colon: fields with their meaning, names of the user's own, and whole blocks. */
import {
  childrenOf,
  type Field,
  fieldAt,
  type FieldPath,
  fieldMarkdown,
  type FileKind,
} from '../../core/schema/fields.ts';
import { limitsFor } from './limitKeys.ts';
import { blockSnippet } from './blocks.ts';
import type { Item } from './item.ts';
import { escapeSnippet } from './item.ts';
import { kindWord, type KnownName, missingNames, namesFor, ruleNames } from './known.ts';
import type { Ask } from './index.ts';
import type { Spot } from './spot.ts';

/** What a key is written as: before it, its line's dash and indentation; behind it, what its value needs. */
export interface Frame {
  readonly start: number;
  readonly end: number;
  readonly before: string;
  /** Column of the key. */
  readonly column: number;
  readonly flow: boolean;
  readonly hasColon: boolean;
}

export function frameOf(spot: Spot, dash: boolean): Frame {
  const moves = !spot.flow && !spot.hasDash && spot.start - spot.lineStart !== spot.column;
  const before = `${spot.needsBlank ? ' ' : ''}${moves ? ' '.repeat(spot.column) : ''}${dash ? '- ' : ''}`;
  const column = spot.column + (dash ? 2 : 0);
  return {
    start: moves ? spot.lineStart : spot.start,
    end: spot.end,
    before,
    column,
    flow: spot.flow,
    hasColon: spot.hasColon,
  };
}

/** The fields of a block that are not there yet, those that it needs first. */
export function fieldItems(kind: FileKind, path: FieldPath, spot: Spot, frame: Frame): Item[] {
  const around = fieldAt(kind, path);
  const there = new Set(spot.siblings.keys());
  const chosen = around?.oneOf.some((key) => there.has(key));
  const open = childrenOf(kind, path).filter(({ key }) => !there.has(key) && !(chosen && around?.oneOf.includes(key)));
  return [...open.filter((one) => one.required), ...open.filter((one) => !one.required)].flatMap((field) => [
    keyItem(field, frame),
    ...wholeBlock(field, frame),
  ]);
}

function keyItem(field: Field, frame: Frame): Item {
  return {
    label: field.key,
    kind: 'key',
    detail: [field.title, field.unit ?? ''].filter(Boolean).join(' · '),
    documentation: fieldMarkdown(field),
    ...behindKey(field, field.key, frame),
    more: !field.isBlock,
    start: frame.start,
    end: frame.end,
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

function wholeBlock(field: Field, frame: Frame): Item[] {
  const example = field.examples[0];
  if (!field.isBlock || frame.flow || frame.hasColon || example === undefined) return [];
  const body = blockSnippet(example, frame.column + 2, field.shape === 'named');
  if (body === undefined) return [];
  const label = `${field.key}, with an example`;
  return [block(label, field.title, `${escapeSnippet(frame.before)}${field.key}:\n${body}$0`, field.key, frame)];
}

function block(label: string, detail: string, text: string, filter: string, { start, end }: Frame): Item {
  return { label, kind: 'block', detail, text, isSnippet: true, filter, more: false, start, end };
}

/** Names that are wanted in a block of names, and a whole one to start from. */
export function ownNameItems(field: Field, ask: Ask, spot: Spot, frame: Frame): Item[] {
  const inner = fieldAt(ask.kind, [...spot.path, 'x']);
  const kind = field.defines;
  const known: KnownName[] = kind
    ? [...missingNames(field, ask.here), ...(kind === 'lamp-place' ? lampsOfKit(ask) : [])]
    : [...namesFor(field, ask.here), ...ruleNames(ask.kind, ask.rules)];
  const names = known.filter(({ name }) => !spot.siblings.has(name));
  const items = names.map(({ name, what }): Item => ({
    label: name,
    kind: 'name',
    detail: what,
    ...behindKey(inner ?? field, name, frame),
    more: inner ? !inner.isBlock : false,
    start: frame.start,
    end: frame.end,
  }));
  const example = kind && !frame.flow && !frame.hasColon ? field.examples[0] : undefined;
  const body = example === undefined ? undefined : blockSnippet(example, frame.column, true);
  if (!kind || body === undefined) return items;
  const text = escapeSnippet(frame.before) + body.trimStart();
  return [...items, block(`new ${kindWord(kind)}`, field.title, `${text}$0`, `new ${kindWord(kind)}`, frame)];
}

/** A lamp place may have the name of the lamp that stands there, and then says no `use`. */
function lampsOfKit({ here, kind }: Ask): KnownName[] {
  const use = fieldAt(kind, ['lamps', 'x', 'use']);
  return use ? namesFor(use, here) : [];
}

/** The limits of one rule, under its name in the settings. */
export function limitItems(ask: Ask, spot: Spot, frame: Frame): Item[] {
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
      start: frame.start,
      end: frame.end,
    }));
}
