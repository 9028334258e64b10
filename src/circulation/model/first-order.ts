import {
  HALF_COUNT,
  logSpread,
  SHARED_FACTORS,
  type Uncertainty,
  type UP_TO,
  type VerifyingBottle,
} from "../confidence/uncertainty.js";
import type { CircuitOfBins } from "./circuit.js";
import { CircuitSolver, type Factors, statedFactors } from "./solver.js";

/** What one uncertain quantity adds to the uncertainty of the time. */
export interface Contribution {
  readonly of: (typeof SHARED_FACTORS)[number] | (typeof UP_TO)[number] | "laboratory" | "counting";
  /** Standard uncertainty in minutes that it causes alone. */
  readonly minutes: number;
}

/** The first-order estimate: the slope of the time against each quantity times its standard uncertainty. */
export type FirstOrder =
  | {
      readonly kind: "estimate";
      /** Minutes of the plan itself. */
      readonly minutes: number;
      readonly standardUncertaintyMin: number;
      readonly minutes95: number;
      /** Largest first; those of 0 are left out. */
      readonly contributions: readonly Contribution[];
    }
  | { readonly kind: "none"; readonly why: string };

/** The 95 % point of the normal distribution, one-sided. */
const NORMAL_95 = 1.6448536269514722;

/** Standard deviation of what is spread evenly, as a fraction of its range. */
const EVEN = 1 / Math.sqrt(12);

/** Part of a standard uncertainty that the slope is taken over. */
const STEP = 0.01;

/**
 * Estimates the uncertainty of the time to first order, which also shows what it comes from.
 *
 * @param circuit - the circuit made ready
 * @param uncertainty - how well the stated values are known
 * @param bottle - the bottle that verifies the circulation, where its scatter counts too
 * @returns minutes, or why there is no estimate
 * @source JCGM-101
 */
export function firstOrder(
  circuit: CircuitOfBins,
  uncertainty: Uncertainty,
  bottle?: VerifyingBottle,
): FirstOrder {
  const solver = new CircuitSolver(circuit);
  const mostOf = { hoses: uncertainty.hoses ?? 0, leakage: uncertainty.leakage ?? 0 };
  const minutesWith = (change: (factors: Factors) => void): number => {
    const factors = statedFactors(circuit);
    // What is known by its most alone is estimated about its middle.
    factors.volume = 1 + mostOf.hoses / 2;
    factors.leakage = mostOf.leakage / 2;
    change(factors);
    solver.set(factors);
    return solver.passesToAll(false) * solver.minutesPerPass;
  };
  const slope = (change: (factors: Factors, steps: number) => void): number =>
    (minutesWith((factors) => change(factors, STEP)) - minutesWith((factors) => change(factors, -STEP))) /
    (2 * STEP);
  const scaleStart = (factors: Factors, by: number) => {
    factors.startPerMl.forEach((perMl, index) => {
      factors.startPerMl[index] = perMl * by;
    });
  };
  const shared = SHARED_FACTORS.map((name): Contribution => {
    const spread = logSpread(uncertainty[name] ?? 0);
    return {
      of: name,
      minutes: Math.abs(
        slope((factors, steps) => {
          factors[name] *= Math.exp(spread * steps);
        }),
      ),
    };
  });
  const upTo: Contribution[] = [
    {
      of: "hoses",
      minutes: Math.abs(
        slope((factors, steps) => {
          factors.volume += mostOf.hoses * EVEN * steps;
        }),
      ),
    },
    {
      of: "leakage",
      minutes: Math.abs(
        slope((factors, steps) => {
          factors.leakage += mostOf.leakage * EVEN * steps;
        }),
      ),
    },
  ];
  const scaleLimits = (factors: Factors, by: number) => {
    factors.limitPerMl.forEach((perMl, index) => {
      factors.limitPerMl[index] = perMl * by;
    });
  };
  const spread = logSpread(uncertainty.laboratory ?? 0);
  const spreadAgain = logSpread(bottle?.laboratory ?? 0);
  const laboratory: Contribution = {
    of: "laboratory",
    minutes: Math.hypot(
      slope((factors, steps) => scaleStart(factors, Math.exp(spread * steps))),
      slope((factors, steps) => scaleLimits(factors, Math.exp(spreadAgain * steps))),
    ),
  };
  const { countedMl } = uncertainty;
  const counting: Contribution = {
    of: "counting",
    minutes: Math.hypot(
      ...(countedMl === undefined
        ? []
        : circuit.bins.map(({ startPerMl, countedPart }, index) => {
            const seenMl = countedMl * countedPart;
            const deviation = Math.sqrt(startPerMl * seenMl + HALF_COUNT) / seenMl;
            return slope((factors, steps) => {
              factors.startPerMl[index] = Math.max(0, startPerMl + deviation * steps);
            });
          })),
      ...(bottle === undefined
        ? []
        : circuit.limited.map(({ limit }, index) => {
            const deviation = Math.sqrt(limit / bottle.countedMl);
            return slope((factors, steps) => {
              factors.limitPerMl[index] = limit + deviation * steps;
            });
          })),
    ),
  };
  const minutes = minutesWith(() => undefined);
  const contributions = [...shared, ...upTo, laboratory, counting]
    .filter((entry) => entry.minutes !== 0)
    .sort((a, b) => b.minutes - a.minutes);
  const standardUncertaintyMin = Math.hypot(...contributions.map((entry) => entry.minutes));
  if (!Number.isFinite(minutes)) return { kind: "none", why: "the plan itself does not reach the target" };
  if (!Number.isFinite(standardUncertaintyMin)) {
    return { kind: "none", why: "the target is so near to what can be reached that the time has no slope" };
  }
  return {
    kind: "estimate",
    minutes,
    standardUncertaintyMin,
    minutes95: minutes + NORMAL_95 * standardUncertaintyMin,
    contributions,
  };
}
