import { renderToString } from "preact-render-to-string";
import { isMissing } from "./columns.js";

/** What a table needs of a danfo DataFrame. */
export interface FrameToRender {
  readonly columns: readonly string[];
  readonly dtypes: readonly string[];
  readonly index: readonly (string | number)[];
  readonly shape: readonly number[];
  readonly values: readonly unknown[];
}

/**
 * Shows a data frame as an HTML table, for a notebook or a page.
 *
 * @param frame - any danfo DataFrame
 * @param caption - what the table shows, in one line
 * @returns HTML; a missing cell is an en dash, decimals are rounded to four significant digits for reading, whole numbers
 *   never, and text is shown as text; a table that is too wide scrolls by itself
 */
export function renderFrame(frame: FrameToRender, caption: string): string {
  const columns = frame.columns;
  const rows = frame.shape[0] === 0 ? [] : (frame.values as readonly (readonly unknown[])[]);
  const numeric = frame.dtypes.map((type: string) => type !== "string");
  // A short text such as a day or a cart's name stays in one line; a sentence may wrap.
  const styleOf = (column: number, text: string) =>
    `text-align:${numeric[column] ? "right" : "left"};vertical-align:top;padding:.25em .6em` +
    (text.length <= MAX_UNBROKEN_LENGTH ? ";white-space:nowrap" : ";min-width:14em");
  return renderToString(
    <div style="overflow-x:auto">
      <table style="border-collapse:collapse;font-variant-numeric:tabular-nums">
        <caption style="text-align:left;padding:.25em .6em">{caption}</caption>
        <thead>
          <tr>
            {columns.map((name, column) => (
              <th key={name} scope="col" style={styleOf(column, name)}>
                {name}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((cells, row) => (
            <tr key={frame.index[row]}>
              {cells.map(formatCell).map((text, column) => (
                <td key={columns[column]} style={styleOf(column, text)}>
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

const MAX_UNBROKEN_LENGTH = 24;

function formatCell(cell: unknown): string {
  if (isMissing(cell)) return "–";
  if (typeof cell !== "number") return String(cell);
  const wholeDigits = String(Math.trunc(Math.abs(cell))).length;
  return String(Number(cell.toPrecision(Math.max(4, wholeDigits))));
}
