import Table from "cli-table3";
import type { Assumption, Caution } from "../provenance/index.js";
import { decimalPlaces, inFourDigits } from "../units/index.js";

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

/** Draws a plain table without colours. */
export function drawTable(head: readonly string[], rows: readonly (readonly string[])[]): string {
  const table = new Table({ head: [...head], style: { head: [], border: [], compact: true } });
  table.push(...rows.map((row) => [...row]));
  return `${table.toString()}\n`;
}

/** "1 sample", "2 samples". */
export function formatHowMany(number: number, one: string): string {
  return `${number} ${one}${number === 1 ? "" : "s"}`;
}

/** Says what a result rests on. */
export function describeAssumptions(assumptions: readonly Assumption[]): string {
  if (assumptions.length === 0) return "";
  return `\nThis rests on:\n${assumptions.map((entry) => `  - ${entry.message}\n`).join("")}`;
}

/** The cautions for a result that somebody may act on. */
export function describeCautions(cautions: readonly Caution[]): string {
  return `\nCaution:\n${cautions.map((entry) => `  - ${entry.message}\n`).join("")}`;
}
