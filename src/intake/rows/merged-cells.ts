import type { Assumption } from "../../provenance/index.js";
import { type MergedDown, type RawCell, type RawRow, type RowSource, textOf } from "./row.js";

/**
 * A sheet in which cells merged over several rows below the header hold their text in each of those rows.
 *
 * @param lastHeaderRow - titles that are merged are read by the header
 */
export function filledDown(source: RowSource, lastHeaderRow: number): RowSource {
  const merged = (source.mergedDown ?? []).filter(({ fromRow }) => fromRow > lastHeaderRow);
  const [first] = merged;
  if (first === undefined) return source;
  const inOrder = [...merged].sort((a, b) => a.fromRow - b.fromRow);
  function* rows(): Generator<RawRow> {
    let next = 0;
    /** By column, the ranges that are not over yet; where several lie over each other, the first holds. */
    const open = new Map<number, { readonly toRow: number; readonly cell: RawCell }[]>();
    for (const row of source.rows()) {
      const cells = [...row.cells];
      for (const [column, ranges] of open) {
        const first = ranges.findIndex(({ toRow }) => toRow >= row.row);
        if (first === -1) open.delete(column);
        else if (first > 0) ranges.splice(0, first);
        if (first >= 0 && textOf(cells[column]) === "") cells[column] = ranges[0]?.cell ?? "";
      }
      for (; inOrder[next]?.fromRow === row.row; next += 1) {
        const { column, toRow } = inOrder[next] as MergedDown;
        const cell = cells[column] ?? "";
        const ranges = open.get(column);
        // A blank has nothing to fill others with.
        if (textOf(cell) === "") continue;
        if (ranges === undefined) open.set(column, [{ toRow, cell }]);
        else if (toRow > (ranges.at(-1)?.toRow ?? 0)) ranges.push({ toRow, cell });
      }
      yield { ...row, cells };
    }
  }
  return { ...source, assumptions: [...(source.assumptions ?? []), mergedHold(source, first)], rows };
}

function mergedHold({ sheet = "" }: RowSource, { fromRow, toRow }: MergedDown): Assumption {
  return {
    code: "merged-cells",
    message: `cells of sheet "${sheet}" that are merged over several rows, such as rows ${fromRow} to ${toRow}, were taken for each of those rows`,
  };
}
