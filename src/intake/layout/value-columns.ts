import { type RawRow, textOf } from "../rows/row.js";
import { bottleIn, isOnlyMean } from "./bottle-titles.js";
import { isNotAResult } from "./title-words.js";

/** Where the label, the values and the unit are, by a row of titles such as "Parameter, Limit, Result, Unit". */
export interface Columns {
  readonly label: number;
  /** The columns of values, each with what its title says of every value below it. */
  readonly values: readonly { readonly index: number; readonly title: string }[];
  readonly unit: number;
  /** Cells of the row of titles. */
  readonly width: number;
  /** Why no value below can be taken. */
  readonly expected?: string;
}

const ONE_RESULT = "one column of results";
const SIZE = /\b(?:sizes?|channels?|größe|taille|tamaño|dimensione|grootte|diameter)\b/iu;
const A_COUNT = /count|cum|kumul|partic|partik|number|anzahl|\/ ?\d* ?ml|per \d* ?ml/iu;
const BETWEEN_SIZES = /diff/iu;
/** What a table of counts says besides them. */
const STATISTICS = /^(?:s\.?d\.?|std|rsd|c\.?v\.?|%|iso|class|code|nas)(?!\p{L})/iu;

/**
 * Reads a row of titles above rows of labels: names of measurands with their results, or sizes with a column for each run
 * of a counter, for their mean, or for counts in one form and another.
 *
 * @param kinds - what each cell is known to hold as a title
 * @returns undefined where the row is not one
 */
export function valueColumns({ cells }: RawRow, kinds: readonly (string | undefined)[]): Columns | undefined {
  const at = (kind: string) => kinds.indexOf(kind);
  const [label, value, unit] = [at("measurand"), at("value"), at("unit")];
  const width = cells.findLastIndex((cell) => textOf(cell) !== "") + 1;
  if (label >= 0 && value >= 0) {
    const isDouble = kinds.lastIndexOf("value") !== value;
    return {
      label,
      values: [{ index: value, title: "" }],
      unit,
      width,
      ...(isDouble && { expected: ONE_RESULT }),
    };
  }
  const first = textOf(cells[0]);
  const titles = cells
    .map((cell, index) => ({ index, title: textOf(cell) }))
    .filter(({ index, title }) => index > 0 && title !== "" && index !== unit);
  const results = titles.filter(
    ({ title }) => isMean(title) || (!isNotAResult(title) && !STATISTICS.test(title)),
  );
  const isOfRuns =
    results.some(({ title }) => isRun(title)) && results.every(({ title }) => isRun(title) || isMean(title));
  const counts = results.filter(({ title }) => A_COUNT.test(title) || isMean(title));
  const isOfSizes = SIZE.test(first) && results.length > 0 && counts.length === results.length;
  if (first === "" || (!isOfRuns && !isOfSizes)) return undefined;
  const cumulative = results.filter(({ title }) => !BETWEEN_SIZES.test(title));
  const values = (cumulative.length > 0 ? cumulative : results).map(({ index, title }) => ({
    index,
    title: isMean(title) ? first : `${first} ${title}`,
  }));
  return { label: 0, values, unit, width };
}

function isRun(title: string): boolean {
  const { of, rest } = bottleIn(title.toLowerCase());
  return of.run !== undefined && rest === "";
}

function isMean(title: string): boolean {
  return isOnlyMean(title.toLowerCase());
}
