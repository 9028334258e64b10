import { describe, expect, test } from "vitest";
import { runCli } from "../../src/cli/index.js";
import { inOneLine } from "../support/run-cli.js";

async function run(...args: string[]) {
  let out = "";
  let err = "";
  const code = await runCli(["classify", ...args, "--explain"], {
    out: (text) => {
      out += text;
    },
    err: (text) => {
      err += text;
    },
  });
  return { code, out, err };
}

async function json(...args: string[]) {
  const { code, out, err } = await run(...args, "--json");
  expect(err).toBe("");
  return { code, document: JSON.parse(out) };
}

const SAMPLE = ["--counts", "4=15000 6=1200 14=75"];

describe("siltbook classify --json", () => {
  test("gives ISO 4406 21/17/13 and the AS4059 classes of the sample in its first form", async () => {
    const { code, document } = await json(...SAMPLE);
    expect(code).toBe(0);
    expect(document.iso4406).toMatchObject({ code: "21/17/13", bySize: { 4: "21", 6: "17", 14: "13" } });
    expect(document.as4059.cumulative).toMatchObject({
      class: "11",
      bySize: { A: "11", B: "9", C: "8" },
      governing: "A",
      missing: ["D", "E", "F"],
    });
    expect(document.as4059.differential).toMatchObject({
      class: "9",
      byRange: { "6-14": "9" },
      governing: "6-14",
    });
    expect(document.nas1638).toMatchObject({ class: "9", byRange: { "6-14": "9" }, governing: "6-14" });
    expect(document.assumptions.map((entry: { code: string }) => entry.code)).toContain("counts-per-ml");
  });

  test("shows each channel with its basis, limits and margin, and how well each table is confirmed", async () => {
    const { document } = await json(...SAMPLE);
    expect(document.as4059.cumulative.channels[0]).toMatchObject({
      basis: "measured",
      limit: 1_600_000,
      margin: 1000,
    });
    expect(document.nas1638.channels[0].basis).toBe("converted");
    expect(document.as4059.cumulative.table).toContain("unrounded");
    expect(document.as4059.cumulative.standing).toBe("one-document");
    expect(document.navy).toBeNull();
    expect(document.unserved.map((entry: { standard: string }) => entry.standard)).toContain(
      "NAVAIR 01-1A-17",
    );
    const recalled = document.newFluid.find((entry: { standing: string }) => entry.standing === "memory");
    expect(recalled.specification).toBe("MIL-PRF-83282 and MIL-PRF-87257");
  });

  test("reads counts by range as they stand: class 6 by 6-14, and navy class 3 by 25-50 µm", async () => {
    const { document } = await json(
      "--form",
      "differential",
      "--per",
      "100mL",
      "--counts",
      "6-14=13400 14-21=1000 21-38=400 38-70=50 >70=5",
    );
    expect(document.as4059.differential).toMatchObject({
      class: "6",
      byRange: { "6-14": "6", "14-21": "5", "21-38": "6", "38-70": "6", ">70": "5" },
      governing: "6-14",
      missing: [],
    });
    expect(document.as4059.cumulative.bySize).toEqual({ B: "6", C: "5", D: "6", E: "6", F: "5" });
    expect(document.navy).toMatchObject({ class: "3", governing: "25-50" });
    expect(document.iso4406).toBeNull();
  });

  test("takes the older scale in its own columns and gives the two-number code", async () => {
    const { document } = await json("--scale", "um-older", "--per", "100mL", "--counts", "5=19462 15=3462");
    expect(document.iso4406.code).toBe("-/15/12");
    expect(document.iso4406.channels.map((entry: { channel: string }) => entry.channel)).toEqual(["6", "14"]);
    expect(document.as4059.cumulative).toMatchObject({ class: "6", bySize: { B: "6", C: "6" } });
    expect(document.assumptions.map((entry: { code: string }) => entry.code)).toContain(
      "table-column-of-older-sizes",
    );
  });

  test("chooses the rounded table when asked, and names it", async () => {
    const counts = ["--per", "100mL", "--counts", "6=19500"];
    expect((await json(...counts)).document.as4059.cumulative.class).toBe("7");
    const { document } = await json(...counts, "--as4059-limits", "rounded");
    expect(document.as4059.cumulative.class).toBe("6");
    expect(document.as4059.cumulative.table).toContain("rounded limits as printed before revision E");
  });

  test("says how sure each class is once the counted volume is known, and null before", async () => {
    expect((await json(...SAMPLE)).document.certainty).toBeNull();
    const { document } = await json(...SAMPLE, "--raw-volume", "25 mL", "--lab-rsd", "15 %");
    const at14 = document.certainty.iso4406.channels[2];
    expect(at14).toMatchObject({ channel: "14", kind: "known", raw: 1875 });
    const sum = at14.classes.reduce(
      (total: number, part: { probability: number }) => total + part.probability,
      0,
    );
    expect(sum).toBeCloseTo(1, 5);
    const { atLeast, atMost, ifLaboratoryErrsAlike } = document.certainty.iso4406.code;
    expect(atLeast).toBeLessThan(ifLaboratoryErrsAlike.atLeast);
    expect(ifLaboratoryErrsAlike.atMost).toBeLessThanOrEqual(atMost);
    expect(document.certainty.reproducibility).toEqual({ kind: "relative", rsd: 0.15 });
  });

  test("writes ≥ where fewer than 20 particles were counted, dilution included", async () => {
    const counts = ["--counts", "4=150 6=40 14=3", "--raw-volume", "25 mL"];
    expect((await json(...counts)).document.iso4406.code).toBe("14/12/9");
    expect((await json(...counts, "--dilution", "4")).document.iso4406.code).toBe("14/12/≥9");
  });

  test("holds the sample against a target, with exit code 1 when it is not met or cannot be judged", async () => {
    const met = await json(
      ...SAMPLE,
      "--target",
      "21/17/13",
      "--raw-volume",
      "25 mL",
      "--lab-rsd",
      "0.5 codes",
    );
    expect(met.code).toBe(0);
    expect(met.document.target).toMatchObject({ target: "ISO 4406 21/17/13", outcome: "inside" });
    expect(met.document.target.channels[1]).toMatchObject({
      channel: "6",
      outcome: "inside",
      count: 1200,
      limit: 1300,
    });
    expect(met.document.target.probability.atMost).toBeLessThan(0.9);
    const missed = await json(...SAMPLE, "--target", "AS4059 cumulative 10A");
    expect([missed.code, missed.document.target.outcome]).toEqual([1, "outside"]);
    expect(missed.document.target.probability).toBeNull();
    const unknown = await json(...SAMPLE, "--target", "AS4059 cumulative 12D");
    expect([unknown.code, unknown.document.target.outcome]).toEqual([1, "not-known"]);
  });

  test("subtracts a blank, and makes no class at all when it is too high", async () => {
    const { code, document } = await json("--counts", "4=10000 6=1290 14=75", "--blank", "4=20 6=10 14=0");
    expect(code).toBe(0);
    expect(document.blank).toMatchObject({ usable: true });
    expect(document.as4059.cumulative.channels[0].count).toBe(9980);
    expect(document.iso4406.code).toBe("20/17/13");
    const high = await json(...SAMPLE, "--blank", "4=150 6=2 14=0", "--target", "21/17/13");
    expect(high.code).toBe(1);
    expect(high.document).toMatchObject({
      iso4406: null,
      as4059: { cumulative: null, differential: null },
      nas1638: null,
      target: null,
      blank: {
        usable: false,
        why: "the bottle brings in 1 % of the particles above 4 µm; less than 1 % is allowed",
      },
    });
  });

  test("subtracts a blank that is given by range", async () => {
    const { document } = await json(
      "--form",
      "differential",
      "--per",
      "100mL",
      "--counts",
      "6-14=13400 >14=1600",
      "--blank",
      "6-14=50 >14=10",
    );
    expect(document.as4059.differential.channels[0].count).toBe(13_350);
  });

  test("estimates sizes between counted ones only when asked, and marks them", async () => {
    const counts = ["--counts", "4=15000 6=1200 21=10"];
    expect((await json(...counts)).document.iso4406).toBeNull();
    const { document } = await json(...counts, "--estimate");
    expect(document.iso4406.channels[2]).toMatchObject({ channel: "14", basis: "estimated" });
    expect(document.assumptions.map((entry: { code: string }) => entry.code)).toContain("count-estimated");
  });
});

describe("siltbook classify in words", () => {
  test("counts and limits keep their digits, so that they can be found again and subtracted by hand", async () => {
    const { out } = await run("--counts", "6=14855 14=1455 21=455 38=55 70=5", "--per", "100mL");
    // AS4059E table 2, class 6 size B: 19 462; 19 462 - 14 855 = 4607.
    expect(inOneLine(out)).toContain(
      "14855 per 100 mL. Class 6 runs from above 9731 up to 19462, so 4607 are left.",
    );
  });

  test("a count just over its limit is not printed as the limit", async () => {
    const { out } = await run("--counts", "4=1300 6=320.01 14=1", "--target", "17/15/12");
    expect(out).toMatch(/│ 6 +│ outside +│ 320\.01 │ 320 +│/);
  });

  test("explains the governing channel in a sentence", async () => {
    const { out } = await run(...SAMPLE);
    expect(inOneLine(out)).toContain(
      "AS4059 cumulative is class 11 because of size A, particles above 4 µm(c): 15000 per mL. " +
        "Class 11 runs from above 8000 up to 16000, so 1000 are left.",
    );
    expect(inOneLine(out)).toContain(
      "No NAVAIR 01-1A-17 class: it needs counts at two adjacent sizes of 6, 10, 21, 38, 70 µm(c), or at the last.",
    );
    expect(out).toContain("Siltbook advises; it never releases.");
  });

  test("explains a sample beyond the last class, and names the channels that are there with it", async () => {
    const { out } = await run("--per", "100mL", "--counts", "6=2600000 14=500000");
    expect(inOneLine(out)).toContain(
      "AS4059 cumulative is beyond class 12 because of size C, particles above 14 µm(c): 500000 per 100 mL, " +
        "2.3 times the 221584 that the last class allows. B is in it too.",
    );
  });

  test("explains a range on the older scale by the older sizes", async () => {
    const { out } = await run("--scale", "um-older", "--per", "100mL", "--counts", "5=9000 15=1000");
    expect(inOneLine(out)).toContain(
      "NAS 1638 is class 5 because of the range 5 µm to 15 µm: 8000 per 100 mL. Class 5 runs ",
    );
  });

  test("says the target, its probability and the doubt of the code", async () => {
    const { out } = await run(
      ...SAMPLE,
      "--raw-volume",
      "25 mL",
      "--lab-rsd",
      "15 %",
      "--target",
      "21/17/13",
    );
    expect(inOneLine(out)).toMatch(
      /The target ISO 4406 21\/17\/13 is met\. Probability that the fluid meets it: \d/,
    );
    expect(inOneLine(out)).toContain("if the laboratory errs alike in all channels");
    expect(inOneLine(out)).toContain("MIL-PRF-83282 and MIL-PRF-87257: all of these limits are from memory");
  });

  test("says that a sample is unusable and nothing else", async () => {
    const { code, out } = await run(...SAMPLE, "--blank", "4=300 6=2 14=0");
    expect(code).toBe(1);
    expect(inOneLine(out)).toBe(
      "The sample is unusable: the bottle brings in 2 % of the particles above 4 µm; less than 1 % is allowed. " +
        "No class is made from it.",
    );
  });
});

test("three figures before a power of ten, behind a zero or of four are no thousands", async () => {
  const [powers, plain] = await Promise.all(
    ["4=1.200e4 6=1.1e3 14=0.125", "4=12000 6=1100 14=0.1250"].map((counts) => json("--counts", counts)),
  );
  expect(powers).toEqual(plain);
});

describe("siltbook classify refuses, with one line on stderr and exit code 2", () => {
  test.each([
    [
      ["--counts", "4=10 6=11"],
      "cumulative counts cannot rise with size: 11 at 6 µm is more than 10 at 4 µm",
    ],
    [["--counts", "4=10 4=9"], "the size 4 µm is given twice"],
    [["--counts", "4=NaN"], '--counts: expected SIZE=NUMBER such as "4=15000", found "4=NaN"'],
    [["--counts", "4=-1"], '--counts: expected SIZE=NUMBER such as "4=15000", found "4=-1"'],
    [["--counts", "6-14=1"], '--counts: expected SIZE=NUMBER such as "4=15000", found "6-14=1"'],
    [
      ["--counts", "4=20.000 6=5.000 14=1.200"],
      '--counts: "4=20.000" may be 20 or 20000; write a whole number, or other than three figures after the point',
    ],
    [["--form", "differential", "--counts", "6-14=1.200"], '"6-14=1.200" may be 1.2 or 1200'],
    [["--counts", "4=2000", "--blank", "4=1.000"], '--blank: "4=1.000" may be 1 or 1000'],
    [
      ["--counts", "4=10", "--form", "differential"],
      '--counts: expected RANGE=NUMBER such as "6-14=13400" or ">70=5", found "4=10"',
    ],
    [
      ["--form", "differential", "--counts", "6-14=1 10-21=2"],
      "size ranges cannot overlap: 6-14 µm and 10-21 µm",
    ],
    [
      ["--counts", "4=10", "--form", "interval"],
      '--form: expected cumulative or differential, found "interval"',
    ],
    [
      ["--counts", "4=10", "--scale", "um"],
      '--scale: expected um-c or um-older or um-microscope, found "um"',
    ],
    [["--counts", "4=10", "--per", "2mL"], '--per: expected 1mL or 100mL, found "2mL"'],
    [["--counts", "4=10", "--raw-volume", "25"], "--raw-volume: expected a number with one of the units"],
    [
      ["--counts", "4=10", "--raw-volume", "0 mL"],
      "the counted volume must be more than 0 mL and at most 1000000 mL, not 0",
    ],
    [["--counts", "4=10", "--dilution", "4"], "--dilution: needs --raw-volume"],
    [["--counts", "4=10", "--raw-volume", "5 mL", "--dilution", "x"], '1 or more, found "x"'],
    [["--counts", "4=10", "--lab-rsd", "15"], '--lab-rsd: "15" could be a fraction or per cent'],
    [["--counts", "4=10", "--lab-rsd", "some"], '--lab-rsd: expected such as "15 %", "0.15" or "0.5 codes"'],
    [["--counts", "4=10", "--target", "17/15/29"], '"29" in "17/15/29" is not a scale number'],
    [["--counts", "4=10 6=5", "--blank", "4=0.01"], "counts stand at different sizes: 4, 6 µm and 4 µm"],
    [["--form", "differential", "--counts", ">70=5", "--estimate"], "--estimate: works on cumulative counts"],
  ])("%j", async (args, message) => {
    const { code, out, err } = await run(...args, "--json");
    expect(code).toBe(2);
    expect(out).toBe("");
    expect(err).toContain(message);
    expect(err.trim().split("\n")).toHaveLength(1);
  });
});
