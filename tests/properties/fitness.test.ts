import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { parseTarget } from "../../src/cleanliness/index.js";
import { cumulativeCounts } from "../../src/counts/index.js";
import { judgeCircuit, VERDICTS } from "../../src/fitness/index.js";
import type { Circuit, Measured, Requirement, Sample } from "../../src/samples/index.js";
import { runs } from "../support/runs.js";

const circuit: Circuit = {
  circuit: "1",
  serves: "main system",
  fluid: "AS1241 Type IV",
  volumeL: 150,
  flowLpm: 110,
  element: { position: "pressure", betas: [{ sizeUmC: 4, beta: 20 }] },
  events: [],
};

const requirement: Requirement = {
  system: "main system",
  fluids: ["AS1241 Type IV"],
  cleanliness: [parseTarget("17/15/12")],
  waterPpmMax: 8000,
  acidMgKohPerGMax: 1.5,
  sampleAgeDaysMax: 30,
};

const LIMITS_PER_ML = [1300, 320, 40];

/** A factor around 1 that is often exactly 1, so that values lie at, just inside and just outside their limit. */
const aroundOne = fc.oneof(
  { weight: 6, arbitrary: fc.constantFrom(0, 0.5, 1 - 1e-9, 1) },
  { weight: 2, arbitrary: fc.constantFrom(1 + 1e-9, 1.001, 2) },
  // A millionth is finer than any counter; numbers at the edge of what a computer can hold are no counts.
  { weight: 1, arbitrary: fc.integer({ min: 0, max: 3_000_000 }).map((millionths) => millionths / 1e6) },
);

const measured = (maximum: number): fc.Arbitrary<Measured | undefined> =>
  fc.option(
    fc
      .tuple(aroundOne, fc.constantFrom(undefined, "below" as const, "above" as const))
      .map(([factor, limit]) => ({
        value: maximum * factor,
        ...(limit && { limit }),
      })),
    { nil: undefined, freq: 8 },
  );

const sample: fc.Arbitrary<Sample> = fc
  .record({
    factors: fc.option(fc.tuple(aroundOne, aroundOne, aroundOne), { nil: undefined, freq: 8 }),
    waterPpm: measured(8000),
    acidMgKohPerG: measured(1.5),
    day: fc.integer({ min: 1, max: 31 }),
  })
  .map(({ factors, waterPpm, acidMgKohPerG, day }) => ({
    sample: "S-1",
    cart: "C-1",
    circuit: "1",
    drawnOn: `2026-03-${String(day).padStart(2, "0")}`,
    ...(factors && { counts: countsOf(factors) }),
    ...(waterPpm && { waterPpm }),
    ...(acidMgKohPerG && { acidMgKohPerG }),
    origin: [{ file: "a.csv", rows: [2] }],
  }));

/** Counts around the limits, made to fall with size. */
function countsOf(factors: readonly number[]) {
  let above = Number.POSITIVE_INFINITY;
  const counts = LIMITS_PER_ML.map((limit, index) => {
    above = Math.min(above, limit * (factors[index] as number));
    return { sizeUm: [4, 6, 14][index] as number, count: above };
  });
  return cumulativeCounts(counts, 1);
}

function judge(...samples: Sample[]) {
  return judgeCircuit({ cart: "C-1", circuit, requirement, samples, unread: [], on: "2026-03-31" });
}

const rank = (one: Sample) => VERDICTS.indexOf(judge(one).verdict);

describe("a verdict never gains from worse or fewer data", () => {
  test("the generated samples meet each verdict that a sample can bring about", () => {
    const found = new Set(fc.sample(sample, { numRuns: 600, seed: 1 }).map((one) => judge(one).verdict));
    expect([...found].sort()).toEqual(["circulate", "exchange-fluid", "fit", "resample"]);
  });

  test("fit means that every limit is met, by the numbers themselves", () => {
    let fit = 0;
    fc.assert(
      fc.property(sample, (one) => {
        if (judge(one).verdict !== "fit") return;
        fit += 1;
        for (const [index, { count }] of (one.counts?.counts ?? []).entries()) {
          expect(count).toBeLessThanOrEqual(LIMITS_PER_ML[index] as number);
        }
        expect(one.counts?.counts).toHaveLength(3);
        expect(one.waterPpm?.value).toBeLessThanOrEqual(8000);
        expect(one.waterPpm?.limit).not.toBe("above");
        expect(one.acidMgKohPerG?.value).toBeLessThanOrEqual(1.5);
        expect(one.acidMgKohPerG?.limit).not.toBe("above");
      }),
      { numRuns: runs(200) },
    );
    expect(fit).toBeGreaterThan(6);
  });

  test("more water, more acid, more particles or an older sample never make it milder", () => {
    fc.assert(
      fc.property(sample, fc.double({ min: 1, max: 5, noNaN: true }), (one, factor) => {
        // "> 0.8" made "> 1.6" also says more: what was not known is then known to be outside. Only plain values compare.
        const worse = (value: Measured) =>
          value.limit === undefined ? { value: value.value * factor } : value;
        const variants: Sample[] = [
          { ...one, ...(one.waterPpm && { waterPpm: worse(one.waterPpm) }) },
          { ...one, ...(one.acidMgKohPerG && { acidMgKohPerG: worse(one.acidMgKohPerG) }) },
          { ...one, drawnOn: "2026-02-27" },
        ];
        if (one.counts !== undefined) {
          const more = one.counts.counts.map(({ sizeUm, count }) => ({ sizeUm, count: count * factor }));
          variants.push({ ...one, counts: cumulativeCounts(more, 1) });
        }
        for (const variant of variants) expect(rank(variant)).toBeGreaterThanOrEqual(rank(one));
      }),
      { numRuns: runs(200) },
    );
  });

  test("a result that is left out never makes it milder", () => {
    fc.assert(
      fc.property(sample, fc.constantFrom("counts", "waterPpm", "acidMgKohPerG"), (one, key) => {
        const fewer = Object.fromEntries(Object.entries(one).filter(([name]) => name !== key)) as Sample;
        expect(rank(fewer)).toBeGreaterThanOrEqual(rank(one));
      }),
      { numRuns: runs(200) },
    );
  });

  test("the order of the samples does not matter", () => {
    fc.assert(
      fc.property(sample, sample, sample, (a, b, c) => {
        expect(judge(c, a, b).verdict).toBe(judge(a, b, c).verdict);
      }),
    );
  });
});
