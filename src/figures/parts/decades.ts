/** The powers of ten inside the domain of a logarithmic axis. */
export function decadesIn([low, high]: readonly [number, number]): number[] {
  const first = Math.ceil(Math.log10(low));
  const last = Math.floor(Math.log10(high));
  // Written as text first: 10 ** -1 is not exactly 0.1 in every engine.
  return Array.from({ length: last - first + 1 }, (_, step) => Number(`1e${first + step}`));
}
