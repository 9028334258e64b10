import { parseTarget } from "../../../src/cleanliness/index.js";
import { cumulativeCounts } from "../../../src/counts/index.js";
import type { CircuitCase } from "../../../src/fitness/index.js";
import type { Measured, PatchStandard, Requirement } from "../../../src/samples/index.js";
import { asking, type Case, CLEAN, countedIn, counts, events, sample } from "./bases.js";

const sampling = (required: NonNullable<Requirement["sampling"]>): Partial<Requirement> => ({
  sampling: required,
});
const after = (...list: NonNullable<Requirement["after"]>): Partial<Requirement> => ({ after: list });
const unread = (drawnOn?: string) => ({
  unread: [{ cart: "C-1", circuit: "1", where: "a.csv row 9", ...(drawnOn && { drawnOn }) }],
});
const [full, twice] = [countedIn(10, 1300, 320, 40), countedIn(10, 1250, 300, 36)];
// 40 and 20 particles per mL in 10 mL each: 400 and 200 where 300 are expected; far more than √300.
const scattered = [countedIn(10, 1300, 320, 40), countedIn(10, 1300, 320, 20)];

const targets = (...names: readonly string[]): Partial<Requirement> => ({
  cleanliness: names.map((name) => parseTarget(name)),
});
// 6-14: 50, 14-21: 5, 21-38: 1, 38-70: 0.2 and above 70: 0 per mL.
const NAS_6 = counts(500, 56.2, 6.2, 1.2, 0.2, 0);

/** A requirement that is written in patches, and a patch of some class. */
const patch = (
  stated: Measured | undefined,
  standard: PatchStandard = "NAVAIR 01-1A-17",
): Partial<CircuitCase> => ({
  ...asking({ cleanliness: [], patchTest: { standard: "NAVAIR 01-1A-17", classMax: 3 } }),
  ...sample({ patchTest: { standard, ...(stated && { class: stated }) } }),
});

/** Three samples before the one that is judged, a month apart. */
const EARLIER = ["2025-12-04", "2026-01-04", "2026-02-04"].map((drawnOn) => ({
  ...CLEAN,
  sample: `E-${drawnOn}`,
  drawnOn,
  counts: counts(1200, 300, 40),
}));

/** Can the sample speak for what the circuit holds today? */
export const SAMPLE_CASES: readonly Case[] = [
  ["no sample at all", { samples: [] }, "resample", "no-sample"],
  ["a sample exactly as old as allowed", { on: "2026-04-03" }, "fit", "sample-recent"],
  ["a sample one day younger than allowed", { on: "2026-04-02" }, "fit", "sample-recent"],
  ["a sample one day too old", { on: "2026-04-04" }, "resample", "sample-too-old"],
  ["a sample drawn on the day of judging", { on: "2026-03-04" }, "fit", "sample-recent"],
  ["a sample of tomorrow", { on: "2026-03-03" }, "resample", "sample-after-judging-date"],
  [
    "a fluid change after the sample",
    events({ kind: "fluid-change", on: "2026-03-05" }),
    "resample",
    "drawn-before-event",
  ],
  [
    "a fluid change on the day of the sample",
    events({ kind: "fluid-change", on: "2026-03-04" }),
    "resample",
    "drawn-before-event",
  ],
  [
    "a fluid change the day before the sample",
    events({ kind: "fluid-change", on: "2026-03-03" }),
    "fit",
    "sample-recent",
  ],
  [
    "an element change after the sample",
    events({ kind: "element-change", on: "2026-03-05" }),
    "resample",
    "drawn-before-event",
  ],
  [
    "an element change the day before the sample",
    events({ kind: "element-change", on: "2026-03-03" }),
    "fit",
    "sample-recent",
  ],
  [
    "a hookup to another aircraft after the sample",
    events({ kind: "hookup", on: "2026-03-05" }),
    "fit",
    "sample-recent",
  ],
  [
    "a hookup the day before the sample",
    events({ kind: "hookup", on: "2026-03-03" }),
    "fit",
    "sample-recent",
  ],
  [
    "a top-up of 2 L after the sample",
    events({ kind: "top-up", on: "2026-03-05", addedL: 2 }),
    "fit",
    "sample-recent",
  ],
  ["drying after the sample", events({ kind: "dehydration", on: "2026-03-05" }), "fit", "sample-recent"],
  [
    "a hookup after the sample where the requirement lets it pass",
    { ...asking(after({ event: "hookup", sample: false })), ...events({ kind: "hookup", on: "2026-03-05" }) },
    "fit",
    "sample-recent",
  ],
  [
    "a top-up after the sample where the requirement asks for a sample",
    { ...asking(after({ event: "top-up", sample: true })), ...events({ kind: "top-up", on: "2026-03-05" }) },
    "resample",
    "drawn-before-event",
  ],
  [
    "circulated for exactly as long as required since an element change",
    {
      ...asking(after({ event: "element-change", sample: true, circulatedMinutesMin: 15 })),
      ...events({ kind: "element-change", on: "2026-03-01", circulatedMinutes: 15 }),
    },
    "fit",
    "sample-recent",
  ],
  [
    "circulated one minute too little since an element change",
    {
      ...asking(after({ event: "element-change", sample: true, circulatedMinutesMin: 15 })),
      ...events({ kind: "element-change", on: "2026-03-01", circulatedMinutes: 14 }),
    },
    "circulate",
    "not-circulated-since",
  ],
  [
    "circulation since an element change not entered",
    {
      ...asking(after({ event: "element-change", sample: true, circulatedMinutesMin: 15 })),
      ...events({ kind: "element-change", on: "2026-03-01" }),
    },
    "circulate",
    "not-circulated-since",
  ],
  [
    "only the last of two element changes is questioned",
    {
      ...asking(after({ event: "element-change", sample: true, circulatedMinutesMin: 15 })),
      ...events(
        { kind: "element-change", on: "2026-03-02", circulatedMinutes: 20 },
        { kind: "element-change", on: "2026-02-01" },
      ),
    },
    "fit",
    "sample-recent",
  ],
  ["an unread row of the same day", unread("2026-03-04"), "resample", "result-in-quarantine"],
  ["an unread row whose day is not known", unread(), "resample", "result-in-quarantine"],
  ["an unread row a day older than the sample", unread("2026-03-03"), "fit", "sample-recent"],
  ["sample point not stated and not asked for", {}, "fit", "sample-recent"],
  [
    "sample point required and not stated",
    asking(sampling({ points: ["main-flow-line"] })),
    "resample",
    "sample-point-not-stated",
  ],
  [
    "sample point as required",
    asking(sampling({ points: ["main-flow-line"] }), { samplePoint: "main-flow-line" }),
    "fit",
    "sample-recent",
  ],
  [
    "the reservoir where a main line is required",
    asking(sampling({ points: ["main-flow-line"] }), { samplePoint: "reservoir" }),
    "resample",
    "sample-point-unsuited",
  ],
  ["the reservoir where nothing is required", sample({ samplePoint: "reservoir" }), "fit", "sample-recent"],
  [
    "a drain where nothing is required",
    sample({ samplePoint: "drain" }),
    "resample",
    "sample-point-unsuited",
  ],
  ["a filter bowl", sample({ samplePoint: "filter-bowl" }), "resample", "sample-point-unsuited"],
  ["a dead end", sample({ samplePoint: "dead-end" }), "resample", "sample-point-unsuited"],
  [
    "a drain where the requirement asks for the drain",
    asking(sampling({ points: ["drain"] }), { samplePoint: "drain" }),
    "fit",
    "sample-recent",
  ],
  ["drawn without flow", sample({ flowing: false }), "resample", "drawn-without-flow"],
  ["drawn with flow", asking(sampling({ flowing: true }), { flowing: true }), "fit", "sample-recent"],
  ["flow required and not stated", asking(sampling({ flowing: true })), "resample", "flow-not-stated"],
  [
    "a bottle seen clear",
    asking(sampling({ lookedAt: true }), { appearance: ["clear"] }),
    "fit",
    "sample-recent",
  ],
  ["a bottle nobody looked at", asking(sampling({ lookedAt: true })), "resample", "appearance-not-reported"],
  ["a cloudy bottle", sample({ appearance: ["cloudy"] }), "resample", "cloudy-seen"],
  ["a bottle in which nothing was seen", sample({ appearance: ["nothing-seen"] }), "fit", "sample-recent"],
  [
    "a bottle filled from a drum",
    sample({ samplePoint: "supply-container" }),
    "resample",
    "sample-point-unsuited",
  ],
  [
    "words about the bottle that nobody has read",
    sample({ wordsNotUnderstood: [{ about: "appearance", text: "weird smell" }] }),
    "resample",
    "words-not-understood",
  ],
  [
    "a laboratory that rejects a sample whose results are inside",
    sample({ laboratorySays: [{ column: "Status", text: "FAIL" }] }),
    "do-not-connect",
    "laboratory-rejects",
  ],
  [
    "a laboratory that finds something abnormal",
    sample({ laboratorySays: [{ column: "Remarks", text: "abnormal" }] }),
    "resample",
    "laboratory-doubts",
  ],
  [
    "a laboratory that states a class dirtier than the target",
    sample({ reportedClasses: [{ standard: "ISO 4406", class: "19/17/14" }] }),
    "resample",
    "stated-class-outside",
  ],
  [
    "a laboratory that states a class far dirtier than the sizes that were counted",
    sample({ reportedClasses: [{ standard: "NAS 1638", class: "12" }] }),
    "resample",
    "stated-class-unexplained",
  ],
  [
    "a laboratory that rejects a sample with too many particles",
    sample({ laboratorySays: [{ column: "Status", text: "FAIL" }], counts: counts(1301, 320, 40) }),
    "circulate",
    "laboratory-agrees",
  ],
  ["a bottle that smells", sample({ smell: "unusual" }), "resample", "smell-unusual"],
  ["a stain on the patch", sample({ patchTest: { stained: true } }), "resample", "patch-stained"],
  ["a patch that was not taken", patch(undefined), "resample", "patch-not-measured"],
  ["a patch of another standard", patch({ value: 2 }, "NAS 1638"), "resample", "patch-unsuited"],
  ["a patch that is at most dirtier", patch({ value: 4, limit: "at-most" }), "resample", "patch-not-known"],
  ["a patch beyond its limit", patch({ value: 4 }), "circulate", "patch-outside"],
  ["a patch at its limit", patch({ value: 3 }), "fit", "patch-inside"],
  ["particles seen in the bottle", sample({ appearance: ["particles-seen"] }), "resample", "particles-seen"],
  ["free water in the bottle", sample({ appearance: ["free-water"] }), "exchange-fluid", "free-water-seen"],
  ["two layers in the bottle", sample({ appearance: ["two-layers"] }), "do-not-connect", "two-layers-seen"],
  [
    "cloudy and two layers",
    sample({ appearance: ["cloudy", "two-layers"] }),
    "do-not-connect",
    "two-layers-seen",
  ],
  ["a blank asked for and not counted", asking(sampling({ blank: true })), "resample", "blank-not-counted"],
  // 1 % of 1300 is 13: less than 1 % is allowed.
  [
    "a blank just below 1 %",
    asking(sampling({ blank: true }), { blank: counts(12.9, 1, 0) }),
    "fit",
    "sample-recent",
  ],
  ["a blank of exactly 1 %", sample({ blank: counts(13, 1, 0) }), "resample", "blank-too-high"],
  ["a blank above 1 %", sample({ blank: counts(14, 1, 0) }), "resample", "blank-too-high"],
  [
    "a dirty bottle is not excused by dirtier fluid",
    sample({ counts: counts(20000, 5000, 640), blank: counts(14, 1, 0) }),
    "resample",
    "blank-too-high",
  ],
  // 1300 per mL is the stricter of 1300 and 5000 at 4 µm(c).
  [
    "a blank against two targets, the stricter first",
    asking(targets("17/15/12", "19/17/14"), { blank: counts(14, 1, 0) }),
    "resample",
    "blank-too-high",
  ],
  [
    "a blank against two targets, the stricter last",
    asking(targets("19/17/14", "17/15/12"), { blank: counts(14, 1, 0) }),
    "resample",
    "blank-too-high",
  ],
  [
    "a blank against a target of larger sizes and one of smaller",
    asking(targets("AS4059 cumulative 8B", "17/15/12"), { blank: counts(14, 1, 0) }),
    "resample",
    "blank-too-high",
  ],
  // NAS 1638 class 6 allows 16,000 per 100 mL from 6 to 14 µm(c): 160 per mL, of which 1 % is 1.6.
  [
    "a blank of a range just below 1 % of a limit per 100 mL",
    asking(targets("NAS 1638 6"), { counts: NAS_6, blank: counts(9, 1.6, 0.01, 0, 0, 0) }),
    "fit",
    "sample-recent",
  ],
  [
    "a blank of a range at 1 % of a limit per 100 mL",
    asking(targets("NAS 1638 6"), { counts: NAS_6, blank: counts(9, 1.6, 0, 0, 0, 0) }),
    "resample",
    "blank-too-high",
  ],
  [
    "a blank asked for and not counted at the smallest size",
    asking(sampling({ blank: true }), { blank: cumulativeCounts([{ sizeUm: 14, count: 0 }], 1) }),
    "resample",
    "blank-not-counted",
  ],
  [
    "replicates asked for and one count given",
    asking(sampling({ replicatesMin: 2 })),
    "resample",
    "replicates-missing",
  ],
  [
    "as many replicates as required",
    asking(sampling({ replicatesMin: 2 }), { replicates: [full, twice] }),
    "fit",
    "sample-recent",
  ],
  [
    "one replicate too few",
    asking(sampling({ replicatesMin: 3 }), { replicates: [full, twice] }),
    "resample",
    "replicates-missing",
  ],
  ["replicates that scatter like chance", sample({ replicates: [full, twice] }), "fit", "sample-recent"],
  [
    "replicates that scatter far more than chance",
    sample({ replicates: scattered }),
    "resample",
    "replicates-scatter",
  ],
  // Above 4 µm(c) they scatter by some 20 %, above 14 µm(c) by more.
  [
    "replicates that scatter at two sizes",
    sample({ replicates: [countedIn(10, 1300, 320, 40), countedIn(10, 1000, 320, 20)] }),
    "resample",
    "replicates-scatter",
  ],
  [
    "replicates without a counted volume that agree",
    sample({ replicates: [counts(1300, 320, 40), counts(1300, 320, 40)] }),
    "fit",
    "particles-inside",
  ],
  [
    "replicates without a counted volume that do not agree in the usual one",
    sample({ replicates: [counts(1000, 320, 40), counts(1300, 320, 40)] }),
    "resample",
    "replicates-scatter",
  ],
  [
    "replicates whose mean is outside though the report is inside",
    sample({ replicates: [countedIn(10, 1310, 320, 40), countedIn(10, 1310, 320, 40)] }),
    "circulate",
    "particles-outside",
  ],
  [
    "counted volume required and not stated",
    asking(sampling({ countedMlMin: 20 })),
    "resample",
    "counted-volume-not-stated",
  ],
  [
    "calibration required and not stated",
    asking(sampling({ calibrated: true })),
    "resample",
    "calibration-not-stated",
  ],
  [
    "calibration that ended the day before the sample was drawn",
    asking(sampling({ calibrated: true }), { calibrationDueOn: "2026-03-03" }),
    "resample",
    "calibration-overdue",
  ],
  [
    "calibration that ended on the day of the sample",
    asking(sampling({ calibrated: true }), { calibrationDueOn: "2026-03-04" }),
    "fit",
    "particles-inside",
  ],
  [
    "exactly the counted volume asked for",
    asking(sampling({ countedMlMin: 20 }), { counts: countedIn(20, 1300, 320, 40) }),
    "fit",
    "sample-recent",
  ],
  [
    "a counted volume one mL too small",
    asking(sampling({ countedMlMin: 20 }), { counts: countedIn(19, 1300, 320, 40) }),
    "resample",
    "counted-volume-too-small",
  ],
  [
    "so little counted that fluid at the limit shows two particles above 14 µm(c)",
    sample({ counts: countedIn(0.05, 1200, 300, 20) }),
    "resample",
    "counted-volume-too-small",
  ],
  [
    "a hundredth of what the circuit has shown, with nothing that explains it",
    { samples: [...EARLIER, { ...CLEAN, counts: counts(12, 3, 0.4) }] },
    "resample",
    "counts-unlike-history",
  ],
  [
    "a hundredth of what the circuit has shown, looked into and accepted",
    {
      samples: [...EARLIER, { ...CLEAN, counts: counts(12, 3, 0.4), acceptedChecks: ["factor-of-100"] }],
    },
    "fit",
    "sample-recent",
  ],
  [
    "two replicates that together reach the volume",
    asking(sampling({ countedMlMin: 20 }), { replicates: [full, twice] }),
    "fit",
    "sample-recent",
  ],
  [
    "a dirty sample of fluid that was changed since",
    {
      ...sample({ counts: counts(20000, 5000, 640), waterPpm: { value: 900 } }),
      ...events({ kind: "fluid-change", on: "2026-03-05" }),
    },
    "resample",
    "drawn-before-event",
  ],
  [
    "a wrong label on fluid that was changed since",
    { ...sample({ fluid: "MIL-PRF-5606H" }), ...events({ kind: "fluid-change", on: "2026-03-05" }) },
    "resample",
    "drawn-before-event",
  ],
];
