/** Two lists side by side: what stayed, what moved, what came and went. */

export interface Aligned<T> {
  readonly before?: T;
  readonly after?: T;
  /** True when both are there but the order around them is another. */
  readonly moved: boolean;
}

interface Pair {
  readonly before: number;
  readonly after: number;
}

/**
 * In the order of the new list; what is gone stands after what it followed.
 * @param keys what makes two items the same, strictest first: those that the first leaves over are paired by the next
 */
export function align<T>(
  before: readonly T[],
  after: readonly T[],
  keys: readonly ((item: T) => string)[],
): Aligned<T>[] {
  const partner = new Map<number, number>();
  for (const keyOf of keys) pairUp(before, after, keyOf, partner);
  const pairs = [...partner].map(([a, b]): Pair => ({ after: a, before: b })).sort((a, b) => a.after - b.after);
  const steady = inOrder(pairs);
  const rows = after.map((item, index): { at: number; row: Aligned<T> } => {
    const was = partner.get(index);
    const moved = was !== undefined && !steady.has(index);
    return { at: index, row: { after: item, before: was === undefined ? undefined : before[was], moved } };
  });
  const taken = new Set(partner.values());
  const gone = before.flatMap((item, index) => {
    if (taken.has(index)) return [];
    const above = pairs.filter((pair) => steady.has(pair.after) && pair.before < index).at(-1);
    return [{ at: (above?.after ?? -1) + 0.5, row: { before: item, moved: false } }];
  });
  return [...rows, ...gone].sort((a, b) => a.at - b.at).map(({ row }) => row);
}

/** Equal keys without a partner yet, first with first. */
function pairUp<T>(
  before: readonly T[],
  after: readonly T[],
  keyOf: (item: T) => string,
  partner: Map<number, number>,
): void {
  const taken = new Set(partner.values());
  const waiting = new Map<string, number[]>();
  for (const [index, item] of before.entries()) {
    if (taken.has(index)) continue;
    const same = waiting.get(keyOf(item));
    if (same) same.push(index);
    else waiting.set(keyOf(item), [index]);
  }
  for (const [index, item] of after.entries()) {
    const found = partner.has(index) ? undefined : waiting.get(keyOf(item))?.shift();
    if (found !== undefined) partner.set(index, found);
  }
}

/** The new places of as many as can be said to have stayed in order: the longest rising run of old places. */
function inOrder(pairs: readonly Pair[]): Set<number> {
  /** Best run that ends in each pair: its length, and the pair before it. */
  const runs: { length: number; previous: number }[] = [];
  /** For each length, the pair with the lowest old place that ends a run of it. */
  const ends: number[] = [];
  for (const [index, { before }] of pairs.entries()) {
    let low = 0;
    let high = ends.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (pairs[ends[middle]!]!.before < before) low = middle + 1;
      else high = middle;
    }
    runs.push({ length: low + 1, previous: low > 0 ? ends[low - 1]! : -1 });
    ends[low] = index;
  }
  const steady = new Set<number>();
  for (let here = ends.at(-1) ?? -1; here >= 0; here = runs[here]!.previous) steady.add(pairs[here]!.after);
  return steady;
}
