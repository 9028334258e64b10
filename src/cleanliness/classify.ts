import type { CountSet } from "../counts/index.js";
import { type Assumption, joinAssumptions } from "../provenance/index.js";
import { classifyAs4059Cumulative, type SizeCode } from "./as4059-cumulative.js";
import { classifyAs4059Differential, type SizeRange } from "./as4059-differential.js";
import type { ClassResult } from "./class-table.js";
import { classifyIso4406, type Iso4406Code } from "./iso-4406.js";
import { classifyNas1638 } from "./nas-1638.js";

/** One count set in every standard. A standard that the counted sizes cannot serve is absent. */
export interface Classification {
  readonly iso4406?: Iso4406Code;
  readonly as4059Cumulative?: ClassResult<SizeCode>;
  readonly as4059Differential?: ClassResult<SizeRange>;
  readonly nas1638?: ClassResult<SizeRange>;
  /** What each class rests on, and why an absent one is absent. */
  readonly assumptions: readonly Assumption[];
}

/**
 * Classifies one count set by every standard.
 *
 * @param counts - cumulative counts on the µm(c) scale
 * @returns the classes, each from the counts themselves and never from another class
 * @example
 * classify(cumulativeCounts([{ sizeUm: 4, count: 15000 }], 1)).as4059Cumulative.class; // => "11"
 */
export function classify(counts: CountSet): Classification {
  const iso4406 = classifyIso4406(counts);
  const as4059Cumulative = classifyAs4059Cumulative(counts);
  const as4059Differential = classifyAs4059Differential(counts);
  const nas1638 = classifyNas1638(counts);
  const unserved = [
    iso4406 === undefined ? cannotServe("ISO 4406", "4, 6 and 14 µm(c)") : undefined,
    as4059Cumulative === undefined
      ? cannotServe("AS4059 cumulative", "at least one of 4, 6, 14, 21, 38 and 70 µm(c)")
      : undefined,
    as4059Differential === undefined
      ? cannotServe("AS4059 differential", "both ends of a range between 6, 14, 21, 38 and 70 µm(c)")
      : undefined,
    nas1638 === undefined
      ? cannotServe("NAS 1638", "both ends of a range between 6, 14, 21, 38 and 70 µm(c)")
      : undefined,
  ].filter((assumption) => assumption !== undefined);
  return {
    ...(iso4406 && { iso4406 }),
    ...(as4059Cumulative && { as4059Cumulative }),
    ...(as4059Differential && { as4059Differential }),
    ...(nas1638 && { nas1638 }),
    assumptions: joinAssumptions(
      as4059Cumulative?.assumptions ?? [],
      as4059Differential?.assumptions ?? [],
      nas1638?.assumptions ?? [],
      unserved,
    ),
  };
}

function cannotServe(standard: string, needs: string): Assumption {
  return { code: "sizes-cannot-serve", message: `${standard} is not given: it needs ${needs}` };
}
