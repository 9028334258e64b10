import type { RawRow } from "./row.js";

/** One column of a print: its first character and the one after its last. */
export interface Edge {
  readonly from: number;
  readonly to: number;
}

/** Lines of a print that do not keep to its columns, all at one place. */
export interface OffColumns {
  readonly rows: readonly number[];
}

/** Two or more blanks in a row part the titles of a print. */
const GAP = /\S(\s{2,})(?=\S)/g;

/**
 * Finds the columns of a print whose cells are parted by blanks alone.
 *
 * Between two columns is at least one place that is blank in the line of titles and in every line. Where titles have two
 * blanks between them there must be such a place. What has no title, or nothing below it, belongs to the one neighbour
 * from which one blank parts it: "Water ppm" is one title, "fore left" one cell.
 *
 * @param titles - the line of titles
 * @param lines - the lines of units and of samples
 * @returns the columns, or the lines that cross from one into the next
 */
export function columnsOf(titles: RawRow, lines: readonly RawRow[]): readonly Edge[] | OffColumns {
  const isIn = ({ from, to }: Edge, rows: readonly RawRow[]) =>
    rows.some(({ text }) => text.slice(from, to).trim() !== "");
  const columns: Edge[] = [];
  for (const near of neighbours(runsOf([titles, ...lines]))) {
    const whole = near.filter((run) => isIn(run, [titles]) && isIn(run, lines));
    for (const [index, run] of (whole.length > 0 ? whole : near.slice(0, 1)).entries()) {
      const [isFirst, isLast] = [index === 0, index >= whole.length - 1];
      columns.push({ from: (isFirst ? near[0] : run)?.from ?? 0, to: (isLast ? near.at(-1) : run)?.to ?? 0 });
    }
    const between = near.slice(near.indexOf(whole[0] as Edge), near.lastIndexOf(whole.at(-1) as Edge) + 1);
    const open = whole.length < 2 ? undefined : between.find((run) => !whole.includes(run));
    if (open !== undefined) return { rows: rowsIn(open, [...lines, titles]) };
  }
  const nameless = columns.find((column) => !isIn(column, [titles]));
  if (nameless !== undefined) return { rows: rowsIn(nameless, lines) };
  const crossed = [...titles.text.matchAll(GAP)]
    .map(({ index, 1: blanks = "" }) => ({ from: index + 1, to: index + 1 + blanks.length }))
    .find((gap) => columns.some(({ from, to }) => from < gap.from && to > gap.to));
  return crossed === undefined ? columns : { rows: crossingRows(lines, crossed) };
}

/** Runs from which one blank parts the next, together. */
function neighbours(runs: readonly Edge[]): Edge[][] {
  const groups: Edge[][] = [];
  for (const run of runs) {
    const last = groups.at(-1);
    if (last !== undefined && last.at(-1)?.to === run.from - 1) last.push(run);
    else groups.push([run]);
  }
  return groups;
}

/** Runs of characters that are written in some line, with places between them that are blank in all. */
function runsOf(lines: readonly RawRow[]): Edge[] {
  const width = Math.max(...lines.map(({ text }) => text.length));
  const runs: Edge[] = [];
  let from = -1;
  for (let at = 0; at <= width; at += 1) {
    const isWritten = lines.some(({ text }) => isInk(text[at]));
    if (isWritten && from < 0) from = at;
    if (!isWritten && from >= 0) {
      runs.push({ from, to: at });
      from = -1;
    }
  }
  return runs;
}

function isInk(character: string | undefined): boolean {
  return character !== undefined && character.trim() !== "";
}

function rowsIn({ from, to }: Edge, lines: readonly RawRow[]): number[] {
  return lines.filter(({ text }) => text.slice(from, to).trim() !== "").map(({ row }) => row);
}

/** The lines that leave no place between two titles blank: at the place where they are the fewest. */
function crossingRows(lines: readonly RawRow[], { from, to }: Edge): number[] {
  const places = Array.from({ length: to - from }, (_, index) =>
    rowsIn({ from: from + index, to: from + index + 1 }, lines),
  );
  return places.reduce((best, some) => (some.length < best.length ? some : best));
}

/** The cells of a line by the columns of its print; undefined where something is written between them. */
export function cellsByColumns(text: string, columns: readonly Edge[]): string[] | undefined {
  const cells = columns.map(({ from, to }) => text.slice(from, to));
  const ink = (some: string) => some.replace(/\s/g, "").length;
  return ink(cells.join("")) === ink(text) ? cells.map((cell) => cell.trim()) : undefined;
}
