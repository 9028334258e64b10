import { type Fate, type OpenedLabFile, rowTextsOf, type SampleBlock } from "../../src/intake/index.js";
import { type Assumption, joinAssumptions } from "../../src/provenance/index.js";
import type { Sample } from "../../src/samples/index.js";

/** What became of a row, in a form in which the two ways of reading a file can be compared. */
export type FlatFate =
  | { readonly row: number; readonly sample: Sample; readonly texts: readonly string[] }
  | { readonly row: number; readonly other: Exclude<Fate, { kind: "sample" }> };

/** A file as it was read: its rows in order, and what was assumed. */
export interface FlatFile {
  readonly fates: readonly FlatFate[];
  readonly assumptions: readonly Assumption[];
}

/** Reads a file row by row. */
export function flatFates(opened: OpenedLabFile): FlatFile {
  return flat(opened.fates());
}

/** Reads a file in blocks, and takes the blocks apart. */
export function flatPieces(opened: OpenedLabFile): FlatFile & { readonly inBlocks: number } {
  let inBlocks = 0;
  function* count() {
    for (const piece of opened.pieces()) {
      if (piece.kind === "block") inBlocks += piece.size;
      yield piece;
    }
  }
  return { ...flat(count()), inBlocks };
}

/** What became of the rows of a file, however it was read. */
export function flat(pieces: Iterable<SampleBlock | Fate>): FlatFile {
  const fates: FlatFate[] = [];
  const assumptions: (readonly Assumption[])[] = [];
  for (const piece of pieces) {
    if (piece.kind !== "block") {
      fates.push(flatFate(piece));
      if (piece.kind === "sample") assumptions.push(piece.fate.assumptions);
      continue;
    }
    const { firstRow, row, others } = piece.columns;
    const texts = rowTextsOf(piece);
    const inBlock = others.map(flatFate);
    for (const fate of others) if (fate.kind === "sample") assumptions.push(fate.fate.assumptions);
    for (let index = 0; index < piece.size; index += 1) {
      const at = row[index] as number;
      inBlock.push({ row: at, sample: piece.sample(index), texts: [texts[at - firstRow] as string] });
    }
    fates.push(...inBlock.sort((a, b) => a.row - b.row));
    assumptions.push(piece.columns.assumptions);
  }
  const all = joinAssumptions(...assumptions);
  return { fates, assumptions: [...all].sort((a, b) => a.message.localeCompare(b.message)) };
}

function flatFate(fate: Fate): FlatFate {
  if (fate.kind !== "sample") return { row: fate.row.row, other: fate };
  const { sample, rows } = fate.fate;
  return { row: rows[0]?.row ?? 0, sample, texts: rows.map(({ text }) => text) };
}
