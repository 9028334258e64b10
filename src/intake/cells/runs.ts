import { type Assumption, frozen } from "../../provenance/index.js";
import { textOf } from "../rows/row.js";
import type { RefusedResult, ReportedResult } from "../samples/entry.js";
import { isNotReported } from "./cells.js";
import { type DecimalConvention, readNumber, type ShownDecimal } from "./numbers.js";

/** The results of one sample, with the run and the dilution of each count. */
export interface CountedRows {
  readonly reported: readonly ReportedResult[];
  /** Parts of mixture for one part of sample, where one holds for all counts. */
  readonly dilution?: number;
  readonly refused: readonly RefusedResult[];
  readonly assumptions: readonly Assumption[];
}

/** What is in a column of runs where the row holds the result of all of them. */
const OF_ALL_RUNS =
  /^(?:mean|average|avg|median|mittel(?:wert)?|moyenne|media|gemiddelde|final|result|-)?\.?$/i;

/**
 * Says of each count of a sample which run it is of and how far the bottle was diluted, from columns that say so.
 *
 * Rows of one sample that name different runs are counts of one bottle. A sample with a single row is counted once, whatever
 * its run is called.
 *
 * @param entries - the results of each row or block of the sample
 * @param decimal - how numbers of the file are written: "1,000" is a dilution by a thousand or none
 */
export function countedRows(
  entries: readonly (readonly ReportedResult[])[],
  decimal: DecimalConvention | ShownDecimal,
): CountedRows {
  if (!entries.some((entry) => entry.some(saysHow)))
    return { reported: (entries.length === 1 && entries[0]) || entries.flat(), refused: [], assumptions: [] };
  const labels = [...new Set(entries.flatMap((entry) => labelOf(entry) ?? []))];
  const ofSample = entries
    .filter((entry) => !entry.some(isCount))
    .flatMap((entry) => dilutionOf(entry) ?? []);
  const refused: RefusedResult[] = [];
  const assumptions: Assumption[] = [];
  const factors = new Set<number>();
  const reported = entries.flatMap((entry) => {
    const label = labels.length > 1 ? labelOf(entry) : undefined;
    const diluted = dilutionOf(entry) ?? ofSample[0];
    const found = diluted === undefined ? 1 : factorIn(textOf(diluted.cell), decimal);
    const factor = typeof found === "number" ? found : undefined;
    if (entry.some(isCount)) factors.add(factor ?? Number.NaN);
    const how = diluted?.measurand.holds === "dilution" ? diluted.measurand.counts : undefined;
    return entry
      .filter((result) => !saysHow(result))
      .map((result): ReportedResult => {
        const run = label === undefined ? undefined : labels.indexOf(label) + 1;
        if (result.measurand.holds === "class" && run !== undefined)
          return { ...result, run, asGiven: result };
        if (result.measurand.holds !== "count" || result.measurand.blank) return result;
        if (diluted !== undefined && (factor === undefined || (factor !== 1 && how === undefined))) {
          const expected = typeof found === "string" ? found : ARE_THEY_MULTIPLIED;
          const code = factor === undefined ? "cell-not-read" : "measurand-not-known";
          refused.push({ result, at: diluted, code, expected });
        }
        const isOpen = how === "as-counted" && factor !== undefined && factor !== 1;
        if (isOpen) assumptions.push(MULTIPLIED);
        if (run === undefined && !isOpen) return result;
        return {
          ...result,
          asGiven: result,
          ...(run !== undefined && { measurand: { ...result.measurand, run } }),
          ...(isOpen && { times: factor }),
        };
      });
  });
  const [dilution, ...others] = factors;
  return {
    reported,
    ...(dilution !== undefined && dilution > 1 && others.length === 0 && { dilution }),
    refused,
    assumptions,
  };
}

function saysHow({ measurand }: ReportedResult): boolean {
  return measurand.holds === "run" || measurand.holds === "dilution";
}

function isCount({ measurand }: ReportedResult): boolean {
  return measurand.holds === "count";
}

function labelOf(entry: readonly ReportedResult[]): string | undefined {
  const run = entry.find(({ measurand }) => measurand.holds === "run");
  const label = run === undefined ? "" : textOf(run.cell).trim().toLowerCase();
  return OF_ALL_RUNS.test(label) ? undefined : label;
}

/** The cell about the dilution, where it says anything. */
function dilutionOf(entry: readonly ReportedResult[]): ReportedResult | undefined {
  return entry.find(({ measurand, cell }) => measurand.holds === "dilution" && !isNotReported(textOf(cell)));
}

/** Whether rows of a sample are to be put together as runs. */
export function hasRun(results: readonly ReportedResult[]): boolean {
  return results.some(({ measurand }) => measurand.holds === "run");
}

const NOT_DILUTED = /^(?:0|none|no|nil|undiluted|not diluted|neat|unverdünnt|nein|non)$/i;
const NUMBER = String.raw`(\d+(?:[.,]\d+)?)`;
/** "10", "10x", "x 10", "1:10", "1/10", "1 in 10" and "10:1". */
const FACTORS = [
  new RegExp(`^[x×]? ?${NUMBER} ?[x×]?$`, "i"),
  new RegExp(`^1 ?(?::|/|in) ?${NUMBER}$`, "i"),
  new RegExp(`^${NUMBER} ?: ?1$`),
];
/** "1+9": one part of sample and nine of diluent. */
const PARTS = new RegExp(String.raw`^1 ?\+ ?${NUMBER}$`);

/** Parts of mixture for one part of sample; or what was expected, where a cell does not say it. */
function factorIn(text: string, decimal: DecimalConvention | ShownDecimal): number | string {
  const plain = text.trim();
  if (NOT_DILUTED.test(plain)) return 1;
  const parts = PARTS.exec(plain)?.[1];
  const digits = FACTORS.map((pattern) => pattern.exec(plain)?.[1]).find((found) => found !== undefined);
  const number = readNumber(parts ?? digits ?? "", decimal);
  if (number.kind === "ambiguous") return `${A_DILUTION}: ${number.expected}`;
  const factor = number.kind === "read" ? number.value + (parts === undefined ? 0 : 1) : 0;
  return factor >= 1 ? factor : A_DILUTION;
}

const A_DILUTION = "how far the bottle was diluted, such as 10 or 1:10; 1 where it was not";
const ARE_THEY_MULTIPLIED =
  'a column map that settles: are the counts multiplied by the dilution already? Expected "counts": "multiplied" or "as-counted" with the dilution';

const MULTIPLIED: Assumption = frozen({
  code: "dilution-applied",
  message: "counts of diluted bottles were multiplied by the dilution, as their title or the column map says",
});
