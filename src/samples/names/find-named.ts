/**
 * Finds what a person named: by the very name, else by the only one that differs in upper and lower case.
 *
 * @returns undefined where there is none, or several
 */
export function findNamed<T>(all: readonly T[], nameOf: (one: T) => string, name: string): T | undefined {
  const exact = all.find((one) => nameOf(one) === name);
  if (exact !== undefined) return exact;
  const key = keyOf(name);
  const [only, ...more] = all.filter((one) => keyOf(nameOf(one)) === key);
  return more.length === 0 ? only : undefined;
}

function keyOf(name: string): string {
  return name.normalize("NFKC").trim().toLowerCase();
}
