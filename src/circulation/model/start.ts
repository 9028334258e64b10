import {
  countsOfIso4406,
  formatIso4406,
  type Iso4406Code,
  limitsOfIso4406,
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
