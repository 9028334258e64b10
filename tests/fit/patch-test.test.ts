import { describe, expect, test } from "vitest";
import { parseTarget } from "../../src/cleanliness/index.js";
import { cumulativeCounts } from "../../src/counts/index.js";
import {
  type CircuitCase,
  judgeCircuit,
  type ReasonCode,
  type VerdictName,
} from "../../src/fitness/index.js";
import { type Requirement, requirementSchema, type Sample, sampleSchema } from "../../src/samples/index.js";
import { CLEAN, caseOf, counts, REQUIREMENT, without } from "../support/fitness/bases.js";

/** Counts per mL above the sizes of the navy ranges. */
const navyCounts = (...perMl: number[]) =>
  cumulativeCounts(
    perMl.map((count, place) => ({ sizeUm: [6, 10, 21, 38, 70][place] as number, count })),
    1,
  );

type Patch = NonNullable<Sample["patchTest"]>;

const NAVY = "NAVAIR 01-1A-17";
const PATCH: Patch = {
  class: { value: 2 },
  standard: NAVY,
  stained: false,
  freeWater: false,
  volumeMl: 100,
  poreUm: 5,
};
/** Limits that are written in patches alone, for fluid that support equipment delivers. */
const IN_PATCHES: Requirement = {
  ...REQUIREMENT,
  cleanliness: [],
  patchTest: { standard: NAVY, classMax: 3 },
};
const BOTTLE: Sample = { ...without(CLEAN, "counts"), patchTest: PATCH };

const bottle = (patch: Partial<Patch>, more: Partial<Sample> = {}): Sample => ({
  ...BOTTLE,
  patchTest: { ...PATCH, ...patch },
  ...more,
});

function judge(change: Partial<CircuitCase>) {
  const { verdict, reasons, assessed, assumptions } = judgeCircuit(
    caseOf({ requirement: IN_PATCHES, ...change }),
  );
  const open = reasons.filter(({ callsFor }) => callsFor !== "fit").map(({ code }) => code);
  return { verdict, codes: open, reasons, assessed, assumed: assumptions.map(({ code }) => code) };
}

describe("a patch is enough for a requirement that is written in it", () => {
  test.each<[string, Patch["class"], VerdictName, ReasonCode[]]>([
    ["cleaner than the limit", { value: 2 }, "fit", []],
    ["at the limit", { value: 3 }, "fit", []],
    ["class 0", { value: 0 }, "fit", []],
    ["beyond the limit", { value: 4 }, "circulate", ["patch-outside"]],
    ["beyond every class", { value: 6, limit: "above" }, "circulate", ["patch-outside"]],
    ["at most the limit", { value: 3, limit: "at-most" }, "fit", []],
    ["at most more than the limit", { value: 4, limit: "at-most" }, "resample", ["patch-not-known"]],
    ["more than a class below it", { value: 2, limit: "above" }, "resample", ["patch-not-known"]],
    ["none", undefined, "resample", ["patch-not-measured"]],
  ])("%s", (_, stated, verdict, codes) => {
    const { class: _class, ...rest } = PATCH;
    const patchTest = stated === undefined ? rest : { ...rest, class: stated };
    expect(judge({ samples: [{ ...BOTTLE, patchTest }] })).toMatchObject({ verdict, codes });
  });

  test("it is said that a class by comparison is one by eye", () => {
    const { assumed, reasons } = judge({ samples: [BOTTLE] });
    expect(assumed).toContain("patch-by-comparison");
    expect(reasons.map(({ code }) => code)).toContain("patch-inside");
  });

  test.each<[string, Partial<NonNullable<Requirement["patchTest"]>>, Partial<Patch>, ReasonCode[]]>([
    ["of another standard", {}, { standard: "NAS 1638" }, ["patch-unsuited"]],
    ["too little filtered", { volumeMlMin: 100 }, { volumeMl: 25 }, ["patch-unsuited"]],
    ["just enough filtered", { volumeMlMin: 100 }, { volumeMl: 100 }, []],
    ["pores too large", { poreUmMax: 5 }, { poreUm: 8 }, ["patch-unsuited"]],
    ["pores just small enough", { poreUmMax: 5 }, { poreUm: 5 }, []],
    ["in NAS 1638", { standard: "NAS 1638", classMax: 7 }, { standard: "NAS 1638", class: { value: 7 } }, []],
  ])("%s", (_, limit, patch, codes) => {
    const requirement = { ...IN_PATCHES, patchTest: { standard: NAVY, classMax: 3, ...limit } as const };
    expect(judge({ requirement, samples: [bottle(patch)] }).codes).toEqual(codes);
  });

  test.each<[string, (keyof Patch)[], Partial<NonNullable<Requirement["patchTest"]>>]>([
    ["the standard", ["standard"], {}],
    ["the volume, where it is asked for", ["volumeMl"], { volumeMlMin: 100 }],
    ["the pores, where they are asked for", ["poreUm"], { poreUmMax: 5 }],
  ])("what is not stated is no pass: %s", (_, missing, limit) => {
    const patchTest = Object.fromEntries(
      Object.entries(PATCH).filter(([name]) => !(missing as string[]).includes(name)),
    ) as Patch;
    const requirement = { ...IN_PATCHES, patchTest: { standard: NAVY, classMax: 3, ...limit } as const };
    expect(judge({ requirement, samples: [{ ...BOTTLE, patchTest }] }).codes).toEqual(["patch-unsuited"]);
  });
});

describe("patch and count do not stand for each other", () => {
  test("a patch never meets a limit for counts", () => {
    for (const target of ["17/15/12", "NAVAIR 01-1A-17 3"]) {
      const requirement = { ...REQUIREMENT, cleanliness: [parseTarget(target)] };
      expect(judge({ requirement, samples: [bottle({ class: { value: 0 } })] }).codes).toEqual([
        "particles-not-measured",
      ]);
    }
  });

  test("a count never meets a limit for a patch", () => {
    expect(judge({ samples: [{ ...CLEAN, counts: counts(10, 2, 0, 0, 0, 0) }] }).codes).toEqual([
      "patch-not-measured",
    ]);
    const reportedClasses = [{ standard: NAVY, class: "0" }] as const;
    expect(
      judge({ samples: [{ ...without(CLEAN, "counts"), reportedClasses: [...reportedClasses] }] }).codes,
    ).toEqual(["patch-not-measured"]);
  });

  test("a count that is beyond the class counts against a clean patch", () => {
    // Class 3 allows 24000 for 100 mL from 5 to 10 µm, which are 6 to 10 µm(c): 40000 are more.
    const dirty = navyCounts(430, 30, 3, 0.5, 0.04);
    expect(judge({ samples: [{ ...BOTTLE, counts: dirty }] })).toMatchObject({
      verdict: "circulate",
      codes: ["particles-outside"],
    });
  });

  test.each<[string, string, ReasonCode[]]>([
    // Class 3 allows 24000, 5360, 780, 110 and 11 for 100 mL from 6 µm(c) on, together 302.61 per mL; 16 is more than 320.
    ["surely beyond the class at 6 µm(c)", "24/22/19", ["particles-outside"]],
    ["just surely beyond it", "20/16/10", ["particles-outside"]],
    ["that may be within it", "20/15/10", []],
    ["of few particles", "≥24/≥22/≥19", []],
    ["that another note makes doubtful", "24/22/19 (target)", []],
  ])("a class of another standard %s", (_, code, codes) => {
    const later: Sample = {
      ...without(CLEAN, "counts", "waterPpm", "acidMgKohPerG"),
      ...{ sample: "S-2", drawnOn: "2026-03-08", reportedClasses: [{ standard: "ISO 4406", class: code }] },
    };
    expect(judge({ samples: [BOTTLE, later] }).codes).toEqual(codes);
  });

  test("where both are limited both are needed", () => {
    const requirement = { ...IN_PATCHES, cleanliness: REQUIREMENT.cleanliness };
    expect(judge({ requirement, samples: [BOTTLE] }).codes).toEqual(["particles-not-measured"]);
    expect(judge({ requirement, samples: [CLEAN] }).codes).toEqual(["patch-not-measured"]);
    expect(judge({ requirement, samples: [{ ...CLEAN, patchTest: PATCH }] }).codes).toEqual([]);
  });

  test("a patch dirtier than a target of its own standard is not hidden by counts inside", () => {
    const requirement = { ...REQUIREMENT, cleanliness: [parseTarget("NAVAIR 01-1A-17 3")] };
    // For 100 mL in the ranges of the standard 9000, 1700, 250, 46 and 4: class 2.
    const clean = { ...CLEAN, counts: navyCounts(110, 20, 3, 0.5, 0.04) };
    expect(judge({ requirement, samples: [{ ...clean, patchTest: PATCH }] }).codes).toEqual([]);
    expect(
      judge({ requirement, samples: [{ ...clean, patchTest: { ...PATCH, class: { value: 5 } } }] }).codes,
    ).toEqual(["stated-class-outside"]);
    // Also from a later bottle that was not counted.
    const later = bottle({ class: { value: 5 } }, { sample: "S-2", drawnOn: "2026-03-08" });
    expect(judge({ requirement, samples: [clean, later] }).codes).toEqual(["stated-class-outside"]);
  });
});

describe("what a patch shows counts whatever is limited", () => {
  test.each<[string, Partial<Patch>, VerdictName, ReasonCode[]]>([
    ["free water on the patch", { freeWater: true }, "exchange-fluid", ["free-water-seen"]],
    ["a stain", { stained: true }, "resample", ["patch-stained"]],
    ["a colour", { colour: "light grey" }, "fit", []],
  ])("%s", (_, patch, verdict, codes) => {
    for (const requirement of [IN_PATCHES, REQUIREMENT]) {
      const samples = [{ ...CLEAN, patchTest: { ...PATCH, ...patch } }];
      expect(judge({ requirement, samples })).toMatchObject({ verdict, codes });
    }
  });

  test("a stain is answered by a second patch without one, and not by a bottle without a patch", () => {
    const stained = bottle({ stained: true });
    const second = bottle({}, { sample: "S-2", drawnOn: "2026-03-06" });
    expect(judge({ samples: [stained, second] }).codes).toEqual([]);
    const water = { ...without(CLEAN, "counts"), sample: "S-3", drawnOn: "2026-03-07" };
    expect(judge({ samples: [stained, water] }).codes).toEqual(["patch-stained"]);
  });

  test("free water on a patch is answered by water that was measured later", () => {
    const wet = bottle({ freeWater: true });
    expect(judge({ samples: [wet, { ...BOTTLE, sample: "S-2", drawnOn: "2026-03-06" }] }).codes).toEqual([]);
    const patchAlone = {
      ...without(BOTTLE, "waterPpm", "acidMgKohPerG"),
      sample: "S-2",
      drawnOn: "2026-03-06",
    };
    expect(judge({ samples: [wet, patchAlone] }).codes).toEqual(["free-water-seen"]);
  });
});

describe("a patch ages and is taken back as particles are", () => {
  test.each<[CircuitCase["circuit"]["events"][number]["kind"], ReasonCode[]]>([
    ["element-change", ["drawn-before-event"]],
    ["opening", ["drawn-before-event"]],
    ["hookup", []],
    ["dehydration", []],
    ["fluid-change", ["no-evidence", "drawn-before-event"]],
  ])("%s", (kind, codes) => {
    const circuit = { ...caseOf({}).circuit, events: [{ on: "2026-03-10", kind }] };
    expect(judge({ circuit, samples: [BOTTLE] }).codes.sort()).toEqual([...codes].sort());
  });

  test("it may have an age of its own", () => {
    const on = "2026-03-20";
    const requirement = { ...IN_PATCHES, resultAgeDaysMax: { patch: 14 } };
    expect(judge({ requirement, on, samples: [BOTTLE] }).codes).toEqual(["sample-too-old"]);
    expect(judge({ requirement, on: "2026-03-18", samples: [BOTTLE] }).codes).toEqual([]);
  });

  test("patch and water may come from two bottles", () => {
    const patch = without(BOTTLE, "waterPpm", "acidMgKohPerG");
    const water = { ...without(CLEAN, "counts"), sample: "S-2", drawnOn: "2026-03-06" };
    expect(judge({ samples: [patch, water] })).toMatchObject({ verdict: "fit", codes: [] });
    const worse = bottle({ class: { value: 5 } }, { sample: "S-3", drawnOn: "2026-03-08" });
    expect(judge({ samples: [patch, water, worse] }).codes).toEqual(["patch-outside"]);
  });
});

describe("what a bottle sounds and smells like", () => {
  test.each<[string, Partial<Sample>, VerdictName, ReasonCode[]]>([
    ["no crackle", { crackle: "none" }, "fit", []],
    [
      "it crackles, whatever water was measured",
      { crackle: "crackles" },
      "exchange-fluid",
      ["free-water-seen"],
    ],
    ["a normal smell", { smell: "normal" }, "fit", []],
    ["an unusual smell", { smell: "unusual" }, "resample", ["smell-unusual"]],
    ["fibres", { appearance: ["clear", "fibres-seen"] }, "resample", ["particles-seen"]],
    [
      "words about a smell",
      { wordsNotUnderstood: [{ about: "smell", text: "like almonds" }] },
      "resample",
      ["words-not-understood"],
    ],
    [
      "words about a crackle test",
      { wordsNotUnderstood: [{ about: "crackle test", text: "see note" }] },
      "resample",
      ["words-not-understood"],
    ],
    [
      "words about a patch",
      { wordsNotUnderstood: [{ about: "patch test", text: "class 9" }] },
      "resample",
      ["words-not-understood"],
    ],
  ])("%s", (_, change, verdict, codes) => {
    expect(judge({ requirement: REQUIREMENT, samples: [{ ...CLEAN, ...change }] })).toMatchObject({
      verdict,
      codes,
    });
  });

  test("a crackle test without a crackle is no number for water", () => {
    const samples = [{ ...without(CLEAN, "waterPpm"), crackle: "none" as const }];
    expect(judge({ requirement: REQUIREMENT, samples }).codes).toEqual(["water-not-measured"]);
  });

  test.each<[string, Partial<Sample>, Partial<Sample>, ReasonCode[]]>([
    ["a crackle, by water measured later", { crackle: "crackles" }, {}, []],
    ["a smell, by a later bottle that smells normal", { smell: "unusual" }, { smell: "normal" }, []],
    ["a smell, not by a later bottle nobody smelt", { smell: "unusual" }, {}, ["smell-unusual"]],
  ])("%s", (_, first, later, codes) => {
    // The later bottle was not counted, so the first is still needed.
    const second = { ...without(CLEAN, "counts"), sample: "S-2", drawnOn: "2026-03-06", ...later };
    expect(judge({ requirement: REQUIREMENT, samples: [{ ...CLEAN, ...first }, second] }).codes).toEqual(
      codes,
    );
  });
});

describe("the fields are checked as a requirement and a sample are read", () => {
  const document = {
    system: "main system",
    fluids: ["MIL-PRF-83282"],
    waterPpmMax: 200,
    acidMgKohPerGMax: 0.2,
    sampleAgeDaysMax: 30,
  };
  test.each<[string, object, boolean]>([
    ["a patch alone", { patchTest: { standard: NAVY, classMax: 3 } }, true],
    ["neither patch nor target", {}, false],
    ["no target in the list", { cleanliness: [] }, false],
    ["the last class, which limits nothing", { patchTest: { standard: NAVY, classMax: 6 } }, false],
    ["half a class", { patchTest: { standard: NAVY, classMax: 2.5 } }, false],
    [
      "a standard that no patch is compared by",
      { patchTest: { standard: "GOST 17216", classMax: 3 } },
      false,
    ],
  ])("%s", (_, change, isRead) => {
    expect(requirementSchema.safeParse({ ...document, ...change }).success).toBe(isRead);
  });

  test.each<[string, object, boolean]>([
    ["all of it", PATCH, true],
    ["an empty patch", {}, false],
    ["a field that is not known", { ...PATCH, kind: "brown" }, false],
    ["no volume at all", { ...PATCH, volumeMl: 0 }, false],
  ])("%s", (_, patchTest, isRead) => {
    expect(sampleSchema.safeParse({ ...CLEAN, counts: undefined, patchTest }).success).toBe(isRead);
  });
});

describe("a limit for patches is read as people write it", () => {
  const document = {
    system: "main system",
    fluids: ["MIL-PRF-83282"],
    waterPpmMax: 200,
    acidMgKohPerGMax: 0.2,
    sampleAgeDaysMax: 30,
  };
  test.each<[string, object, object | undefined]>([
    ["a number", { standard: NAVY, classMax: 3 }, { standard: NAVY, classMax: 3 }],
    ["a number as text", { standard: NAVY, classMax: "3" }, { standard: NAVY, classMax: 3 }],
    ["with the word", { standard: "NAS 1638", classMax: "class 7" }, { standard: "NAS 1638", classMax: 7 }],
    [
      "with its standard",
      { standard: "NAS 1638", classMax: "NAS 1638 class 7" },
      { standard: "NAS 1638", classMax: 7 },
    ],
    ["its standard alone", { classMax: "NAS 7" }, { standard: "NAS 1638", classMax: 7 }],
    [
      "navy",
      { classMax: "Navy class 3", volumeMlMin: 100 },
      { standard: NAVY, classMax: 3, volumeMlMin: 100 },
    ],
    ["a code", { classMax: "18/16/13" }, { standard: "ISO 4406", classMax: "18/16/13" }],
    [
      "a code with its standard",
      { standard: "ISO 4406", classMax: "ISO 4406 18/16/13" },
      { standard: "ISO 4406", classMax: "18/16/13" },
    ],
    [
      "a code for the larger sizes",
      { standard: "ISO 4406", classMax: "-/16/13" },
      { standard: "ISO 4406", classMax: "-/16/13" },
    ],
    ["a standard written short", { standard: "NAS", classMax: 7 }, { standard: "NAS 1638", classMax: 7 }],
    ["navy for short", { standard: "navy", classMax: 3 }, { standard: NAVY, classMax: 3 }],
    [
      "a standard in small letters",
      { standard: "iso 4406", classMax: "18/16/13" },
      { standard: "ISO 4406", classMax: "18/16/13" },
    ],
    ["a standard in one word", { standard: "NAS1638", classMax: "7" }, { standard: "NAS 1638", classMax: 7 }],
    ["a standard of no patches", { standard: "AS4059 differential", classMax: 7 }, undefined],
    ["no standard at all", { standard: " ", classMax: 7 }, undefined],
    ["a number alone", { classMax: 7 }, undefined],
    ["a text without a standard", { classMax: "7" }, undefined],
    ["another standard in the text", { standard: NAVY, classMax: "NAS 7" }, undefined],
    ["a code where classes are limited", { standard: "NAS 1638", classMax: "18/16/13" }, undefined],
    ["a class where codes are limited", { standard: "ISO 4406", classMax: 3 }, undefined],
    ["a code of two numbers", { standard: "ISO 4406", classMax: "16/13" }, undefined],
    ["the last class", { standard: "NAS 1638", classMax: "12" }, undefined],
    ["a class that is not compared with", { standard: "NAS 1638", classMax: "00" }, undefined],
    ["half a class", { standard: "NAS 1638", classMax: "6.5" }, undefined],
    ["less than a class", { standard: "NAS 1638", classMax: "-1" }, undefined],
    ["words", { standard: "NAS 1638", classMax: "as new" }, undefined],
    ["nothing", { standard: "NAS 1638", classMax: "" }, undefined],
    ["another table", { classMax: "AS4059 differential 7" }, undefined],
  ])("%s", (_, patchTest, read) => {
    const found = requirementSchema.safeParse({ ...document, patchTest });
    expect(found.data?.patchTest).toEqual(read);
  });

  test("what is wrong with it is said with what was expected", () => {
    const found = requirementSchema.safeParse({
      ...document,
      patchTest: { standard: NAVY, classMax: "NAS 7" },
    });
    expect(found.error?.issues[0]).toMatchObject({
      path: ["patchTest", "classMax"],
      message: 'expected a class by NAVAIR 01-1A-17, found "NAS 7"',
    });
  });
});

describe("a patch is compared with codes of ISO 4406 as well", () => {
  const limited = (classMax: string): Requirement => ({
    ...IN_PATCHES,
    patchTest: { standard: "ISO 4406", classMax },
  });
  const { class: _class, standard: _standard, ...OTHER } = PATCH;

  test.each<[string, string, string, VerdictName, ReasonCode[]]>([
    ["cleaner at every size", "18/16/13", "17/15/12", "fit", []],
    ["at the limit", "18/16/13", "18/16/13", "fit", []],
    ["dirtier at the largest size alone", "18/16/13", "17/15/14", "circulate", ["patch-outside"]],
    ["dirtier at the smallest", "18/16/13", "19/16/13", "circulate", ["patch-outside"]],
    ["with its standard", "18/16/13", "ISO 4406 18/16/13", "fit", []],
    ["two numbers for a limit of two", "-/16/13", "16/13", "fit", []],
    ["two numbers, one beyond", "-/16/13", "17/13", "circulate", ["patch-outside"]],
    ["two numbers for a limit of three", "18/16/13", "16/13", "resample", ["patch-not-known"]],
    ["outside at one size, another not shown", "18/16/13", "-/17/13", "circulate", ["patch-outside"]],
    ["beyond the scale", "18/16/13", ">28/16/13", "circulate", ["patch-outside"]],
    ["at least", "18/16/13", "18/16/≥7", "resample", ["patch-not-known"]],
    ["at least more than the limit", "18/16/13", "18/16/≥14", "circulate", ["patch-outside"]],
  ])("%s", (_, classMax, code, verdict, codes) => {
    const samples = [{ ...BOTTLE, patchTest: { ...OTHER, code } }];
    expect(judge({ requirement: limited(classMax), samples })).toMatchObject({ verdict, codes });
  });

  test("the place that decides is shown with its size", () => {
    const samples = [{ ...BOTTLE, patchTest: { ...OTHER, code: "17/17/12" } }];
    expect(judge({ requirement: limited("18/16/13"), samples }).assessed[0]).toMatchObject({
      ...{ quantity: "class of the patch", unit: "by ISO 4406 at 6 µm(c)", outcome: "outside" },
      ...{ limits: { max: 16 }, measured: { value: 17 }, distance: -1 },
    });
  });

  test.each<[string, Requirement, Patch]>([
    ["a code for a limit in classes", IN_PATCHES, { ...OTHER, code: "14/12/9" }],
    ["a class for a limit in codes", limited("18/16/13"), PATCH],
  ])("one is never converted into the other: %s", (_, requirement, patchTest) => {
    expect(judge({ requirement, samples: [{ ...BOTTLE, patchTest }] }).codes).toEqual(["patch-unsuited"]);
  });

  test("of a patch with both, each meets a limit of its own standard", () => {
    const patchTest: Patch = { ...PATCH, code: "19/16/13" };
    expect(judge({ samples: [{ ...BOTTLE, patchTest }] }).codes).toEqual([]);
    expect(judge({ requirement: limited("18/16/13"), samples: [{ ...BOTTLE, patchTest }] }).codes).toEqual([
      "patch-outside",
    ]);
  });

  test("it never meets a limit for counts, and one dirtier than such a limit is looked into", () => {
    const codesWith = (code: string, sample: Sample) =>
      judge({ requirement: REQUIREMENT, samples: [{ ...sample, patchTest: { ...OTHER, code } }] }).codes;
    expect(codesWith("14/12/9", without(CLEAN, "counts"))).toEqual(["particles-not-measured"]);
    expect(codesWith("17/15/12", CLEAN)).toEqual([]);
    expect(codesWith("19/15/12", CLEAN)).toEqual(["stated-class-outside"]);
  });
});
