/**
 * What can be written at a place, best first. It works from the text as it is and from the last text that could be
 * read, so that a broken line anywhere keeps nothing back.
 */
import { type Field, fieldAt } from '../../core/schema/fields.ts';
import type { Ask } from './ask.ts';
import { choiceItems } from './choices.ts';
import type { Item } from './item.ts';
import { blockItemsAt } from './blocks.ts';
import { aloneItems } from './clip-names.ts';
import { fieldItems, type Frame, frameOf, limitItems, ownNameItems } from './keys.ts';
import { type InsertionPoint, insertionPointAt } from './insertion-point.ts';

export function completionsAt(ask: Ask): Item[] {
  const spot = insertionPointAt(ask.text, ask.lines, ask.offset);
  const field = spot && fieldAt(ask.kind, spot.path);
  if (!spot || !field || isBehindComma(ask, spot)) return [];
  return spot.kind === 'value' ? choiceItems(field, ask, spot) : keyItems(ask, spot);
}

/** Right behind a comma goes a blank, or the next line, and nothing else is wanted yet. */
function isBehindComma({ text, offset }: Ask, { flow, start }: InsertionPoint): boolean {
  return flow && start === offset && text[offset - 1] === ',';
}

function keyItems(ask: Ask, spot: InsertionPoint): Item[] {
  const field = fieldAt(ask.kind, spot.path)!;
  // The list has begun and its first dash is not there yet.
  const frame = frameOf(ask, spot, field.shape === 'lines');
  const names = namesAt(field, ask, spot, frame);
  const blocks = blockItemsAt(field, ask, spot, frame);
  // Where nothing stands yet, a whole block is the quickest start; names of one's own come from somewhere and go first.
  return field.shape === 'named' ? [...names, ...blocks] : [...aloneItems(ask, spot, frame), ...blocks, ...names];
}

function namesAt(field: Field, ask: Ask, spot: InsertionPoint, frame: Frame): Item[] {
  switch (spot.path.length === 0 ? 'block' : field.shape) {
    case 'block':
      return [...fieldItems(ask.kind, spot.path, spot, frame), ...limitItems(ask, spot, frame)];
    case 'named':
      return ownNameItems(field, ask, spot, frame);
    case 'lines':
      return fieldItems(ask.kind, [...spot.path, 0], { ...spot, siblings: new Map() }, frame);
    case 'value':
    case 'values':
      return choiceItems(field, ask, spot);
  }
}
