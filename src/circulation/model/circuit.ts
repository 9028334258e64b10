import type { ParticleLimit } from "../../cleanliness/index.js";
import { type CountSet, type CumulativeCount, countAt, countBetween, isWithin } from "../../counts/index.js";
import { checkNumbers } from "../../numeric/index.js";
import { type Assumption, joinAssumptions } from "../../provenance/index.js";
import type { Ingress } from "../../samples/index.js";
import {
  type BinFiltration,
  checkFiltration,
  type Filtration,
  filtrationOfBin,
  type SideStream,
  type StreamElement,
} from "../equipment/elements.js";
import { ingressOfChannel } from "./ingress.js";
import { checkMixing, type Mixing, WELL_MIXED } from "./mixing.js";
import type { BelowRated } from "./removal.js";
import { upstreamTimes } from "./upstream-times.js";

/** What has to be known to plan a self-circulation. */
export interface CirculationInput extends StreamElement {
  /** Volume of the circuit in L: reservoir, hoses and piping. */
  readonly volumeL: number;
  /** Flow through the element in L/min. */
  readonly flowLpm: number;
  /** Further elements of the same stream, after the first. */
  readonly inSeries?: readonly StreamElement[];
  /** A filter loop parallel to the main stream, with its own flow. */
  readonly sideStream?: SideStream;
  /** What is credited below the smallest rated size of an element; nothing when absent. */
  readonly belowRated?: BelowRated;
  /** How the fluid mixes; well mixed when absent. */
  readonly mixing?: Mixing;
  /** Counts of the sample that the circulation starts from. */
  readonly start: CountSet;
  /**
   * The counts as they were drawn downstream of the elements, where `start` was converted from them: no more particles than
   * these were counted. The start itself when absent.
   */
  readonly startDrawn?: CountSet;
  /**
   * Dirt that lies settled at the start and that the flow stirs up, as a multiple of what the starting sample shows; none when
   * absent.
   */
  readonly settled?: number;
  /** What has to be reached. */
  readonly limits: readonly ParticleLimit[];
  /** Particles larger than each size entering the whole circuit per minute; none when absent. */
  readonly ingress?: readonly Ingress[];
}

/** Particles between two counted sizes, and what acts on them. */
export interface Bin extends Pick<BinFiltration, "main" | "side"> {
  readonly fromUm: number;
  readonly toUm?: number;
  /** Particles per mL at the start. */
  readonly startPerMl: number;
  /** Particles that were counted for each that `startPerMl` stands for; 1 where the bottle was drawn upstream. */
  readonly countedPart: number;
}

/** Neighbouring bins that are counted together: all above a size, or those of a range. */
export interface ChannelOfBins {
  readonly name: string;
  readonly fromUm: number;
  readonly toUm?: number;
  readonly firstBin: number;
  /** The index after the last. */
  readonly endBin: number;
  /** Particles per minute entering the whole circuit, for each bin of the channel. */
  readonly ingressPerMin: readonly number[];
}

/** A channel with its limit. */
export interface LimitedChannel extends ChannelOfBins {
  /** Particles per mL at the start, from the counts as reported. */
  readonly startPerMl: number;
  /** Particles per mL. */
  readonly limit: number;
  /** Decided on the counts as reported, so that a count exactly on the limit is inside. */
  readonly insideAtStart: boolean;
}

/** An input made ready for computing: bins, channels, elements. */
export interface CircuitOfBins {
  readonly volumeL: number;
  readonly flowLpm: number;
  readonly sideFlowLpm: number;
  readonly mainBypasses: readonly number[];
  /** One, or none without a side stream. */
  readonly sideBypasses: readonly number[];
  readonly mixing: Mixing;
  /** See {@link CirculationInput.settled}; 0 for none. */
  readonly settled: number;
  readonly bins: readonly Bin[];
  readonly limited: readonly LimitedChannel[];
  readonly assumptions: readonly Assumption[];
}

/**
 * Makes an input ready for computing.
 *
 * @throws RangeError for a volume or flow that is not above 0, a limit at a size that was not counted, or an
 *   element, mixing, settled dirt or ingress that breaks a rule
 */
export function readyCircuit(input: CirculationInput): CircuitOfBins {
  mustBePositive("volumeL", input.volumeL);
  mustBePositive("flowLpm", input.flowLpm);
  if (input.limits.length === 0) throw new RangeError("limits: at least one is needed");
  for (const { fromUm, toUm, limit, volumeMl } of input.limits) {
    checkNumbers("positive", { fromUm, toUm, volumeMl });
    checkNumbers("notNegative", { limit });
  }
  const mixing = input.mixing ?? WELL_MIXED;
  checkMixing(mixing);
  const { settled = 0 } = input;
  if (!(settled >= 0 && Number.isFinite(settled)))
    throw new RangeError(`settled must be 0 or more, not ${settled}`);
  const filtration: Filtration = {
    flowLpm: input.flowLpm,
    inSeries: [input, ...(input.inSeries ?? [])],
    ...(input.sideStream && { sideStream: input.sideStream }),
    belowRated: input.belowRated ?? "nothing",
  };
  checkFiltration(filtration);
  const assumptions: Assumption[] = [];
  const { counts, volumeMl } = input.start;
  const bins = counts.map(({ sizeUm }: CumulativeCount, index): Bin => {
    const toUm = counts[index + 1]?.sizeUm;
    const own = countBetween(input.start, sizeUm, toUm) as number;
    const larger = counts[index + 1]?.count ?? 0;
    const { assumptions: ofBin, ...filtered } = filtrationOfBin(filtration, {
      fromUm: sizeUm,
      ...(toUm !== undefined && { toUm }),
      above: larger / (own === 0 ? HALF_A_PARTICLE : own),
    });
    assumptions.push(...ofBin);
    return {
      fromUm: sizeUm,
      ...(toUm !== undefined && { toUm }),
      startPerMl: own / volumeMl,
      countedPart: countedPart(input, sizeUm, toUm),
      ...filtered,
    };
  });
  const limited = input.limits.map((limit): LimitedChannel => {
    const { channel, assumptions: ofChannel } = channelOfBins(
      limit.channel,
      limit.fromUm,
      limit.toUm,
      bins,
      input.ingress ?? [],
    );
    assumptions.push(...ofChannel, ...(limit.limit === 0 ? [zeroLimit(limit)] : []));
    const count =
      limit.toUm === undefined
        ? countAt(input.start, limit.fromUm)
        : countBetween(input.start, limit.fromUm, limit.toUm);
    return {
      ...channel,
      startPerMl: (count as number) / volumeMl,
      limit: (limit.limit === 0 ? HALF_A_PARTICLE : limit.limit) / limit.volumeMl,
      insideAtStart: isWithin(count as number, volumeMl, limit.limit, limit.volumeMl),
    };
  });
  return {
    volumeL: input.volumeL,
    flowLpm: input.flowLpm,
    sideFlowLpm: input.sideStream?.flowLpm ?? 0,
    mainBypasses: filtration.inSeries.map(({ bypass }) => bypass ?? 0),
    sideBypasses: input.sideStream === undefined ? [] : [input.sideStream.bypass ?? 0],
    mixing,
    settled,
    bins,
    limited,
    assumptions: joinAssumptions(assumptions),
  };
}

/** A bin that conversion leaves empty could hold as many as its smallest particles stand for. */
function countedPart(input: CirculationInput, fromUm: number, toUm: number | undefined): number {
  const { start, startDrawn } = input;
  if (startDrawn === undefined) return 1;
  const drawn = (countBetween(startDrawn, fromUm, toUm) ?? 0) / startDrawn.volumeMl;
  const converted = (countBetween(start, fromUm, toUm) as number) / start.volumeMl;
  return drawn > 0 && converted > 0 ? drawn / converted : 1 / upstreamTimes(input, fromUm);
}

/** A mean below this is printed as 0; an empty bin may hold as many. */
const HALF_A_PARTICLE = 0.5;

function zeroLimit(limit: ParticleLimit): Assumption {
  return {
    code: "zero-limit",
    message: `channel ${limit.channel} allows no particle; it was taken as met when fewer than half a particle is expected in ${limit.volumeMl} mL`,
    source: "MASS-BALANCE",
  };
}

/**
 * The bins of one channel.
 *
 * @throws RangeError when one of its sizes was not counted
 */
export function channelOfBins(
  name: string,
  fromUm: number,
  toUm: number | undefined,
  bins: readonly Bin[],
  ingress: readonly Ingress[],
): { channel: ChannelOfBins; assumptions: readonly Assumption[] } {
  const firstBin = bins.findIndex((bin) => bin.fromUm === fromUm);
  const endBin = toUm === undefined ? bins.length : bins.findIndex((bin) => bin.fromUm === toUm);
  if (firstBin === -1 || endBin === -1) {
    throw new RangeError(
      `start: no count at ${firstBin === -1 ? fromUm : toUm} µm(c), which a limit asks for`,
    );
  }
  const entering = ingressOfChannel(ingress, bins.slice(firstBin, endBin));
  return {
    channel: {
      name,
      fromUm,
      ...(toUm !== undefined && { toUm }),
      firstBin,
      endBin,
      ingressPerMin: entering.perBin,
    },
    assumptions: entering.assumptions,
  };
}

function mustBePositive(name: string, value: number): void {
  checkNumbers("positive", { [name]: value });
}
