import type { RawRow, RowSource } from "../rows/row.js";
import { textOf } from "../rows/row.js";
import { namingOf, type Part, type Piece, turn, withoutColon } from "./across.js";
import type { ColumnMap } from "./column-map.js";
import { isOfSamples, type Layout } from "./layout.js";
import { type Namer, namer } from "./namer.js";

/** The tables of a sheet of labels are looked for in so many rows. */
const MAX_ROWS = 10_000;

/**
 * Cuts a sheet where another kind of table begins: one whose samples stand across, rows of labels, or a table below its
 * header. Each is read by itself.
 *
 * @param found - how the sheet would be read without being cut
 * @returns undefined where it is one table, to be read as it is
 * @throws IntakeError naming a row whose values have no label
 */
export function partsOf(
  source: RowSource,
  found: Layout | undefined,
  map: ColumnMap | undefined,
): Part[] | undefined {
  if (source.titles !== undefined || (map?.shape !== undefined && map.shape !== "across")) return undefined;
  // Above the header of a table only a table that stands across begins a part of its own.
  const header = found !== undefined && isOfSamples(found) ? found.headerRows[0]?.row : undefined;
  const name = namer(map);
  const rows = rowsBefore(source, header ?? MAX_ROWS);
  if (rows.some(({ inOrder }) => inOrder)) return undefined;
  const pieces = joinedBlocks(
    piecesOf(rows, name).map((piece) => ({ ...piece, ...turn(source, piece, name, map) })),
  );
  const isCut = pieces.length > 1 && (found === undefined || found.shape === "block");
  if (!isCut && pieces.every((piece) => piece.turned === undefined)) return undefined;
  // What goes on after the rows that were looked at is read with them.
  const isLong = header === undefined && rows.length >= MAX_ROWS - 1;
  const goesOn = header !== undefined || isLong;
  if (isLong || (goesOn && pieces.at(-1)?.turned === undefined)) pieces.pop();
  const parts = pieces.map(({ rows: own, turned }) => turned ?? partWith(source, () => own));
  const end = pieces.at(-1)?.rows.at(-1)?.row ?? 0;
  return goesOn ? [...parts, partWith(source, () => rowsAfter(source, end))] : parts;
}

function partWith(source: RowSource, rows: RowSource["rows"]): Part {
  return { source: { ...source, rows } };
}

function rowsBefore(source: RowSource, end: number): RawRow[] {
  const rows: RawRow[] = [];
  for (const row of source.rows()) {
    if (row.row >= end) break;
    rows.push(row);
  }
  return rows;
}

function* rowsAfter(source: RowSource, end: number): Generator<RawRow> {
  for (const row of source.rows()) if (row.row > end) yield row;
}

/** Rows of labels up to where a label that names the sample returns, and rows below a header. */
function piecesOf(rows: readonly RawRow[], name: Namer): Piece[] {
  const starts: { readonly at: number; readonly kind: Piece["kind"] }[] = [{ at: 0, kind: "labels" }];
  let seen = new Set<string>();
  let end = 0;
  rows.forEach((row, index) => {
    const written = row.cells.map(textOf).filter((text) => text !== "");
    const kinds = written.map((text) => namingOf(name(withoutColon(text))));
    const [label, second] = kinds;
    const isHeader = kinds.filter(Boolean).length > 2 && second !== undefined;
    const isLabel = label !== undefined && second === undefined && written.length > 1;
    const inTable = starts.at(-1)?.kind === "table";
    if (isHeader && !inTable) starts.push({ at: end, kind: "table" });
    else if (isLabel && (inTable || seen.has(label))) starts.push({ at: end, kind: "labels" });
    if (isHeader || (isLabel && (inTable || seen.has(label)))) seen = new Set();
    if (isLabel) seen.add(label);
    // Lines of text above a table belong to it.
    if (written.length > 1) end = index + 1;
  });
  return starts
    .map(({ at, kind }, index) => ({ kind, rows: rows.slice(at, starts[index + 1]?.at) }))
    .filter(({ rows: own }) => own.length > 0);
}

/** Blocks below each other are one table of blocks. */
function joinedBlocks(pieces: readonly Piece[]): Piece[] {
  const joined: Piece[] = [];
  for (const piece of pieces) {
    const last = joined.at(-1);
    const isMore = last?.kind === "labels" && piece.kind === "labels" && !last.turned && !piece.turned;
    if (isMore) joined.splice(-1, 1, { ...last, rows: [...last.rows, ...piece.rows] });
    else joined.push(piece);
  }
  return joined;
}
