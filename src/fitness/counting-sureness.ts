import { limitsOfTarget, type ParticleLimit, readChannel } from "../cleanliness/index.js";
import {
  type CountSet,
  levelOf,
  logSdOf,
  type Reproducibility,
  rawParticles,
  type Scatter,
  sampleSeenMl,
} from "../counts/index.js";
import { normalProbability } from "../numeric/index.js";
import type { Assumption } from "../provenance/index.js";
import type { Requirement, Sample } from "../samples/index.js";
import type { Sureness } from "./assessed.js";
import { poolOf } from "./counted.js";
import { settleByCounting } from "./settle.js";

/** The probability of one channel. */
export interface ChannelProbability {
  readonly fromUm: number;
  readonly toUm?: number;
  readonly limitPerMl: number;
  readonly probability: number;
}

/** How sure it is that all channels conform. */
export interface CountingSureness {
  /** Absent where the requirement asks for no confidence or the counted volume is not known. */
  readonly sureness?: Sureness;
  readonly byChannel: readonly ChannelProbability[];
  readonly assumptions: readonly Assumption[];
}

/**
 * How sure it is that every channel of every target conforms, from the particles that were counted.
 *
 * How the errors of channels hang together is not known. As long as they do not work against one another the probability
 * of all is no less than the product of the channels' probabilities; that product is decided by. Where replicates are
 * given, their particles are pooled, and scatter beyond random is added to the laboratory's, whole and not as that of a
 * mean: a few replicates say little of it.
 *
 * @source JCGM-106
 * @source JEFFREYS
 * @source ASSOCIATION
 */
export function surenessOfCounts(
  sample: Sample,
  reported: CountSet,
  requirement: Requirement,
): CountingSureness {
  const { confidence } = requirement;
  if (confidence === undefined) return { byChannel: [], assumptions: [] };
  const pool = poolOf(sample);
  const counts = pool.kind === "pooled" ? pool.pooled.counts : reported;
  const seenMl = sampleSeenMl(counts);
  if (seenMl === undefined) return { byChannel: [], assumptions: [volumeNotKnown(sample)] };
  const asked = confidence.probability;
  const limits = strictest(requirement.cleanliness.flatMap(limitsOfTarget));
  const extraRsd = pool.kind === "pooled" ? largestExtra(pool.pooled.scatter) : 0;
  const reproducibility = widened(confidence.counts?.reproducibility, extraRsd);
  const probabilities = (times: number) =>
    limits.map((limit) => probabilityOf(limit, counts, seenMl, times, reproducibility));
  const byLimit = probabilities(1);
  const probability = productOf(byLimit);
  const assumptions = confidence.counts?.reproducibility === undefined ? [LABORATORY_NOT_GIVEN] : [];
  return {
    sureness: {
      probability,
      asked,
      consumerRisk: 1 - probability,
      producerRisk: probability,
      ...(!(probability >= asked) && {
        settlement: settleByCounting(seenMl, (times) => productOf(probabilities(times)), asked),
      }),
    },
    byChannel: limits.map(({ fromUm, toUm, limit, volumeMl }, index) => ({
      fromUm,
      ...(toUm !== undefined && { toUm }),
      limitPerMl: limit / volumeMl,
      probability: byLimit[index] as number,
    })),
    assumptions,
  };
}

/** Targets that share a channel ask for the stricter of their limits once. */
function strictest(limits: readonly ParticleLimit[]): ParticleLimit[] {
  const byChannel = new Map<string, ParticleLimit>();
  for (const limit of limits) {
    const key = `${limit.fromUm}-${limit.toUm}`;
    const other = byChannel.get(key);
    if (other === undefined || limit.limit / limit.volumeMl < other.limit / other.volumeMl) {
      byChannel.set(key, limit);
    }
  }
  return [...byChannel.values()];
}

/** Probability that the level is at most the limit, had the same fluid been counted so many times over. */
function probabilityOf(
  { fromUm, toUm, limit, volumeMl }: ParticleLimit,
  counts: CountSet,
  seenMl: number,
  times: number,
  reproducibility: Reproducibility | undefined,
): number {
  const reading = readChannel(counts, fromUm, toUm);
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
  const rsd = given.kind === "relative" ? given.rsd : Math.sqrt(Math.expm1((given.sd * Math.LN2) ** 2));
  return { kind: "relative", rsd: Math.hypot(rsd, extraRsd) };
}

function volumeNotKnown(sample: Sample): Assumption {
  return {
    code: "counting-not-known",
    message:
      `it is not known what volume of sample ${sample.sample} was counted, so the counts were taken as they are; ` +
      "how sure they are cannot be told",
  };
}

const LABORATORY_NOT_GIVEN: Assumption = {
  code: "laboratory-spread-not-given",
  message:
    "no reproducibility of counter and laboratory was given; only the scatter of counting few particles was reckoned with",
};
