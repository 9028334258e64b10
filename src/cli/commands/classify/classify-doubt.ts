import {
  AS4059_CUMULATIVE,
  AS4059_CUMULATIVE_ROUNDED,
  AS4059_DIFFERENTIAL,
  type ClassTable,
  classConfidence,
  codeConfidence,
  compareWithLimits,
  type FullClassification,
  formatTarget,
  ISO_4406,
  type Iso4406Code,
  type JointCertainty,
  type JointProbability,
  limitsConfidence,
  limitsOfTarget,
  NAS_1638,
  type TableCertainty,
  type TableCounts,
} from "../../../cleanliness/index.js";
import type { Reproducibility } from "../../../counts/index.js";
import type { ClassifyRequest } from "./classify-options.js";

/** How sure the classes are, standard by standard; what cannot be told is null. */
export function certaintyOf(
  counts: TableCounts,
  classes: FullClassification,
  { reproducibility, limits }: Pick<ClassifyRequest, "reproducibility" | "limits">,
) {
  if (counts.counting === undefined) return null;
  const cumulative = limits === "rounded" ? AS4059_CUMULATIVE_ROUNDED : AS4059_CUMULATIVE;
  return {
    reproducibility: reproducibility ?? null,
    iso4406: classes.iso4406 === undefined ? null : certaintyOfCode(counts, classes.iso4406, reproducibility),
    as4059: {
      cumulative: tableCertainty(cumulative, counts, reproducibility),
      differential: tableCertainty(AS4059_DIFFERENTIAL, counts, reproducibility),
    },
    nas1638: tableCertainty(NAS_1638, counts, reproducibility),
  };
}

function certaintyOfCode(
  counts: TableCounts,
  code: Iso4406Code,
  reproducibility: Reproducibility | undefined,
) {
  const { channels } = classConfidence(ISO_4406, counts, reproducibility);
  const whole = codeConfidence(code, counts, reproducibility);
  return {
    channels: channels.filter((entry) => counts.scale === "um(c)" || entry.channel !== "4").map(likelyOnly),
    code: probabilityOf(whole),
  };
}

/** The range for all channels together; null when it cannot be told. */
function probabilityOf(certainty: JointCertainty<string>): JointProbability | null {
  if (certainty.kind !== "known") return null;
  const { atLeast, atMost, ifLaboratoryErrsAlike } = certainty;
  return { atLeast, atMost, ifLaboratoryErrsAlike };
}

function tableCertainty<C extends string, N extends string>(
  table: ClassTable<C, N>,
  counts: TableCounts,
  reproducibility: Reproducibility | undefined,
) {
  const certainty = classConfidence(table, counts, reproducibility);
  if (certainty.channels.length === 0) return null;
  return {
    channels: certainty.channels.map(likelyOnly),
    noDirtierThan: certainty.noDirtierThan.filter(({ atMost }) => atMost > UNLIKELY),
  };
}

/** Classes less probable than this are left out of print; what is left sums to 1 but for them. */
const UNLIKELY = 1e-6;

function likelyOnly<C extends string, N extends string>(entry: TableCertainty<C, N>["channels"][number]) {
  if (entry.kind !== "known") return entry;
  return { ...entry, classes: entry.classes.filter(({ probability }) => probability > UNLIKELY) };
}

/** Counts held against the target of `--target`. */
export function targetOf(
  counts: TableCounts,
  { target, reproducibility }: Pick<ClassifyRequest, "target" | "reproducibility">,
) {
  if (target === undefined) return null;
  const limits = limitsOfTarget(target);
  const held = compareWithLimits(counts, limits);
  const certainty = limitsConfidence(limits, counts, reproducibility);
  const outcomes = held.map((entry) => entry.outcome);
  return {
    target: formatTarget(target),
    outcome: outcomes.includes("outside")
      ? ("outside" as const)
      : outcomes.includes("not-measured")
        ? ("not-known" as const)
        : ("inside" as const),
    channels: held.map((entry, index) => ({
      channel: entry.limit.channel,
      outcome: entry.outcome,
      count: entry.outcome === "not-measured" ? null : entry.count,
      limit: entry.limit.limit,
      limitVolumeMl: entry.limit.volumeMl,
      share: entry.outcome === "not-measured" ? null : entry.share,
      probability: certainty.kind === "known" ? (certainty.channels[index]?.probability ?? null) : null,
    })),
    probability: probabilityOf(certainty),
  };
}
