/**
 * Things in the order in which they stand, but for those that another waits for: these come right ahead of it. In a
 * circle the one that stands first comes last.
 * @param waitsFor what must come before a thing; nothing but things of the list
 */
export function inTurn<T>(things: readonly T[], waitsFor: (thing: T) => readonly T[]): T[] {
  const ordered: T[] = [];
  const known = new Map<T, 'waits' | 'ordered'>();
  for (const thing of things) {
    const stack = [thing];
    for (let top; (top = stack.at(-1)) !== undefined;) {
      const state = known.get(top);
      if (state === undefined) {
        known.set(top, 'waits');
        stack.push(...waitsFor(top).filter((first) => !known.has(first)));
        continue;
      }
      stack.pop();
      if (state === 'ordered') continue;
      known.set(top, 'ordered');
      ordered.push(top);
    }
  }
  return ordered;
}
