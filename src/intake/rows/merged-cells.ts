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
    let open: { readonly range: MergedDown; readonly cell: RawCell }[] = [];
    for (const row of source.rows()) {
      open = open.filter(({ range }) => range.toRow >= row.row);
      const cells = [...row.cells];
      for (const { range, cell } of open) if (textOf(cells[range.column]) === "") cells[range.column] = cell;
      for (; inOrder[next]?.fromRow === row.row; next += 1) {
        const range = inOrder[next] as MergedDown;
        open.push({ range, cell: cells[range.column] ?? "" });
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
