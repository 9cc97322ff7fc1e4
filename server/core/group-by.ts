/** Things by each of their keys, in the order in which they come; one without a key is in no group. */
export function groupBy<T, K>(things: readonly T[], keysOf: (thing: T) => readonly K[]): Map<K, T[]> {
  const groups = new Map<K, T[]>();
  for (const thing of things) {
    for (const key of keysOf(thing)) {
      const group = groups.get(key);
      if (group) group.push(thing);
      else groups.set(key, [thing]);
    }
  }
  return groups;
}
