import { CountError, cumulativeCounts } from "../counts/index.js";
import type { Assumption } from "../provenance/index.js";
import type { Measured, Sample } from "../samples/index.js";
import { type Cell, readMeasured, readNumber } from "./cells.js";
import type { Measurand } from "./columns.js";
import type { DecimalMark } from "./decimal-mark.js";

/** One reported result with the place it stands in. */
export interface ReportedResult {
  readonly measurand: Measurand;
  readonly text: string;
  readonly row: number;
  readonly column: string;
}

/** The measured part of a sample. */
export type Results = Pick<Sample, "counts" | "waterPpm" | "acidMgKohPerG" | "viscosity40Mm2PerS">;

/** A result that could not be taken. */
export interface RefusedResult {
  readonly result: ReportedResult;
  readonly code: "cell-not-read" | "counts-break-a-rule" | "repeated-measurand";
  readonly expected: string;
}

interface ReportedCount {
  readonly result: ReportedResult;
  readonly sizeUm: number;
  readonly count: number;
  readonly volumeMl: number;
}

const QUANTITIES = {
  water: { field: "waterPpm", quantity: "waterContent" },
  acid: { field: "acidMgKohPerG", quantity: "acidNumber" },
  viscosity40: { field: "viscosity40Mm2PerS", quantity: "viscosity" },
} as const;

/**
 * Turns the reported results of one sample into its measured part.
 *
 * A result that cannot be read is refused by itself. When the counts together break a rule, all of them are refused,
 * because it is not known which of them is wrong.
 *
 * @param reported - results of one sample, in the order of the file
 * @param mark - decimal mark of the file
 */
export function gatherResults(
  reported: readonly ReportedResult[],
  mark: DecimalMark | "unclear",
): { results: Results; refused: RefusedResult[]; assumptions: Assumption[] } {
  const refused: RefusedResult[] = [];
  const assumptions: Assumption[] = [];
  const measured: Partial<Record<(typeof QUANTITIES)[keyof typeof QUANTITIES]["field"], Measured>> = {};
  const counts: ReportedCount[] = [];

  const taken = <T>(result: ReportedResult, cell: Cell<T>): T | undefined => {
    if (cell.kind === "refused") refused.push({ result, code: "cell-not-read", expected: cell.expected });
    if (cell.kind === "assumed") assumptions.push(cell.assumption);
    return cell.kind === "read" || cell.kind === "assumed" ? cell.value : undefined;
  };

  for (const result of reported) {
    const { measurand } = result;
    if (measurand.kind === "count") {
      const count = taken(result, readNumber(result.text, mark));
      if (count !== undefined) counts.push({ result, count, ...measurand });
      continue;
    }
    const { field, quantity } = QUANTITIES[measurand.kind];
    const value = taken(result, readMeasured(result.text, measurand.unit, quantity, mark));
    if (value === undefined) continue;
    if (measured[field] === undefined) measured[field] = value;
    else refused.push({ result, code: "repeated-measurand", expected: "each measurand once in a sample" });
  }

  const set = gatherCounts(counts, refused);
  return { results: { ...measured, ...(set && { counts: set }) }, refused, assumptions };
}

function gatherCounts(counts: readonly ReportedCount[], refused: RefusedResult[]): Results["counts"] {
  const [first] = counts;
  if (first === undefined) return undefined;
  // Which of the counts is wrong is not known, so none is taken. The offending cell carries the issue; counts that
  // stand in rows of their own are set aside with it.
  const refuse = (offending: ReportedCount, expected: string) => {
    const involved = counts.filter(
      (entry) => entry === offending || entry.result.row !== offending.result.row,
    );
    refused.push(
      ...involved.map(({ result }) => ({ result, code: "counts-break-a-rule" as const, expected })),
    );
    return undefined;
  };
  const otherVolume = counts.find((entry) => entry.volumeMl !== first.volumeMl);
  if (otherVolume !== undefined) return refuse(otherVolume, "all counts of a sample in one volume");
  try {
    return cumulativeCounts(counts, first.volumeMl);
  } catch (error) {
    if (!(error instanceof CountError)) throw error;
    const offending = counts.findLast((entry) => entry.sizeUm === error.sizeUm) ?? first;
    return refuse(offending, `counts that can be true (${error.message})`);
  }
}
