import { parse } from "csv-parse/sync";

/** The cells of delimited text that siltbook wrote, without the apostrophes that its column says it has put before formulas. */
export function readTable(text: string): string[][] {
  const rows = parse(text, { bom: true, relax_column_count: true }) as string[][];
  const isGuarded = rows[0]?.includes("apostrophe before formulas");
  return isGuarded ? rows.map((row) => row.map((cell) => cell.replace(/^'(?=['\s]*[=+\-@])/, ""))) : rows;
}
