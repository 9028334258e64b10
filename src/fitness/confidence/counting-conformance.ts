import {
  type DecidedLimit,
  type LimitReading,
  type ParticleLimit,
  strictestLimits,
} from "../../cleanliness/index.js";
import {
  type AnyCountSet,
  levelOf,
  logSdOf,
  type Reproducibility,
  rawParticles,
  readBetween,
  type Scatter,
  sampleSeenMl,
} from "../../counts/index.js";
import { normalProbability } from "../../numeric/index.js";
import { type Assumption, frozen } from "../../provenance/index.js";
import type { Requirement, Sample } from "../../samples/index.js";
import { inFourDigits } from "../../units/index.js";
import type { Conformance } from "../assessed.js";
import { poolOf } from "../checks/counted.js";
import { BOTTLE_ML, settleByCounting, settleByStating } from "./settle.js";

/** A limit that something in the report was compared with. */
export type FoundLimit = Extract<DecidedLimit, { outcome: "inside" | "outside" }> &
  Required<Pick<Extract<DecidedLimit, { outcome: "inside" | "outside" }>, "found">>;

/** The probability of one channel. */
export interface ChannelProbability {
  readonly fromUm: number;
  readonly toUm?: number;
  readonly limitPerMl: number;
  readonly probability: number;
}

/** How sure it is that all channels conform. */
export interface CountingConformance {
  /** Absent where the requirement asks for no confidence. */
  readonly conformance?: Conformance;
  readonly byChannel: readonly ChannelProbability[];
  readonly assumptions: readonly Assumption[];
}

/**
 * How sure it is that every channel of every target conforms, from the particles that were counted.
 *
 * How the errors of channels correlate is not known. As long as they do not work against one another the probability
 * of all is no less than the product of the channels' probabilities; that product is decided by. Where replicates are
 * given, their particles are pooled, and scatter beyond random is added to the laboratory's, whole and not as that of a
 * mean: a few replicates say little of it. Where the counted volume is not known, the least that can have been counted is
 * taken, so that no volume that the report could have stated would make it less sure. Where no count was reported, the most
 * there can be is taken for it: the upper edge of a class, a limit value, or the particles of a wider channel.
 *
 * @param limits - the limits of every target, each with what it was compared with
 * @source JCGM-106
 * @source JEFFREYS
 * @source ASSOCIATION
 */
export function conformanceOfCounts(
  sample: Sample,
  limits: readonly FoundLimit[],
  { confidence }: Requirement,
): CountingConformance {
  if (confidence === undefined) return { byChannel: [], assumptions: [] };
  const required = confidence.probability;
  const pool = poolOf(sample);
  const ofBottle = pool.kind === "pooled" ? pool.pooled.counts : sample.counts;
  const channels = strictestLimits(limits).map(({ limit, basis, found: { reading } }) => {
    const isCounted = basis === "counted" || basis === "wider-channel";
    const set = isCounted && ofBottle !== undefined ? ofBottle : reading.counts;
    const counting = set.counting ?? ofBottle?.counting;
    const counts = counting === undefined ? withLeastVolume(set) : { ...set, counting };
    return { limit, reading, counts, isStated: counting !== undefined };
  });
  const known = channels.flatMap(({ counts, ...rest }) => {
    const seenMl = counts && sampleSeenMl(counts);
    return counts === undefined || seenMl === undefined ? [] : [{ ...rest, counts, seenMl }];
  });
  if (known.length < channels.length) {
    return { conformance: nothingKnown(required), byChannel: [], assumptions: [] };
  }
  const extraRsd = pool.kind === "pooled" ? largestExtra(pool.pooled.scatter) : 0;
  const reproducibility = widened(confidence.counts?.reproducibility, extraRsd);
  const probabilities = (times: number) =>
    known.map((channel) => probabilityOf(channel, times, reproducibility));
  const byLimit = probabilities(1);
  const probability = productOf(byLimit);
  const isStated = known.every((channel) => channel.isStated);
  const seenMl = Math.min(...known.map((channel) => channel.seenMl));
  const assumptions = [
    ...(isStated ? [] : [volumeNotKnown(sample, seenMl)]),
    ...(confidence.counts?.reproducibility === undefined ? [LABORATORY_NOT_GIVEN] : []),
  ];
  const settle = isStated ? settleByCounting : settleByStating;
  return {
    conformance: {
      probability,
      required,
      consumerRisk: 1 - probability,
      producerRisk: probability,
      ...(!(probability >= required) && {
        settlement: settle(
          seenMl,
          (times) => productOf(probabilities(times)),
          required,
          productOf(known.map((channel) => ofCleanBottle(channel, reproducibility))),
        ),
      }),
    },
    byChannel: known.map(({ limit: { fromUm, toUm, limit, volumeMl } }, index) => ({
      fromUm,
      ...(toUm !== undefined && { toUm }),
      limitPerMl: limit / volumeMl,
      probability: byLimit[index] as number,
    })),
    assumptions,
  };
}

interface SeenChannel {
  readonly limit: ParticleLimit;
  readonly reading: LimitReading;
  readonly counts: AnyCountSet;
  readonly seenMl: number;
}

/** Probability that the level is at most the limit, had the same fluid been counted that many times. */
function probabilityOf(
  { limit: { limit, volumeMl }, reading: { fromUm, toUm }, counts, seenMl }: SeenChannel,
  times: number,
  reproducibility: Reproducibility | undefined,
): number {
  const reading = readBetween(counts, fromUm, toUm);
  const raw = reading && rawParticles(counts, reading);
  if (reading === undefined || raw === undefined) return 0;
  if (times === Number.POSITIVE_INFINITY) {
    return ofLaboratoryAlone(reading.count / counts.volumeMl, limit / volumeMl, reproducibility);
  }
  const atMost = levelOf({
    raw: raw * times,
    seenMl: seenMl * times,
    blankPerMl: reading.blank / counts.volumeMl,
    ...(reproducibility && { reproducibility }),
  });
  return atMost(limit / volumeMl);
}

/** Probability that the level is at most the limit, had a whole bottle been counted and shown no particle. */
function ofCleanBottle(
  { limit: { limit, volumeMl } }: SeenChannel,
  reproducibility: Reproducibility | undefined,
): number {
  const atMost = levelOf({ raw: 0, seenMl: BOTTLE_ML, ...(reproducibility && { reproducibility }) });
  return atMost(limit / volumeMl);
}

/** The probability that is left when counting itself adds no doubt. */
function ofLaboratoryAlone(
  level: number,
  limit: number,
  reproducibility: Reproducibility | undefined,
): number {
  const logSd = logSdOf(reproducibility);
  if (logSd === 0 || level === 0) return level <= limit ? 1 : 0;
  return normalProbability(Math.log(limit / level) / logSd);
}

function productOf(probabilities: readonly number[]): number {
  return probabilities.reduce((product, one) => product * one, 1);
}

function largestExtra(scatter: readonly { readonly scatter: Scatter }[]): number {
  return Math.max(
    0,
    ...scatter.map(({ scatter: one }) => (one.kind === "more-than-random" ? one.extraRsd : 0)),
  );
}

/** The laboratory's spread with that of the replicates; the two are independent, so their squares add. */
function widened(given: Reproducibility | undefined, extraRsd: number): Reproducibility | undefined {
  if (extraRsd === 0) return given;
  if (given === undefined) return { kind: "relative", rsd: extraRsd };
  return { kind: "relative", rsd: Math.hypot(relativeSd(given), extraRsd) };
}

/** A reproducibility as a relative standard deviation. */
export function relativeSd(given: Reproducibility): number {
  return given.kind === "relative" ? given.rsd : Math.sqrt(Math.expm1((given.sd * Math.LN2) ** 2));
}

/** Nobody counts less of a bottle, in mL (common practice, no source). */
const MIN_COUNTED_ML = 0.1;

/**
 * Counts with the least volume that they can have come from: every count that is not 0 is at least one particle.
 *
 * @returns undefined where no size shows a particle, which any volume can do
 */
function withLeastVolume(counts: AnyCountSet): AnyCountSet | undefined {
  const shown = counts.counts
    .filter(({ count, basis = "measured" }) => count > 0 && basis === "measured")
    .map(({ count, blank = 0 }) => count + blank);
  if (shown.length === 0) return undefined;
  const countedMl = Math.max(MIN_COUNTED_ML, counts.volumeMl / Math.min(...shown));
  return { ...counts, counting: { countedMl } };
}

function nothingKnown(required: number): Conformance {
  return {
    probability: 0,
    required,
    consumerRisk: 1,
    producerRisk: 0,
    settlement: {
      kind: "cannot-be-settled",
      why: "no particle was counted, and without the counted volume that says nothing",
    },
  };
}

function volumeNotKnown(sample: Sample, leastMl: number): Assumption {
  return {
    code: "counting-not-known",
    message:
      `it is not stated what volume of sample ${sample.sample} was counted; ${inFourDigits(leastMl)} mL was taken, the least in ` +
      `which the smallest count is a particle, and no less than the ${MIN_COUNTED_ML} mL of common practice`,
    source: "PRACTICE",
  };
}

const LABORATORY_NOT_GIVEN: Assumption = frozen({
  code: "laboratory-spread-not-given",
  message:
    "no reproducibility of counter and laboratory was given; only the scatter of counting few particles was taken",
});
