import { isDeepStrictEqual } from "node:util";
import { type Assumption, frozen } from "../../provenance/index.js";
import { textOf } from "../rows/row.js";
import { ONCE, type RefusedResult, type ReportedResult } from "../samples/entry.js";
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
  const runs = new Map<string, number>();
  for (const entry of entries) {
    const label = labelOf(entry);
    if (label !== undefined && !runs.has(label)) runs.set(label, runs.size + 1);
  }
  const ofSample = entries.flatMap((entry) => (hasCounts(entry) ? [] : dilutionsIn(entry)));
  const mayBeDiluted = entries.some(
    (entry) => hasCounts(entry) && timesOf(dilutionBy(dilutionsIn(entry), decimal)) !== 1,
  );
  // The counts are in another table, or nowhere: they must not be taken for those of the sample itself.
  const isApart = !entries.flat().some(({ measurand }) => measurand.holds === "count");
  const refused: RefusedResult[] = (isApart ? ofSample : []).flatMap((result) =>
    timesOf(dilutionAt(result, decimal)) === 1
      ? []
      : { result, code: "cell-not-read", expected: WITH_ITS_COUNTS },
  );
  const assumptions: Assumption[] = [];
  // What went through the counter is at no dilution less of the sample than at the largest.
  let largest = 1;
  const reported = entries.flatMap((entry) => {
    const label = runs.size > 1 ? labelOf(entry) : undefined;
    const run = label === undefined ? undefined : runs.get(label);
    const own = dilutionsIn(entry);
    const stated = own.length > 0 ? own : ofSample;
    const dilution = !hasCounts(entry)
      ? OF_THE_SAMPLE
      : stated.length === 0 && mayBeDiluted
        ? notStatedIn(entry)
        : dilutionBy(stated, decimal);
    if ("factor" in dilution) largest = Math.max(largest, dilution.factor);
    const times = timesOf(dilution) ?? 1;
    return entry
      .filter((result) => !saysHow(result))
      .flatMap((result): ReportedResult | [] => {
        if (result.measurand.holds === "class" && run !== undefined)
          return { ...result, run, asGiven: result };
        if (result.measurand.holds !== "count" || result.measurand.blank) return result;
        if ("code" in dilution) {
          refused.push({ result, ...dilution });
          return [];
        }
        if (times !== 1) assumptions.push(MULTIPLIED);
        if (run === undefined && times === 1) return result;
        return {
          ...result,
          asGiven: result,
          ...(run !== undefined && { measurand: { ...result.measurand, run } }),
          ...(times !== 1 && { times }),
        };
      });
  });
  return { reported, ...(largest > 1 && { dilution: largest }), refused, assumptions };
}

function saysHow({ measurand }: ReportedResult): boolean {
  return measurand.holds === "run" || measurand.holds === "dilution";
}

function hasCounts(entry: readonly ReportedResult[]): boolean {
  return entry.some(({ measurand, cell }) => measurand.holds === "count" && !isNotReported(textOf(cell)));
}

function labelOf(entry: readonly ReportedResult[]): string | undefined {
  const run = entry.find(({ measurand }) => measurand.holds === "run");
  const label = run === undefined ? "" : textOf(run.cell).trim().toLowerCase();
  return OF_ALL_RUNS.test(label) ? undefined : label;
}

/** How far counts are of a dilution, and whether they are multiplied by it already. */
interface Dilution {
  readonly factor: number;
  readonly isMultiplied: boolean;
}

/** Why it is not known how far counts are diluted. */
type NotKnown = Omit<RefusedResult, "result">;

const OF_THE_SAMPLE: Dilution = frozen({ factor: 1, isMultiplied: true });

/** What counts have to be multiplied by; undefined where that is not known. */
function timesOf(dilution: Dilution | NotKnown): number | undefined {
  if ("code" in dilution) return undefined;
  return dilution.isMultiplied ? 1 : dilution.factor;
}

/** The cells about the dilution that say anything. */
function dilutionsIn(entry: readonly ReportedResult[]): ReportedResult[] {
  return entry.filter(
    ({ measurand, cell }) => measurand.holds === "dilution" && !isNotReported(textOf(cell)),
  );
}

/** The dilution that all cells about it agree on. */
function dilutionBy(
  stated: readonly ReportedResult[],
  decimal: DecimalConvention | ShownDecimal,
): Dilution | NotKnown {
  const [first = OF_THE_SAMPLE, ...others] = stated.map((at) => dilutionAt(at, decimal));
  const other = others.findIndex((one) => "code" in one || !isDeepStrictEqual(one, first));
  if ("code" in first || other === -1) return first;
  return { at: stated[other + 1] as ReportedResult, code: "repeated-measurand", expected: ONCE };
}

function dilutionAt(at: ReportedResult, decimal: DecimalConvention | ShownDecimal): Dilution | NotKnown {
  const factor = factorIn(textOf(at.cell), decimal);
  if (typeof factor === "string") return { at, code: "cell-not-read", expected: factor };
  if (factor === 1) return OF_THE_SAMPLE;
  const how = at.measurand.holds === "dilution" ? at.measurand.counts : undefined;
  if (how === undefined) return { at, code: "measurand-not-known", expected: ARE_THEY_MULTIPLIED };
  return { factor, isMultiplied: how === "multiplied" };
}

/** Other counts of the sample are diluted, so a blank may mean the same dilution or none. */
function notStatedIn(entry: readonly ReportedResult[]): NotKnown {
  const at = entry.find(({ measurand }) => measurand.holds === "dilution");
  return { ...(at && { at }), code: "cell-missing", expected: A_DILUTION };
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
const WITH_ITS_COUNTS = "a dilution in the table that has the counts of the diluted bottle";
const ARE_THEY_MULTIPLIED =
  'a column map that settles: are the counts multiplied by the dilution already? Expected "counts": "multiplied" or "as-counted" with the dilution';

const MULTIPLIED: Assumption = frozen({
  code: "dilution-applied",
  message: "counts of diluted bottles were multiplied by the dilution, as their title or the column map says",
});
