/** Computes a value once for each resolved shot (or piece, lamp …); forgotten with it. */
export function once<K extends object, V>(compute: (key: K) => V): (key: K) => V {
  const known = new WeakMap<K, { value: V }>();
  return (key) => {
    let entry = known.get(key);
    if (!entry) known.set(key, (entry = { value: compute(key) }));
    return entry.value;
  };
}
