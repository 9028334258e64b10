import { type Classification, classify } from "../../cleanliness/index.js";
import { type CountSet, cumulativeCounts } from "../../counts/index.js";
import { type Assumption, joinAssumptions } from "../../provenance/index.js";
import {
  type CirculationPlan,
  channelLevel,
  type PlannedChannel,
  planCirculation,
  portLevel,
} from "../plan/plan.js";
import type { CirculationInput } from "./circuit.js";
import { checkIngressSizes } from "./ingress.js";
import { floorOfModes } from "./modes.js";
import { retainedAfter } from "./retained.js";

/** What to expect in the fluid at one moment. Counts in particles per mL. */
export interface ExpectedFluid {
  readonly minutes: number;
  readonly passes: number;
  /** Average of the whole circuit: what a sample shows once the fluid has been stopped and has mixed. */
  readonly circuit: CountSet;
  /** What a sample drawn at a port in the flow shows at that moment. */
  readonly port: CountSet;
  /** Classes of the whole circuit. */
  readonly classes: Classification;
  readonly assumptions: readonly Assumption[];
}

/** The cleanest that circulating can ever get. */
export type CirculationFloor =
  | { readonly kind: "settles"; readonly counts: CountSet; readonly classes: Classification }
  | { readonly kind: "rises"; readonly sizesUmC: readonly number[] };

/**
 * What to expect in the fluid after a number of minutes, and its classes.
 *
 * @param input - see {@link CirculationInput}; its limits are not looked at
 * @param minutes - minutes of circulation, 0 or more
 * @throws RangeError for minutes below 0 and for what {@link planCirculation} refuses
 */
export function expectAfter(input: CirculationInput, minutes: number): ExpectedFluid {
  if (!(minutes >= 0 && Number.isFinite(minutes))) {
    throw new RangeError(`minutes must be 0 or more, not ${minutes}`);
  }
  const { plan, assumptions } = planSizes(input);
  const passes = minutes / plan.minutesPerPass;
  const circuit = countsOf(plan.channels, (channel) => channelLevel(plan, channel, passes));
  const classes = classify(circuit);
  return {
    minutes,
    passes,
    circuit,
    port: countsOf(plan.channels, (channel) => portLevel(plan, channel, passes)),
    classes,
    assumptions: joinAssumptions(assumptions, classes.assumptions),
  };
}

/**
 * The level that circulation settles at, and its classes.
 *
 * @param input - see {@link CirculationInput}; its limits are not looked at
 * @returns counts and classes, or the sizes whose level rises without end
 */
export function circulationFloor(input: CirculationInput): CirculationFloor {
  const { plan } = planSizes(input);
  const rising = plan.channels.filter((channel) => channel.floor === undefined);
  if (rising.length > 0) return { kind: "rises", sizesUmC: rising.map((channel) => channel.sizeUmC) };
  const counts = countsOf(plan.channels, (channel) => floorOfModes(channel.modes) as number);
  return { kind: "settles", counts, classes: classify(counts) };
}

/**
 * Particles that the elements take out between two moments, per mL of circuit volume.
 *
 * @param input - see {@link CirculationInput}; its limits are not looked at
 * @param fromPasses - 0 or more
 * @param toPasses - not less
 */
export function removedBetween(input: CirculationInput, fromPasses: number, toPasses: number): CountSet {
  const { plan } = planSizes(input);
  return countsOf(plan.channels, (channel) =>
    Math.max(0, retainedAfter(plan, channel, toPasses) - retainedAfter(plan, channel, fromPasses)),
  );
}

/** A plan whose channels are the counted sizes themselves. */
function planSizes(input: CirculationInput): { plan: CirculationPlan; assumptions: Assumption[] } {
  checkIngressSizes(input.ingress ?? []);
  const smallest = Math.min(...(input.ingress ?? []).map((entry) => entry.sizeUmC));
  const sizes = input.start.counts.map((entry) => entry.sizeUm);
  const known = sizes.filter((sizeUm) => !(sizeUm < smallest && input.ingress?.length));
  const plan = planCirculation({
    ...input,
    limits: known.map((fromUm) => ({ channel: String(fromUm), fromUm, limit: 1, volumeMl: 1 })),
  });
  const left = sizes.filter((sizeUm) => !known.includes(sizeUm));
  return {
    plan,
    assumptions:
      left.length === 0
        ? []
        : [
            {
              code: "ingress-not-known-at-size",
              message: `nothing is said above ${left.join(" and ")} µm(c), because ingress is only given above ${smallest} µm(c)`,
            },
          ],
  };
}

/**
 * Counts by size from the largest down. Ingress taken from a smaller size can put a larger channel above
 * a smaller one; the smaller one is then raised to it.
 */
function countsOf(channels: readonly PlannedChannel[], level: (channel: PlannedChannel) => number): CountSet {
  let above = 0;
  const counts = [...channels]
    .sort((a, b) => b.sizeUmC - a.sizeUmC)
    .map((channel) => {
      // Twelve digits, so that rounding in the time does not lift a level that is at its limit into the next class.
      above = Math.max(above, Number(level(channel).toPrecision(12)));
      return { sizeUm: channel.sizeUmC, count: above };
    });
  return cumulativeCounts(counts, 1);
}
