import { describe, expect, test } from "vitest";
import { decideReport, type KeptReport, type KnownSample } from "../../src/book/taking-in/decide-report.js";
import type { CheckCode } from "../../src/intake/index.js";
import type { Sample } from "../../src/samples/index.js";

const [EARLIER, THIS] = [1, 2];

/** A report of one sample in some row of a file; results are in `says`. */
function report(fileId: number, row: number, says: Partial<Sample>, sheet?: string): KeptReport {
  const origin = [{ file: `file-${fileId}.csv`, ...(sheet && { sheet }), rows: [row] }];
  const names = { sample: "S-1", cart: "C-1", circuit: "fore", drawnOn: "2026-03-04" };
  return { fileId, sample: { ...names, ...says, origin } };
}

const water = (value: number) => ({ waterPpm: { value } });
const acid = { acidMgKohPerG: { value: 0.2 } };
const on = (reportedOn: string) => ({ reportedOn });

type Outcome = readonly (string | number | readonly string[])[];

/** What was decided in a few words: kind, meaning, how the rows count; the rows of the reports by their files. */
function outcomeOf(known: KnownSample, next: KeptReport, accepted: readonly CheckCode[] = []): Outcome {
  const decision = decideReport(known, next, accepted);
  const places = (reports: readonly KeptReport[] = []) =>
    reports.map(({ fileId, sample }) => `${fileId}:${sample.origin[0]?.rows.join("+")}`);
  switch (decision.kind) {
    case "take":
      return [
        ...[decision.meaning, decision.rows, places(decision.reports)],
        ...decision.assumptions.map(({ code }) => code),
      ];
    case "set-aside":
      return ["set aside", ...decision.findings.map(({ code }) => code)];
    case "take-back":
      return ["take back", decision.rows, places(decision.own), places(decision.others)];
  }
}

describe("what is to be done about a further report of a sample that the book has", () => {
  const cases: [string, KnownSample["byThisFile"], KeptReport[], KeptReport, Outcome, CheckCode[]?][] = [
    [
      "the same again changes nothing",
      "nothing",
      [report(EARLIER, 2, water(120))],
      report(THIS, 2, water(120)),
      ["same", "known", []],
    ],
    [
      "what was corrected before is old",
      "nothing",
      [
        report(EARLIER, 2, { ...water(120), ...on("2026-03-10") }),
        report(EARLIER, 3, { ...water(130), ...on("2026-03-12") }),
      ],
      report(THIS, 2, { ...water(120), ...on("2026-03-10") }),
      ["old", "known", []],
    ],
    [
      "another result is added to the sample of an earlier file",
      "nothing",
      [report(EARLIER, 2, water(120))],
      report(THIS, 5, acid),
      ["adds", "amended", ["1:2", "2:5"]],
    ],
    [
      "another row of the file that made the sample completes it, and is one report with it",
      "made",
      [report(THIS, 2, water(120))],
      report(THIS, 5, acid),
      ["adds", "taken", ["2:2+5"]],
    ],
    [
      "on another sheet it is a report of its own",
      "made",
      [report(THIS, 2, water(120))],
      report(THIS, 5, acid, "more"),
      ["adds", "taken", ["2:2", "2:5"]],
    ],
    [
      "of another day it is a report of its own",
      "made",
      [report(THIS, 2, { ...water(120), ...on("2026-03-10") })],
      report(THIS, 5, { ...acid, ...on("2026-03-11") }),
      ["adds", "taken", ["2:2", "2:5"]],
    ],
    [
      "a later day corrects",
      "nothing",
      [report(EARLIER, 2, { ...water(120), ...on("2026-03-10") })],
      report(THIS, 5, { ...water(140), ...on("2026-03-11") }),
      ["corrects", "amended", ["1:2", "2:5"]],
    ],
    [
      "an earlier day precedes what corrected it",
      "nothing",
      [report(EARLIER, 2, { ...water(120), ...on("2026-03-10") })],
      report(THIS, 5, { ...water(140), ...on("2026-03-09") }),
      ["precedes", "amended", ["2:5", "1:2"], "later-report-stands"],
    ],
    [
      "without a later day a person has to say which is right",
      "nothing",
      [report(EARLIER, 2, water(120))],
      report(THIS, 5, water(140)),
      ["set aside", "differs-from-book"],
    ],
    [
      "a person has said it",
      "nothing",
      [report(EARLIER, 2, water(120))],
      report(THIS, 5, water(140)),
      ["corrects", "amended", ["1:2", "2:5"]],
      ["differs-from-book"],
    ],
    [
      "a file that contradicts itself: nothing of it stays",
      "made",
      [report(THIS, 2, water(120))],
      report(THIS, 5, water(140)),
      ["take back", "taken", ["2:2"], []],
    ],
    [
      "what an earlier file had said stays",
      "amended",
      [report(EARLIER, 2, acid), report(THIS, 2, water(120))],
      report(THIS, 5, water(140)),
      ["take back", "amended", ["2:2"], ["1:2"]],
    ],
    [
      "a file that has amended a sample may still contradict what it did not amend",
      "amended",
      [report(EARLIER, 2, acid), report(THIS, 2, water(120))],
      report(THIS, 5, { acidMgKohPerG: { value: 0.9 } }),
      ["set aside", "differs-from-book"],
    ],
    [
      "a row that contradicts both an earlier file and its own file takes its own back",
      "amended",
      [report(EARLIER, 2, water(120)), report(THIS, 2, acid)],
      report(THIS, 5, { ...water(140), acidMgKohPerG: { value: 0.9 } }),
      ["take back", "amended", ["2:2"], ["1:2"]],
    ],
    [
      "what the same file said when it was read before is not taken back",
      "nothing",
      [report(THIS, 2, water(120))],
      report(THIS, 5, water(140)),
      ["set aside", "differs-from-book"],
    ],
    [
      "another day of drawing is asked about, whatever the day of the report",
      "nothing",
      [report(EARLIER, 2, { ...water(120), ...on("2026-03-10") })],
      report(THIS, 5, { ...water(120), ...on("2026-03-11"), drawnOn: "2026-03-05" }),
      ["set aside", "day-differs-from-book"],
    ],
  ];
  test.each(cases)("%s", (_, byThisFile, reports, next, expected, accepted = []) => {
    expect(outcomeOf({ reports, byThisFile }, next, accepted)).toEqual(expected);
  });

  test("the finding of a file that contradicts itself names the sample and what the other row says", () => {
    const known = { reports: [report(THIS, 2, water(120))], byThisFile: "made" } as const;
    const decision = decideReport(known, report(THIS, 5, water(140)), []);
    expect(decision.kind === "take-back" && decision.finding).toMatchObject({
      code: "conflicting-results",
      holds: "sample",
      expected: expect.stringMatching(
        /^the same results wherever sample S-1 is in the file: 120, as in file-2.csv row 2/,
      ),
    });
  });
});
