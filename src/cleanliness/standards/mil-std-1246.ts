import { checkNumbers } from "../../numeric/index.js";
import { mostUsed } from "../particle-limit.js";
import { readChannel, SIZE_PAIRS, type TableCounts } from "../size-pairs.js";

const SLOPE = 0.926;
const MIN_UM = 5;
const VOLUME_ML = 100;

/** The sizes a level is read at, in µm(c), with the size in µm. */
export const LEVEL_SIZES = SIZE_PAIRS.filter(({ olderUm }) => olderUm >= MIN_UM);

/** The level that one count needs. */
export interface LevelChannel {
  /** Size in µm. */
  readonly sizeUm: number;
  readonly count: number;
  readonly level: number;
}

/** Level of a sample by MIL-STD-1246: the smallest level that allows every count. */
export interface Level1246 {
  readonly standard: "MIL-STD-1246";
  readonly level: number;
  readonly channels: readonly LevelChannel[];
  /** The size in µm that decides; of equal ones the smallest. */
  readonly governingUm: number;
}

/**
 * The particles that a level allows: log N = −0.926 (log² x − log² L).
 *
 * @param level - cleanliness level L, 1 or more
 * @param sizeUm - size x in µm, 1 or more
 * @returns particles of that size or larger per 100 mL of liquid
 * @throws RangeError for a level or size below 1
 * @source MIL-STD-1246
 * @example
 * countOfLevel(100, 5); // => 1785
 */
export function countOfLevel(level: number, sizeUm: number): number {
  if (!(level >= 1 && sizeUm >= 1)) {
    throw new RangeError(`level and size must be 1 or more, not ${level} and ${sizeUm} µm`);
  }
  checkNumbers("finite", { level, sizeUm });
  return 10 ** (-SLOPE * (Math.log10(sizeUm) ** 2 - Math.log10(level) ** 2));
}

/**
 * The level of a sample: for each size the level whose formula gives the count, and the largest of them.
 *
 * Sizes are the round ones of 5 µm and more, by microscope or on the older scale; µm(c) counts are read at the sizes
 * AS4059 pairs with them. 4 µm(c) is left out: AS4059 pairs it with 1 µm and ASTM D6786 with 2. Where no particle was
 * found at a size, that size asks for no level.
 *
 * @param counts - counts in either form
 * @returns the level, or undefined when particles were found at none of the sizes
 * @source MIL-STD-1246
 */
export function levelOf1246(counts: TableCounts): Level1246 | undefined {
  const channels = LEVEL_SIZES.flatMap(({ umC, olderUm }) => {
    const reading = readChannel(counts, umC, undefined);
    if (reading === undefined || reading.count === 0) return [];
    const logSquare =
      Math.log10(olderUm) ** 2 + Math.log10((reading.count * VOLUME_ML) / counts.volumeMl) / SLOPE;
    // Below 0 there are fewer particles than the formula gives any level at this size.
    return logSquare >= 0
      ? [{ sizeUm: olderUm, count: reading.count, level: 10 ** Math.sqrt(logSquare) }]
      : [];
  });
  const governing = mostUsed(channels.map((channel) => ({ ...channel, share: channel.level })));
  if (governing === undefined) return undefined;
  return { standard: "MIL-STD-1246", level: governing.level, channels, governingUm: governing.sizeUm };
}
