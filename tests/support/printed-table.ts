/** One row of a table as a page prints it: the name of the class, then its limits. */
export interface PrintedRow {
  readonly name: string;
  /** Undefined where the page shows nothing. */
  readonly limits: readonly (number | undefined)[];
}

/** Reads a table typed from a page: a row a line, columns parted by spaces, "-" where nothing is printed. */
export function readPrinted(text: string): PrintedRow[] {
  return text
    .trim()
    .split("\n")
    .map((line) => {
      const [name = "", ...cells] = line.trim().split(/\s+/);
      return { name, limits: cells.map((cell) => (cell === "-" ? undefined : Number(cell))) };
    });
}
