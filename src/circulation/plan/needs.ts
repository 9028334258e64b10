import { bisect } from "../../numeric/index.js";
import { type CirculationInput, readyCircuit } from "../model/circuit.js";
import { CircuitSolver } from "../model/solver.js";

/** A value that would be enough, or that no value is. */
export type Need = { readonly kind: "enough"; readonly value: number } | { readonly kind: "never-enough" };

/** What would bring a target within reach, each alone and everything else as it is. */
export interface Remedies {
  /** β of every element of the main stream from `fromUmC` up, at least this. */
  readonly beta: Need;
  /** The smallest size that a limit is set at. */
  readonly fromUmC: number;
  /** Flow of the main stream in L/min, at least this. */
  readonly flowLpm: Need;
  /** Ingress at every size as a fraction of what was given, at most this. */
  readonly ingressFraction: Need;
}

/**
 * Solves for what would make an unreachable target reachable: β, flow or ingress.
 *
 * At the value itself the time has no end in sight; anything better shortens it. Each is solved on the full plan,
 * which more flow, a higher β or less ingress can only improve.
 *
 * @param input - see {@link CirculationInput}
 * @returns the three values; a fraction of 1 or the present flow when the target is within reach already
 */
export function remediesFor(input: CirculationInput): Remedies {
  const fromUmC = Math.min(...input.limits.map((limit) => limit.fromUm));
  const rated = (
    element: CirculationInput | NonNullable<CirculationInput["inSeries"]>[number],
    beta: number,
  ) => ({
    ...element,
    betas: [{ sizeUmC: fromUmC, beta }],
  });
  return {
    fromUmC,
    beta: smallestEnough(1, Number.MAX_VALUE, (beta) =>
      isReachable({
        ...input,
        ...rated(input, beta),
        inSeries: (input.inSeries ?? []).map((element) => rated(element, beta)),
      }),
    ),
    flowLpm: smallestEnough(input.flowLpm, LARGEST, (flowLpm) => isReachable({ ...input, flowLpm })),
    ingressFraction: inverse(
      smallestEnough(1, LARGEST, (times) =>
        isReachable({
          ...input,
          ingress: (input.ingress ?? []).map((entry) => ({
            ...entry,
            particlesPerMin: entry.particlesPerMin / times,
          })),
        }),
      ),
    ),
  };
}

/**
 * The flow that reaches the target within a given time.
 *
 * @param input - see {@link CirculationInput}; its own flow is not looked at
 * @param minutes - more than 0
 * @returns L/min, or that no flow is enough
 * @throws RangeError for minutes that are not above 0
 */
export function flowNeeded(input: CirculationInput, minutes: number): Need {
  if (!(minutes > 0)) throw new RangeError(`minutes must be more than 0, not ${minutes}`);
  return smallestEnough(1 / LARGEST, LARGEST, (flowLpm) => {
    const solver = new CircuitSolver(readyCircuit({ ...input, flowLpm }));
    return solver.passesToAll(true) * solver.minutesPerPass <= minutes;
  });
}

function isReachable(input: CirculationInput): boolean {
  return new CircuitSolver(readyCircuit(input)).passesToAll(true) < Number.POSITIVE_INFINITY;
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
  if (enough(low)) return { kind: "enough", value: low };
  const turn = bisect((value) => !enough(value), low, high, {
    between: (short, value) => Math.sqrt(short) * Math.sqrt(value),
    isNear,
  });
  return { kind: "enough", value: turn.fails };
}

function inverse(need: Need): Need {
  return need.kind === "enough" ? { kind: "enough", value: 1 / need.value } : need;
}
