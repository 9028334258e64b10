// The scale numbers of an ISO 4406 code in columns or rows of their own say what the code says.
import { describe, expect, test } from "vitest";
import { oneCircuit, wideFile } from "../support/one-circuit.js";

const one = oneCircuit();
const TITLES = {
  "with µm(c)": ["ISO 4406 4 µm(c)", "ISO 4406 6 µm(c)", "ISO 4406 14 µm(c)"],
  "with >": ["ISO Code >4", "ISO Code >6", "ISO Code >14"],
  "with the edition": [
    "ISO 4406:2017 (≥ 4 µm(c))",
    "ISO 4406:2017 (≥ 6 µm(c))",
    "ISO 4406:2017 (≥ 14 µm(c))",
  ],
  bare: ["ISO 4", "ISO 6", "ISO 14"],
  "size first": ["4 µm(c) ISO code", "6 µm(c) ISO code", "14 µm(c) ISO code"],
} as const;
const NAMED = "S-1,C-1,1,2026-03-04,MIL-PRF-83282";

/** A laboratory that reports codes and no counts; the limit is 17/15/12. */
function codesOnly(titles: readonly string[], numbers: string): string {
  const head = ["sample,cart,circuit,drawn on,fluid", ...titles, "water (mg/kg),acid number (mg KOH/g)"];
  return `${head.join(",")}\n${NAMED},${numbers},120,0.1\n`;
}

function inRows(titles: readonly string[], numbers: string): string {
  const rows = titles.map((title, at) => `${NAMED},${title},${numbers.split(",")[at]},`);
  return [
    "sample,cart,circuit,drawn on,fluid,test,result,unit",
    ...rows,
    `${NAMED},water,120,mg/kg`,
    `${NAMED},acid number,0.1,mg KOH/g\n`,
  ].join("\n");
}

describe.each(Object.entries(TITLES))("titles %s", (_, titles) => {
  test.each([
    ["17,15,12", "fit"],
    ["16,14,11", "fit"],
    ["18,15,12", "circulate"],
    ["17,16,12", "circulate"],
    ["17,15,13", "circulate"],
    // Not counted, and what no code can be.
    ["17,15,-", "resample"],
    ["17,15,", "resample"],
    ["15,17,12", "resample"],
    ["17,15,29", "resample"],
  ])("%s: %s", async (numbers, verdict) => {
    expect((await one.judge(codesOnly(titles, numbers))).verdict).toBe(verdict);
    expect((await one.judge(inRows(titles, numbers))).verdict).toBe(verdict);
  });
});

describe("beside counts of 1000, 300 and 30 per mL, which are 17/15/12", () => {
  const with3 = (numbers: readonly string[], more = {}) =>
    one.judge(
      wideFile({
        ...Object.fromEntries(TITLES.bare.map((title, at) => [title, numbers[at] ?? ""])),
        ...more,
      }),
    );

  test.each([
    [["17", "15", "12"], {}, "fit"],
    [["17", "", ""], {}, "fit"],
    [["17", "15", "12"], { "ISO 4406": "17/15/12" }, "fit"],
    [["21", "19", "16"], {}, "resample"],
    [["17", "15", "16"], {}, "resample"],
    [["21", "19", "16"], { "ISO 4406": "17/15/12" }, "resample"],
  ])("%s %j: %s", async (numbers, more, verdict) => {
    expect((await with3(numbers, more)).verdict).toBe(verdict);
  });

  test.each(["ISO 4 limit", "Previous ISO 4", "ISO 4 target"])("%s is not of the sample", async (title) => {
    expect((await one.judge(wideFile({ [title]: "24" }))).verdict).toBe("fit");
  });
});
