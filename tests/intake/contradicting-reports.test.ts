import { describe, expect, test } from "vitest";
import { cumulativeCounts } from "../../src/counts/index.js";
import { type CheckCode, meaningOfReport, type Report, versionsOf } from "../../src/intake/index.js";
import type { Sample } from "../../src/samples/index.js";

/** A report of row 2 of a file that is named like its day. */
function report(
  day: string | undefined,
  says: Partial<Sample>,
  place: { sheet?: string; rows?: number[] } = {},
): Report {
  const { rows = [2], ...sheet } = place;
  return {
    sample: {
      ...{ sample: "S-1", cart: "C-1", circuit: "1", drawnOn: "2026-03-04" },
      ...(day !== undefined && { reportedOn: day }),
      ...says,
      origin: [{ file: `${day ?? "undated"}.csv`, ...sheet, rows }],
    },
  };
}
const water = (value: number): Partial<Sample> => ({ waterPpm: { value } });
const acid = (value: number): Partial<Sample> => ({ acidMgKohPerG: { value } });
const counts = (...sizes: [number, number][]): Partial<Sample> => ({
  counts: cumulativeCounts(
    sizes.map(([sizeUm, count]) => ({ sizeUm, count })),
    1,
  ),
});
const says = (text: string): Partial<Sample> => ({ laboratorySays: [{ column: "Remarks", text }] });
const [DAY_3, DAY_5, DAY_9] = ["2026-03-06", "2026-03-08", "2026-03-12"];

/** What was found, and in which known reports the contradicted words are. */
function contradiction(known: readonly Report[], next: Report, accepted: readonly CheckCode[] = []) {
  const meaning = meaningOfReport(known, next, accepted);
  if (meaning.kind !== "contradicts") return meaning.kind;
  return {
    findings: meaning.findings.map(
      ({ code, holds, expected }) => `${code} ${holds}: ${expected.split(" (")[0]}`,
    ),
    by: meaning.contradicted.map((one) => known.indexOf(one)),
  };
}

describe("a report that contradicts what stands", () => {
  test.each<[string, Report[], Report, ReturnType<typeof contradiction>]>([
    [
      "is found once for each kind of result",
      [report(DAY_5, { ...water(90), ...counts([4, 900], [6, 300]) })],
      report(DAY_5, { ...water(95), ...counts([4, 910], [6, 310]) }),
      {
        findings: [
          "differs-from-book water: 90, as in 2026-03-08.csv row 2",
          "differs-from-book count: 900 per mL, as in 2026-03-08.csv row 2",
        ],
        by: [0],
      },
    ],
    [
      "contradicts the last report that spoke of it, and no other",
      [report(DAY_3, acid(0.1)), report(DAY_5, water(90)), report(DAY_9, counts([4, 900]))],
      report(undefined, water(95)),
      { findings: ["differs-from-book water: 90, as in 2026-03-08.csv row 2"], by: [1] },
    ],
    [
      "contradicts several reports where they spoke of different results",
      [report(DAY_3, acid(0.1)), report(DAY_5, water(90))],
      report(undefined, { ...water(95), ...acid(0.2) }),
      {
        findings: [
          "differs-from-book water: 90, as in 2026-03-08.csv row 2",
          "differs-from-book acid: 0.1, as in 2026-03-06.csv row 2",
        ],
        by: [0, 1],
      },
    ],
    [
      "names the sheet and all rows of what stands",
      [report(DAY_5, water(90), { sheet: "March", rows: [2, 3] })],
      report(undefined, water(95)),
      { findings: ['differs-from-book water: 90, as in 2026-03-08.csv sheet "March" row 2, 3'], by: [0] },
    ],
    [
      "of another drawing day names that day, also where its report is of a later one",
      [report(DAY_5, water(90))],
      report(DAY_9, { ...water(90), drawnOn: "2026-03-05" }),
      {
        findings: [
          "day-differs-from-book drawn: 2026-03-04, the day on which sample S-1 was drawn by 2026-03-08.csv row 2",
        ],
        by: [0],
      },
    ],
    [
      "because its counts do not go with the sizes that stand contradicts all reports",
      [report(DAY_3, counts([6, 320])), report(DAY_3, water(90))],
      report(DAY_5, counts([4, 200])),
      {
        findings: [
          expect.stringMatching(
            /^counts-break-a-rule count: counts that go with the earlier report/,
          ) as never,
        ],
        by: [0, 1],
      },
    ],
    [
      "by its remark alone, where it gives every result again",
      [report(undefined, { ...water(90), ...says("reject") })],
      report(undefined, { ...water(90), ...says("pass") }),
      { findings: ["differs-from-book sample: reject, as in undated.csv row 2"], by: [0] },
    ],
  ])("%s", (_, known, next, expected) => {
    expect(contradiction(known, next)).toEqual(expected);
  });

  test("does not do so by its remark or the day it received the bottle, where it gives other results", () => {
    const known = report(undefined, { ...water(90), ...says("reject"), receivedOn: "2026-03-05" });
    const next = report(undefined, { ...acid(0.1), ...says("pass"), receivedOn: "2026-03-06" });
    expect(contradiction([known], next)).toBe("adds");
  });

  test("stands once it was accepted, also where its day is the earlier one", () => {
    const known = [report(DAY_5, { ...water(90), ...acid(0.1) })];
    const meaning = meaningOfReport(known, report(DAY_3, water(95)), ["differs-from-book"]);
    expect(meaning.kind).toBe("corrects");
    expect("reports" in meaning && versionsOf(meaning.reports).at(-1)).toMatchObject({
      ...water(95),
      ...acid(0.1),
    });
  });

  test("does not stand where two reports have the same day and neither was accepted", () => {
    const known = [report(DAY_3, water(90)), report(DAY_5, acid(0.1))];
    // Before the later of the two it would change nothing, after it the acid number.
    expect(contradiction(known, report(DAY_5, acid(0.2)))).toMatchObject({ by: [1] });
  });
});

test("a report of the day of another comes after it, and before those of later days", () => {
  const known = [report(DAY_3, water(90)), report(DAY_5, acid(0.1)), report(DAY_9, counts([4, 900]))];
  const next = report(DAY_5, { chlorinePpm: { value: 50 } });
  const meaning = meaningOfReport(known, next);
  expect("reports" in meaning && meaning.reports.map((one) => [...known, next].indexOf(one))).toEqual([
    0, 1, 3, 2,
  ]);
});
