import { type CountSet, type CumulativeCount, cumulativeCounts } from "../../counts/index.js";
import { type Assumption, joinAssumptions } from "../../provenance/index.js";
import type { StreamElement } from "../equipment/elements.js";
import { betaAt } from "./removal.js";

/**
 * Times as many particles above a size upstream of an element as downstream: β, less what a bypass lets around it.
 *
 * @source ISO-16889
 */
export function upstreamTimes({ betas, bypass = 0 }: StreamElement, sizeUm: number): number {
  return 1 / (bypass + (1 - bypass) / betaAt(betas, sizeUm, "nothing").beta);
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
  element: StreamElement,
): { readonly counts: CountSet; readonly assumptions: readonly Assumption[] } {
  let larger = 0;
  const converted: CumulativeCount[] = [];
  const assumptions: Assumption[] = [CONVERTED];
  for (const { sizeUm, count } of [...downstream.counts].reverse()) {
    assumptions.push(...betaAt(element.betas, sizeUm, "nothing").assumptions);
    larger = Math.max(larger, count * upstreamTimes(element, sizeUm));
    converted.unshift({ sizeUm, count: larger });
  }
  return {
    counts: cumulativeCounts(converted, downstream.volumeMl, downstream.scale, downstream.counting),
    assumptions: joinAssumptions(assumptions),
  };
}

const CONVERTED: Assumption = {
  code: "converted-upstream",
  message:
    "the sample was drawn downstream of the element; what the circuit holds was taken as β times that, so the plan reckons with " +
    "an element that works as rated. If it lets more pass, the circuit is cleaner than that and the element is at fault",
  source: "ISO-16889",
};
