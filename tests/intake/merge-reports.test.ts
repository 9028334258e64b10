import { describe, expect, test } from "vitest";
import { cumulativeCounts } from "../../src/counts/index.js";
import { mergeReports } from "../../src/intake/reports/merge-reports.js";
import type { Sample } from "../../src/samples/index.js";

const NAMES = { sample: "S-1", cart: "C-1", circuit: "1", drawnOn: "2026-03-04" };
const EARLIER = [{ file: "first.csv", rows: [2] }];
const LATER = [{ file: "second.csv", rows: [3] }];

/** What a sample says after a further report, without its names and its origin; or why the two do not go together. */
function merged(earlier: Partial<Sample>, later: Partial<Sample>) {
  const merge = mergeReports(
    { ...NAMES, ...earlier, origin: EARLIER },
    { ...NAMES, ...later, origin: LATER },
  );
  if (merge.kind === "refused") return merge.expected;
  const { sample, cart, circuit, drawnOn, origin, ...says } = merge.sample;
  expect([{ sample, cart, circuit, drawnOn }, origin]).toEqual([NAMES, LATER]);
  return says;
}

type Sizes = readonly (readonly [number, number])[];
const set = (volumeMl: number, sizes: Sizes, counting?: { countedMl: number }) =>
  cumulativeCounts(
    sizes.map(([sizeUm, count]) => ({ sizeUm, count })),
    volumeMl,
    "um(c)",
    counting,
  );

describe("counts of a further report", () => {
  const three = set(1, [
    [4, 900],
    [6, 300],
    [14, 30],
  ]);
  test.each([
    [
      "another size is added",
      set(1, [[4, 900]]),
      set(1, [[6, 300]]),
      set(1, [
        [4, 900],
        [6, 300],
      ]),
    ],
    [
      "one size is corrected, and the others stay",
      three,
      set(1, [[6, 310]]),
      set(1, [
        [4, 900],
        [6, 310],
        [14, 30],
      ]),
    ],
    // 90 000 in 100 mL are 900 per mL.
    ["some of the same counts in another volume change nothing", three, set(100, [[4, 90_000]]), three],
    [
      "all of the same counts in another volume change nothing",
      set(1, [[4, 900]]),
      set(100, [[4, 90_000]]),
      set(1, [[4, 900]]),
    ],
    [
      "all sizes again take the place of the earlier",
      three,
      set(100, [
        [4, 80_000],
        [6, 300],
        [14, 3],
      ]),
      set(100, [
        [4, 80_000],
        [6, 300],
        [14, 3],
      ]),
    ],
    [
      "all sizes and one more take the place, with their volume",
      set(1, [[4, 900]]),
      set(100, [
        [4, 90_000],
        [6, 3],
      ]),
      set(100, [
        [4, 90_000],
        [6, 3],
      ]),
    ],
    [
      "what was counted is added to the same counts",
      three,
      set(
        1,
        [
          [4, 900],
          [6, 300],
          [14, 30],
        ],
        { countedMl: 10 },
      ),
      set(
        1,
        [
          [4, 900],
          [6, 300],
          [14, 30],
        ],
        { countedMl: 10 },
      ),
    ],
  ])("%s", (_, earlier, later, expected) => {
    expect(merged({ counts: earlier }, { counts: later })).toEqual({ counts: expected });
  });

  test("sizes of two reports keep the volume that both counted, and none where they differ", () => {
    const joined = (one: number, other: number) =>
      merged(
        { counts: set(1, [[4, 900]], { countedMl: one }) },
        { counts: set(1, [[6, 300]], { countedMl: other }) },
      );
    expect(joined(10, 10)).toEqual({
      counts: set(
        1,
        [
          [4, 900],
          [6, 300],
        ],
        { countedMl: 10 },
      ),
    });
    expect(joined(10, 25)).toEqual({
      counts: set(1, [
        [4, 900],
        [6, 300],
      ]),
    });
  });

  test.each([
    [
      "another size in another volume",
      set(100, [[6, 300]]),
      "counts for 1 mL, as in the earlier report, or all of its sizes",
    ],
    [
      "a larger size with more",
      set(1, [[21, 31]]),
      expect.stringMatching(/^counts that go with the earlier report \(cumulative counts cannot rise/),
    ],
  ])("%s does not go with the earlier counts", (_, later, expected) => {
    expect(merged({ counts: three }, { counts: later })).toEqual(expected);
  });
});

describe("a number, a limit and a word about one measurand take each other's place", () => {
  const counts = set(1, [
    [4, 900],
    [14, 30],
  ]);
  const below = (sizeUm: number, count: number) => ({ sizeUm, volumeMl: 1, count, limit: "below" as const });
  const word = (measurand: string) => ({ measurand, said: "too-many-to-count" as const });
  test.each<[string, Partial<Sample>, Partial<Sample>, Partial<Sample>]>([
    [
      "a limit for a count",
      { counts },
      { limitedCounts: [below(14, 5)] },
      { counts: set(1, [[4, 900]]), limitedCounts: [below(14, 5)] },
    ],
    [
      "a limit for the only count",
      { counts: set(1, [[14, 30]]) },
      { limitedCounts: [below(14, 5)] },
      { limitedCounts: [below(14, 5)] },
    ],
    [
      "a limit of another size is added",
      { counts },
      { limitedCounts: [below(21, 5)] },
      { counts, limitedCounts: [below(21, 5)] },
    ],
    [
      "a limit for a limit",
      { limitedCounts: [below(14, 9), below(21, 2)] },
      { limitedCounts: [below(14, 5)] },
      { limitedCounts: [below(21, 2), below(14, 5)] },
    ],
    ["a count for a limit", { limitedCounts: [below(14, 9)] }, { counts }, { counts }],
    [
      "a word for a count",
      { counts },
      { wordedResults: [word("count above 4 µm(c)")] },
      { counts: set(1, [[14, 30]]), wordedResults: [word("count above 4 µm(c)")] },
    ],
    [
      "a count for a word",
      { wordedResults: [word("count above 4 µm(c)"), word("count above 6 µm(c)")] },
      { counts },
      { counts, wordedResults: [word("count above 6 µm(c)")] },
    ],
    [
      "a word for a number",
      { waterPpm: { value: 90 }, chlorinePpm: { value: 40 } },
      { wordedResults: [word("water")] },
      { chlorinePpm: { value: 40 }, wordedResults: [word("water")] },
    ],
    [
      "a number for a word",
      { wordedResults: [word("water")] },
      { waterPpm: { value: 90 } },
      { waterPpm: { value: 90 } },
    ],
    [
      "a word for a metal",
      { metalsPpm: { iron: { value: 3 }, copper: { value: 2 } } },
      { wordedResults: [word("iron")] },
      { metalsPpm: { copper: { value: 2 } }, wordedResults: [word("iron")] },
    ],
    [
      "a word for the only metal",
      { metalsPpm: { iron: { value: 3 } } },
      { wordedResults: [word("iron")] },
      { wordedResults: [word("iron")] },
    ],
    [
      "a metal for a metal, next to the others",
      { metalsPpm: { iron: { value: 3 }, copper: { value: 2 } } },
      { metalsPpm: { iron: { value: 4 } } },
      { metalsPpm: { iron: { value: 4 }, copper: { value: 2 } } },
    ],
  ])("%s", (_, earlier, later, expected) => {
    expect(merged(earlier, later)).toEqual(expected);
  });
});

describe("what is said of the sample as a whole", () => {
  const iso = (stated: string) => ({ standard: "ISO 4406" as const, class: stated });
  const nas = { standard: "NAS 1638" as const, class: "6" };
  const counts = set(1, [[4, 900]]);
  test.each<[string, Partial<Sample>, Partial<Sample>, Partial<Sample>]>([
    [
      "what is not mentioned stays",
      { waterPpm: { value: 90 }, fluid: "MIL-PRF-83282" },
      { acidMgKohPerG: { value: 0.1 } },
      { waterPpm: { value: 90 }, fluid: "MIL-PRF-83282", acidMgKohPerG: { value: 0.1 } },
    ],
    [
      "what is mentioned is replaced",
      { waterPpm: { value: 90 } },
      { waterPpm: { value: 95, limit: "below" } },
      { waterPpm: { value: 95, limit: "below" } },
    ],
    [
      "a class takes the place of one of its standard",
      { reportedClasses: [iso("17/15/12"), nas] },
      { reportedClasses: [iso("18/15/12")] },
      { reportedClasses: [nas, iso("18/15/12")] },
    ],
    [
      "the calibration of a counter goes with particles",
      { counts, calibrationDueOn: "2026-05-01" },
      { waterPpm: { value: 9 }, calibrationDueOn: "2027-01-01" },
      { counts, waterPpm: { value: 9 }, calibrationDueOn: "2026-05-01" },
    ],
    [
      "of the later particles where there are any",
      { counts, calibrationDueOn: "2026-05-01" },
      { counts: set(1, [[4, 800]]), calibrationDueOn: "2027-01-01" },
      { counts: set(1, [[4, 800]]), calibrationDueOn: "2027-01-01" },
    ],
    [
      "of a class as well",
      { counts, calibrationDueOn: "2026-05-01" },
      { reportedClasses: [nas], calibrationDueOn: "2027-01-01" },
      { counts, reportedClasses: [nas], calibrationDueOn: "2027-01-01" },
    ],
    [
      "what was accepted of counts stays with the same counts",
      { counts, acceptedChecks: ["factor-of-100"] },
      { waterPpm: { value: 9 }, acceptedChecks: ["water-zero"] },
      { counts, waterPpm: { value: 9 }, acceptedChecks: ["factor-of-100", "water-zero"] },
    ],
    [
      "and not with others",
      { counts, acceptedChecks: ["factor-of-100"] },
      { counts: set(1, [[4, 800]]) },
      { counts: set(1, [[4, 800]]) },
    ],
  ])("%s", (_, earlier, later, expected) => {
    expect(merged(earlier, later)).toEqual(expected);
  });
});

describe("words of a further report", () => {
  type Words = NonNullable<Sample["wordsNotUnderstood"]>[number];
  const words = (about: Words["about"], text: string): Words => ({ about, text });
  const said = (column: string, text: string) => ({ column, text });
  const water = { waterPpm: { value: 90 } };
  const acid = { acidMgKohPerG: { value: 0.1 } };

  test.each<[string, Partial<Sample>, string[] | undefined]>([
    ["what it says of the colour", { colour: "red" }, ["flow: odd", "patch test: grey?"]],
    [
      "other words about the colour",
      { wordsNotUnderstood: [words("colour", "new")] },
      ["flow: odd", "patch test: grey?", "colour: new"],
    ],
    ["the class of a patch", { patchTest: { class: { value: 5 } } }, ["colour: odd", "flow: odd"]],
    ["the code of a patch", { patchTest: { code: "17/15/12" } }, ["colour: odd", "flow: odd"]],
    [
      "the colour of a patch",
      { patchTest: { colour: "grey" } },
      ["colour: odd", "flow: odd", "patch test: grey?"],
    ],
    ["nothing of them", water, ["colour: odd", "flow: odd", "patch test: grey?"]],
    ["all of them", { colour: "red", flowing: true, patchTest: { class: { value: 5 } } }, undefined],
  ])("take the place of those about the same part: %s", (_, later, left) => {
    const wordsNotUnderstood = [words("colour", "odd"), words("flow", "odd"), words("patch test", "grey?")];
    const sample = merged({ wordsNotUnderstood }, later) as Sample;
    expect(sample.wordsNotUnderstood?.map(({ about, text }) => `${about}: ${text}`)).toEqual(left);
  });

  test.each<[string, Partial<Sample>, Partial<Sample>, string[] | undefined]>([
    [
      "under one title, where every result is given again",
      { ...water, laboratorySays: [said("Remarks", "reject"), said("Status", "fail")] },
      { ...water, laboratorySays: [said("Remarks", "pass")] },
      ["Status: fail", "Remarks: pass"],
    ],
    [
      "next to those of other results",
      { ...water, laboratorySays: [said("Remarks", "reject")] },
      { ...acid, laboratorySays: [said("Remarks", "pass")] },
      ["Remarks: reject", "Remarks: pass"],
    ],
    [
      "once where both say the same of different results",
      { ...water, laboratorySays: [said("Remarks", "pass"), said("Status", "pass")] },
      { ...acid, laboratorySays: [said("Remarks", "pass")] },
      ["Status: pass", "Remarks: pass"],
    ],
    ["of the first alone", { laboratorySays: [said("Remarks", "reject")] }, water, ["Remarks: reject"]],
    [
      "of the second alone",
      water,
      { ...water, laboratorySays: [said("Remarks", "pass")] },
      ["Remarks: pass"],
    ],
    ["of neither", water, acid, undefined],
  ])("of the laboratory stand %s", (_, earlier, later, left) => {
    const sample = merged(earlier, later) as Sample;
    expect(sample.laboratorySays?.map(({ column, text }) => `${column}: ${text}`)).toEqual(left);
  });

  test("in columns that are not used stand once for each title, the last", () => {
    const texts = (...all: readonly [string, string][]) => ({
      otherTexts: all.map(([column, text]) => said(column, text)),
    });
    const sample = merged(texts(["A", "old"], ["B", "old"]), texts(["A", "new"])) as Sample;
    expect(sample.otherTexts).toEqual([said("B", "old"), said("A", "new")]);
    expect((merged(water, acid) as Sample).otherTexts).toBeUndefined();
  });
});
