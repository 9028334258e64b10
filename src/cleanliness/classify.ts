import { type Assumption, frozen, joinAssumptions } from "../provenance/index.js";
import type { ClassResult } from "./class-table.js";
import { formatSizes, type TableCounts } from "./size-pairs.js";
import { type As4059Limits, classifyAs4059Cumulative, type SizeCode } from "./standards/as4059-cumulative.js";
import { classifyAs4059Differential, type SizeRange } from "./standards/as4059-differential.js";
import { classifyIso4406, type Iso4406Code } from "./standards/iso-4406.js";
import { classifyNas1638 } from "./standards/nas-1638.js";

/** One count set in the standards of hydraulic carts. A standard that the counted sizes cannot serve is absent. */
export interface Classification {
  readonly iso4406?: Iso4406Code;
  readonly as4059Cumulative?: ClassResult<SizeCode>;
  readonly as4059Differential?: ClassResult<SizeRange>;
  readonly nas1638?: ClassResult<SizeRange>;
  /** What each class rests on, and why an absent one is absent. */
  readonly assumptions: readonly Assumption[];
}

/**
 * Classifies one count set by ISO 4406, AS4059 and NAS 1638; `classifyAll` asks every standard.
 *
 * @param counts - counts in either form, in µm(c), on the older scale or by microscope
 * @param limits - which printed form of the AS4059 cumulative table
 * @returns the classes, each from the counts themselves and never from another class
 * @example
 * classify(cumulativeCounts([{ sizeUm: 4, count: 15000 }], 1)).as4059Cumulative.class; // => "11"
 */
export function classify(counts: TableCounts, limits: As4059Limits = "unrounded"): Classification {
  const iso4406 = classifyIso4406(counts);
  const as4059Cumulative = classifyAs4059Cumulative(counts, limits);
  const as4059Differential = classifyAs4059Differential(counts);
  const nas1638 = classifyNas1638(counts);
  const sizes = (umC: readonly number[]) => formatSizes(counts, umC);
  const ofRanges = `both ends of a range between ${sizes([6, 14, 21, 38, 70])}`;
  const unserved = [
    iso4406 === undefined
      ? cannotServe("ISO 4406", sizes(counts.scale === "um(c)" ? [4, 6, 14] : [6, 14]))
      : undefined,
    as4059Cumulative === undefined
      ? cannotServe("AS4059 cumulative", `at least one of ${sizes([4, 6, 14, 21, 38, 70])}`)
      : undefined,
    as4059Differential === undefined ? cannotServe("AS4059 differential", ofRanges) : undefined,
    nas1638 === undefined ? cannotServe("NAS 1638", ofRanges) : undefined,
  ].filter((assumption) => assumption !== undefined);
  return {
    ...(iso4406 && { iso4406 }),
    ...(as4059Cumulative && { as4059Cumulative }),
    ...(as4059Differential && { as4059Differential }),
    ...(nas1638 && { nas1638 }),
    assumptions: joinAssumptions(
      iso4406 !== undefined && counts.scale !== "um(c)" ? [TWO_NUMBERS] : [],
      as4059Cumulative?.assumptions ?? [],
      as4059Differential?.assumptions ?? [],
      nas1638?.assumptions ?? [],
      unserved,
    ),
  };
}

const TWO_NUMBERS: Assumption = frozen({
  code: "iso-4406-two-numbers",
  message:
    "ISO 4406: counts at 5 and 15 µm give the two-number code, with a dash in the first place; it is not the code of " +
    "the same fluid counted in µm(c)",
  source: "ISO-4406",
});

function cannotServe(standard: string, needs: string): Assumption {
  return { code: "sizes-cannot-serve", message: `${standard} is not given: it needs ${needs}` };
}
