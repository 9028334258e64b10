import { type CountSet, type CumulativeCount, cumulativeCounts } from "../../counts/index.js";
import { type Assumption, frozen, joinAssumptions } from "../../provenance/index.js";
import { type CirculationInput, readyCircuit } from "./circuit.js";
import type { Mode } from "./modes.js";
import { betaAt } from "./removal.js";
import { CircuitSolver } from "./solver.js";
import { type MainStream, upstreamTimes } from "./upstream-times.js";

/**
 * The modes of each limited channel as a port downstream of the elements of the main stream sees it.
 *
 * Of each bin it sees what they let through: at the start of all particles above a rated size that is 1/β, clamped so that no
 * bin is let through less than none or more than whole, and the fine bins weigh more the longer it circulates.
 *
 * @source ISO-16889
 */
export function deliveredModes(input: CirculationInput): Mode[][] {
  const circuit = readyCircuit(input);
  const solver = new CircuitSolver(circuit);
  return circuit.limited.map((channel) => solver.modesOf(channel, "downstream").toModes());
}

/**
 * The counts that a port upstream of an element would show, from those of one downstream: each cumulative count times β.
 *
 * A smaller size never has fewer than a larger one.
 *
 * @source ISO-16889
 * @example
 * const counts = cumulativeCounts([{ sizeUm: 4, count: 100 }], 1);
 * countsUpstream(counts, { betas: [{ sizeUmC: 4, beta: 20 }] }).counts.counts; // => [{ sizeUm: 4, count: 2000 }]
 */
export function countsUpstream(
  downstream: CountSet,
  element: MainStream,
): { readonly counts: CountSet; readonly assumptions: readonly Assumption[] } {
  let larger = 0;
  const converted: CumulativeCount[] = [];
  const assumptions: Assumption[] = [CONVERTED];
  for (const { sizeUm, count } of [...downstream.counts].reverse()) {
    for (const { betas } of [element, ...(element.inSeries ?? [])])
      assumptions.push(...betaAt(betas, sizeUm, element.belowRated ?? "nothing").assumptions);
    larger = Math.max(larger, count * upstreamTimes(element, sizeUm));
    converted.unshift({ sizeUm, count: larger });
  }
  return {
    counts: cumulativeCounts(converted, downstream.volumeMl, downstream.scale, downstream.counting),
    assumptions: joinAssumptions(assumptions),
  };
}

const CONVERTED: Assumption = frozen({
  code: "converted-upstream",
  message:
    "the sample was drawn downstream of the element; what the circuit holds was taken as β times that, so the plan uses " +
    "an element that works as rated. If it lets more pass, the circuit is cleaner than that and the element is at fault",
  source: "ISO-16889",
});
