import {
  type CirculationInput,
  type CirculationPlan,
  countsUpstream,
  planCirculation,
  upstreamTimes,
  withCustomaryValues,
} from "../circulation/index.js";
import type { ParticleLimit } from "../cleanliness/index.js";
import { type CountSet, countAt } from "../counts/index.js";

/** The circuit that a counter sits in. */
export interface CounterCircuit extends Omit<CirculationInput, "start" | "limits"> {
  /**
   * Upstream of the elements, or in the return, a counter sees what the circuit holds; downstream of them it sees what they
   * deliver.
   */
  readonly port: "upstream" | "downstream";
}

/** What the circuit holds by the counts of a minute, if its elements work as they are rated. */
export function countsInCircuit(counted: CountSet, circuit: CounterCircuit | undefined): CountSet {
  return circuit?.port === "downstream" ? countsUpstream(counted, circuit).counts : counted;
}

/** How many particles above a size the circuit holds for each one that the counter sees. */
export function timesCounted(sizeUmC: number, circuit: CounterCircuit | undefined): number {
  return circuit?.port === "downstream" ? upstreamTimes(circuit, sizeUmC) : 1;
}

/**
 * What the elements of the circuit are rated for, from the counts of a first minute on. How the circuit mixes is customary
 * where nobody states it, as it is for the time to go by.
 *
 * @param limits - those at sizes that were not counted are left out
 */
export function ratedPlan(
  circuit: CounterCircuit,
  start: CountSet,
  limits: readonly ParticleLimit[],
): CirculationPlan {
  const counted = limits.filter(({ fromUm, toUm }) =>
    [fromUm, toUm].every((sizeUm) => sizeUm === undefined || countAt(start, sizeUm) !== undefined),
  );
  const { input } = withCustomaryValues({ ...circuit, start, limits: counted });
  // What comes in is no part of the rate that elements are rated for.
  return planCirculation({ ...input, ingress: [] });
}
