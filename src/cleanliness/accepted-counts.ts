import { levelOf, type Reproducibility } from "../counts/index.js";
import { bisect, checkNumbers } from "../numeric/index.js";
import type { ParticleLimit } from "./particle-limit.js";

/** Where a bottle is accepted. */
export interface Acceptance {
  /** Counts that are accepted in each channel, at the most. */
  readonly limits: readonly ParticleLimit[];
  /** Volume of that bottle in mL that has to be counted. */
  readonly countedMl: number;
}

/** What a bottle has to show to be accepted. */
export interface AcceptedBy {
  /** The probability that all channels conform together. */
  readonly probability: number;
  /** Volume in mL that is counted of the bottle. */
  readonly countedMl: number;
  readonly reproducibility?: Reproducibility;
}

/** Nobody counts more of a bottle, in mL (common practice, no source). */
const MAX_COUNTED_ML = 1000;

/** No crew sees this fraction of a count. */
const NEAR = 1 / 200;

/**
 * Counts at which a bottle is accepted by the rule that judges it: with no channel above its count, the product of the
 * probabilities is the required one or more.
 *
 * The doubt that the requirement leaves is shared evenly by the channels. One that not even a bottle without a particle
 * makes so sure keeps the doubt that it has, and the others share the rest. Where the volume shows it of no bottle at all, it is
 * doubled until it does.
 *
 * @returns the counts, and the volume that they are counted in; undefined where no volume is enough
 * @source JCGM-106
 * @source JEFFREYS
 */
export function acceptedCounts(all: readonly ParticleLimit[], by: AcceptedBy): Acceptance | undefined {
  checkNumbers("share", { probability: by.probability });
  checkNumbers("positive", { countedMl: by.countedMl });
  const limits = strictestLimits(all.map((limit) => ({ limit }))).map(({ limit }) => limit);
  for (let countedMl = by.countedMl; countedMl <= MAX_COUNTED_ML; countedMl *= 2) {
    const sure = (limit: ParticleLimit, raw: number) =>
      levelOf({
        raw,
        seenMl: countedMl,
        ...(by.reproducibility && { reproducibility: by.reproducibility }),
      })(limit.limit / limit.volumeMl);
    const share = shareOf(
      limits.map((limit) => sure(limit, 0)),
      by.probability,
    );
    if (share === undefined) continue;
    return {
      countedMl,
      limits: limits.map((limit) => {
        const most = Math.floor((limit.limit / limit.volumeMl) * countedMl) + 1;
        const { holds: count } = bisect((raw) => sure(limit, raw) >= share, 0, most, {
          between: (low, high) => Math.floor((low + high) / 2),
          isNear: (low, high) => high - low <= low * NEAR,
        });
        // Half a particle more, so that none at all is no limit of 0.
        return { ...limit, limit: count + 0.5, volumeMl: countedMl };
      }),
    };
  }
  return undefined;
}

/** The probability that each channel has to reach, given what it reaches without a particle; undefined where all together do not. */
function shareOf(atBest: readonly number[], probability: number): number | undefined {
  let short: readonly number[] = [];
  for (;;) {
    const left = probability / short.reduce((product, one) => product * one, 1);
    if (left > 1) return undefined;
    const share = left ** (1 / Math.max(1, atBest.length - short.length));
    const now = atBest.filter((best) => best < share);
    if (now.length === short.length) return now.length === atBest.length ? undefined : share;
    short = now;
  }
}

/** Targets that share a channel ask for the stricter of their limits once. */
export function strictestLimits<T extends { readonly limit: ParticleLimit }>(entries: readonly T[]): T[] {
  const byChannel = new Map<string, T>();
  for (const entry of entries) {
    const { fromUm, toUm, limit, volumeMl } = entry.limit;
    const key = `${fromUm}-${toUm}`;
    const other = byChannel.get(key)?.limit;
    if (other === undefined || limit / volumeMl < other.limit / other.volumeMl) byChannel.set(key, entry);
  }
  return [...byChannel.values()];
}
