/** The powers of ten between the smallest and the largest level, and the one below the smallest; levels of zero have none. */
export function decadesOf(levels: readonly number[]): number[] {
  const shown = levels.filter((level) => level > 0);
  const first = Math.floor(Math.log10(Math.min(...shown)));
  const last = Math.floor(Math.log10(Math.max(...shown)));
  // Written as text first: 10 ** -1 is not exactly 0.1 in every engine.
  return Array.from({ length: last - first + 1 }, (_, step) => Number(`1e${first + step}`));
}
