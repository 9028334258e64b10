import type { DataFrame } from "danfojs";
import { loadDanfo } from "./danfo.js";

/** One typed column of a frame, and how its cell is read from a result. */
export type FrameColumn<T> =
  | { readonly name: string; readonly type: "string"; readonly of: (row: T) => string | undefined }
  | { readonly name: string; readonly type: "number"; readonly of: (row: T) => number | undefined };

/**
 * Makes a frame, a row for each result.
 *
 * A missing number is NaN, because a comparison that null passes would let a row that was not measured through a filter.
 * A missing text is null, which the frame's own `isNa` and `dropNa` know. Numbers keep all their digits, although the
 * frame names their type "float32".
 *
 * @param rows - results in the order of the frame
 * @param columns - see {@link FrameColumn}
 */
export function frameOf<T>(rows: readonly T[], columns: readonly FrameColumn<T>[]): DataFrame {
  const { DataFrame } = loadDanfo();
  return new DataFrame(
    rows.map((row) => columns.map((column) => cellOf(column, row))),
    {
      columns: columns.map((column) => column.name),
      dtypes: columns.map((column) => (column.type === "number" ? "float32" : "string")),
    },
  );
}

function cellOf<T>(column: FrameColumn<T>, row: T): string | number | null {
  return column.type === "number" ? (column.of(row) ?? Number.NaN) : (column.of(row) ?? null);
}

/**
 * Whether a cell of a frame says that nothing was reported.
 *
 * @param cell - a cell as the frame holds it
 */
export function isMissing(cell: unknown): cell is null | undefined {
  return cell === null || cell === undefined || Number.isNaN(cell);
}
