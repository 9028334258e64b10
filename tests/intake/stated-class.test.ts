import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, test } from "vitest";
import { readLabFile } from "../../src/intake/index.js";
import { HEADER, judgeCase, row } from "../support/one-cart.js";
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
    // The asterisk says that there were too many to count.
    ["ISO 4406", "*/15/12", COUNTS],
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

describe("a class that cannot be is named as such beside counts too, with the class of the counts", () => {
  test.each([
    ["ISO 4406", "13/16/18", "ISO 4406 17/15/12"],
    ["ISO 4406", "18/16/13/10", "ISO 4406 17/15/12"],
    ["NAS 1638", "15", "NAS 1638 "],
    ["NAS 1638", "7.5", "NAS 1638 "],
    ["AS4059", "7.5", "AS4059 "],
  ])("%s %j", async (title, stated, computed) => {
    const [issue, ...more] = await issuesOf(title, stated, ["1000", "300", "31", "5", "0.7", "0.1"]);
    expect(more).toEqual([]);
    expect(issue?.slice(0, 2)).toEqual(["class-cannot-be", stated]);
    expect(issue?.[2]).toContain(`: the class of the counts, ${computed}`);
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

/**
 * 900, 250 and 30 per mL are ISO 17/15/12. Per 100 mL, by the tables in `published/`: 22 000 in 6-14 is NAS 1638 class 7;
 * 90 000, 25 000 and 3 000 are AS4059 7A/7B/6C; 25 000 above 6 is more than all ranges of navy class 2 together (12 821)
 * and less than those of class 3 (30 261), and four times those of GOST grade 8 (6225), so grade 11 by doubling.
 */
const INSIDE = "900,250,30";
/** 60, 12 and 1.2 per mL: 1080 in 6-14 is NAS 1638 class 3. One particle in 10 mL is 10 in 100 mL: class 6 above 70 µm(c). */
const VERY_CLEAN = "60,12,1.2";
const TARGET = "18/16/13";

describe("a stated class that the counted sizes do not account for holds the circuit", () => {
  const folder = mkdtempSync(join(tmpdir(), "siltbook-stated-class-"));
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  let next = 0;
  const judge = (title: string, stated: string, counts = INSIDE, target = TARGET, on = "2026-11-20") =>
    judgeCase(join(folder, String(++next)), "files", {
      header: `${HEADER},${title}`,
      files: [[row("S-1", "2026-11-10", counts, `,${stated}`)]],
      target,
      on,
    });

  test.each([
    ["NAS 1638", "12", INSIDE],
    ["NAS 1638", "10", INSIDE],
    ["NAS 1638", ">12", INSIDE],
    ["AS4059", "12", INSIDE],
    ["AS4059", "10", INSIDE],
    ["AS4059", "7A/7B/6C/10D", INSIDE],
    ["Navy class", "6", INSIDE],
    ["GOST 17216", "14", INSIDE],
    ["NAS 1638", "7", VERY_CLEAN],
  ])("%s %s beside %s particles per mL", async (title, stated, counts) => {
    expect(await judge(title, stated, counts)).toMatchObject({
      verdict: "resample",
      reasons: expect.arrayContaining(["stated-class-unexplained"]),
      quarantine: [],
    });
  });

  // Coarser sizes may make a class two classes dirtier, and a single coarse particle more than that.
  test.each([
    ["NAS 1638", "7", INSIDE],
    ["NAS 1638", "9", INSIDE],
    ["AS4059", "9", INSIDE],
    ["AS4059", "7A/7B/6C/9D", INSIDE],
    ["AS4059", "7A/7B/6C", INSIDE],
    ["Navy class", "5", INSIDE],
    ["GOST 17216", "13", INSIDE],
    ["NAS 1638", "6", VERY_CLEAN],
    ["ISO 4406", "17/15/12", INSIDE],
  ])("%s %s beside %s particles per mL sends nobody away", async (title, stated, counts) => {
    expect(await judge(title, stated, counts)).toMatchObject({ verdict: "fit", quarantine: [] });
  });

  test.each([
    // 1300 is the last count of 17 and inside; the laboratory, with more figures, says 18.
    ["ISO 4406", "18/15/12", "1300,250,30", "17/15/12", "stated-class-outside"],
    ["AS4059", "8", INSIDE, "AS4059 cumulative 7A-F", "stated-class-outside"],
  ])("%s %s beside %s is dirtier than the target %s", async (title, stated, counts, target, code) => {
    const { verdict, reasons } = await judge(title, stated, counts, target);
    expect({ verdict, held: reasons.includes(code) }).toEqual({ verdict: "resample", held: true });
  });

  test.each([
    ["ISO 4406", "17/15/12", "1300,250,30", "17/15/12"],
    // Class 8 of the whole sample may be that of sizes the target leaves out.
    ["AS4059", "8", INSIDE, "AS4059 cumulative 7A-C"],
  ])("%s %s beside %s is not dirtier than the target %s", async (title, stated, counts, target) => {
    expect(await judge(title, stated, counts, target)).toMatchObject({ verdict: "fit" });
  });

  test.each([
    "NAS 1638 cleanliness class",
    "Reinheitsklasse NAS 1638",
    "Cleanliness class (NAS 1638)",
    "AS4059 Table 1",
    "AS4059 (differential)",
    "Cleanliness class",
    "Contamination class",
  ])("class 12 under the title %j", async (title) => {
    expect(await judge(title, "12")).toMatchObject({ verdict: "resample" });
    expect(await judge(title, "7")).toMatchObject({ verdict: "fit", quarantine: [] });
  });

  test.each([
    "ISO-Code",
    "ISO 4406 code (4/6/14 µm)",
    "Reinheitsklasse ISO 4406",
    "ISO rating",
    "Cleanliness",
    "Particle code",
    "Remarks",
  ])("25/23/20 under the title %j", async (title) => {
    expect(await judge(title, "25/23/20")).toMatchObject({ verdict: "resample" });
    expect(await judge(title, "17/15/12")).toMatchObject({ verdict: "fit", quarantine: [] });
  });

  test.each(["NAS 12", "NAS 1638 class 12", "ISO 4406 25/23/20", "Particle count: AS4059 class 12"])(
    "a remark that is a class and nothing else: %j",
    async (text) => {
      expect(await judge("Remarks", text)).toMatchObject({ verdict: "resample", quarantine: [] });
    },
  );

  // Of what is required, of another sample, or of one size; and a text that says more than a class is only shown.
  test.each([
    ["ISO 4406 limit", "25/23/20"],
    ["Target class NAS 1638", "5"],
    ["Previous ISO 4406", "25/23/20"],
    ["NAS 1638 5-15 µm", "22000"],
    ["ISO 4406 4 µm", "17"],
    ["NAS 1638 status", "ok"],
    ["Remarks", "meets NAS 8"],
    ["Remarks", "sampled 10/11/12"],
    ["Water limit (ppm)", "200"],
  ])("no class of this sample: %s %j", async (title, text) => {
    expect(await judge(title, text)).toMatchObject({ verdict: "fit", quarantine: [] });
  });

  test("dirty fluid is circulated, and the verifying sample counted at every size", async () => {
    const { verdict, reasons } = await judge("NAS 1638", "12", "6000,250,30");
    expect(verdict).toBe("circulate");
    expect(reasons).toContain("sizes-not-counted");
  });

  test("a person who has looked into it settles it", async () => {
    const answer = await judge("NAS 1638,quarantine accepted", "12,class-differs-from-counts");
    expect(answer).toMatchObject({ verdict: "fit" });
  });

  test.each(["4", "12"])("class %s that comes in a later report than the counts", async (stated) => {
    const book = `later-${stated}.siltbook`;
    const verdict = async (text: string) => (await one.judgeBook(book, text)).codes;
    expect(await verdict(wideFile({}))).toEqual([]);
    const later = `sample,cart,circuit,drawn on,NAS 1638\nS-1,C-1,1,2026-03-04,${stated}\n`;
    expect(await verdict(later)).toEqual(["stated-class-unexplained"]);
  });
});
