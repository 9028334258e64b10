import fc from "fast-check";
import type { CirculationInput } from "../../src/circulation/index.js";
import { cumulativeCounts } from "../../src/counts/index.js";

/** Sizes that a full sample is counted at, in µm(c). */
export const SIZES = [4, 6, 14, 21, 38, 70] as const;

/** A number spread evenly between two others; fc.double would pile up near 0. */
export function evenly(from: number, to: number): fc.Arbitrary<number> {
  return fc.integer({ min: 0, max: 1_000_000 }).map((step) => from + ((to - from) * step) / 1_000_000);
}

/** A number spread evenly over its powers of ten. */
export function decades(from: number, to: number): fc.Arbitrary<number> {
  return evenly(Math.log10(from), Math.log10(to)).map((exponent) => 10 ** exponent);
}

/** Numbers that do not rise, such as cumulative counts. */
function falling(length: number, first: fc.Arbitrary<number>): fc.Arbitrary<number[]> {
  return fc
    .tuple(first, fc.array(evenly(0.01, 1), { minLength: length, maxLength: length }))
    .map(([start, shares]) => {
      let level = start;
      return shares.map((share, index) => {
        if (index > 0) level *= share;
        return level;
      });
    });
}

const betas = fc
  .tuple(decades(1, 50), fc.array(decades(1, 10), { minLength: 2, maxLength: 2 }))
  .map(([first, steps]) => [
    { sizeUmC: 4, beta: first },
    { sizeUmC: 10, beta: first * (steps[0] as number) },
    { sizeUmC: 25, beta: first * (steps[0] as number) * (steps[1] as number) },
  ]);

const element = fc.record({
  betas,
  bypass: fc.oneof(fc.constant(0), evenly(0, 0.5)),
});

/** How the generated circuits mix. */
export const twoZones = fc.record({
  kind: fc.constant("two-zone" as const),
  slowFraction: fc.oneof(fc.constant(0), evenly(0.01, 0.9)),
  exchangePerPass: fc.oneof(fc.constant(0), decades(0.001, 10)),
});

/** Circuits of every kind with a limit at each size; `ingress` and `mixing` may be fixed by the caller. */
export function circuits(fixed: {
  readonly mixing?: fc.Arbitrary<CirculationInput["mixing"]>;
  readonly ingress?: fc.Arbitrary<readonly number[] | undefined>;
}): fc.Arbitrary<CirculationInput> {
  const mixing = fixed.mixing ?? fc.oneof(fc.constant({ kind: "well-mixed" as const }), twoZones);
  const ingress = fixed.ingress ?? fc.option(falling(SIZES.length, decades(1e3, 1e8)), { nil: undefined });
  return fc
    .record({
      volumeL: decades(5, 500),
      flowLpm: decades(2, 200),
      first: element,
      second: fc.option(element, { nil: undefined }),
      side: fc.option(fc.tuple(element, decades(0.5, 40)), { nil: undefined }),
      start: falling(SIZES.length, decades(100, 1e6)),
      shares: fc.array(decades(0.003, 3), { minLength: SIZES.length, maxLength: SIZES.length }),
      mixing,
      ingress,
    })
    .map((drawn): CirculationInput => {
      const start = cumulativeCounts(
        SIZES.map((sizeUm, index) => ({ sizeUm, count: drawn.start[index] as number })),
        1,
      );
      return {
        volumeL: drawn.volumeL,
        flowLpm: drawn.flowLpm,
        ...drawn.first,
        ...(drawn.second && { inSeries: [drawn.second] }),
        ...(drawn.side && { sideStream: { ...drawn.side[0], flowLpm: drawn.side[1] } }),
        ...(drawn.mixing && { mixing: drawn.mixing }),
        start,
        limits: SIZES.map((fromUm, index) => ({
          channel: String(fromUm),
          fromUm,
          limit: (drawn.start[index] as number) * (drawn.shares[index] as number),
          volumeMl: 1,
        })),
        ...(drawn.ingress && {
          ingress: SIZES.map((sizeUmC, index) => ({
            sizeUmC,
            particlesPerMin: (drawn.ingress as number[])[index] as number,
          })),
        }),
      };
    });
}
