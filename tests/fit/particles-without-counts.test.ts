import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, test } from "vitest";
import { parseTarget } from "../../src/cleanliness/index.js";
import { judgeCircuit } from "../../src/fitness/index.js";
import { CLEAN, caseOf, REQUIREMENT } from "../support/fitness/bases.js";
import { judgeCase } from "../support/one-cart.js";

const folder = mkdtempSync(join(tmpdir(), "siltbook-without-counts-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
let next = 0;

/** Judges one sample that is clean and dry, with the columns that are given, against one target. */
function judge(target: string, columns: Readonly<Record<string, string>>, way: "files" | "book" = "files") {
  const quoted = (cell: string) => (cell.includes(",") ? `"${cell}"` : cell);
  return judgeCase(join(folder, String(++next)), way, {
    header: [
      "sample,cart,circuit,drawn on,fluid,water (mg/kg),acid number (mg KOH/g)",
      ...Object.keys(columns),
    ].join(),
    files: [
      [["S-1,C-1,main,2026-11-10,MIL-PRF-83282,120,0.05", ...Object.values(columns).map(quoted)].join()],
    ],
    target,
    on: "2026-11-20",
  });
}

const MICROSCOPE = ["5-15", "15-25", "25-50", "50-100", ">100"].map(
  (range) => `${range} µm per 100 mL (microscope)`,
);
const byMicroscope = (...values: string[]) =>
  Object.fromEntries(values.map((value, index) => [MICROSCOPE[index] as string, value]));
const counted = (at4: string, at6: string, at14: string) => ({
  "4 µm(c) per mL": at4,
  "6 µm(c) per mL": at6,
  "14 µm(c) per mL": at14,
});

// ISO 4406 18/16/13 allows 2500, 640 and 80 per mL; NAS 1638 7 per 100 mL 32 000, 5700, 1012, 180 and 32.
describe("a laboratory that reports what surely conforms is not sent back for form's sake", () => {
  test.each<[string, string, Readonly<Record<string, string>>]>([
    ["a class alone", "18/16/13", { "ISO 4406": "18/16/13" }],
    ["a cleaner class alone", "18/16/13", { "ISO 4406 code": "ISO 4406:2017 16/14/11" }],
    [
      "a class for the place that was not counted",
      "18/16/13",
      { ...counted("900", "250", ""), "ISO 4406": "17/15/12" },
    ],
    ["a limit value inside", "18/16/13", counted("900", "250", "< 1")],
    ["limit values at every size", "18/16/13", counted("< 2500", "≤ 640", "<10")],
    ["NAS 1638", "NAS 1638 7", { "NAS 1638 class": "7" }],
    [
      "NAS 1638 that ranges would have to explain",
      "NAS 1638 9",
      { ...counted("60", "12", "1.2"), "NAS 1638": "9" },
    ],
    ["AS4059 with its sizes", "AS4059 cumulative 7A-F", { AS4059: "7A/6B/6C/5D-F" }],
    ["AS4059 under a title with its revision", "AS4059 differential 7", { AS4059F: "7" }],
    ["AS4059 under a title with its table", "AS4059 differential 7", { "AS4059 Table 1": "6" }],
    ["AS4059 in a cell with its revision", "AS4059 differential 7", { AS4059: "AS4059F class 6" }],
    ["the navy class", "NAVAIR 01-1A-17 3", { "Navy class": "3" }],
    ["NAS 1638 in its own ranges", "NAS 1638 7", byMicroscope("32000", "5700", "1012", "180", "32")],
    ["a class with its sizes", "18/16/13", { "ISO 4406": "17/15/12 (4/6/14 µm(c))" }],
    ["a class with how it was counted", "18/16/13", { "ISO 4406": "17/15/12 (automatic particle counter)" }],
    ["a class with its edition", "18/16/13", { "ISO 4406": "17/15/12 (ISO 4406:2021)" }],
    ["AS4059 with its table", "AS4059 differential 7", { AS4059: "7 (table 1)" }],
    [
      "the navy class in its own ranges",
      "navy 3",
      {
        "5-10 µm per 100 mL (microscope)": "24000",
        "10-25 µm per 100 mL (microscope)": "5360",
        "25-50 µm per 100 mL (microscope)": "780",
        "50-100 µm per 100 mL (microscope)": "110",
        ">100 µm per 100 mL (microscope)": "11",
      },
    ],
  ])("%s", async (_, target, columns) => {
    expect(await judge(target, columns)).toMatchObject({ verdict: "fit", quarantine: [] });
    expect(await judge(target, columns, "book")).toMatchObject({ verdict: "fit", quarantine: [] });
  });
});

describe("what surely exceeds a limit is dirty, whatever form it is reported in", () => {
  test.each<[string, string, Readonly<Record<string, string>>]>([
    ["a class alone", "18/16/13", { "ISO 4406": "18/17/13" }],
    ["too many to count in one place", "18/16/13", { "ISO 4406": "*/16/13" }],
    ["a limit value", "18/16/13", counted("> 100000", "250", "30")],
    ["NAS 1638", "NAS 1638 7", { "NAS 1638 class": "8" }],
    ["NAS 1638 beyond its table", "NAS 1638 7", { "NAS 1638 class": ">12" }],
    [
      "NAS 1638 beside the counts of some ranges",
      "NAS 1638 7",
      { ...counted("900", "250", "30"), "NAS 1638": "8" },
    ],
    ["one range by microscope", "NAS 1638 7", byMicroscope("32000", "5701", "1012", "180", "32")],
    ["the navy class", "NAVAIR 01-1A-17 3", { "Navy class": "4" }],
    ["one size of AS4059", "AS4059 cumulative 7A-F", { AS4059: "7A-E/8F" }],
  ])("%s", async (_, target, columns) => {
    const { verdict, reasons } = await judge(target, columns);
    expect({ verdict, dirty: reasons.includes("particles-outside") }).toEqual({
      verdict: "circulate",
      dirty: true,
    });
  });
});

describe("what is not sure is measured, not guessed", () => {
  test.each<[string, string, Readonly<Record<string, string>>]>([
    ["a class of another standard", "18/16/13", { "NAS 1638": "5" }],
    ["the class of AS4059 against NAS 1638", "NAS 1638 7", { AS4059: "7" }],
    ["a class of AS4059 without sizes, table or revision", "AS4059 differential 7", { AS4059: "7" }],
    ["two places for three", "18/16/13", { "ISO 4406": "16/13" }],
    ["a limit value that may be outside", "18/16/13", counted("900", "250", "< 100")],
    ["counts on the older scale", "NAS 1638 7", { "5-15 µm per 100 mL (ISO 4402)": "100" }],
    ["a range by microscope left out", "NAS 1638 7", byMicroscope("320", "57", "10", "1")],
    ["a class that is required", "18/16/13", { "ISO 4406 target": "18/16/13" }],
    ["a class at which somebody is warned", "18/16/13", { "ISO 4406 alarm": "18/16/13" }],
    ["the class of new fluid", "18/16/13", { "ISO 4406 new fluid": "18/16/13" }],
    ["a class that is only expected", "NAS 1638 7", { "NAS 1638 expected": "7" }],
    ["a class that is noted as the target", "18/16/13", { "ISO 4406": "17/15/12 (target)" }],
    ["a class that is noted as an older one", "18/16/13", { "ISO 4406": "17/15/12 (previous)" }],
    ["a class with another in brackets", "18/16/13", { "ISO 4406": "17/15/12 (before filter 22/20/17)" }],
    ["a class of the blank", "NAS 1638 7", { "NAS 1638": "NAS 6 (blank)" }],
    ["a class converted from another", "18/16/13", { "ISO 4406": "17/15/12 (from NAS 6)" }],
    ["a class on the older scale", "18/16/13", { "ISO 4406": "17/15/12 (2/5/15 µm)" }],
    ["a class by the edition of the older scale", "18/16/13", { "ISO 4406": "ISO 4406:1987 17/15/12" }],
    ["a title with the older scale", "18/16/13", { "ISO 4406 (2/5/15 µm)": "17/15/12" }],
    ["a title with the edition of the older scale", "18/16/13", { "ISO 4406:1987": "17/15/12" }],
    ["the class of one range", "NAS 1638 7", { "NAS 1638": "6 (5-15 µm)" }],
    ["the class above one size", "NAS 1638 7", { "NAS 1638": "7 (>15 µm)" }],
    ["another standard in the cell than over it", "NAS 1638 7", { "NAS 1638": "AS4059 6" }],
    ["the sizes of AS4059 as a target", "AS4059 cumulative 7A-F", { AS4059: "7A-F (target)" }],
    ["a remark", "NAS 1638 7", { Remarks: "NAS 1638 class 5" }],
    [
      "a class that a person did not trust",
      "18/16/13",
      {
        ...counted("900", "250", ""),
        "ISO 4406": "17/15/12",
        "quarantine accepted": "class-differs-from-counts",
      },
    ],
  ])("%s", async (_, target, columns) => {
    const { verdict, reasons } = await judge(target, columns);
    expect({ verdict, missing: reasons.includes("particles-not-measured") }).toEqual({
      verdict: "resample",
      missing: true,
    });
  });

  test("a class cleaner than the counts of its report is set aside", async () => {
    expect(await judge("18/16/13", { ...counted("9000", "", ""), "ISO 4406": "16/14/11" })).toMatchObject({
      verdict: "resample",
      quarantine: ["class-differs-from-counts"],
    });
  });

  test("a dirtier class in a remark holds a circuit whose own class is inside", async () => {
    const columns = { "NAS 1638": "6", Remarks: "NAS 1638 class 9" };
    expect((await judge("NAS 1638 7", columns)).reasons).toContain("stated-class-outside");
  });
});

// A laboratory that scatters by 15 %: of a fluid at the edge of its class half the results are beyond.
describe("how sure a class alone is follows from its edges", () => {
  const confidence = {
    probability: 0.95,
    counts: { reproducibility: { kind: "relative", rsd: 0.15 } },
  } as const;
  test.each([
    ["ISO 4406 18/16/13", { standard: "ISO 4406", class: "18/16/13" }, "resample"],
    // Half of each limit, and by the standard no fewer than 20 particles at any size.
    ["ISO 4406 18/16/13", { standard: "ISO 4406", class: "17/15/12" }, "fit"],
    // Above 70 µm one particle of class 7 is seen in 3 mL at least; class 9 allows four times as many.
    ["NAS 1638 8", { standard: "NAS 1638", class: "7" }, "resample"],
    ["NAS 1638 10", { standard: "NAS 1638", class: "7" }, "fit"],
  ] as const)("%s, found %j: %s", (target, stated, verdict) => {
    const { counts: _counts, ...rest } = CLEAN;
    const requirement = { ...REQUIREMENT, cleanliness: [parseTarget(target)], confidence };
    expect(
      judgeCircuit(caseOf({ requirement, samples: [{ ...rest, reportedClasses: [stated] }] })).verdict,
    ).toBe(verdict);
  });
});

test("a counted volume that is required and not stated holds a class as it holds counts", () => {
  const { counts: _counts, ...rest } = CLEAN;
  const requirement = { ...REQUIREMENT, sampling: { countedMlMin: 10 } };
  const samples = [{ ...rest, reportedClasses: [{ standard: "ISO 4406" as const, class: "15/13/10" }] }];
  expect(judgeCircuit(caseOf({ requirement, samples })).reasons.map(({ code }) => code)).toContain(
    "counted-volume-not-stated",
  );
});

// ISO 4406 17/15/12 allows 280 per mL from 6 to 14 µm(c): 28 000 per 100 mL is NAS 1638 7, which allows 32 000.
describe("two stated classes of one report do not lie far apart", () => {
  test.each([
    ["7", "fit"],
    ["8", "fit"],
    ["9", "fit"],
    ["10", "resample"],
    ["12", "resample"],
    [">12", "resample"],
  ])("ISO 4406 17/15/12 and NAS 1638 %s", async (nas, verdict) => {
    const answer = await judge("18/16/13", { "ISO 4406": "17/15/12", "NAS 1638": nas });
    expect({
      verdict: answer.verdict,
      isUnexplained: answer.reasons.includes("stated-class-unexplained"),
    }).toEqual({ verdict, isUnexplained: verdict === "resample" });
  });
});
