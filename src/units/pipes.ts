/** mm² times m are mL. */
const ML_PER_L = 1000;

/**
 * What hoses hold, in litres.
 *
 * @example
 * hosesVolumeL([{ boreMm: 25, lengthM: 8, count: 2 }]); // => 7.854
 */
export function hosesVolumeL(
  hoses: readonly { readonly boreMm: number; readonly lengthM: number; readonly count: number }[],
): number {
  return hoses.reduce(
    (sum, { boreMm, lengthM, count }) => sum + ((Math.PI / 4) * boreMm ** 2 * lengthM * count) / ML_PER_L,
    0,
  );
}
