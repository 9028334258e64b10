import Table from "cli-table3";
import type { Assumption, Caution } from "../provenance/index.js";

export { inFourDigits as sayNumber } from "../units/index.js";

/** Draws a plain table without colours. */
export function drawTable(head: readonly string[], rows: readonly (readonly string[])[]): string {
  const table = new Table({ head: [...head], style: { head: [], border: [], compact: true } });
  table.push(...rows.map((row) => [...row]));
  return `${table.toString()}\n`;
}

/** Says what a result rests on. */
export function sayAssumptions(assumptions: readonly Assumption[]): string {
  if (assumptions.length === 0) return "";
  return `\nThis rests on:\n${assumptions.map((entry) => `  - ${entry.message}\n`).join("")}`;
}

/** Says the cautions that stand beside a result somebody may act on. */
export function sayCautions(cautions: readonly Caution[]): string {
  return `\nCaution:\n${cautions.map((entry) => `  - ${entry.message}\n`).join("")}`;
}
