import {
  averageOverLaboratory,
  type BoundedObservation,
  levelOf,
  type Reproducibility,
} from "../counts/index.js";
import { allWithin, type JointProbability, observe, type ProbabilityRange } from "./certainty.js";
import type { ParticleLimit } from "./particle-limit.js";
import { readChannel, type TableCounts } from "./size-pairs.js";
import { ISO_4406, type Iso4406Channel, type Iso4406Code } from "./standards/iso-4406.js";
import { countsOfIso4406 } from "./standards/iso-4406-compare.js";

/** How sure a statement about several channels is. */
export type JointCertainty<C extends string> =
  | ({
      readonly kind: "known";
      readonly channels: readonly { readonly channel: C; readonly probability: number }[];
    } & JointProbability)
  | { readonly kind: "cannot-tell"; readonly why: string };

/**
 * How sure it is that a sample meets all limits of a target.
 *
 * How the errors of channels correlate is not known. As long as they do not work against one another, the probability
 * lies between the product of the channels' probabilities and the smallest of them.
 *
 * @param limits - limits of a target, from {@link limitsOfTarget}
 * @param counts - counts with the volume that was counted
 * @param reproducibility - of counter and laboratory together; none when absent
 * @source JEFFREYS
 * @source ASSOCIATION
 * @example
 * const counts = cumulativeCounts([{ sizeUm: 4, count: 1290 }], 1, "um(c)", { countedMl: 10 });
 * limitsConfidence(limitsOfTarget(parseTarget("17/-/-")), counts).atLeast; // => 0.81
 */
export function limitsConfidence(
  limits: readonly ParticleLimit[],
  counts: TableCounts,
  reproducibility?: Reproducibility,
): JointCertainty<string> {
  const required = limits.map(({ channel, fromUm, toUm, limit, volumeMl }) => ({
    channel,
    fromUm,
    ...(toUm !== undefined && { toUm }),
    upToPerMl: limit / volumeMl,
  }));
  return jointly(required, counts, reproducibility, allWithin);
}

/**
 * How sure it is that every number of an ISO 4406 code is the number of the fluid.
 *
 * @param code - the code of the sample; places without a number have no limit
 * @param counts - counts with the volume that was counted
 * @param reproducibility - of counter and laboratory together; none when absent
 * @source JEFFREYS
 */
export function codeConfidence(
  code: Iso4406Code,
  counts: TableCounts,
  reproducibility?: Reproducibility,
): JointCertainty<Iso4406Channel> {
  const required = countsOfIso4406(code).flatMap(({ sizeUm, moreThan, upTo }, index) => {
    const channel = ISO_4406.channels[index]?.name;
    if (channel === undefined || (moreThan === undefined && upTo === undefined)) return [];
    return [
      {
        channel,
        fromUm: sizeUm,
        ...(moreThan !== undefined && { abovePerMl: moreThan }),
        ...(upTo !== undefined && { upToPerMl: upTo }),
      },
    ];
  });
  return jointly(required, counts, reproducibility, exactlyAll);
}

/** No more than the least probable channel, no less than what is left when the doubts of all are taken off. */
function exactlyAll(probabilities: readonly number[]): ProbabilityRange {
  const doubts = probabilities.reduce((sum, probability) => sum + (1 - probability), 0);
  return { atLeast: Math.max(0, 1 - doubts), atMost: Math.min(1, ...probabilities) };
}

interface Asked<C extends string> {
  readonly channel: C;
  readonly fromUm: number;
  readonly toUm?: number;
  readonly abovePerMl?: number;
  readonly upToPerMl?: number;
}

function jointly<C extends string>(
  required: readonly Asked<C>[],
  counts: TableCounts,
  reproducibility: Reproducibility | undefined,
  range: (probabilities: readonly number[]) => ProbabilityRange,
): JointCertainty<C> {
  const bounded: BoundedObservation[] = [];
  const channels: { channel: C; probability: number }[] = [];
  for (const { channel, fromUm, toUm, ...bounds } of required) {
    const reading = readChannel(counts, fromUm, toUm);
    if (reading === undefined) return { kind: "cannot-tell", why: `channel ${channel} was not counted` };
    const seen = observe(counts, reading);
    if (typeof seen === "string") return { kind: "cannot-tell", why: seen };
    const atMost = levelOf({ ...seen, ...(reproducibility && { reproducibility }) });
    const upTo = bounds.upToPerMl === undefined ? 1 : atMost(bounds.upToPerMl);
    const above = bounds.abovePerMl === undefined ? 0 : atMost(bounds.abovePerMl);
    channels.push({ channel, probability: Math.max(0, upTo - above) });
    bounded.push({ ...seen, ...bounds });
  }
  const over = (end: keyof ProbabilityRange) =>
    averageOverLaboratory(bounded, reproducibility, (probabilities) => range(probabilities)[end]);
  return {
    kind: "known",
    channels,
    ...range(channels.map((entry) => entry.probability)),
    ifLaboratoryErrsAlike: { atLeast: over("atLeast"), atMost: over("atMost") },
  };
}
