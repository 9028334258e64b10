import {
  type CleanlinessTarget,
  countsOfIso4406,
  formatIso4406,
  formatTarget,
  type Iso4406Code,
  limitsOfIso4406,
  limitsOfTarget,
} from "../../cleanliness/index.js";
import { type CountSet, cumulativeCounts } from "../../counts/index.js";
import type { Assumption } from "../../provenance/index.js";

/** The particles that a circulation starts from. */
export interface CirculationStart {
  readonly counts: CountSet;
  /**
   * Where the start is a code: each size with the particles per mL that its class is above. The counts are then the upper edges.
   */
  readonly lowerEdges?: readonly { readonly sizeUm: number; readonly moreThanPerMl: number }[];
  readonly assumptions: readonly Assumption[];
}

/**
 * The counts that an ISO 4406 code stands for at most: a circulation is planned from the dirtiest fluid of the code.
 *
 * @source ISO-4406
 */
export function startOfCode(code: Iso4406Code): CirculationStart {
  const counts = limitsOfIso4406(code).map(({ fromUm, limit }) => ({ sizeUm: fromUm, count: limit }));
  return {
    counts: cumulativeCounts(counts, 1),
    lowerEdges: countsOfIso4406(code).map(({ sizeUm, moreThan = 0 }) => ({
      sizeUm,
      moreThanPerMl: moreThan,
    })),
    assumptions: [
      {
        code: "start-at-upper-end",
        message:
          `the start ${formatIso4406(code)} was taken at the upper edge of each class; where samples drawn while circulating are ` +
          "read, as anywhere between both edges",
        source: "ISO-4406",
      },
    ],
  };
}

/**
 * The counts of fluid that is reported by a class: as {@link startOfCode}, or the most that a class of a table allows at
 * every size. Such a class does not say which of its sizes is that dirty.
 */
export function startOfClass(reported: CleanlinessTarget): CirculationStart {
  if (reported.standard === "ISO 4406") return startOfCode(reported.code);
  const most = mostOfClass(reported);
  return {
    counts: cumulativeCounts(most, 1),
    lowerEdges: most.map(({ sizeUm }) => ({ sizeUm, moreThanPerMl: 0 })),
    assumptions: [
      {
        code: "start-at-upper-end",
        message: `the start was taken as the most particles that ${formatTarget(reported)} allows at every size`,
      },
    ],
  };
}

/**
 * The most particles above each size, per mL, in fluid of a class.
 *
 * A class of ranges is added up from its open one; of classes by size, none lets through more than that of a smaller size.
 */
export function mostOfClass(
  reported: CleanlinessTarget,
): { readonly sizeUm: number; readonly count: number }[] {
  const limits = limitsOfTarget(reported);
  const isOfRanges = limits.some(({ toUm }) => toUm !== undefined);
  let most = Number.POSITIVE_INFINITY;
  return limits.map(({ fromUm: sizeUm, limit, volumeMl }, index) => {
    const above = limits.slice(index).reduce((sum, range) => sum + range.limit, 0);
    most = Math.min(most, (isOfRanges ? above : limit) / volumeMl);
    return { sizeUm, count: most };
  });
}
