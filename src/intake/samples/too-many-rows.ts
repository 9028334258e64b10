import { faultOfRow, type RowFault } from "./entry.js";
import type { NamedEntry } from "./read-sample.js";

/** A laboratory reports some dozens of results of a bottle, in several runs; more rows of one number are not one sample. */
const MAX_ROWS_OF_SAMPLE = 1000;

const FEWER_ROWS = `at most ${MAX_ROWS_OF_SAMPLE} rows of one sample; more of them bear this number`;

/** The rows of one number with their faults, where they are too many for one sample. */
export function tooManyRows(
  group: readonly NamedEntry[],
): { readonly named: NamedEntry; readonly faults: readonly RowFault[] }[] {
  if (group.length <= MAX_ROWS_OF_SAMPLE) return [];
  return group.map((named) => ({
    named,
    faults: [
      ...named.faults,
      ...named.entry.rows.map((row) => faultOfRow(row, FEWER_ROWS, "repeated-measurand")),
    ],
  }));
}
