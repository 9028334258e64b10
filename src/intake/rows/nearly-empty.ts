/** Fewer places are no work, however empty they are. */
const MIN_PLACES = 1_000_000;
/** In the table of a laboratory more than one place in fifty is written: its rows have much the same columns. */
const MIN_SHARE = 1 / 50;

/**
 * Whether a table is so large and so empty that nobody has written it: a small file may spread a few cells over millions of
 * places, each of which costs work. The places of blank rows do not count.
 *
 * @param places - rows times columns
 * @param written - how many of the places hold something
 */
export function isNearlyEmpty(places: number, written: number): boolean {
  return places > MIN_PLACES && written < places * MIN_SHARE;
}
