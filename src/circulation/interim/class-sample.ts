import {
  type CleanlinessTarget,
  countsOfIso4406,
  formatTarget,
  type Iso4406Code,
} from "../../cleanliness/index.js";
import type { Assumption } from "../../provenance/index.js";
import { mostOfClass } from "../model/start.js";
import type { InterimSample } from "./interim.js";

/**
 * The counts of a sample that was reported by a class: of an ISO 4406 code an interval at each size, of a class of a table
 * the most that it allows.
 *
 * The class of a table is that of its dirtiest size or range, and does not say which that is.
 */
export function countsOfClass(reported: CleanlinessTarget): {
  readonly value: InterimSample["counts"];
  readonly assumptions: readonly Assumption[];
} {
  if (reported.standard === "ISO 4406") return { value: countsOfCode(reported.code), assumptions: [] };
  const most = mostOfClass(reported);
  return {
    value: most.map(({ sizeUm, count }) => ({
      sizeUmC: sizeUm,
      perMl: { value: count, limit: "at-most" as const },
    })),
    assumptions: [
      {
        code: "class-as-upper-edge",
        message:
          `${formatTarget(reported)} was read as the most that it allows at each size; it does not say which size is that dirty, so ` +
          "it hardly shows whether the filter works, and counts do",
      },
    ],
  };
}

/** A place with an open end has no upper edge, and one that was not counted says nothing. */
function countsOfCode(code: Iso4406Code): InterimSample["counts"] {
  return countsOfIso4406(code).flatMap(
    ({ sizeUm: sizeUmC, moreThan, upTo }, index): InterimSample["counts"] => {
      const place = code[index];
      if (place?.kind === "not-counted" || place?.kind === "too-many") return [];
      if (upTo === undefined || (place?.kind === "number" && place.atLeast))
        return [{ sizeUmC, perMl: { value: moreThan ?? 0, limit: "above" as const } }];
      // The lowest place holds a count of none as well.
      return moreThan === undefined
        ? [{ sizeUmC, perMl: { value: upTo, limit: "at-most" as const } }]
        : [{ sizeUmC, perMl: { value: upTo }, moreThanPerMl: moreThan }];
    },
  );
}
