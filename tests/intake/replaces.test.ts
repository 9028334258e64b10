import { describe, expect, test } from "vitest";
import { cumulativeCounts } from "../../src/counts/index.js";
import type { IssueCode } from "../../src/intake/index.js";
import { replacesRow, type TakenReport } from "../../src/intake/reports/replaces.js";
import type { Sample } from "../../src/samples/index.js";

type Row = Parameters<typeof replacesRow>[0];

const TEXT = "S-1;C-1;1;2026-03-04;900;1O";
const BACK = "S-1;C-1;1;2026-03-04;900;10";
const REPORTED = { drawnOn: "2026-03-04", "count above 4 µm(c)": { perMl: 900 }, waterPpm: null };

/** A row that waits for its water "1O". */
function row(code: IssueCode, says: Partial<Row> = {}, value = "1O"): Row {
  const issues = [{ file: "march.csv", row: 2, column: "water", expected: "a number", code, value }];
  const names = { sample: "S-1", cart: "C-1", circuit: "1", drawnOn: "2026-03-04" };
  return { text: TEXT, issues, ...names, reported: REPORTED, ...says };
}

/** The report that came back, with 900 particles and 10 ppm. */
function taken(
  says: Partial<Sample> = {},
  meaning: TakenReport["meaning"] = "first",
  text = BACK,
): TakenReport {
  const names = { sample: "S-1", cart: "C-1", circuit: "1", drawnOn: "2026-03-04" };
  const origin = [{ file: "april.csv", rows: [2] }];
  return {
    sample: { ...names, counts: counts(900), waterPpm: { value: 10 }, ...says, origin },
    meaning,
    texts: [text],
  };
}

function counts(count: number, volumeMl = 1) {
  return cumulativeCounts([{ sizeUm: 4, count }], volumeMl);
}

const dated = (reportedOn: string) => ({ reported: { ...REPORTED, reportedOn } });
const { counts: _, ...withoutCounts } = taken().sample;

describe("a report that comes back takes the place of a row that waits", () => {
  test.each<[string, Row, TakenReport, boolean]>([
    ["the cell corrected", row("cell-not-read"), taken(), true],
    ["the same counts in another volume", row("cell-not-read"), taken({ counts: counts(90_000, 100) }), true],
    ["the same as the book has already", row("cell-not-read"), taken({}, "same"), true],
    ["another sample", row("cell-not-read"), taken({ sample: "S-2" }), false],
    ["another cart", row("cell-not-read"), taken({ cart: "C-2" }), false],
    ["another circuit", row("cell-not-read"), taken({ circuit: "2" }), false],
    ["another day", row("cell-not-read"), taken({ drawnOn: "2026-03-05" }), false],
    [
      "a day that the row leaves open",
      row("cell-not-read", { drawnOn: undefined as never }),
      taken({ drawnOn: "2026-03-05" }),
      true,
    ],
    [
      "another day, where the day was in doubt",
      row("date-in-the-future"),
      taken({ drawnOn: "2026-03-05" }),
      true,
    ],
    ["without the counts of the row", row("cell-not-read"), { ...taken(), sample: withoutCounts }, false],
    ["with other counts", row("cell-not-read"), taken({ counts: counts(901) }), false],
    ["with other counts, which were in doubt", row("factor-of-100"), taken({ counts: counts(9) }), true],
    [
      "with other counts, where the water was in doubt",
      row("water-zero"),
      taken({ counts: counts(9) }),
      false,
    ],
    [
      "with other counts of a later day",
      row("cell-not-read", dated("2026-03-08")),
      taken({ counts: counts(9), reportedOn: "2026-03-09" }),
      true,
    ],
    [
      "with other counts of the same day",
      row("cell-not-read", dated("2026-03-08")),
      taken({ counts: counts(9), reportedOn: "2026-03-08" }),
      false,
    ],
    [
      "of an earlier day",
      row("cell-not-read", dated("2026-03-08")),
      taken({ reportedOn: "2026-03-07" }),
      false,
    ],
    ["that was corrected already", row("cell-not-read"), taken({}, "old"), false],
    ["that a later one precedes", row("cell-not-read"), taken({}, "precedes"), false],
    [
      "of a row of which nothing was read",
      row("cell-not-read", { reported: undefined as never }),
      taken(),
      false,
    ],
  ])("%s: %#", (_, waiting, report, expected) => {
    expect(replacesRow(waiting, report)).toBe(expected);
  });

  test.each<[TakenReport["meaning"], boolean]>([
    ["first", true],
    ["corrects", true],
    ["adds", false],
    ["same", false],
  ])("of a row that contradicts the book only one that decides it: %s %s", (meaning, expected) => {
    const other = taken({ counts: counts(9) }, meaning);
    expect(replacesRow(row("differs-from-book"), other)).toBe(expected);
    expect(replacesRow(row("conflicting-results"), other)).toBe(expected);
  });
});

describe("where the cart or the circuit is not known, the other cells are the same", () => {
  const unknown = row(
    "circuit-not-known",
    {
      cart: "C-7",
      text: TEXT.replace("C-1", '"C-7"').replace("1O", "10"),
      reported: { ...REPORTED, waterPpm: { value: 10 } },
    },
    "C-7",
  );
  test.each<[string, string, boolean]>([
    ["the cart corrected", BACK, true],
    ["another cell as well", BACK.replace("900", "901"), false],
    ["another number of cells", `${BACK};x`, false],
    ["fewer cells", BACK.replace(";10", ""), false],
    ["blanks around the cells", BACK.replaceAll(";", " ; "), true],
  ])("%s", (_, text, expected) => {
    expect(replacesRow(unknown, taken({}, "first", text))).toBe(expected);
  });
});

describe("where the cart or the circuit could not be read", () => {
  const issues = row("cell-not-read", {}, " \u0007 ").issues;
  test.each(["cart", "circuit"] as const)("the text of %s alone may differ", (name) => {
    const { [name]: _, ...says } = row("cell-not-read", { reported: {} });
    const waiting = { ...says, issues, text: `"\u0007";${TEXT}` };
    expect(replacesRow(waiting, taken({}, "first", `X;${TEXT}`))).toBe(true);
    expect(replacesRow(waiting, taken({}, "first", `X;${BACK}`))).toBe(false);
    // Of a report in several rows, one of them is the row that waited.
    expect(replacesRow(waiting, { ...taken(), texts: [BACK, `X;${TEXT}`] })).toBe(true);
  });
});

test("a row with several issues has what each of them puts in doubt", () => {
  const both = row("water-zero", { reported: { ...REPORTED, waterPpm: { value: 0 } } });
  const issues = [...both.issues, ...row("date-in-the-future").issues];
  const report = taken({ drawnOn: "2026-03-05" });
  expect(replacesRow({ ...both, issues }, report)).toBe(true);
  expect(replacesRow({ ...both, issues: issues.slice(0, 1) }, report)).toBe(false);
  expect(replacesRow({ ...both, issues: issues.slice(1) }, report)).toBe(false);
});

test("where only one of the two has a day of its report, neither is later", () => {
  expect(replacesRow(row("cell-not-read"), taken({ reportedOn: "2026-03-09" }))).toBe(true);
  const undated = taken({ counts: counts(9) });
  expect(
    replacesRow(row("cell-not-read"), {
      ...undated,
      sample: { ...undated.sample, reportedOn: "2026-03-09" },
    }),
  ).toBe(false);
  expect(replacesRow(row("cell-not-read", dated("2026-03-08")), undated)).toBe(false);
});

describe("a row that could not be split is followed by its text", () => {
  const broken = (text: string) => ({ ...row("row-of-wrong-length"), text, reported: undefined as never });
  test.each([
    ["with other separators", 'S-1,"C-1",1,2026-03-04,900,10', true],
    ["cut short after its names", "S-1;C-1;1;2026-03-04;9", true],
    ["cut short within its names", "S-1;C-1;1", false],
    ["of another sample", "S-2;C-1;1;2026-03-04;900;10", false],
    ["cut short within its last name", "S-1;C-1;1;2026-03-0", true],
    ["with quotation marks around it", '"S-1;C-1;1;2026-03-04;900;10"', true],
    ["with blank cells between", "S-1;C-1;;1;2026-03-04;;900;10;;", true],
    ["with another number that begins alike", "S-1;C-1;1;2026-03-04;90", true],
    ["of a sample whose number ends alike", "XS-1;C-1;1;2026-03-04;900;10", false],
    ["with another result", "S-1;C-1;1;2026-03-04;901;10", false],
  ])("%s", (_, text, expected) => {
    expect(replacesRow(broken(text), taken())).toBe(expected);
    const { texts, ...report } = taken();
    expect(replacesRow(broken(text), { ...report, texts: ["S-9;C-1;1", ...texts] })).toBe(expected);
  });
});
