import { renderToString } from "preact-render-to-string";

/** A cell of a table; what is undefined, null or NaN is not known or not needed, and shown as an en dash. */
export type Cell = string | number | boolean | null | undefined;

const CELL = "text-align:left;vertical-align:top;padding:.25em .6em";
const MAX_UNBROKEN_LENGTH = 24;

/**
 * Writes a table that looks the same in every notebook editor: its styles are in the cells.
 *
 * @param head - names of the columns
 * @param rows - cells in the order of the columns; numbers are rounded to four significant digits for reading
 * @param caption - what the table shows, in one line
 */
export function renderTable(
  head: readonly string[],
  rows: readonly (readonly Cell[])[],
  caption: string,
): string {
  return renderToString(
    <div style="overflow-x:auto">
      <table style="border-collapse:collapse;font-variant-numeric:tabular-nums">
        <caption style={`${CELL};font-weight:600`}>{caption}</caption>
        <thead>
          <tr>
            {head.map((name) => (
              <th key={name} scope="col" style={CELL}>
                {name}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((cells, row) => (
            <tr key={`${row} ${cells[0]}`}>
              {cells.map(formatCell).map((text, column) => (
                <td
                  key={head[column]}
                  style={`${CELL};${text.length > MAX_UNBROKEN_LENGTH ? "min-width:14em" : "white-space:nowrap"}`}
                >
                  {text}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </div>,
  );
}

function formatCell(cell: Cell): string {
  if (cell === undefined || cell === null || Number.isNaN(cell)) return "–";
  if (typeof cell !== "number") return String(cell);
  const wholeDigits = String(Math.trunc(Math.abs(cell))).length;
  return String(Number(cell.toPrecision(Math.max(4, wholeDigits))));
}
