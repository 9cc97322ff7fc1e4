/** Values that are computed once for each object (a shot, a piece, a tree, a text) and forgotten with it. */

export function once<K extends object, V>(compute: (key: K) => V): (key: K) => V {
  const known = new WeakMap<K, { readonly value: V }>();
  return (key) => {
    let entry = known.get(key);
    if (!entry) known.set(key, (entry = { value: compute(key) }));
    return entry.value;
  };
}

/** The same for values that also depend on what is around `key`, a film mostly: the last one is known. */
export function onceIn<K extends object, F, V>(compute: (key: K, around: F) => V): (key: K, around: F) => V {
  const known = new WeakMap<K, { readonly around: F; readonly value: V }>();
  return (key, around) => {
    let entry = known.get(key);
    if (entry?.around !== around) known.set(key, (entry = { around, value: compute(key, around) }));
    return entry.value;
  };
}

/** The same for several values of each object: once for each moment of the action (0 its start, 1 its end), or name. */
export function onceAt<K extends object, S, V>(compute: (key: K, second: S) => V): (key: K, second: S) => V {
  const all = once<K, Map<S, V>>(() => new Map());
  return (key, second) => {
    const known = all(key);
    if (!known.has(second)) known.set(second, compute(key, second));
    return known.get(second) as V;
  };
}
