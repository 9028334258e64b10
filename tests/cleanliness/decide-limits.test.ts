import { describe, expect, test } from "vitest";
import { decideLimits, type ParticleReport, parseTarget } from "../../src/cleanliness/index.js";
import { cumulativeCounts, intervalCounts } from "../../src/counts/index.js";

/** Counts per mL: above 4, 6, 14, 21, 38 and 70 µm(c), those not counted left out. */
function counts(perMl: Readonly<Record<number, number>>) {
  return cumulativeCounts(
    Object.entries(perMl).map(([size, count]) => ({ sizeUm: Number(size), count })),
    1,
  );
}

/** What became of each limit of a target, in order: "inside counted", "outside class", "not-measured". */
function outcomes(target: string, report: ParticleReport): string[] {
  return decideLimits(report, parseTarget(target)).map((entry) =>
    entry.outcome === "not-measured" ? entry.outcome : `${entry.outcome} ${entry.basis}`,
  );
}

const UNKNOWN = "not-measured";
const inside = (basis: string) => `inside ${basis}`;
const outside = (basis: string) => `outside ${basis}`;
const times = (count: number, what: string) => Array.from({ length: count }, () => what);

// ISO 4406 18/16/13 allows 2500, 640 and 80 per mL (published/iso-4406).
describe("a size that was not counted is decided where a wider one keeps its limit", () => {
  test.each<[string, Readonly<Record<number, number>>, string[]]>([
    [
      "80 above 6 are at most 80 above 14",
      { 4: 900, 6: 80 },
      [inside("counted"), inside("counted"), inside("wider-channel")],
    ],
    ["81 above 6 may be 81 above 14", { 4: 900, 6: 81 }, [inside("counted"), inside("counted"), UNKNOWN]],
    [
      "80 above 4 are at most 80 above 6 and 14",
      { 4: 80 },
      [inside("counted"), ...times(2, inside("wider-channel"))],
    ],
    ["a larger size says nothing of a smaller one", { 14: 1 }, [UNKNOWN, UNKNOWN, inside("counted")]],
  ])("%s", (_, perMl, expected) => {
    expect(outcomes("ISO 4406 18/16/13", { counts: counts(perMl) })).toEqual(expected);
  });

  // AS4059 differential 7, per 100 mL: 32 000, 5700, 1012, 180, 32. Ranges lie within wider ranges.
  test("ranges: 50 in 14-38 keep the limits of 14-21 and 21-38, and not that above 70", () => {
    // Per 100 mL 1000 in 14-38: within 5700 and within 1012.
    const found = outcomes("AS4059 differential 7", { counts: counts({ 6: 200, 14: 11, 38: 1 }) });
    expect(found).toEqual([
      inside("counted"),
      inside("wider-channel"),
      inside("wider-channel"),
      // 100 per 100 mL above 38.
      inside("wider-channel"),
      UNKNOWN,
    ]);
  });

  test("estimated counts bound nothing", () => {
    const set = cumulativeCounts([{ sizeUm: 4, count: 50, basis: "estimated" }], 1);
    expect(outcomes("ISO 4406 18/16/13", { counts: set }).slice(1)).toEqual([UNKNOWN, UNKNOWN]);
  });
});

describe("a limit value decides where it surely lies on one side", () => {
  const at = (
    sizeUm: number,
    limit: "below" | "at-most" | "at-least" | "above",
    count: number,
    volumeMl = 1,
  ) => [{ sizeUm, limit, count, volumeMl }] as const;
  const counted = counts({ 4: 900, 6: 250 });
  test.each([
    ["< 1", at(14, "below", 1), inside("limit-value")],
    ["< 80", at(14, "below", 80), inside("limit-value")],
    ["< 81", at(14, "below", 81), UNKNOWN],
    ["≤ 80", at(14, "at-most", 80), inside("limit-value")],
    ["≤ 8000 per 100 mL", at(14, "at-most", 8000, 100), inside("limit-value")],
    ["≤ 8001 per 100 mL", at(14, "at-most", 8001, 100), UNKNOWN],
    ["> 80", at(14, "above", 80), outside("limit-value")],
    ["> 79", at(14, "above", 79), UNKNOWN],
    ["≥ 80", at(14, "at-least", 80), UNKNOWN],
    ["≥ 81", at(14, "at-least", 81), outside("limit-value")],
    ["< 80 above 10 µm(c), a smaller size", at(10, "below", 80), inside("limit-value")],
    ["< 1 above 21 µm(c), a larger size", at(21, "below", 1), UNKNOWN],
  ])("%s against 80 above 14 µm(c)", (_, limited, expected) => {
    expect(outcomes("ISO 4406 18/16/13", { counts: counted, limited })[2]).toBe(expected);
  });

  test("what shows a limit exceeded goes before what shows it kept", () => {
    const limited = [...at(14, "above", 100), ...at(6, "below", 50)];
    expect(outcomes("ISO 4406 -/-/13", { limited })).toEqual([outside("limit-value")]);
  });
});

describe("a stated class decides a target of its own standard, and no other", () => {
  test.each<[string, string, string, string[]]>([
    ["ISO 4406 18/16/13", "ISO 4406", "18/16/13", times(3, inside("class"))],
    ["ISO 4406 18/16/13", "ISO 4406", "15/12/9", times(3, inside("class"))],
    ["ISO 4406 18/16/13", "ISO 4406", "18/17/13", [inside("class"), outside("class"), inside("class")]],
    ["ISO 4406 18/16/13", "ISO 4406", "16/13", [UNKNOWN, inside("class"), inside("class")]],
    ["ISO 4406 18/16/13", "ISO 4406", "-/17/13", [UNKNOWN, outside("class"), inside("class")]],
    ["ISO 4406 18/16/13", "ISO 4406", "*/16/13", [outside("class"), ...times(2, inside("class"))]],
    ["ISO 4406 18/16/13", "ISO 4406", ">28/16/13", [outside("class"), ...times(2, inside("class"))]],
    // ≥ stands for few particles: three scale numbers are allowed for.
    ["ISO 4406 18/16/13", "ISO 4406", "16/14/≥10", times(3, inside("class"))],
    ["ISO 4406 18/16/13", "ISO 4406", "16/14/≥11", [inside("class"), inside("class"), UNKNOWN]],
    // No particle at all may have been seen in any volume; what bounds it is the smaller size, 160 or 80 per mL above 6.
    ["ISO 4406 18/16/13", "ISO 4406", "16/14/≥0", [inside("class"), inside("class"), UNKNOWN]],
    ["ISO 4406 18/16/13", "ISO 4406", "16/13/≥0", [inside("class"), inside("class"), inside("class")]],
    ["NAS 1638 7", "NAS 1638", "7", times(5, inside("class"))],
    ["NAS 1638 7", "NAS 1638", "8", times(5, outside("class"))],
    ["NAS 1638 7", "NAS 1638", ">12", times(5, outside("class"))],
    ["NAS 1638 7", "AS4059", "7", times(5, UNKNOWN)],
    ["AS4059 differential 7", "NAS 1638", "7", times(5, UNKNOWN)],
    ["ISO 4406 18/16/13", "NAS 1638", "5", times(3, UNKNOWN)],
    ["AS4059 cumulative 7A-F", "AS4059", "7A-F", times(6, inside("class"))],
    ["AS4059 cumulative 7A-F", "AS4059", "7A/6B/5C-F", times(6, inside("class"))],
    // Class 7 allows 38 924 above 6 and 100 000 above 4, so 7B says nothing of A.
    ["AS4059 cumulative 7A-F", "AS4059", "7B-F", [UNKNOWN, ...times(5, inside("class"))]],
    [
      "AS4059 cumulative 7A-F",
      "AS4059",
      "7A/8B/7C-F",
      [inside("class"), outside("class"), ...times(4, inside("class"))],
    ],
    // Without size codes the revisions differ; with the table or the revision they do not.
    ["AS4059 cumulative 7A-F", "AS4059", "7", times(6, UNKNOWN)],
    ["AS4059 differential 7", "AS4059", "7", times(5, UNKNOWN)],
    ["AS4059 differential 7", "AS4059", "AS4059F class 7", times(5, inside("class"))],
    ["AS4059 differential 7", "AS4059", "AS4059F class 8", times(5, outside("class"))],
    ["AS4059 differential 7", "AS4059", "AS4059D class 7", times(5, UNKNOWN)],
    // Table 2 is the running sum of table 1 from size B on (published/as4059).
    ["AS4059 cumulative 7B-F", "AS4059", "AS4059F class 7", times(5, inside("class"))],
    ["NAVAIR 01-1A-17 3", "NAVAIR 01-1A-17", "3", times(5, inside("class"))],
    ["NAVAIR 01-1A-17 3", "NAVAIR 01-1A-17", "4", times(5, outside("class"))],
    ["navy class 3", "NAVAIR 01-1A-17", "2", times(5, inside("class"))],
  ])("%s, found %s %s", (target, standard, name, expected) => {
    const classes = [{ standard, class: name } as NonNullable<ParticleReport["classes"]>[number]];
    expect(outcomes(target, { classes })).toEqual(expected);
  });

  test("the table that a title names decides a class of AS4059 without size codes", () => {
    const stated = { standard: "AS4059", class: "7" } as const;
    const by = (target: string, table: "cumulative" | "differential") =>
      outcomes(target, { classes: [{ ...stated, table }] });
    expect(by("AS4059 cumulative 7A-F", "cumulative")).toEqual(times(6, inside("class")));
    expect(by("AS4059 differential 7", "differential")).toEqual(times(5, inside("class")));
    expect(by("AS4059 cumulative 7A-F", "differential")).toEqual([UNKNOWN, ...times(5, inside("class"))]);
  });

  test("of two classes of one standard the dirtier counts", () => {
    const classes = [
      { standard: "NAS 1638", class: "5" },
      { standard: "NAS 1638", class: "9" },
    ] as const;
    expect(outcomes("NAS 1638 7", { classes })).toEqual(times(5, outside("class")));
  });

  test("a count goes before a class", () => {
    const classes = [{ standard: "ISO 4406", class: "17/15/12" }] as const;
    expect(outcomes("ISO 4406 18/16/13", { counts: counts({ 4: 2501, 6: 250 }), classes })).toEqual([
      outside("counted"),
      inside("counted"),
      inside("class"),
    ]);
  });
});

test("ranges of the target's own standard are counts of it, and the worse of two counts decides", () => {
  const ownRanges = intervalCounts(
    [
      { fromUm: 6, toUm: 14, count: 32_000 },
      { fromUm: 14, toUm: 21, count: 5701 },
    ],
    100,
  );
  expect(outcomes("NAS 1638 7", { ownRanges }).slice(0, 3)).toEqual([
    inside("own-ranges"),
    outside("own-ranges"),
    UNKNOWN,
  ]);
  const counted = counts({ 6: 400, 14: 10 });
  expect(outcomes("NAS 1638 7", { ownRanges, counts: counted })[0]).toBe(outside("counted"));
});
