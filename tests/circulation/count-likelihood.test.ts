// Exact 95 % limits of Poisson counts (Garwood's interval: lower limit χ²(0.025, 2n)/2, upper χ²(0.975, 2n + 2)/2), as
// printed by an R package's help and an interval calculator for n = 0 and 10 and computed for the rest. At each limit
// the tail that the one-sided counts of an interim sample use has to be 2.5 %.
import { expect, test } from "vitest";
import { expectedCount, logLikelihood } from "../../src/circulation/interim/count-likelihood.js";

test.each([
  [0, 0, 3.6889],
  [1, 0.0253, 5.5716],
  [2, 0.2422, 7.2247],
  [5, 1.6235, 11.6683],
  [10, 4.7954, 18.3904],
  [20, 12.2165, 30.8884],
  [50, 37.111, 65.9188],
  [100, 81.364, 121.6268],
])("%d particles counted: the mean lies between %d and %d", (count, low, high) => {
  expect(Math.exp(logLikelihood({ kind: "at-most", count }, high, 0))).toBeCloseTo(0.025, 5);
  if (count > 0) expect(Math.exp(logLikelihood({ kind: "at-least", count }, low, 0))).toBeCloseTo(0.025, 4);
});

test("a plain sum gives the same tails and means, with and without a varying laboratory", () => {
  for (const relativeVariance of [0, 0.04]) {
    for (const mean of [0.5, 8, 60]) {
      // Terms of the distribution by their ratio, scaled to a sum of 1.
      const terms = [1];
      for (let n = 0; n < 3000; n += 1) {
        terms.push(
          ((terms[n] as number) * mean * (1 + relativeVariance * n)) /
            ((n + 1) * (1 + relativeVariance * mean)),
        );
      }
      const total = terms.reduce((sum, term) => sum + term, 0);
      for (const count of [0, 3, 9, 70]) {
        const below = terms.slice(0, count + 1).reduce((sum, term) => sum + term, 0) / total;
        const first = terms.slice(0, count + 1).reduce((sum, term, n) => sum + n * term, 0) / total;
        const seen = { kind: "at-most", count } as const;
        expect(Math.exp(logLikelihood(seen, mean, relativeVariance)) / below).toBeCloseTo(1, 9);
        expect(expectedCount(seen, mean, relativeVariance)).toBeCloseTo(first / below, 8);
      }
      for (const [fewest, count] of [
        [0, 0],
        [1, 3],
        [5, 10],
        [11, 20],
        [41, 80],
      ] as const) {
        const part = terms.slice(fewest, count + 1);
        const within = part.reduce((sum, term) => sum + term, 0) / total;
        const first = part.reduce((sum, term, n) => sum + (fewest + n) * term, 0) / total;
        const seen = { kind: "between", fewest, count } as const;
        expect(Math.exp(logLikelihood(seen, mean, relativeVariance)) / within).toBeCloseTo(1, 6);
        expect(expectedCount(seen, mean, relativeVariance)).toBeCloseTo(first / within, 6);
      }
    }
  }
});

test.each([
  [0, 400_000, 398_000],
  [0, 50_000_000, 50_003_000],
  [0.04, 400_000, 250_000],
  [0.04, 400_000, 700_000],
  [0.25, 26_000, 9000],
])(
  "with a variance of %d a count of at most %d has the tail of a plain sum when %d are expected",
  (relativeVariance, count, mean) => {
    // From the largest term outwards, each by its ratio to the one before, scaled to a sum of 1.
    const ratio = (n: number) =>
      (mean * (1 + relativeVariance * n)) / ((n + 1) * (1 + relativeVariance * mean));
    const top = Math.floor(mean);
    let [sum, below, first] = [0, 0, 0];
    const see = (n: number, term: number) => {
      sum += term;
      if (n <= count) {
        below += term;
        first += n * term;
      }
    };
    for (let [n, term] = [top, 1]; term > 1e-18; term *= ratio(n), n += 1) see(n, term);
    for (let [n, term] = [top - 1, 1 / ratio(top - 1)]; n >= 0 && term > 1e-18; n -= 1, term /= ratio(n))
      see(n, term);
    const seen = { kind: "at-most", count } as const;
    expect(Math.exp(logLikelihood(seen, mean, relativeVariance)) / (below / sum)).toBeCloseTo(1, 6);
    expect(expectedCount(seen, mean, relativeVariance) / (first / below)).toBeCloseTo(1, 7);
  },
);
