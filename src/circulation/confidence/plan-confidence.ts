import { countUpTo, type RandomSource } from "../../numeric/index.js";
import { type Assumption, joinAssumptions } from "../../provenance/index.js";
import { type CirculationInput, readyCircuit } from "../model/circuit.js";
import { type FirstOrder, firstOrder } from "../model/first-order.js";
import { CircuitSolver } from "../model/solver.js";
import {
  CaseDrawer,
  checkUncertainty,
  startIsUncertain,
  type Uncertainty,
  type VerifyingBottle,
} from "./uncertainty.js";

/** Minutes after which the circuit is at its target with a probability, or that it never is so surely. */
export type MinutesFor =
  | {
      readonly kind: "minutes";
      readonly probability: number;
      readonly minutes: number;
      readonly passes: number;
    }
  | { readonly kind: "never-so-sure"; readonly probability: number; readonly highest: number };

/** How sure a plan is. */
export interface PlanConfidence {
  readonly draws: number;
  /** For each required probability. */
  readonly minutesFor: readonly MinutesFor[];
  /** Probability of being at the target against minutes, evenly spaced. */
  readonly curve: readonly { readonly minutes: number; readonly probability: number }[];
  /** Fraction of the cases that circulating brings to the target at some time. */
  readonly everReached: number;
  readonly firstOrder: FirstOrder;
  /** Whether the first-order estimate of the 95 % time agrees, to the digit that its own uncertainty can be given to. */
  readonly agreement:
    | { readonly kind: "agrees"; readonly toleranceMin: number }
    | { readonly kind: "disagrees"; readonly byMin: number; readonly toleranceMin: number }
    | { readonly kind: "no-comparison"; readonly why: string };
  readonly assumptions: readonly Assumption[];
}

/** Probabilities that a plan is quoted for unless others are named. */
export const QUOTED_PROBABILITIES = [0.5, 0.9, 0.95] as const;

const DEFAULT_DRAWS = 20_000;
/** More draws give no better answer, and all of them are in memory. */
const MAX_DRAWS = 1_000_000;
const CURVE_STEPS = 60;

/**
 * How sure a plan is, by Monte Carlo: many cases are drawn within the stated uncertainties, and each is solved as the
 * plan itself is.
 *
 * A case counts as at the target from the moment all its channels are inside together until the first of them
 * leaves. The minutes for a probability are the smallest at which that part of the cases, counted against one more
 * than were drawn, is at the target: the next case is inside with just that probability.
 *
 * @param input - see {@link CirculationInput}
 * @param uncertainty - how well the stated values are known
 * @param random - a source of random numbers, such as {@link seededRandom}; the same source gives the same answer
 * @param options - number of cases (20 000) and probabilities (0.5, 0.9 and 0.95); the bottle that verifies the
 *   circulation, where a case is to count as at the target once that bottle, drawn then, is within all limits; and the
 *   least minutes that a time may have
 * @throws RangeError for what {@link planCirculation} refuses, an uncertainty below 0, a probability outside 0 to 1, or more
 *   than 1 000 000 cases
 * @source JCGM-101
 * @source MASS-BALANCE
 * @example
 * const start = cumulativeCounts([{ sizeUm: 4, count: 20000 }], 1);
 * const limits = limitsOfTarget(parseTarget("17/-/-"));
 * const circuit = { volumeL: 60, flowLpm: 45, betas: [{ sizeUmC: 4, beta: 10 }], start, limits };
 * const result = planConfidence(circuit, { volume: 0.05, flow: 0.1 }, seededRandom(1));
 * result.minutesFor.find(({ probability }) => probability === 0.9).minutes; // => 4.7
 */
export function planConfidence(
  input: CirculationInput,
  uncertainty: Uncertainty,
  random: RandomSource,
  options: {
    readonly draws?: number;
    readonly probabilities?: readonly number[];
    readonly bottle?: VerifyingBottle;
    readonly atLeastMinutes?: number;
  } = {},
): PlanConfidence {
  const draws = options.draws ?? DEFAULT_DRAWS;
  if (!(Number.isInteger(draws) && draws > 0 && draws <= MAX_DRAWS))
    throw new RangeError(`draws must be a whole number from 1 to ${MAX_DRAWS}, not ${draws}`);
  const assumptions = checkUncertainty(uncertainty);
  const circuit = readyCircuit(input);
  const solver = new CircuitSolver(circuit);
  const minutesPerPass = solver.minutesPerPass;
  const { bottle, atLeastMinutes = 0 } = options;
  const estimate = firstOrder(circuit, uncertainty, bottle);
  const drawer = new CaseDrawer(circuit, uncertainty, random, bottle);
  const entered = new Float64Array(draws);
  const left = new Float64Array(draws).fill(Number.POSITIVE_INFINITY);
  const trustCounts = bottle === undefined && !startIsUncertain(uncertainty);
  const leave = solveCases(solver, drawer, trustCounts, entered, left);
  sortTimes(entered);
  if (leave) sortTimes(left);
  const minutesFor = (options.probabilities ?? QUOTED_PROBABILITIES).map((probability) =>
    smallestMinutes({ entered, left }, probability, minutesPerPass, atLeastMinutes),
  );
  return {
    draws,
    minutesFor,
    curve: curveOf(entered, left),
    everReached: countUpTo(entered, Number.MAX_VALUE) / draws,
    firstOrder: estimate,
    agreement: compare(estimate, smallestMinutes({ entered, left }, ESTIMATED_PROBABILITY, minutesPerPass)),
    assumptions: joinAssumptions(circuit.assumptions, assumptions),
  };
}

/**
 * Solves as many drawn cases as `entered` has places: the minutes after which each is inside, and leaves again.
 *
 * @returns whether any leaves
 */
function solveCases(
  solver: CircuitSolver,
  drawer: CaseDrawer,
  trustCounts: boolean,
  entered: Float64Array,
  left: Float64Array,
): boolean {
  let leave = false;
  for (let index = 0; index < entered.length; index += 1) {
    solver.set(drawer.draw());
    const passes = solver.passesToAll(trustCounts);
    entered[index] = passes * solver.minutesPerPass;
    if (passes === Number.POSITIVE_INFINITY) continue;
    const leaves = solver.passesToLeaveAny(passes);
    if (leaves === Number.POSITIVE_INFINITY) continue;
    left[index] = leaves * solver.minutesPerPass;
    leave = true;
  }
  return leave;
}

/** Sorts times in place. None is negative, so that their bits are in the same order; those sort in half of the time. */
function sortTimes(times: Float64Array): void {
  new BigUint64Array(times.buffer).sort();
}

/** The first-order estimate is compared at the time that plans are quoted for. */
const ESTIMATED_PROBABILITY = 0.95;

function smallestMinutes(
  { entered, left }: { readonly entered: Float64Array; readonly left: Float64Array },
  probability: number,
  minutesPerPass: number,
  atLeast = 0,
): MinutesFor {
  if (!(probability > 0 && probability < 1)) {
    throw new RangeError(`a probability must be between 0 and 1, not ${probability}`);
  }
  const needed = probability * (entered.length + 1);
  let gone = 0;
  let highest = 0;
  // All that are inside before the least are inside by then, unless they have left.
  const first = Math.max(0, countUpTo(entered, atLeast) - 1);
  for (let index = first; index < entered.length; index += 1) {
    const minutes = Math.max(atLeast, entered[index] as number);
    if (minutes === Number.POSITIVE_INFINITY) break;
    while ((left[gone] as number) <= minutes) gone += 1;
    highest = Math.max(highest, index + 1 - gone);
    if (highest >= needed) {
      return { kind: "minutes", probability, minutes, passes: minutes / minutesPerPass };
    }
  }
  return { kind: "never-so-sure", probability, highest: highest / entered.length };
}

function curveOf(entered: Float64Array, left: Float64Array): { minutes: number; probability: number }[] {
  const reached = countUpTo(entered, Number.MAX_VALUE);
  const last = reached === 0 ? 1 : (entered[Math.ceil(0.995 * reached) - 1] as number);
  const end = last > 0 ? 1.1 * last : 1;
  return Array.from({ length: CURVE_STEPS + 1 }, (_, step) => {
    const minutes = (end * step) / CURVE_STEPS;
    return {
      minutes,
      probability: (countUpTo(entered, minutes) - countUpTo(left, minutes)) / entered.length,
    };
  });
}

function compare(estimate: FirstOrder, sampled: MinutesFor): PlanConfidence["agreement"] {
  if (estimate.kind === "none") return { kind: "no-comparison", why: estimate.why };
  if (sampled.kind === "never-so-sure") {
    return { kind: "no-comparison", why: "fewer than 95 % of the cases are at the target at any one time" };
  }
  const toleranceMin = lastDigitOf(estimate.standardUncertaintyMin) / 2;
  const byMin = estimate.minutes95 - sampled.minutes;
  return Math.abs(byMin) <= toleranceMin
    ? { kind: "agrees", toleranceMin }
    : { kind: "disagrees", byMin, toleranceMin };
}

/** The unit of the one significant digit that an uncertainty is given to. */
function lastDigitOf(uncertainty: number): number {
  return uncertainty === 0 ? 0 : 10 ** Math.floor(Math.log10(uncertainty));
}
