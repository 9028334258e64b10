import type { Layout } from "./layout.js";
import { isDescribed, isMeasurand, isTest, NEEDED_NAMING } from "./meaning.js";

const NEEDED: readonly string[] = [...NEEDED_NAMING, "measurand", "value", "unit"];

/**
 * How many cells a row must have at least: up to the last column of a number or class or of what names the sample.
 *
 * Many programs leave out blank cells at the end of a row. A row that lacks a result may have been cut short.
 */
export function minCells({ columns }: Layout): number {
  const last = columns.findLastIndex(
    ({ recognition }) =>
      recognition.kind === "unsure" ||
      (recognition.kind === "known" &&
        ((isMeasurand(recognition.meaning) &&
          !isDescribed(recognition.meaning) &&
          !isTest(recognition.meaning)) ||
          NEEDED.includes(recognition.meaning.holds))),
  );
  return last + 1;
}
