import { highestAt } from "../../numeric/index.js";
import { type DecayFit, type DecayPoint, DROP_90, edge, likelihoodOf } from "./decay-fit.js";

/** Minutes from the last sample until a channel is at its limit, with a 90 % interval; one that is open above gives no number. */
export type RemainingTime =
  | { readonly kind: "minutes"; readonly estimate: number; readonly low: number; readonly high: number }
  | { readonly kind: "at-least"; readonly minutes: number }
  | { readonly kind: "not-reached"; readonly floor: number };

const ORDER: readonly RemainingTime["kind"][] = ["minutes", "at-least", "not-reached"];

/** Out of reach is longer than any time, and a time without an upper end longer than one with it. */
export function isLonger(one: RemainingTime, other: RemainingTime): boolean {
  const rank = (entry: RemainingTime) => ORDER.indexOf(entry.kind);
  const size = (entry: RemainingTime) =>
    entry.kind === "minutes" ? entry.high : entry.kind === "at-least" ? entry.minutes : 0;
  return rank(one) === rank(other) ? size(one) > size(other) : rank(one) > rank(other);
}

/** What remains after some of the minutes have passed. */
export function timeAfter(remaining: RemainingTime, passed: number): RemainingTime {
  const left = (minutes: number) => Math.max(0, minutes - passed);
  switch (remaining.kind) {
    case "minutes":
      return {
        kind: "minutes",
        estimate: left(remaining.estimate),
        low: left(remaining.low),
        high: left(remaining.high),
      };
    case "at-least":
      return { kind: "at-least", minutes: left(remaining.minutes) };
    default:
      return remaining;
  }
}

/**
 * How much longer to circulate, by what the samples show.
 *
 * The interval holds every time that some start, rate and floor give without being much less likely than the best.
 *
 * @param points - the counts that the fit was made from
 * @param relativeVariance - square of the relative reproducibility
 * @param fit - the fit
 * @param limit - particles per mL
 * @param lastMinutes - moment of the last sample
 */
export function remainingTime(
  points: readonly DecayPoint[],
  relativeVariance: number,
  fit: DecayFit,
  limit: number,
  lastMinutes: number,
): RemainingTime {
  const { start, floor, rate } = fit.best;
  const now = floor + (start - floor) * Math.exp(-rate * lastMinutes);
  if (now > limit && !(floor < limit && rate > 0)) return { kind: "not-reached", floor };
  const estimate = now > limit ? Math.log((now - floor) / (limit - floor)) / rate : 0;
  const cut = fit.best.logLikelihood - DROP_90;
  const inside = (minutes: number) =>
    bestThrough(points, relativeVariance, fit, limit, lastMinutes + minutes) >= cut;
  // A level that is inside already is at its limit in the past; then only the upper end says something.
  const low = estimate === 0 || inside(0) ? 0 : edge(inside, estimate, 0);
  if (estimate === 0 && !inside(0)) return { kind: "minutes", estimate, low, high: 0 };
  let beyond = 2 * (lastMinutes + estimate);
  for (let doubled = 0; doubled < 10 && inside(beyond); doubled += 1) beyond *= 2;
  return inside(beyond)
    ? { kind: "at-least", minutes: low }
    : { kind: "minutes", estimate, low, high: edge(inside, estimate, beyond) };
}

/** After this many time constants between two samples the level is at the floor. */
const MAX_CONSTANTS = 40;

/**
 * The best likelihood of any decay that passes through the limit at a given moment.
 *
 * Start and rate are searched, and the floor follows from them: for a late moment it lies just below the limit, where a
 * search for the floor itself would not find it.
 */
function bestThrough(
  points: readonly DecayPoint[],
  relativeVariance: number,
  fit: DecayFit,
  limit: number,
  moment: number,
): number {
  const shortest = Math.min(
    ...points.slice(1).map(({ minutes }, index) => minutes - (points[index] as DecayPoint).minutes),
  );
  // A limit of no particles has no logarithm.
  const least = Math.log(Math.max(limit, 1e-9));
  return highest(least, Math.log(limit + 100 * fit.best.start), (logStart) => {
    const start = Math.exp(logStart);
    // Slower than this, the level could not fall to the limit in time even without a floor.
    const slowest = (logStart - least) / moment;
    return highest(slowest, slowest + MAX_CONSTANTS / shortest, (rate) => {
      const left = Math.exp(-rate * moment);
      const floor = left === 1 ? limit : Math.max(0, (limit - start * left) / (1 - left));
      return likelihoodOf(points, relativeVariance, start, floor, rate);
    });
  });
}

/** The highest value between two arguments, which may be that at an end. */
function highest(from: number, to: number, value: (at: number) => number): number {
  // Near its top a likelihood is flat: a hundred-thousandth of the way changes it by less than a hundredth.
  const near = 1e-5 * (to - from);
  const at = highestAt(value, from, to, near);
  return Math.max(value(at), value(from), value(to));
}
