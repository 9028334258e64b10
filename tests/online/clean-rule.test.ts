import { describe, expect, test } from "vitest";
import { poissonTails } from "../../src/numeric/index.js";
import { afterMinute, NO_EVIDENCE, strengthOf } from "../../src/online/index.js";

/** All counts that a mean lets expect with more than a negligible probability, with that probability. */
const likely = (mean: number) =>
  Array.from({ length: Math.ceil(mean + 12 * Math.sqrt(mean)) }, (_, count) => ({
    count,
    probability: poissonTails(count, mean).upTo - poissonTails(count - 1, mean).upTo,
  }));

describe("evidence for a clean circuit, whatever came before, does not grow on average while it is at the level at stake", () => {
  // Ville's inequality needs an average of 1 at the most; it is worked out here over all counts of a minute.
  test.each([4, 40, 270])("%s particles a minute", (atStake) => {
    const before = [30, 45, 20].reduce(
      (evidence, percent) => afterMinute(evidence, Math.round((atStake * percent) / 40), atStake, 0, true),
      NO_EVIDENCE,
    );
    const average = likely(atStake).reduce(
      (sum, { count, probability }) =>
        sum + probability * strengthOf(afterMinute(before, count, atStake, 0, true)),
      0,
    );
    expect(average / strengthOf(before)).toBeCloseTo(1, 6);
    const above = likely(1.1 * atStake).reduce(
      (sum, { count, probability }) =>
        sum + probability * strengthOf(afterMinute(before, count, atStake, 0, true)),
      0,
    );
    expect(above).toBeLessThanOrEqual(strengthOf(before));
  });
});

test("before the first minute nothing is shown either way", () => {
  expect(strengthOf(NO_EVIDENCE)).toBe(1);
});

// One minute with no particle where 40 are at stake, shares 0.85, 0.7, 0.5, 0.3, 0.1: the run that begins now has weight
// 1/2 and ratios e^(40 − share · 40); the rest stands at 1 with weight 1/2.
test("the first minute by hand", () => {
  const ratios = [0.85, 0.7, 0.5, 0.3, 0.1].map((share) => Math.exp(40 * (1 - share)));
  const byHand = ratios.reduce((sum, ratio) => sum + ratio / 2, 0) / 5 + 1 / 2;
  expect(strengthOf(afterMinute(NO_EVIDENCE, 0, 40, 0, true)) / byHand).toBeCloseTo(1, 10);
});

test("a minute that is not trusted can speak against, and not for", () => {
  const clean = afterMinute(NO_EVIDENCE, 5, 40, 0, true);
  expect(strengthOf(afterMinute(clean, 5, 40, 0, false))).toBeLessThan(
    strengthOf(afterMinute(clean, 5, 40, 0, true)),
  );
  expect(strengthOf(afterMinute(clean, 60, 40, 0, false))).toBeLessThan(strengthOf(clean));
});

test("an hour of dirt does not weigh on the clean minutes after it", () => {
  let evidence = NO_EVIDENCE;
  for (let minute = 0; minute < 60; minute += 1) evidence = afterMinute(evidence, 4000, 400, 0.01, true);
  expect(strengthOf(evidence)).toBeLessThan(1);
  for (let minute = 0; minute < 6; minute += 1) evidence = afterMinute(evidence, 200, 400, 0.01, true);
  expect(strengthOf(evidence)).toBeGreaterThan(40);
});
