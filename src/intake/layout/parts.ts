import type { RawCell, RawRow, RowSource } from "../rows/row.js";
import { textOf } from "../rows/row.js";
import { namingOf, type Part, type Piece, turn, withoutColon } from "./across.js";
import { type ColumnMap, meaningsOfMap } from "./column-map.js";
import { plainTitle } from "./columns.js";
import { isOfSamples, type Layout, namesSample } from "./layout.js";
import { namer } from "./namer.js";

/** Tables of another kind are looked for in the first rows, at most this many. */
const MAX_ROWS = 10_000;

/**
 * Cuts a sheet where another kind of table begins: one whose samples stand across, rows of labels, or a table below its
 * header. Each is read by itself, whichever stands first.
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
  const name = namer(map);
  const rows = firstRows(source);
  if (rows.some(({ inOrder }) => inOrder)) return undefined;
  // A table with a header is read with what stands below it, section by section; only samples in another shape end it.
  const hasHeader = found !== undefined && isOfSamples(found);
  const pieces = piecesOf(rows, kindIn(map)).map((piece): Piece => {
    const { turned } = turn(source, piece, name, map);
    if (turned !== undefined) return { ...piece, turned };
    const isBlock = hasHeader && piece.kind === "labels" && namesSample(piece.rows, name);
    return isBlock ? { ...piece, isBlock } : piece;
  });
  const joined = joinedPieces(pieces, hasHeader);
  const isCut = joined.length > 1 && (found === undefined || found.shape === "block");
  if (!isCut && joined.every(({ turned, isBlock }) => turned === undefined && !isBlock)) return undefined;
  // What goes on after the rows that were looked at is read with them.
  const goesOn = rows.length === MAX_ROWS;
  if (goesOn) joined.pop();
  const parts = joined.map(({ rows: own, turned }) => turned ?? partWith(source, () => own));
  const end = joined.at(-1)?.rows.at(-1)?.row ?? 0;
  return goesOn ? [...parts, partWith(source, () => rowsAfter(source, end))] : parts;
}

function partWith(source: RowSource, rows: RowSource["rows"]): Part {
  return { source: { ...source, rows } };
}

function firstRows(source: RowSource): RawRow[] {
  const rows: RawRow[] = [];
  for (const row of source.rows()) {
    rows.push(row);
    if (rows.length === MAX_ROWS) break;
  }
  return rows;
}

function* rowsAfter(source: RowSource, end: number): Generator<RawRow> {
  for (const row of source.rows()) if (row.row > end) yield row;
}

/** Says of a text what it names of a sample, if it is a title. Most cells of a large table have a figure; such titles only a map has. */
function kindIn(map: ColumnMap | undefined): (text: string) => string | undefined {
  const name = namer(map);
  const ofMap = meaningsOfMap(map);
  return (text) => {
    const title = withoutColon(text);
    const isNone = /\d/.test(title) && (ofMap.size === 0 || !ofMap.has(plainTitle(title)));
    return isNone ? undefined : namingOf(name(title));
  };
}

/** Rows of labels up to where a label that names the sample returns, and rows below a header. */
function piecesOf(rows: readonly RawRow[], kindOf: (text: string) => string | undefined): Piece[] {
  const starts: { readonly at: number; readonly kind: Piece["kind"] }[] = [{ at: 0, kind: "labels" }];
  let seen = new Set<string>();
  let end = 0;
  rows.forEach((row, index) => {
    const at = row.cells.findIndex(isWritten);
    const next = row.cells.findIndex((cell, column) => column > at && isWritten(cell));
    const [label, second] = [at, next].map((column) => kindOf(textOf(row.cells[column])));
    const isHeader = second !== undefined && row.cells.filter((cell) => kindOf(textOf(cell))).length > 2;
    const isLabel = label !== undefined && second === undefined && next > at;
    const inTable = starts.at(-1)?.kind === "table";
    if (isHeader && !inTable) starts.push({ at: end, kind: "table" });
    else if (isLabel && (inTable || seen.has(label))) starts.push({ at: end, kind: "labels" });
    if (isHeader || (isLabel && (inTable || seen.has(label)))) seen = new Set();
    if (isLabel) seen.add(label);
    // Lines of text above a table belong to it.
    if (next > at) end = index + 1;
  });
  return starts
    .map(({ at, kind }, index) => ({ kind, rows: rows.slice(at, starts[index + 1]?.at) }))
    .filter(({ rows: own }) => own.length > 0);
}

function isWritten(cell: RawCell): boolean {
  return textOf(cell) !== "";
}

/** Blocks below each other are one table of blocks, and all that a header reads is one table. */
function joinedPieces(pieces: readonly Piece[], hasHeader: boolean): Piece[] {
  const joined: Piece[] = [];
  for (const piece of pieces) {
    const last = joined.at(-1);
    const isMore =
      last !== undefined &&
      !last.turned &&
      !piece.turned &&
      last.isBlock === piece.isBlock &&
      (hasHeader || (last.kind === "labels" && piece.kind === "labels"));
    if (isMore) joined.splice(-1, 1, { ...last, rows: [...last.rows, ...piece.rows] });
    else joined.push(piece);
  }
  return joined;
}
