import { mostUsed, type ParticleLimit } from "../cleanliness/index.js";
import { type CountSet, countAt, countBetween, isWithin } from "../counts/index.js";
import { type Assumption, joinAssumptions } from "../provenance/index.js";
import type { Ingress, RatedBeta } from "../samples/index.js";
import { ingressAbove } from "./ingress.js";
import { removalAt } from "./removal.js";
import { concentrationAfter, floorOf, type MixedChannel, passesToLimit } from "./well-mixed.js";

/** What has to be known to plan a self-circulation. */
export interface CirculationInput {
  /** Volume of the circuit in L: reservoir, hoses and piping. */
  readonly volumeL: number;
  /** Flow through the filter in L/min. */
  readonly flowLpm: number;
  readonly betas: readonly RatedBeta[];
  /** Counts of the sample that the circulation starts from. */
  readonly start: CountSet;
  /** What has to be reached. */
  readonly limits: readonly ParticleLimit[];
  /** Particles larger than each size entering the whole circuit per minute; none when absent. */
  readonly ingress?: readonly Ingress[];
}

/** One channel of a plan. All levels in particles per mL. */
export interface PlannedChannel extends MixedChannel {
  readonly channel: string;
  readonly sizeUmC: number;
  readonly limit: number;
  /** The level circulation settles at; absent when the level rises without end. */
  readonly floor?: number;
  readonly outcome:
    | { readonly kind: "reached"; readonly passes: number; readonly minutes: number }
    | { readonly kind: "out-of-reach"; readonly obstacle: string };
}

/** How long to circulate, or why circulating cannot get there. */
export type CirculationPlan = {
  /**
   * The channel that decides: the slowest one; when all are inside already, or some are out of reach, the one
   * among them whose start is the largest multiple of its limit. Of equal ones the smallest size.
   */
  readonly governing: string;
  readonly channels: readonly PlannedChannel[];
  readonly assumptions: readonly Assumption[];
} & (
  | { readonly reachable: true; readonly passes: number; readonly minutes: number }
  | { readonly reachable: false; readonly obstacle: string }
);

/**
 * Plans a self-circulation with the well-mixed model, each channel by itself.
 *
 * A limit on a size range is met once all particles above its lower size are within it, which is on the long
 * side; the result says so.
 *
 * @param input - circuit, element, start and limits; see {@link CirculationInput}
 * @returns passes and minutes until every limit is met, or what stands in the way
 * @throws RangeError for a volume or flow that is not above 0, a limit at a size that was not counted, an element
 *   rating that breaks a rule of {@link removalAt}, or ingress that breaks a rule of {@link ingressAbove}
 * @source MASS-BALANCE
 * @source ISO-16889
 * @example
 * planCirculation({
 *   volumeL: 60,
 *   flowLpm: 45,
 *   betas: [{ sizeUmC: 4, beta: 10 }],
 *   start: cumulativeCounts([{ sizeUm: 4, count: 20000 }], 1),
 *   limits: [{ channel: "4", fromUm: 4, limit: 1300, volumeMl: 1 }],
 * }).passes; // => 3.04
 */
export function planCirculation(input: CirculationInput): CirculationPlan {
  mustBePositive("volumeL", input.volumeL);
  mustBePositive("flowLpm", input.flowLpm);
  if (input.limits.length === 0) throw new RangeError("limits: at least one is needed");
  const planned = input.limits.map((limit) => planChannel(input, limit));
  const channels = planned.map((entry) => entry.channel);
  const assumptions = joinAssumptions(
    [WELL_MIXED],
    input.ingress === undefined ? [NO_INGRESS] : [],
    ...planned.map((entry) => entry.assumptions),
  );

  const stuck = channels.filter((channel) => channel.outcome.kind === "out-of-reach");
  if (stuck.length > 0) {
    const worst = furthestOut(stuck);
    return {
      reachable: false,
      governing: worst.channel,
      obstacle: stuck.map(sayObstacle).join("; "),
      channels,
      assumptions,
    };
  }

  const passes = Math.max(...channels.map(passesOf));
  const rising = channels.filter(
    (channel) => !((channel.floor ?? Number.POSITIVE_INFINITY) <= channel.limit),
  );
  const risen = rising.find((channel) => !(concentrationAfter(channel, passes) <= channel.limit));
  if (risen !== undefined) {
    return {
      reachable: false,
      governing: risen.channel,
      obstacle: `channel ${risen.channel} is inside now but ingress lifts it above its limit before the others are clean`,
      channels,
      assumptions,
    };
  }
  const slowest =
    passes === 0 ? furthestOut(channels) : channels.find((channel) => passesOf(channel) === passes);
  return {
    reachable: true,
    passes,
    minutes: minutesOf(passes, input),
    governing: (slowest as PlannedChannel).channel,
    channels,
    assumptions: joinAssumptions(assumptions, rising.map(willNotStay)),
  };
}

const WELL_MIXED: Assumption = {
  code: "well-mixed",
  message: "the circuit was taken as well mixed and the element as holding back what its rating says",
  source: "MASS-BALANCE",
};

const NO_INGRESS: Assumption = {
  code: "no-ingress",
  message:
    "no ingress was given, so none was reckoned with; dirt that enters while circulating lengthens the time",
  source: "MASS-BALANCE",
};

function planChannel(
  input: CirculationInput,
  limit: ParticleLimit,
): { channel: PlannedChannel; assumptions: readonly Assumption[] } {
  const { start: counts, flowLpm } = input;
  const count = countAt(counts, limit.fromUm);
  if (count === undefined)
    throw new RangeError(`start: no count at ${limit.fromUm} µm(c), which a limit asks for`);
  const { fraction, assumptions } = removalAt(input.betas, limit.fromUm);
  const entering = ingressAbove(input.ingress ?? [], limit.fromUm);
  const mixed: MixedChannel = {
    start: count / counts.volumeMl,
    removal: fraction,
    ingressPerMlPerPass: entering.particlesPerMin / (flowLpm * 1000),
  };
  const allowed = limit.limit / limit.volumeMl;
  const inRange = limit.toUm === undefined ? undefined : countBetween(counts, limit.fromUm, limit.toUm);
  const insideAlready =
    inRange !== undefined && isWithin(inRange, counts.volumeMl, limit.limit, limit.volumeMl);
  const floor = floorOf(mixed);
  return {
    channel: {
      channel: limit.channel,
      sizeUmC: limit.fromUm,
      ...mixed,
      limit: allowed,
      ...(floor !== undefined && { floor }),
      outcome: insideAlready
        ? { kind: "reached", passes: 0, minutes: 0 }
        : outcomeOf(mixed, allowed, floor, input),
    },
    assumptions: [
      ...assumptions,
      ...entering.assumptions,
      ...(limit.toUm === undefined ? [] : [rangeByLowerSize(limit)]),
    ],
  };
}

function outcomeOf(
  mixed: MixedChannel,
  limit: number,
  floor: number | undefined,
  input: CirculationInput,
): PlannedChannel["outcome"] {
  const result = passesToLimit(mixed, limit);
  switch (result.kind) {
    case "reached":
      return { ...result, minutes: minutesOf(result.passes, input) };
    case "no-removal":
      return { kind: "out-of-reach", obstacle: "the element removes nothing at this size" };
    case "floor-above-limit":
      return {
        kind: "out-of-reach",
        obstacle: `ingress holds the level at ${Number(floor?.toPrecision(3))} per mL, not below the limit of ${limit} per mL`,
      };
  }
}

function rangeByLowerSize(limit: ParticleLimit): Assumption {
  return {
    code: "range-by-lower-size",
    message: `for the range ${limit.channel} µm(c) all particles above ${limit.fromUm} µm(c) were held against its limit, so the time is on the long side`,
    source: "MASS-BALANCE",
  };
}

function willNotStay(channel: PlannedChannel): Assumption {
  return {
    code: "will-not-stay",
    message: `channel ${channel.channel} is inside its limit now, but ingress lifts it above if circulation goes on`,
    source: "MASS-BALANCE",
  };
}

function furthestOut(channels: readonly PlannedChannel[]): PlannedChannel {
  const worst = mostUsed(channels.map((channel) => ({ channel, share: channel.start / channel.limit })));
  return (worst as { channel: PlannedChannel }).channel;
}

function passesOf(channel: PlannedChannel): number {
  return channel.outcome.kind === "reached" ? channel.outcome.passes : 0;
}

function sayObstacle(channel: PlannedChannel): string {
  const why = channel.outcome.kind === "out-of-reach" ? channel.outcome.obstacle : "";
  return `channel ${channel.channel} µm(c): ${why}`;
}

function minutesOf(passes: number, input: CirculationInput): number {
  return (passes * input.volumeL) / input.flowLpm;
}

function mustBePositive(name: string, value: number): void {
  if (!(value > 0 && Number.isFinite(value)))
    throw new RangeError(`${name} must be more than 0, not ${value}`);
}
