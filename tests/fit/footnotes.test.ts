// A line below the table that its titles contradict is read by a person, as such a line above the table is.
import { describe, expect, test } from "vitest";
import { oneCircuit, wideFile } from "../support/one-circuit.js";

const one = oneCircuit();
const below = (line: string, blank = "") => one.judge(`${wideFile({})}${blank}${line}\n`);

describe("a line below the table that contradicts its titles waits, and the command ends with 1", () => {
  test.each([
    ["All particle counts are per 100 mL"],
    ["* particle counts per 100 mL"],
    ["Particle sizes according to ISO 4402"],
    ["Counts × 1000"],
    ["Water in per cent"],
    ["Samples were diluted 1:10; counts not corrected"],
    ["Proben verdünnt"],
  ])("%s", async (line) => {
    for (const blank of ["", "\n"]) {
      const { code, quarantine } = await below(line, blank);
      expect(quarantine.map(({ text }: { text: string }) => text)).toEqual([line]);
      expect(code).toBe(1);
    }
  });
});

describe("a line below the table that agrees with it, or says nothing of it, is no result", () => {
  test.each([
    ["All particle counts are per mL"],
    ["Particle counting by ISO 11500, sizes by ISO 11171"],
    ["Limits of NAS 1638 are per 100 mL"],
    ["Water by ASTM D6304, in ppm"],
    ["n.d. = not determined; KF = Karl Fischer"],
    ["Counts are corrected for dilution"],
    ["Dilution applied"],
    ["Results relate only to the samples as received"],
  ])("%s", async (line) => {
    for (const blank of ["", "\n"]) {
      const { verdict, code, quarantine } = await below(line, blank);
      expect(quarantine).toEqual([]);
      expect([verdict, code]).toEqual(["fit", 0]);
    }
  });
});
