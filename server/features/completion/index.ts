/**
 * What can be written at a place, best first. It works from the text as it is and from the last text that could be
 * read, so that a broken line anywhere keeps nothing back.
 */
import type { LineMap } from '../../core/document/lines.ts';
import { fieldAt, type FileKind } from '../../core/schema/fields.ts';
import type { Rule } from '../../core/rule.ts';
import type { Here } from '../navigation.ts';
import { choiceItems } from './choices.ts';
import type { Item } from './item.ts';
import { fieldItems, frameOf, limitItems, ownNameItems } from './keys.ts';
import { type Spot, spotAt } from './spot.ts';
import type { Base } from './trial.ts';

export interface Ask {
  readonly kind: FileKind;
  readonly text: string;
  readonly lines: LineMap;
  readonly offset: number;
  /** Names and files, from the last text that could be read. */
  readonly here: Here;
  readonly rules: readonly Rule[];
  /** For trying values; absent where nothing could be read yet. */
  readonly base?: Base;
}

export function completionsAt(ask: Ask): Item[] {
  const spot = spotAt(ask.text, ask.lines, ask.offset);
  const field = spot && fieldAt(ask.kind, spot.path);
  if (!spot || !field) return [];
  return spot.kind === 'value' ? choiceItems(field, ask, spot) : keyItems(ask, spot);
}

function keyItems(ask: Ask, spot: Spot): Item[] {
  const field = fieldAt(ask.kind, spot.path)!;
  const frame = frameOf(spot, false);
  switch (spot.path.length === 0 ? 'block' : field.shape) {
    case 'block':
      return [...fieldItems(ask.kind, spot.path, spot, frame), ...limitItems(ask, spot, frame)];
    case 'named':
      return ownNameItems(field, ask, spot, frame);
    case 'lines':
      // The list has begun and its first dash is not there yet.
      return fieldItems(ask.kind, [...spot.path, 0], { ...spot, siblings: new Map() }, frameOf(spot, true));
    case 'value':
    case 'values':
      return choiceItems(field, ask, spot);
  }
}
