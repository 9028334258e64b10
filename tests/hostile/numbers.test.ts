import { describe, expect, test } from "vitest";
import { readLabFile } from "../../src/intake/index.js";

const encode = (text: string) => new TextEncoder().encode(text);
// Above 14 µm(c) nothing may well be found, so a 0 is a result.
const TITLES = "sample,cart,circuit,drawn on,14 µm(c) per mL,water (mg/kg)";

async function readCell(cell: string) {
  return readLabFile("lab.csv", encode(`${TITLES}\nS-1,C-1,fore,2026-03-04,"${cell}",120`));
}

describe("numbers that are none, too large, or too small", () => {
  test.each([
    "1e999",
    "-1e999",
    "Infinity",
    "-Infinity",
    "NaN",
    "0x10",
    "0b11",
    "0o17",
    "1_000",
    "1e",
    "e5",
    "--5",
    "+-5",
    "-1",
    "１２",
    "٣",
    "12\u0000",
    "1\u202e2",
    "⁵",
    "½",
    "1/0",
    "=1",
    "1e-400",
    "0,1e-400",
    "9".repeat(400),
    "1".repeat(100_000),
    `1${" ".repeat(100_000)}2`,
  ])("%j is quarantined with its place", async (cell) => {
    const { samples, quarantine } = await readCell(cell);
    expect(samples).toEqual([]);
    expect(quarantine).toHaveLength(1);
    expect(quarantine[0]?.issues[0]).toMatchObject({ row: 2, column: "14 µm(c) per mL" });
    expect(quarantine[0]?.text).toContain(cell);
  });

  test.each([
    ["-0", undefined],
    ["1e300", 1e300],
    ["1e-300", 1e-300],
    ["0", 0],
  ])("%s is read as %s or refused, never as something else", async (cell, expected) => {
    const { samples, quarantine } = await readCell(cell);
    expect(samples.length + quarantine.length).toBe(1);
    expect(samples[0]?.counts?.counts[0]?.count).toBe(expected);
  });

  test.each(["1e999", "-1e999", "0.1e-400", "1e-310"])(
    "JSON's number %s is quarantined as it is written",
    async (number) => {
      const { samples, quarantine } = await readLabFile("lab.json", encode(jsonWith(number)));
      expect(samples).toEqual([]);
      expect(quarantine[0]?.issues).toMatchObject([{ row: 1, column: "14 µm(c) per mL", value: number }]);
    },
  );

  test.each(["-0", "1e308", "0e-400"])(
    "JSON's number %s is taken, and a zero below zero is a zero",
    async (number) => {
      const { samples, quarantine } = await readLabFile("lab.json", encode(jsonWith(number)));
      expect([samples.length, quarantine.length]).toEqual([1, 0]);
      expect(Object.is(samples[0]?.counts?.counts[0]?.count, -0)).toBe(false);
    },
  );
});

function jsonWith(number: string): string {
  return `[{"sample":"S-1","cart":"C-1","circuit":"fore","drawn on":"2026-03-04","14 µm(c) per mL":${number}}]`;
}
