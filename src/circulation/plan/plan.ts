import { mostUsed } from "../../cleanliness/index.js";
import { checkNumbers } from "../../numeric/index.js";
import { type Assumption, frozen, joinAssumptions } from "../../provenance/index.js";
import { formatShare } from "../../units/index.js";
import {
  type CircuitOfBins,
  type CirculationInput,
  type LimitedChannel,
  readyCircuit,
} from "../model/circuit.js";
import { levelOver, type Mixing } from "../model/mixing.js";
import { floorOfModes, levelAfter, type Mode } from "../model/modes.js";
import { STIRRED_AFTER_PASSES, stirredUp } from "../model/settled.js";
import { CircuitSolver } from "../model/solver.js";
import { minutesDown } from "./format-minutes.js";

/** One channel of a plan. All levels in particles per mL. */
export interface PlannedChannel {
  readonly channel: string;
  readonly sizeUmC: number;
  /** Upper size of a range; absent when all particles above `sizeUmC` count. */
  readonly toUmC?: number;
  readonly start: number;
  readonly limit: number;
  /** Fraction of the channel's particles that one pass holds back at the start. */
  readonly removal: number;
  /** The level circulation settles at; absent when the level rises without end. */
  readonly floor?: number;
  /** The average of the circuit against passes, see {@link levelAfter}. */
  readonly modes: readonly Mode[];
  /** What a sampling port in the flow, upstream of the elements, sees; the same as `modes` unless there is a slow zone. */
  readonly portModes: readonly Mode[];
  readonly outcome:
    | {
        readonly kind: "reached";
        readonly passes: number;
        readonly minutes: number;
        /** Passes after which the channel is above its limit again; absent when it stays inside. */
        readonly leavesAfterPasses?: number;
      }
    | { readonly kind: "out-of-reach"; readonly obstacle: string };
}

/** How long to circulate, or why circulating cannot get there. */
export type CirculationPlan = {
  readonly mixing: Mixing;
  /** Settled dirt as a multiple of the start, where it is stated. */
  readonly settled?: number;
  readonly minutesPerPass: number;
  /**
   * The channel that decides: the slowest one; when all are inside already, or some are out of reach, the one
   * among them whose start is the largest multiple of its limit. Of equal ones the smallest size.
   */
  readonly governing: string;
  readonly channels: readonly PlannedChannel[];
  readonly assumptions: readonly Assumption[];
} & (
  | {
      readonly reachable: true;
      readonly passes: number;
      readonly minutes: number;
      /** Minutes after which a channel is above its limit again; absent when all stay inside. */
      readonly leavesAfterMinutes?: number;
    }
  | { readonly reachable: false; readonly obstacle: string }
);

/**
 * Plans a self-circulation.
 *
 * The particles are split into the bins between the counted sizes. Each bin falls by the removal of the elements at
 * its lower size, and a channel is the sum of its bins: all above a size, or those of a range. The plan is the
 * first moment at which every channel is inside its limit together. With two zones the limits are compared with the
 * average of the whole circuit.
 *
 * @param input - circuit, elements, start and limits; see {@link CirculationInput}
 * @returns passes and minutes until every limit is met, or what blocks it
 * @throws RangeError for a volume or flow that is not above 0, a limit at a size that was not counted, or an
 *   element, slow zone or ingress that cannot be; the message names it
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
  const circuit = readyCircuit(input);
  const solver = new CircuitSolver(circuit);
  const channels = circuit.limited.map((_, index) => planChannel(circuit, solver, index));
  const shared = {
    mixing: circuit.mixing,
    ...(input.settled !== undefined && { settled: input.settled }),
    minutesPerPass: solver.minutesPerPass,
    channels,
  };
  const assumptions = joinAssumptions(
    [describeMixing(circuit), ...(circuit.settled > 0 ? [describeSettled(circuit.settled)] : [])],
    input.ingress === undefined ? [NO_INGRESS] : [],
    circuit.assumptions,
  );

  const stuck = channels.filter((channel) => channel.outcome.kind === "out-of-reach");
  if (stuck.length > 0) {
    return {
      ...shared,
      reachable: false,
      governing: furthestOut(stuck).channel,
      obstacle: stuck.map(describeObstacle).join("; "),
      assumptions,
    };
  }
  const passes = solver.passesToAll(true);
  if (passes === Number.POSITIVE_INFINITY) {
    const leaving = channels.find(
      (channel) => channel.outcome.kind === "reached" && channel.outcome.leavesAfterPasses !== undefined,
    ) as PlannedChannel;
    return {
      ...shared,
      reachable: false,
      governing: leaving.channel,
      obstacle: `channel ${leaving.channel} is inside for a while but ingress lifts it above its limit before the others are clean`,
      assumptions,
    };
  }
  const leaves = solver.passesToLeaveAny(passes);
  const slowest =
    passes === 0
      ? furthestOut(channels)
      : (channels.find((channel) => passesOf(channel) === passes) ?? furthestOut(channels));
  return {
    ...shared,
    reachable: true,
    passes,
    minutes: passes * solver.minutesPerPass,
    ...(Number.isFinite(leaves) && { leavesAfterMinutes: leaves * solver.minutesPerPass }),
    governing: slowest.channel,
    assumptions: joinAssumptions(
      assumptions,
      channels.filter((channel) => leavesAfter(channel) !== undefined).map(willNotStay),
    ),
  };
}

/** A channel's level in the circuit, in particles per mL. */
export function channelLevel(plan: CirculationPlan, channel: PlannedChannel, passes: number): number {
  checkNumbers("notNegative", { passes });
  return levelOver(plan.mixing, passes, (at) => levelAfter(channel.modes, at));
}

/** What a sampling port in the flow sees of a channel, in particles per mL. */
export function portLevel(plan: CirculationPlan, channel: PlannedChannel, passes: number): number {
  checkNumbers("notNegative", { passes });
  return levelOver(plan.mixing, passes, (at) => levelAfter(channel.portModes, at));
}

const NO_INGRESS: Assumption = frozen({
  code: "no-ingress",
  message:
    "no ingress was given, so the time by the stated values includes none; dirt that enters while circulating lengthens it",
  source: "MASS-BALANCE",
});

function describeSettled(settled: number): Assumption {
  return {
    code: "settled-dirt",
    message:
      `dirt of ${formatShare(settled)} of what the starting sample shows was taken to lie settled in the whole circuit; the first pass ` +
      `stirs up ${formatShare(stirredUp(STIRRED_AFTER_PASSES), 2)} of it (common practice, no source), and no level before that counts`,
    source: "PRACTICE",
  };
}

function describeMixing({ mixing, settled }: Pick<CircuitOfBins, "mixing" | "settled">): Assumption {
  const dirt = settled > 0 ? "" : "with nothing settled, ";
  const rating = `${dirt}and the elements as holding back what their rating says`;
  switch (mixing.kind) {
    case "well-mixed":
      return {
        code: "well-mixed",
        message: `the time by the stated values takes the circuit as well mixed, ${rating}`,
        source: "MASS-BALANCE",
      };
    case "two-zone":
      return {
        code: "two-zone",
        message:
          `${formatShare(mixing.slowFraction)} of the circuit was taken as a slow zone that trades ${formatShare(mixing.exchangePerPass)} of the ` +
          `circuit volume per pass, both zones as equally dirty at the start and taking in dirt by volume, ${rating}`,
        source: "MASS-BALANCE",
      };
    case "plug":
      return {
        code: "plug",
        message: `the fluid was taken as passing the element in turn without mixing, which no circuit does: the time is the shortest thinkable; ${rating}`,
        source: "MASS-BALANCE",
      };
  }
}

function planChannel(circuit: CircuitOfBins, solver: CircuitSolver, index: number): PlannedChannel {
  const limited = circuit.limited[index] as LimitedChannel;
  const modes = solver.modesOf(limited, "circuit").toModes();
  const floor = floorOfModes(modes);
  const start = limited.startPerMl;
  const heldBack = circuit.bins
    .slice(limited.firstBin, limited.endBin)
    .reduce((sum, bin, offset) => sum + bin.startPerMl * solver.removalOfBin(limited.firstBin + offset), 0);
  const passes = solver.passesToLimit(index, true);
  const leaves = Number.isFinite(passes) ? solver.passesToLeave(index, passes) : Number.POSITIVE_INFINITY;
  return {
    channel: limited.name,
    sizeUmC: limited.fromUm,
    ...(limited.toUm !== undefined && { toUmC: limited.toUm }),
    start,
    limit: limited.limit,
    removal: start > 0 ? heldBack / start : solver.removalOfBin(limited.firstBin),
    ...(floor !== undefined && { floor }),
    modes,
    portModes: solver.modesOf(limited, "upstream").toModes(),
    outcome: Number.isFinite(passes)
      ? {
          kind: "reached",
          passes,
          minutes: passes * solver.minutesPerPass,
          ...(Number.isFinite(leaves) && { leavesAfterPasses: leaves }),
        }
      : { kind: "out-of-reach", obstacle: whyNot(limited, floor, modes) },
  };
}

/** Says what keeps a channel above its limit: dirt that enters, or dirt that the elements never retain. */
function whyNot(limited: LimitedChannel, floor: number | undefined, modes: readonly Mode[]): string {
  if (floor === undefined) return "dirt comes in that no element removes, so the level rises without end";
  const untouched = modes.reduce((sum, mode) => sum + (mode.rate === 0 ? mode.start : 0), 0);
  const above = `${Number(floor.toPrecision(3))} per mL, not below the limit of ${limited.limit} per mL`;
  if (untouched === 0) return `ingress holds the level at ${above}`;
  const part = "the elements as rated remove none of the smallest of these particles";
  if (untouched === floor) return `${part}, which leaves the level at ${above}`;
  return `${part}, which with the ingress leaves the level at ${above}`;
}

function leavesAfter(channel: PlannedChannel): number | undefined {
  return channel.outcome.kind === "reached" ? channel.outcome.leavesAfterPasses : undefined;
}

function willNotStay(channel: PlannedChannel): Assumption {
  return {
    code: "will-not-stay",
    message: `channel ${channel.channel} is inside its limit for a while, but ingress lifts it above after ${minutesDown(leavesAfter(channel) as number)} passes if circulation goes on`,
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

function describeObstacle(channel: PlannedChannel): string {
  const why = channel.outcome.kind === "out-of-reach" ? channel.outcome.obstacle : "";
  return `channel ${channel.channel} µm(c): ${why}`;
}
