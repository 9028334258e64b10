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
    ["a standard that no patch is compared by", { patchTest: { standard: "ISO 4406", classMax: 3 } }, false],
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
