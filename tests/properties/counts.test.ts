import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  AS4059_CUMULATIVE,
  classConfidence,
  limitsConfidence,
  limitsOfTarget,
  parseTarget,
} from "../../src/cleanliness/index.js";
import {
  cumulativeCounts,
  estimateAt,
  inVolume,
  levelOf,
  poolReplicates,
  toCumulative,
  toIntervals,
} from "../../src/counts/index.js";
import { poissonInterval } from "../../src/numeric/index.js";
import { fallingCounts, nearLimit, SIZES_UM, seeded, TABLES } from "../support/counts-near-limits.js";

const sized = (counts: readonly number[]) =>
  SIZES_UM.map((sizeUm, index) => ({ sizeUm, count: counts[index] as number }));

/** Counts as laboratories write them: whole, or with up to three decimals. */
const written = fc
  .tuple(
    fallingCounts,
    fc.array(fc.nat({ max: 999 }), { minLength: 7, maxLength: 7 }),
    fc.constantFrom(0, 1, 2, 3),
  )
  .map(([counts, thousandths, places]) =>
    counts
      .map((count, index) => Number((count + (thousandths[index] as number) / 1000).toFixed(places)))
      .sort((a, b) => b - a),
  );

test("cumulative counts turned into ranges and back are the same numbers, to the last digit", () => {
  fc.assert(
    fc.property(written, fc.constantFrom(1, 100), (counts, volumeMl) => {
      const set = cumulativeCounts(sized(counts), volumeMl);
      expect(toCumulative(toIntervals(set))).toEqual(set);
    }),
    { numRuns: 2000 },
  );
});

test("counts brought from one volume to another and back are the same numbers", () => {
  fc.assert(
    fc.property(written, (counts) => {
      const set = cumulativeCounts(sized(counts), 100);
      expect(inVolume(inVolume(set, 1), 100)).toEqual(set);
    }),
    { numRuns: 2000 },
  );
});

test("an estimated count lies between its two counted neighbours", () => {
  fc.assert(
    fc.property(fallingCounts, fc.double({ min: 4, max: 70, noNaN: true }), (counts, sizeUm) => {
      const estimate = estimateAt(cumulativeCounts(sized(counts), 100), sizeUm);
      if (estimate.kind !== "estimated") return;
      const [low, high] = estimate.betweenUm.map((size) => counts[SIZES_UM.indexOf(size as 4)] as number);
      expect(estimate.count).toBeLessThanOrEqual((low as number) * (1 + 1e-12));
      expect(estimate.count).toBeGreaterThanOrEqual((high as number) * (1 - 1e-12));
    }),
  );
});

describe("certainty", () => {
  const reproducibility = fc.constantFrom(
    undefined,
    { kind: "relative" as const, rsd: 0.02 },
    { kind: "relative" as const, rsd: 0.3 },
    { kind: "codes" as const, sd: 0.5 },
  );

  test("the probabilities of all classes of a channel are 0 or more and sum to 1, in every table", () => {
    fc.assert(
      fc.property(
        fallingCounts,
        fc.constantFrom(...TABLES),
        fc.constantFrom(0.1, 10, 100),
        reproducibility,
        (counts, table, countedMl, spread) => {
          const set = cumulativeCounts(sized(counts), 100, "um(c)", { countedMl });
          const { channels, noDirtierThan } = classConfidence(table, set, spread);
          expect(channels.length).toBeGreaterThan(0);
          for (const channel of channels) {
            if (channel.kind !== "known") throw new Error("all channels were counted");
            const sum = channel.classes.reduce((total, part) => total + part.probability, 0);
            expect(sum).toBeCloseTo(1, 12);
            expect(Math.min(...channel.classes.map((part) => part.probability))).toBeGreaterThanOrEqual(0);
          }
          for (const { atLeast, atMost } of noDirtierThan)
            expect(atLeast).toBeLessThanOrEqual(atMost + 1e-12);
          expect(noDirtierThan.at(-1)).toMatchObject({ atLeast: 1, atMost: 1 });
        },
      ),
      { numRuns: 150 },
    );
  });

  test("a higher limit is met more surely, and more particles make every limit less sure", () => {
    fc.assert(
      fc.property(
        nearLimit,
        nearLimit,
        fc.integer({ min: 1, max: 1000 }),
        reproducibility,
        (raw, limit, more, spread) => {
          const of = (n: number) =>
            levelOf({ raw: n, seenMl: 25, ...(spread && { reproducibility: spread }) });
          expect(of(raw)(limit)).toBeLessThanOrEqual(of(raw)(limit + more) + 1e-12);
          expect(of(raw + more)(limit)).toBeLessThanOrEqual(of(raw)(limit) + 1e-12);
        },
      ),
      { numRuns: 300 },
    );
  });

  test("a target class is met as surely as the sample is no dirtier than that class", () => {
    fc.assert(
      fc.property(fallingCounts, reproducibility, (counts, spread) => {
        const set = cumulativeCounts(sized(counts), 100, "um(c)", { countedMl: 10 });
        const met = limitsConfidence(limitsOfTarget(parseTarget("AS4059 cumulative 7A-F")), set, spread);
        const { noDirtierThan } = classConfidence(AS4059_CUMULATIVE, set, spread);
        const upTo7 = noDirtierThan.find((entry) => entry.class === "7");
        if (met.kind !== "known") throw new Error("all sizes were counted");
        expect(met.atLeast).toBeCloseTo(upTo7?.atLeast ?? Number.NaN, 12);
        expect(met.atMost).toBeCloseTo(upTo7?.atMost ?? Number.NaN, 12);
      }),
      { numRuns: 60 },
    );
  });
});

describe("simulated counting, with seeded random numbers", () => {
  /** A Poisson number: arrivals at rate 1 until the mean is used up. */
  const poisson = (mean: number, random: () => number) => {
    let n = 0;
    let left = mean + Math.log(1 - random());
    while (left >= 0) {
      n += 1;
      left += Math.log(1 - random());
    }
    return n;
  };

  test.each([0.2, 1, 3.7, 10, 25, 80].map((mean) => ({ mean })))(
    "the 95 % Poisson interval holds a mean of $mean at least 95 % of the time",
    ({ mean }) => {
      const random = seeded(1000 + Math.round(mean * 10));
      const draws = 20_000;
      let held = 0;
      for (let draw = 0; draw < draws; draw += 1) {
        const { low, high } = poissonInterval(poisson(mean, random));
        if (low <= mean && mean <= high) held += 1;
      }
      // Three standard errors of a share of 95 % in as many draws.
      expect(held / draws).toBeGreaterThan(0.95 - 3 * Math.sqrt((0.95 * 0.05) / draws));
    },
  );

  test("the 95 % Poisson interval is no wider than it must be: it misses a mean of 80 more than 3 % of the time", () => {
    const random = seeded(5);
    let held = 0;
    for (let draw = 0; draw < 20_000; draw += 1) {
      const { low, high } = poissonInterval(poisson(80, random));
      if (low <= 80 && 80 <= high) held += 1;
    }
    expect(held / 20_000).toBeLessThan(0.97);
  });

  test("a limit said to be met with 80 to 90 % is met in 80 to 90 % of fluids, over many levels and laboratories", () => {
    const random = seeded(77);
    const normal = () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
    const logSd = Math.sqrt(Math.log1p(0.2 ** 2));
    let said = 0;
    let met = 0;
    for (let draw = 0; draw < 30_000; draw += 1) {
      // Levels spread evenly in the logarithm, as much below the limit of 40 as above.
      const level = 40 * Math.exp((random() - 0.5) * 2.4);
      const raw = poisson(level * Math.exp(logSd * normal()), random);
      const probability = levelOf({ raw, seenMl: 1, reproducibility: { kind: "relative", rsd: 0.2 } })(40);
      if (probability < 0.8 || probability > 0.9) continue;
      said += 1;
      if (level <= 40) met += 1;
    }
    expect(said).toBeGreaterThan(1000);
    const error = 3 * Math.sqrt((0.85 * 0.15) / said);
    expect(met / said).toBeGreaterThan(0.8 - error);
    expect(met / said).toBeLessThan(0.9 + error);
  });

  test("replicates of well-mixed fluid are called too scattered about 5 % of the time, clumped ones nearly always", () => {
    const random = seeded(9);
    const share = (spread: number) => {
      let called = 0;
      for (let trial = 0; trial < 2000; trial += 1) {
        const [first, ...others] = [25, 25, 50].map((countedMl) => {
          const shift = 1 + spread * (random() < 0.5 ? -1 : 1);
          return cumulativeCounts(
            [{ sizeUm: 4, count: poisson(4 * countedMl * shift, random) / countedMl }],
            1,
            "um(c)",
            {
              countedMl,
            },
          );
        });
        const { scatter } = poolReplicates(first as NonNullable<typeof first>, ...others).scatter[0] ?? {};
        if (scatter?.kind === "more-than-random") called += 1;
      }
      return called / 2000;
    };
    expect(Math.abs(share(0) - 0.05)).toBeLessThan(0.02);
    expect(share(0.5)).toBeGreaterThan(0.7);
  });
});
