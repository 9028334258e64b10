/**
 * With this many particles above one size, a few are larger than a size up to two and a half times as large: fine elements
 * leave one in a hundred above 14 µm(c) of those above 6. Common practice, no source.
 */
const MIN_BROKEN_OFF = 500;
const NEXT_SIZES = 2.5;

/**
 * The size from which on nothing was counted although the next smaller one shows plenty: a channel that counted nothing.
 *
 * @param counts - cumulative counts, by rising size
 * @param countedOf - the particles that were surely counted for a count
 */
export function sizeOfBreakOff(
  counts: readonly { readonly sizeUm: number; readonly count: number }[],
  countedOf: (count: number) => number,
): number | undefined {
  return counts.find(({ sizeUm, count }, place) => {
    const smaller = counts[place - 1];
    return (
      smaller !== undefined &&
      count === 0 &&
      sizeUm <= smaller.sizeUm * NEXT_SIZES &&
      countedOf(smaller.count) >= MIN_BROKEN_OFF
    );
  })?.sizeUm;
}
