/** Things that have the same key together, in the order in which the first of each came. */
export function groupedBy<T>(all: readonly T[], keyOfOne: (one: T) => string): [T, ...T[]][] {
  const groups = new Map<string, [T, ...T[]]>();
  for (const one of all) {
    const key = keyOfOne(one);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [one]);
    else group.push(one);
  }
  return [...groups.values()];
}
