/** Two lists side by side: what stayed in place, what moved, what came and went. */
import { diffArrays } from 'diff';

export interface Aligned<T> {
  readonly before?: T;
  readonly after?: T;
  /** True when both are there but the order around them is another. */
  readonly moved: boolean;
}

/** In the order of the new list; what is gone stands where it was. */
export function align<T>(before: readonly T[], after: readonly T[], keyOf: (item: T) => string): Aligned<T>[] {
  const aligned: { before?: T; after?: T; moved: boolean }[] = [];
  let [b, a] = [0, 0];
  for (const { count, added, removed } of diffArrays(before.map(keyOf), after.map(keyOf))) {
    for (let step = 0; step < count; step++) {
      if (removed) aligned.push({ before: before[b++], moved: false });
      else if (added) aligned.push({ after: after[a++], moved: false });
      else aligned.push({ before: before[b++], after: after[a++], moved: false });
    }
  }
  return joinMoved(aligned, keyOf);
}

/** What went at one place and came at another is the same thing, moved. */
function joinMoved<T>(aligned: { before?: T; after?: T; moved: boolean }[], keyOf: (item: T) => string): Aligned<T>[] {
  const gone = new Map<string, { before?: T; after?: T; moved: boolean }[]>();
  for (const one of aligned) {
    if (one.before === undefined || one.after !== undefined) continue;
    const key = keyOf(one.before);
    gone.set(key, [...(gone.get(key) ?? []), one]);
  }
  const taken = new Set<unknown>();
  for (const one of aligned) {
    if (one.after === undefined || one.before !== undefined) continue;
    const from = gone.get(keyOf(one.after))?.shift();
    if (!from) continue;
    one.before = from.before;
    one.moved = true;
    taken.add(from);
  }
  return aligned.filter((one) => !taken.has(one));
}
