import { describe, expect, test } from "vitest";
import { readLabFile } from "../../src/intake/index.js";
import { oneCircuit, wideFile } from "../support/one-circuit.js";

const SIZES = [4, 6, 14, 21, 38, 70];
/**
 * Per mL. By the tables of ISO 4406, AS4059 and NAS 1638 (`published/`), per 100 mL:
 *   above 4: 100 000 is ISO 17 and class 7 (limit 100 000)
 *   above 6:  30 000 is ISO 15 and class 7 (19 462 to 38 924); with the next, 26 900 in 6-14 is class 7 (16 000 to 32 000)
 *   above 14:  3 100 is ISO 12 and class 6 (1731 to 3462);      2 590 in 14-21 is class 6 (1425 to 2850)
 *   above 21:    510 is class 6 (306 to 612);                     440 in 21-38 is class 6 (253 to 506)
 *   above 38:     70 is class 6 (53 to 106);                       60 in 38-70 is class 6 (45 to 90)
 *   above 70:     10 is class 6 (8 to 16)
 */
const COUNTS = ["1000", "300", "31", "5.1", "0.7", "0.1"];

async function issuesOf(title: string, stated: string, counts: readonly string[] = COUNTS) {
  const titles = ["sample", "cart", "circuit", "drawn on", "water (mg/kg)"];
  const sizes = counts.flatMap((count, index) => (count === "" ? [] : [`${SIZES[index]} µm(c) per mL`]));
  const text =
    `${[...titles, ...sizes, title].join(",")}\n` +
    `S-1,C-1,1,2026-03-04,120,${[...counts.filter((count) => count !== ""), `"${stated}"`].join(",")}\n`;
  const { samples, quarantine } = await readLabFile("lab.csv", new TextEncoder().encode(text));
  expect(samples.length + quarantine.length).toBe(1);
  return quarantine.flatMap(({ issues }) =>
    issues.map(({ code, value, expected }) => [code, value, expected]),
  );
}

const FEW = ["1000", "300", "31", "", "", ""];
const NONE = ["", "", "", "", "", ""];

describe("a stated class that the counts contradict goes to quarantine, in every standard", () => {
  test.each([
    ["ISO 4406", "16/15/12", COUNTS],
    ["ISO 4406", "17/15/11", COUNTS],
    ["ISO 4406", "ISO 4406:2017 17/16/12", COUNTS],
    // Single places can be held against single sizes.
    ["ISO 4406", "17/16/12", ["", "300", "31", "", "", ""]],
    ["ISO 4406", "14/12", COUNTS],
    ["NAS 1638", "5", COUNTS],
    ["NAS 1638", "NAS 6", COUNTS],
    // All ranges were counted, so a dirtier class is as wrong as a cleaner one.
    ["NAS 1638", "9", COUNTS],
    ["NAS 1638", "5", FEW],
    ["AS4059", "7A/6B/6C", COUNTS],
    ["AS4059", "6A-F", COUNTS],
    ["AS4059", "AS4059F 7A/7B/5C", COUNTS],
    ["AS4059", "6b", COUNTS],
    ["AS4059", "4", COUNTS],
    ["AS4059", "9", COUNTS],
    ["AS4059", "7A/6B", FEW],
    // 440 in 21-38: more than the 200 of grade 8. Classes by range are bounded below by the ranges that were counted.
    ["GOST 17216", "5", COUNTS],
    // 440 in 21-38 is class 3 (380 to 780).
    ["Navy class", "2", COUNTS],
  ])("%s %j", async (title, stated, counts) => {
    const issues = await issuesOf(title, stated, counts);
    expect(issues.map(([code, value]) => [code, value])).toEqual([["class-differs-from-counts", stated]]);
  });

  test.each([
    ["AS4059", "7A/6B/6C", "AS4059 7A/7B/6C/6D/6E/6F"],
    ["NAS 1638", "5", "NAS 1638 7"],
    ["ISO 4406", "17/16/12", "ISO 4406 17/15/12"],
  ])("what was expected is said: %s %j", async (title, stated, expected) => {
    expect((await issuesOf(title, stated))[0]?.[2]).toContain(`the class of the counts, ${expected}`);
  });
});

describe("a stated class that may be that of the counts is taken", () => {
  test.each([
    ["ISO 4406", "17/15/12", COUNTS],
    ["ISO 4406", "ISO 4406:1999 Code 17/15/12 (filtered)", COUNTS],
    ["ISO 4406", "17-15-12", COUNTS],
    ["ISO 4406", "17/15/≥12", COUNTS],
    ["ISO 4406", "-/15/12", COUNTS],
    ["ISO 4406", "15/12", COUNTS],
    ["ISO 4406", "17/15/12", ["1000", "300", "", "", "", ""]],
    ["NAS 1638", "7", COUNTS],
    ["NAS 1638", "NAS 1638 Class 7", COUNTS],
    // Of ranges that were not given nothing is known: they may be dirtier.
    ["NAS 1638", "9", FEW],
    ["AS4059", "7A/7B/6C", COUNTS],
    ["AS4059", "7A-B/6C-F", COUNTS],
    ["AS4059", "7a 7b 6c", COUNTS],
    ["AS4059", "SAE AS4059E Class 7", COUNTS],
    ["AS4059", "7", COUNTS],
    ["AS4059", "9", FEW],
    ["AS4059", "6D-F", FEW],
    ["NAS 1638", "n/a", COUNTS],
    ["AS4059", "not reported", COUNTS],
    // 69.24 per mL above 14 µm: class 7 by the unrounded table (69.24), class 8 by the rounded one (69.2).
    ["AS4059", "7C", ["1000", "300", "69.24", "5", "0.7", "0.1"]],
    ["AS4059", "8C", ["1000", "300", "69.24", "5", "0.7", "0.1"]],
    // 1300 per mL is the last count of 17; printed with three figures it may have been 1303.
    ["ISO 4406", "18/15/12", ["1300", "300", "31", "5", "0.7", "0.1"]],
    // 4 per mL may have been 4.4: class 4 above 14 µm begins beyond 4.32.
    ["AS4059", "4C", ["1000", "300", "4", "1", "", ""]],
  ])("%s %j", async (title, stated, counts) => {
    expect(await issuesOf(title, stated, counts)).toEqual([]);
  });
});

describe("a class that cannot be is set aside without counts as well", () => {
  test.each([
    ["ISO 4406", "13/16/18"],
    ["ISO 4406", "31/20/10"],
    ["NAS 1638", "15"],
    ["NAS 1638", "7.5"],
    ["NAS 1638", "18/16/13"],
    ["NAS 1638", "000"],
    ["AS4059", "7G"],
    ["AS4059", "13A"],
    ["AS4059", "good"],
    ["GOST 17216", "18"],
    ["Navy class", "7"],
  ])("%s %j", async (title, stated) => {
    const issues = await issuesOf(title, stated, NONE);
    expect(issues.map(([code, value]) => [code, value])).toEqual([["class-cannot-be", stated]]);
  });

  test.each([
    ["ISO 4406", "18/16/13"],
    ["ISO 4406", "18/16"],
    ["ISO 4406", ">28/25/20"],
    ["NAS 1638", "00"],
    ["NAS 1638", ">12"],
    ["AS4059", "000"],
    ["AS4059", "7A/6B/5C"],
    ["GOST 17216", "12"],
    ["Navy class", "0"],
  ])("a laboratory that gives classes alone is believed: %s %j", async (title, stated) => {
    expect(await issuesOf(title, stated, NONE)).toEqual([]);
  });
});

const one = oneCircuit();

test("a circuit whose laboratory contradicts its own counts is not fit", async () => {
  const verdict = await one.judge(wideFile({ AS4059: "4A/4B/4C" }));
  expect(verdict.verdict).not.toBe("fit");
  expect(verdict.quarantine).toMatchObject([{ code: "class-differs-from-counts", value: "4A/4B/4C" }]);
  expect(await one.judge(wideFile({ AS4059: "7A/7B/6C" }))).toMatchObject({ verdict: "fit", quarantine: [] });
});
