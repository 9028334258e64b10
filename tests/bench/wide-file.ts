import { closeSync, openSync, writeSync } from "node:fs";
import { seeded } from "../support/counts-near-limits.js";

const HEADER =
  "sample,cart,circuit,drawn on,fluid,4 µm(c) per mL,6 µm(c) per mL,14 µm(c) per mL,21 µm(c) per mL," +
  "water (mg/kg),acid number (mg KOH/g),viscosity at 40 °C (mm²/s)\n";
const ROWS_TOGETHER = 10_000;
/** One row in so many has counts that rise with size. */
const RISES_EACH = 10_000;

const CARTS = 401;

/** How many rows of a wide file cannot be true. */
export function impossibleRows(rows: number): number {
  return Math.ceil(rows / RISES_EACH);
}

/**
 * Writes a wide file of a laboratory: twelve columns, a row for each sample; some water below a limit, some acid blank,
 * and one row in ten thousand with counts that rise with size.
 */
export function writeWideFile(path: string, rows: number): void {
  const random = seeded(7);
  const file = openSync(path, "w");
  writeSync(file, HEADER);
  for (let first = 0; first < rows; first += ROWS_TOGETHER) {
    const size = Math.min(ROWS_TOGETHER, rows - first);
    writeSync(file, Array.from({ length: size }, (_, index) => lineOf(first + index, random)).join(""));
  }
  closeSync(file);
}

function lineOf(row: number, random: () => number): string {
  // Each circuit has its own level, so that no sample is a hundred times another one of its circuit.
  const at4 = 200 * 10 ** ((row % CARTS) / CARTS + 0.7 * random());
  const at6 = at4 * (0.15 + 0.2 * random());
  const at14 = row % RISES_EACH === 0 ? at6 + 1 : at6 * (0.02 + 0.06 * random());
  const at21 = at14 * 0.2 * random();
  const counts = [at4, at6, at14, at21].map((count) => count.toFixed(2)).join(",");
  const water = random() < 0.1 ? "< 50" : Math.round(60 + 200 * random());
  const acid = random() < 0.2 ? "" : (0.05 + random()).toFixed(2);
  const day = `2026-${two(1 + (row % 9))}-${two(1 + (row % 28))}`;
  const viscosity = (13 + 2 * random()).toFixed(1);
  return `S-${row},C-${row % CARTS},${row % 3 === 0 ? "aft" : "fore"},${day},MIL-PRF-83282,${counts},${water},${acid},${viscosity}\n`;
}

function two(figure: number): string {
  return String(figure).padStart(2, "0");
}
