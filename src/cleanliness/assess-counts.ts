import type { Reproducibility } from "../counts/index.js";
import { classConfidence, type JointProbability, type TableCertainty } from "./certainty.js";
import type { ClassTable } from "./class-table.js";
import type { FullClassification } from "./classify-all.js";
import { codeConfidence, type JointCertainty, limitsConfidence } from "./joint-certainty.js";
import { type ComparedLimit, compareWithLimits } from "./particle-limit.js";
import type { TableCounts } from "./size-pairs.js";
import { AS4059_CUMULATIVE, AS4059_CUMULATIVE_ROUNDED } from "./standards/as4059-cumulative.js";
import { AS4059_DIFFERENTIAL } from "./standards/as4059-differential.js";
import { ISO_4406, type Iso4406Code } from "./standards/iso-4406.js";
import { NAS_1638 } from "./standards/nas-1638.js";
import { type CleanlinessTarget, limitsOfTarget } from "./target.js";

/** The probable classes of each channel, and the classes that the sample surely is no dirtier than. */
export type LikelyClasses = Pick<TableCertainty<string, string>, "channels" | "noDirtierThan">;

/** How sure the classes of one sample are, standard by standard. */
export interface ClassesConfidence {
  /** Undefined where counting alone was looked at. */
  readonly reproducibility: Reproducibility | undefined;
  readonly iso4406:
    | {
        readonly channels: LikelyClasses["channels"];
        /** Of all channels together; undefined when it is not known. */
        readonly code: JointProbability | undefined;
      }
    | undefined;
  readonly as4059Cumulative: LikelyClasses | undefined;
  readonly as4059Differential: LikelyClasses | undefined;
  readonly nas1638: LikelyClasses | undefined;
}

/**
 * How sure the classes of one sample are.
 *
 * @param limits - which AS4059 cumulative table the classes were taken from
 * @returns undefined where it is not known how much was counted
 */
export function confidenceOfClasses(
  counts: TableCounts,
  classes: FullClassification,
  limits: "unrounded" | "rounded",
  reproducibility?: Reproducibility,
): ClassesConfidence | undefined {
  if (counts.counting === undefined) return undefined;
  const cumulative = limits === "rounded" ? AS4059_CUMULATIVE_ROUNDED : AS4059_CUMULATIVE;
  return {
    reproducibility,
    iso4406: classes.iso4406 && confidenceOfCode(counts, classes.iso4406, reproducibility),
    as4059Cumulative: likelyClasses(cumulative, counts, reproducibility),
    as4059Differential: likelyClasses(AS4059_DIFFERENTIAL, counts, reproducibility),
    nas1638: likelyClasses(NAS_1638, counts, reproducibility),
  };
}

function confidenceOfCode(
  counts: TableCounts,
  code: Iso4406Code,
  reproducibility: Reproducibility | undefined,
) {
  const { channels } = classConfidence(ISO_4406, counts, reproducibility);
  return {
    // The older scales have no class at 4 µm(c).
    channels: channels.filter(({ channel }) => counts.scale === "um(c)" || channel !== "4").map(likelyOnly),
    code: probabilityOf(codeConfidence(code, counts, reproducibility)),
  };
}

/** The range for all channels together. */
function probabilityOf(certainty: JointCertainty<string>): JointProbability | undefined {
  if (certainty.kind !== "known") return undefined;
  const { atLeast, atMost, ifLaboratoryErrsAlike } = certainty;
  return { atLeast, atMost, ifLaboratoryErrsAlike };
}

function likelyClasses<C extends string, N extends string>(
  table: ClassTable<C, N>,
  counts: TableCounts,
  reproducibility: Reproducibility | undefined,
): LikelyClasses | undefined {
  const { channels, noDirtierThan } = classConfidence(table, counts, reproducibility);
  if (channels.length === 0) return undefined;
  return {
    channels: channels.map(likelyOnly),
    noDirtierThan: noDirtierThan.filter(({ atMost }) => atMost > UNLIKELY),
  };
}

/** Classes less probable than this are left out; what is left sums to 1 but for them. */
const UNLIKELY = 1e-6;

function likelyOnly<C extends string, N extends string>(
  entry: TableCertainty<C, N>["channels"][number],
): LikelyClasses["channels"][number] {
  if (entry.kind !== "known") return entry;
  return { ...entry, classes: entry.classes.filter(({ probability }) => probability > UNLIKELY) };
}

/** One channel of a target with the count of a sample. */
export type AssessedLimit = ComparedLimit & {
  /** Probability that the fluid is inside; undefined when it is not known. */
  readonly probability: number | undefined;
};

/** Whether a sample meets a cleanliness target. */
export interface TargetAssessment {
  /** "outside" where one channel is; "not-known" where none is and one was not measured. */
  readonly outcome: "inside" | "outside" | "not-known";
  readonly channels: readonly AssessedLimit[];
  /** That the fluid meets all of it; undefined when it is not known. */
  readonly probability: JointProbability | undefined;
}

/** Compares the counts of one sample with a target, channel by channel. */
export function assessTarget(
  counts: TableCounts,
  target: CleanlinessTarget,
  reproducibility?: Reproducibility,
): TargetAssessment {
  const limits = limitsOfTarget(target);
  const compared = compareWithLimits(counts, limits);
  const certainty = limitsConfidence(limits, counts, reproducibility);
  const outcomes = compared.map(({ outcome }) => outcome);
  return {
    outcome: outcomes.includes("outside")
      ? "outside"
      : outcomes.includes("not-measured")
        ? "not-known"
        : "inside",
    channels: compared.map((entry, index) => ({
      ...entry,
      probability: certainty.kind === "known" ? certainty.channels[index]?.probability : undefined,
    })),
    probability: probabilityOf(certainty),
  };
}
