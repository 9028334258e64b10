import widthOf from "string-width";
import { type Assumption, type Caution, SHORT_DEFERENCE, shown } from "../provenance/index.js";
import { decimalPlaces, inFourDigits } from "../units/index.js";
import { BETWEEN_WORDS, COLUMNS, wrapCell } from "./wrap.js";

export { inFourDigits as formatNumber } from "../units/index.js";

/**
 * A count or the limit of one, as it was reported or printed: all of its digits, so that a reader finds it again and sees
 * on which side of a limit it lies. What was computed with more than two decimals is printed in four digits.
 */
export function formatCount(value: number): string {
  // Twelve digits first, so that 0.1 + 0.2 is 0.3.
  const plain = Number(value.toPrecision(12));
  return decimalPlaces(plain) <= 2 && Math.abs(plain) < 1e15 ? String(plain) : inFourDigits(value);
}

/** A longer cell is no text that anybody reads in a table. */
const MAX_CELL = 1000;

/**
 * Draws a plain table without colours, as wide as a terminal at most: the cells of its widest columns are wrapped. One with
 * more columns than fit is drawn in parts, each with the columns that name its rows.
 *
 * @param names - how many columns, from the first, name the rows
 */
export function drawTable(head: readonly string[], rows: readonly (readonly string[])[], names = 1): string {
  const texts = rows.map((row) => row.map((cell) => (cell.length > MAX_CELL ? shown(cell) : cell)));
  return partsOf([head, ...texts], names)
    .map((columns) =>
      drawPart(
        columns.map((at) => head[at] ?? ""),
        texts.map((row) => columns.map((at) => row[at] ?? "")),
      ),
    )
    .join("");
}

/** The columns of each part; a part has the columns that name the rows, and one more at least. */
function partsOf(rows: readonly (readonly string[])[], names: number): number[][] {
  const least = wordWidths(rows).map((width) => width + 1);
  const own = least.slice(0, names).reduce((sum, width) => sum + width, 1);
  const parts: number[][] = [];
  let used = Number.POSITIVE_INFINITY;
  const named = Array.from({ length: Math.min(names, least.length) }, (_, at) => at);
  for (const [at, width] of [...least.entries()].slice(names)) {
    if (used + width > COLUMNS) {
      parts.push([...named]);
      used = own;
    }
    parts.at(-1)?.push(at);
    used += width;
  }
  return parts.length === 0 ? [named] : parts;
}

function drawPart(head: readonly string[], rows: readonly (readonly string[])[]): string {
  const widths = widthsOf([head, ...rows]);
  const wrapped = (cells: readonly string[]) =>
    cells.map((cell, index) => wrapCell(cell, (widths[index] as number) - AROUND));
  return drawBordered([head, ...rows].map(wrapped).map((cells) => cells.map((cell) => cell.split("\n"))));
}

/** A table with lines around it and below its first row; each cell is its lines. */
function drawBordered(rows: readonly (readonly (readonly string[])[])[]): string {
  const widths = (rows[0] ?? []).map((_, at) =>
    rows.reduce((width, cells) => Math.max(width, ...(cells[at] ?? []).map(widthOf)), 0),
  );
  const border = ([left, between, right]: readonly [string, string, string]) =>
    `${left}${widths.map((width) => "─".repeat(width + AROUND)).join(between)}${right}`;
  const drawn = rows.map((cells) =>
    linesOf(cells).map(
      (texts) => `│${texts.map((text, at) => ` ${padded(text, widths[at] as number)} `).join("│")}│`,
    ),
  );
  const [first = [], ...others] = drawn;
  const lines = [border(["┌", "┬", "┐"]), ...first, border(["├", "┼", "┤"]), ...others.flat()];
  return `${[...lines, border(["└", "┴", "┘"])].join("\n")}\n`;
}

/** The lines of a row: the first of each cell, the second of each, and so on. */
function linesOf(cells: readonly (readonly string[])[]): string[][] {
  const height = Math.max(...cells.map(({ length }) => length));
  return Array.from({ length: height }, (_, line) => cells.map((lines) => lines[line] ?? ""));
}

function padded(text: string, width: number): string {
  return text + " ".repeat(Math.max(0, width - widthOf(text)));
}

/** A cell has a space on each side, and each column a line after it. */
const AROUND = 2;

/**
 * As wide as the longest line of each column; while the table is too wide, the widest column that still holds its longest
 * word gives way, and where none does the widest of all.
 */
function widthsOf(rows: readonly (readonly string[])[]): number[] {
  const widths = longestParts(rows, /\n/);
  const words = wordWidths(rows);
  const room = COLUMNS - 1 - widths.length;
  for (let over = widths.reduce((sum, width) => sum + width, 0) - room; over > 0; over -= 1) {
    const able = widths.map((width, index) => (width > (words[index] as number) ? width : 0));
    const from = able.some((width) => width > 0) ? able : widths;
    const widest = from.indexOf(Math.max(...from));
    widths[widest] = (widths[widest] as number) - 1;
  }
  return widths;
}

/** The width of the longest word of each column. */
function wordWidths(rows: readonly (readonly string[])[]): number[] {
  return longestParts(rows, new RegExp(`\\n|${BETWEEN_WORDS.source}`, "u"));
}

function longestParts(rows: readonly (readonly string[])[], between: RegExp): number[] {
  return (rows[0] ?? []).map(
    (_, index) =>
      AROUND +
      longest(rows.flatMap((row) => (row[index] ?? "").split(between)).map((part) => part.trimEnd())),
  );
}

/** The columns of the widest text; there may be more of them than a function takes arguments. */
function longest(texts: readonly string[]): number {
  return texts.reduce((width, text) => Math.max(width, widthOf(text)), 0);
}

/** Draws a list: a name in the first column, as wide as the longest of them, and lines wrapped next to it. */
export function drawList(entries: readonly (readonly [name: string, lines: readonly string[]])[]): string {
  if (entries.length === 0) return "";
  const nameWidth = Math.min(longest(entries.map(([name]) => name)), COLUMNS / 2);
  return drawColumns(
    [nameWidth + 2, COLUMNS - nameWidth - 2],
    entries.map(([name, lines]) => [name, lines.join("\n")]),
  );
}

/** A longer line is no text that anybody reads in a list. */
const MAX_LINE = 1000;

function cutLine(line: string): string {
  return line.length > MAX_LINE ? `${line.slice(0, MAX_LINE)}… (${line.length} characters)` : line;
}

/** Rows without borders; a cell has as many lines as it needs. */
function drawColumns(colWidths: readonly number[], rows: readonly (readonly string[])[]): string {
  return rows
    .flatMap((row) => {
      const cells = row.map((cell, at) => {
        const lines = cell.split("\n").map(cutLine).join("\n");
        return wrapCell(lines, colWidths[at] as number).split("\n");
      });
      return linesOf(cells).map((texts) =>
        texts
          .map((text, at) => padded(text, colWidths[at] as number))
          .join("")
          .trimEnd(),
      );
    })
    .map((line) => `${line}\n`)
    .join("");
}

/** "1 sample", "2 samples". */
export function formatHowMany(number: number, one: string): string {
  return `${number} ${one}${number === 1 ? "" : "s"}`;
}

/** Ends a short answer: how to see the rest, and the caution that always stays. */
export function describeMore(rest: string, assumptions: readonly Assumption[] = []): string {
  const many = assumptions.length === 0 ? "" : `, ${formatHowMany(assumptions.length, "assumption")}`;
  return drawLines([`With --explain: ${rest}${many}.`, SHORT_DEFERENCE]);
}

/** Draws sentences, each on lines of its own. */
export function drawLines(lines: readonly string[]): string {
  return drawColumns(
    [COLUMNS],
    lines.map((line) => [line]),
  );
}

/** The assumptions that come with a result. */
export function describeAssumptions(assumptions: readonly Assumption[]): string {
  if (assumptions.length === 0) return "";
  return `\nAssumptions:\n${assumptions.map((entry) => `  - ${entry.message}\n`).join("")}`;
}

/** The cautions for a result that somebody may act on. */
export function describeCautions(cautions: readonly Caution[]): string {
  return `\nCaution:\n${cautions.map((entry) => `  - ${entry.message}\n`).join("")}`;
}
