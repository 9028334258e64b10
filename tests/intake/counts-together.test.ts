import { describe, expect, test } from "vitest";
import { gatherCounts, type ReportedCount } from "../../src/intake/cells/counts.js";

type Meaning = Partial<ReportedCount["measurand"]>;
type Limit = ReportedCount["limit"];

/** A count in µm(c) per mL: the sizes, the number with its limit, and what else its title or its row says. */
function count(
  fromUm: number,
  number: number | readonly [Limit, number],
  says: Meaning & { readonly row?: number; readonly per?: number } = {},
): ReportedCount {
  const { row = 2, per = 1, ...more } = says;
  const measurand = { holds: "count", fromUm, scale: "um(c)", ...more } as ReportedCount["measurand"];
  const result = { cell: "", row, column: `${fromUm} in row ${row}`, measurand };
  const [limit, value] = typeof number === "number" ? [undefined, number] : number;
  return { result, measurand, volumeMl: per, count: value, ...(limit !== undefined && { limit }) };
}

const sizes = (set: { readonly counts: readonly { sizeUm: number; count: number }[] } | undefined) =>
  set?.counts.map(({ sizeUm, count: number }) => [sizeUm, number]);

/** Which cells are refused, and what was expected of them. */
function refusedOf(reported: readonly ReportedCount[]) {
  const { results, refused, assumptions } = gatherCounts(reported, undefined);
  if (refused.length > 0) expect([results, assumptions]).toEqual([{}, []]);
  return refused.map(({ result, code, expected }) => [result.column, code, expected]);
}
const refusal = (column: string, expected: unknown) => [[column, "counts-break-a-rule", expected]];

test("what is not reported is not there", () => {
  expect(gatherCounts([], undefined)).toEqual({ results: {}, refused: [], assumptions: [] });
  expect(Object.keys(gatherCounts([count(4, 900)], undefined).results)).toEqual(["counts"]);
});

test("a counted volume goes with the counts, with its dilution, and is kept by itself without them", () => {
  const counting = (dilution?: number) => gatherCounts([count(4, 900)], 10, dilution);
  expect(counting(5).results).toMatchObject({ counts: { counting: { countedMl: 10, dilution: 5 } } });
  expect(counting(5).assumptions).toEqual([]);
  expect(counting().results.counts?.counting).toEqual({ countedMl: 10 });
  expect(counting().assumptions.map(({ code }) => code)).toEqual(["counted-undiluted"]);
  expect(counting().results.countedVolumeMl).toBeUndefined();
  expect(gatherCounts([], 10)).toEqual({ results: { countedVolumeMl: 10 }, refused: [], assumptions: [] });
  expect(gatherCounts([count(4, 900, { scale: "um-older" })], 10).results).toEqual({
    otherScaleCounts: [{ scale: "um-older", fromUm: 4, volumeMl: 1, count: 900 }],
    countedVolumeMl: 10,
  });
});

describe("counts by range are added up from the largest", () => {
  const range = (fromUm: number, toUm: number, number: number | readonly [Limit, number], more = {}) =>
    count(fromUm, number, { toUm, ...more });

  test("0.2 above 14, 0.1 to it and 3 to that are 3.3 above 4 µm(c)", () => {
    const { results, assumptions } = gatherCounts(
      [range(4, 6, 3), range(6, 14, 0.1), count(14, 0.2)],
      undefined,
    );
    expect(sizes(results.counts)).toEqual([
      [4, 3.3],
      [6, 0.3],
      [14, 0.2],
    ]);
    expect(assumptions.map(({ code }) => code)).toEqual(["ranges-added-up"]);
  });

  const JOIN = expect.stringMatching(/^ranges that join, closed by one open count at the largest size/);
  test.each([
    ["without an open end", [range(4, 6, 3), range(6, 14, 2)], refusal("6 in row 2", JOIN)],
    ["with two open counts", [range(6, 14, 2), count(14, 1), count(21, 1)], refusal("6 in row 2", JOIN)],
    ["with an open end elsewhere", [range(6, 14, 2), count(21, 1)], refusal("6 in row 2", JOIN)],
    [
      "with an open end that is a limit",
      [range(6, 14, 2), count(14, ["below", 1])],
      refusal("6 in row 2", JOIN),
    ],
    [
      "with a gap",
      [range(4, 5, 3), range(6, 14, 2), count(14, 1)],
      refusal("4 in row 2", "a range that ends at 6 µm, where the next begins"),
    ],
    [
      "with a limit among them",
      [range(4, 6, ["below", 3]), range(6, 14, 2), count(14, 1)],
      refusal("4 in row 2", "a number, because ranges are added up"),
    ],
    [
      "in two volumes",
      [range(6, 14, 2), count(14, 100, { per: 100 })],
      refusal("6 in row 2", "all counts of a sample in one volume"),
    ],
  ])("%s none is taken", (_, reported, expected) => {
    expect(refusedOf(reported)).toEqual(expected);
  });
});

describe("counts that cannot be true together are not taken", () => {
  const rises = expect.stringMatching(/^counts that can be true \(cumulative counts cannot rise with size/);

  test("the offending cell is refused, and counts in rows of their own with it", () => {
    const inRows = [count(4, 100, { row: 2 }), count(6, 200, { row: 3 }), count(14, 50, { row: 4 })];
    expect(refusedOf(inRows).map(([column]) => column)).toEqual(["4 in row 2", "6 in row 3", "14 in row 4"]);
    const inOne = inRows.map(({ measurand, count: number }) => count(measurand.fromUm, number));
    expect(refusedOf(inOne)).toEqual(refusal("6 in row 2", rises));
  });

  test.each([
    ["a size twice", [count(4, 9), count(4, 8)], /^counts that can be true \(the size 4 µm is given twice/],
    [
      "as a number and as a limit",
      [count(4, 9), count(4, ["below", 10])],
      /^the size 4 µm once in a sample$/,
    ],
    ["as two limits", [count(4, ["above", 9]), count(4, ["below", 10])], /^the size 4 µm once in a sample$/],
    [
      "in two volumes",
      [count(4, 900), count(6, 800, { per: 100 })],
      /^all counts of a sample in one volume$/,
    ],
  ])("%s", (_, reported, expected) => {
    expect(refusedOf(reported)).toEqual([
      [expect.anything(), "counts-break-a-rule", expect.stringMatching(expected)],
    ]);
  });

  const contradicts = (size: number, number: number, at: number) =>
    `counts that can be true (the limit at ${size} µm contradicts ${number} at ${at} µm)`;
  test.each<[string, ReportedCount[], unknown[]]>([
    [
      "fewer than 50 with 51 at a larger size",
      [count(6, ["below", 50]), count(14, 51)],
      [contradicts(6, 51, 14)],
    ],
    [
      "at most 50 with 51 at a larger size",
      [count(6, ["at-most", 50]), count(14, 51)],
      [contradicts(6, 51, 14)],
    ],
    ["fewer than 50 with 50 at a larger size", [count(6, ["below", 50]), count(14, 50)], []],
    ["fewer than 50 with more at a smaller size", [count(6, ["below", 50]), count(4, 900)], []],
    [
      "more than 50 with 49 at a smaller size",
      [count(6, ["above", 50]), count(4, 49)],
      [contradicts(6, 49, 4)],
    ],
    [
      "at least 50 with 49 at a smaller size",
      [count(6, ["at-least", 50]), count(4, 49)],
      [contradicts(6, 49, 4)],
    ],
    ["more than 50 with 50 at a smaller size", [count(6, ["above", 50]), count(4, 50)], []],
    ["more than 50 with less at a larger size", [count(6, ["above", 50]), count(14, 3)], []],
    // 4900 in 100 mL are 49 per mL.
    [
      "more than 50 per mL with 4900 in 100 mL",
      [count(6, ["above", 50]), count(4, 4900, { per: 100 })],
      [contradicts(6, 4900, 4)],
    ],
    ["more than 50 per mL with 5100 in 100 mL", [count(6, ["above", 50]), count(4, 5100, { per: 100 })], []],
    [
      "fewer than 5000 in 100 mL with 49 per mL",
      [count(6, ["below", 5000], { per: 100 }), count(14, 49)],
      [],
    ],
    [
      "fewer than 5000 in 100 mL with 51 per mL",
      [count(6, ["below", 5000], { per: 100 }), count(14, 51)],
      [contradicts(6, 51, 14)],
    ],
  ])("a limit: %s", (_, reported, expected) => {
    expect(refusedOf(reported).map(([, , said]) => said)).toEqual(expected);
  });

  test("a limit that leaves room is kept with its volume", () => {
    expect(
      gatherCounts([count(4, 900), count(14, ["below", 5], { per: 10 })], undefined).results,
    ).toMatchObject({
      limitedCounts: [{ sizeUm: 14, volumeMl: 10, count: 5, limit: "below" }],
    });
  });
});

describe("runs and blanks", () => {
  const run = (number: number, fromUm: number, value: number | readonly [Limit, number], more = {}) =>
    count(fromUm, value, { run: number, ...more });

  test("runs stand by their numbers, and their mean where no result of them is given", () => {
    const reported = [run(10, 4, 700), run(2, 4, 901), run(2, 6, 90), run(1, 4, 900), run(1, 6, 91)];
    const { results, assumptions } = gatherCounts(reported, undefined);
    expect(results.replicates?.map(sizes)).toEqual([
      [
        [4, 900],
        [6, 91],
      ],
      [
        [4, 901],
        [6, 90],
      ],
      [[4, 700]],
    ]);
    // 6 µm(c) was not counted in each of the three; 2501 / 3 with fifteen digits.
    expect(sizes(results.counts)).toEqual([[4, 833.666666666667]]);
    expect(assumptions.map(({ code }) => code)).toEqual(["mean-of-runs"]);
  });

  test("counts without a run are the first where no column is of it", () => {
    const { results, assumptions } = gatherCounts([count(4, 900), run(2, 4, 910)], undefined);
    expect([sizes(results.counts), results.replicates?.map(sizes), assumptions]).toEqual([
      [[4, 900]],
      [[[4, 900]], [[4, 910]]],
      [],
    ]);
    const all = gatherCounts([count(4, 905), run(1, 4, 900), run(2, 4, 910)], undefined).results;
    expect([sizes(all.counts), all.replicates?.map(sizes)]).toEqual([[[4, 905]], [[[4, 900]], [[4, 910]]]]);
  });

  test("one run is the result, and no replicate", () => {
    const { results } = gatherCounts([run(1, 4, 900)], undefined);
    expect([sizes(results.counts), results.replicates]).toEqual([[[4, 900]], undefined]);
  });

  test("runs in two volumes, or without a size in common, have no mean", () => {
    expect(
      gatherCounts([run(1, 4, 900), run(2, 4, 91_000, { per: 100 })], undefined).results.counts,
    ).toBeUndefined();
    expect(gatherCounts([run(1, 4, 900), run(2, 6, 90)], undefined).results.counts).toBeUndefined();
  });

  const MICRO = "a number in µm(c) for each size of a blank or of a run";
  test.each<[string, ReportedCount[], unknown[]]>([
    ["a run that is a limit", [run(1, 4, ["below", 900])], refusal("4 in row 2", MICRO)],
    ["a run in another scale", [run(1, 4, 900, { scale: "um-older" })], refusal("4 in row 2", MICRO)],
    [
      "a blank that is more than a number",
      [count(4, ["above", 3], { blank: true })],
      refusal("4 in row 2", MICRO),
    ],
    [
      "a blank that is at least a number",
      [count(4, ["at-least", 3], { blank: true })],
      refusal("4 in row 2", MICRO),
    ],
  ])("%s is refused", (_, reported, expected) => {
    expect(refusedOf(reported)).toEqual(expected);
  });

  test("a blank that is fewer than a number is taken as that number, and never subtracted", () => {
    for (const limit of ["below", "at-most", undefined] as const) {
      const { results } = gatherCounts([count(4, 900), count(4, [limit, 3], { blank: true })], undefined);
      expect([sizes(results.counts), sizes(results.blank)]).toEqual([[[4, 900]], [[4, 3]]]);
    }
  });

  test("a blank by ranges is added up as well", () => {
    const { results } = gatherCounts(
      [count(4, 900), count(4, 2, { blank: true, toUm: 6 }), count(6, 1, { blank: true })],
      undefined,
    );
    expect(sizes(results.blank)).toEqual([
      [4, 3],
      [6, 1],
    ]);
  });
});

test("a sum of ranges that no counter counts is refused at its range, and not lost", () => {
  const reported = [count(4, 1e308, { toUm: 6 }), count(6, 1e308)];
  expect(refusedOf(reported)).toEqual(
    refusal("4 in row 2", expect.stringMatching(/^counts that can be true \(the count at 4 µm must be/)),
  );
});

test("counts of another scale stand apart, with their range and their limit", () => {
  const { results } = gatherCounts(
    [
      count(5, ["below", 9], { scale: "um-older", toUm: 15, per: 100 }),
      count(5, 900, { scale: "um-microscope" }),
    ],
    undefined,
  );
  expect(results).toEqual({
    otherScaleCounts: [
      { scale: "um-older", fromUm: 5, toUm: 15, volumeMl: 100, count: 9, limit: "below" },
      { scale: "um-microscope", fromUm: 5, volumeMl: 1, count: 900 },
    ],
  });
});
