/** Computes a value once for each resolved shot (or piece, lamp …); forgotten with it. */
export function once<K extends object, V>(compute: (key: K) => V): (key: K) => V {
  const known = new WeakMap<K, { value: V }>();
  return (key) => {
    let entry = known.get(key);
    if (!entry) known.set(key, (entry = { value: compute(key) }));
    return entry.value;
  };
}

/** The same for values that change along the action: once for each moment (0 its start, 1 its end). */
export function onceAt<K extends object, V>(compute: (key: K, moment: number) => V): (key: K, moment: number) => V {
  const known = new WeakMap<K, Map<number, { value: V }>>();
  return (key, moment) => {
    let moments = known.get(key);
    if (!moments) known.set(key, (moments = new Map()));
    let entry = moments.get(moment);
    if (!entry) moments.set(moment, (entry = { value: compute(key, moment) }));
    return entry.value;
  };
}
