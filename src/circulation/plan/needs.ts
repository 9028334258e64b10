import { bisect, checkNumbers } from "../../numeric/index.js";
import { type CirculationInput, readyCircuit } from "../model/circuit.js";
import { CircuitSolver } from "../model/solver.js";

/** A value that would be enough, or that no value is. */
export type Need = { readonly kind: "enough"; readonly value: number } | { readonly kind: "never-enough" };

/**
 * The flow that reaches the target within a given time.
 *
 * @param input - see {@link CirculationInput}; its own flow is not looked at
 * @param minutes - more than 0
 * @returns L/min, or that no flow is enough
 * @throws RangeError for minutes that are not above 0
 */
export function flowNeeded(input: CirculationInput, minutes: number): Need {
  checkNumbers("positive", { minutes });
  return smallestEnough(1 / LARGEST, LARGEST, (flowLpm) => {
    const solver = new CircuitSolver(readyCircuit({ ...input, flowLpm }));
    return solver.passesToAll(true) * solver.minutesPerPass <= minutes;
  });
}

/** So large that it stands for no end, and small enough to multiply with. */
const LARGEST = 1e150;

/** Bisects the logarithm until no number lies between; `enough` turns true once. */
export function smallestEnough(
  low: number,
  high: number,
  enough: (value: number) => boolean,
  isNear: (low: number, high: number) => boolean = () => false,
): Need {
  if (!enough(high)) return { kind: "never-enough" };
  const turn = bisect((value) => !enough(value), low, high, {
    between: (short, value) => Math.sqrt(short) * Math.sqrt(value),
    isNear,
  });
  return { kind: "enough", value: turn.fails };
}
