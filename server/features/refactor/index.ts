/** Everything that can be written otherwise, with the same meaning, at a place of a file. */
import { moveUp } from './moveUp.ts';
import { reorderDay, reorderShots } from './reorder.ts';
import type { Asked, Refactoring } from './refactoring.ts';
import { splitLamp } from './splitLamp.ts';
import { convertUnits } from './units.ts';

export type { Refactoring } from './refactoring.ts';

export function refactoringsAt(asked: Asked): Refactoring[] {
  if (asked.result.doc.broken) return [];
  return [moveUp, splitLamp, convertUnits, reorderDay, reorderShots].flatMap((find) => find(asked));
}
