/** Things that have the same key together, in the order in which the first of each came. */
export function grouped<T, K>(all: Iterable<T>, keyOf: (one: T) => K): Map<K, [T, ...T[]]> {
  const groups = new Map<K, [T, ...T[]]>();
  for (const one of all) {
    const key = keyOf(one);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [one]);
    else group.push(one);
  }
  return groups;
}
