import { execFile } from "node:child_process";
import { closeSync, openSync, writeSync } from "node:fs";
import { join } from "node:path";
import { promisify } from "node:util";
import { expect, test } from "vitest";
import { temporaryFolder } from "../support/temporary-folder.js";

const folder = temporaryFolder();
const ROWS = 400_000;
const ROWS_TOGETHER = 10_000;

function writeLargeFile(path: string): void {
  const file = openSync(path, "w");
  writeSync(
    file,
    "sample,cart,circuit,drawn on,fluid,4 µm(c) per mL,6 µm(c) per mL,14 µm(c) per mL,21 µm(c) per mL,water (mg/kg),acid number (mg KOH/g),viscosity at 40 °C (mm²/s)\n",
  );
  for (let start = 0; start < ROWS; start += ROWS_TOGETHER) {
    const lines = Array.from({ length: ROWS_TOGETHER }, (_, index) => {
      const row = start + index;
      const water = row % 7 === 0 ? "< 50" : 100 + (row % 150);
      return `S-${row},C-${row % 200},fore,2026-0${1 + (row % 9)}-11,MIL-PRF-83282,${1000 + (row % 977)}.27,${300 + (row % 101)}.5,${20 + (row % 17)},3,${water},0.${10 + (row % 30)},14.${row % 10}\n`;
    });
    writeSync(file, lines.join(""));
  }
  closeSync(file);
}

// The built package in a process of its own, whose peak the system has measured when it ends.
const SCRIPT = `
  const { Book } = await import(process.argv[1]);
  const book = Book.open(process.argv[2], { create: true });
  const { rows, taken, quarantined, notSamples } = await book.takeIn(process.argv[3], { today: "2026-12-31" });
  const samples = book.sampleCount;
  book.close();
  const peakMb = process.resourceUsage().maxRSS / 1024;
  console.log(JSON.stringify({ rows, taken, quarantined, notSamples, samples, peakMb }));
`;

test("a 400,000-row file is taken in with peak memory under 400 MB", async () => {
  const path = join(folder, "large.csv");
  writeLargeFile(path);
  const dist = join(import.meta.dirname, "..", "..", "dist", "book", "index.js");
  const { stdout } = await promisify(execFile)(process.execPath, [
    "--input-type=module",
    "--eval",
    SCRIPT,
    dist,
    join(folder, "large.siltbook"),
    path,
  ]);
  const { peakMb, ...counts } = JSON.parse(stdout);
  expect(counts).toEqual({
    rows: ROWS + 1,
    taken: ROWS,
    quarantined: 0,
    notSamples: 1,
    samples: ROWS,
  });
  expect(peakMb).toBeLessThan(400);
});
