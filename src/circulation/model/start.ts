import { formatIso4406, type Iso4406Code, limitsOfIso4406 } from "../../cleanliness/index.js";
import { type CountSet, cumulativeCounts } from "../../counts/index.js";
import type { Assumption } from "../../provenance/index.js";

/** The particles that a circulation starts from. */
export interface CirculationStart {
  readonly counts: CountSet;
  /** Whether the counts are only known not to be exceeded, as those of a code are. */
  readonly isUpperEnd: boolean;
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
    isUpperEnd: true,
    assumptions: [
      {
        code: "start-at-upper-end",
        message: `the start ${formatIso4406(code)} was taken at the upper end of each class`,
        source: "ISO-4406",
      },
    ],
  };
}
