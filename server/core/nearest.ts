/** The known name that a slip of the fingers most likely meant. */

/** The nearest of the names, when it is near enough to be meant: a third of its letters, two at least. */
export function nearest(slip: string, names: Iterable<string>): string | undefined {
  let best: string | undefined;
  let least = Infinity;
  for (const name of names) {
    const limit = Math.min(least - 1, Math.max(2, Math.floor(name.length / 3)));
    const apart = distance(slip, name, limit);
    if (apart <= limit) {
      best = name;
      least = apart;
    }
  }
  return best;
}

/** Letters to change, add, drop or swap with a neighbour (Damerau–Levenshtein, restricted); over `limit` it may stop early. */
function distance(a: string, b: string, limit: number): number {
  if (Math.abs(a.length - b.length) > limit) return Infinity;
  let before: number[] = [];
  let previous = Array.from({ length: b.length + 1 }, (_, index) => index);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j <= b.length; j++) {
      const same = a[i - 1] === b[j - 1];
      let cost = Math.min(previous[j]! + 1, row[j - 1]! + 1, previous[j - 1]! + (same ? 0 : 1));
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) cost = Math.min(cost, before[j - 2]! + 1);
      row.push(cost);
    }
    if (Math.min(...row) > limit) return Infinity;
    before = previous;
    previous = row;
  }
  return previous[b.length]!;
}
