import { type CleanlinessTarget, SIZE_PAIRS, type UmCCounts } from "../../cleanliness/index.js";
import { CountError, cumulativeCounts, intervalCounts } from "../../counts/index.js";
import type { Sample } from "../../samples/index.js";

/** Standards whose tables are written for counts under the microscope. */
const BY_MICROSCOPE: readonly CleanlinessTarget["standard"][] = ["NAS 1638", "NAVAIR 01-1A-17"];

/**
 * Counts under the microscope as a target reads them that is written for the microscope.
 *
 * The sizes become those next to them in the tables here, which names the column and converts nothing.
 *
 * @returns undefined for a target of another kind, and where the counts do not form one set
 * @source NAS-1638
 * @source NAVAIR-01-1A-17
 */
export function microscopeRanges(
  { otherScaleCounts = [] }: Sample,
  target: CleanlinessTarget,
): UmCCounts | undefined {
  if (!BY_MICROSCOPE.includes(target.standard)) return undefined;
  const counted = otherScaleCounts.filter(
    ({ scale, limit }) => scale === "um-microscope" && limit === undefined,
  );
  const [first] = counted;
  if (first === undefined || counted.some(({ volumeMl }) => volumeMl !== first.volumeMl)) return undefined;
  const sizes = counted.map(({ fromUm, toUm, count }) => ({
    fromUm: columnOf(fromUm),
    toUm: toUm === undefined ? undefined : columnOf(toUm),
    count,
    isRange: toUm !== undefined,
  }));
  if (sizes.some(({ fromUm, toUm, isRange }) => fromUm === undefined || (isRange && toUm === undefined)))
    return undefined;
  try {
    if (sizes.every(({ isRange }) => !isRange)) {
      const above = sizes.map(({ fromUm, count }) => ({ sizeUm: fromUm as number, count }));
      return cumulativeCounts(above, first.volumeMl);
    }
    const ranges = sizes.map(({ fromUm, toUm, count }) => ({
      fromUm: fromUm as number,
      ...(toUm !== undefined && { toUm }),
      count,
    }));
    return intervalCounts(ranges, first.volumeMl);
  } catch (error) {
    // Counts that break a rule show nothing; they stay with the sample as reported.
    if (error instanceof CountError) return undefined;
    throw error;
  }
}

/** The column, in µm(c), of a size under the microscope. */
function columnOf(sizeUm: number): number | undefined {
  return SIZE_PAIRS.find(({ olderUm }) => olderUm === sizeUm)?.umC;
}
