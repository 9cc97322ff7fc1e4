/** Everything that can be written otherwise, with the same meaning, at a place of a file. */
import { moveUp } from './move-up.ts';
import { planAsTaken } from './plan-as-taken.ts';
import { reorderDay, reorderShots } from './reorder.ts';
import type { RefactoringRequest, Refactoring } from './refactoring.ts';
import { sortClips } from './sort-clips.ts';
import { splitLamp } from './split-lamp.ts';
import { convertUnits } from './units.ts';

export type { Refactoring } from './refactoring.ts';

export function refactoringsAt(asked: RefactoringRequest): Refactoring[] {
  if (asked.result.doc.broken) return [];
  return [moveUp, splitLamp, convertUnits, reorderDay, reorderShots, sortClips, planAsTaken].flatMap((find) =>
    find(asked),
  );
}
