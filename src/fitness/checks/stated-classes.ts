import {
  checkStatedClass,
  classesIn,
  countsAtMost,
  decideLimits,
  dirtierThanCounts,
  formatTarget,
  isDirtierThanMost,
  isDirtierThanTarget,
} from "../../cleanliness/index.js";
import { type CountSet, cumulativeCounts } from "../../counts/index.js";
import type { ReportedClass, Requirement, Sample } from "../../samples/index.js";
import type { Assessed, Finding } from "../assessed.js";
import { isAboutPatch } from "../evidence/results.js";
import { type Reason, reason } from "../reasons.js";

/** A class may be dirtier than the counted sizes show by this much, through coarser sizes. Common practice, no source. */
export const MAX_CLASSES_UNSHOWN = 2;

/** What a person writes who has looked into it and trusts the counts; the code is that of the check in the intake. */
const ACCEPTED = "class-differs-from-counts";

/** The classes of a report that may decide where counts are missing. */
export function trustedClasses({ acceptedChecks, reportedClasses }: Sample): Sample["reportedClasses"] {
  return acceptedChecks?.includes(ACCEPTED) ? undefined : reportedClasses;
}

/**
 * Do the counts account for the class that the laboratory states? It may have counted sizes that the report leaves out.
 *
 * @param assessed - what the results of the same sample came to
 */
export function checkStatedClasses(
  { cleanliness }: Requirement,
  sample: Sample,
  assessed: readonly Assessed[],
): Finding {
  if (sample.acceptedChecks?.includes(ACCEPTED)) return { reasons: [] };
  const isDirty = assessed.some(({ quantity, outcome }) => quantity === "particles" && outcome === "outside");
  // A class that decided the particles has been said with them.
  const hasDecided = assessed.some(
    (entry) => "channels" in entry && entry.channels.some(({ basis }) => basis === "class"),
  );
  const classes = [
    ...(sample.reportedClasses ?? []),
    ...classesSaid(sample, (column) => !isAboutPatch(column)),
  ];
  const reasons = classes.flatMap((stated): Reason[] => {
    const message = faultOf(stated, cleanliness, sample);
    if (message === undefined || (isDirty && hasDecided && message.code === "stated-class-outside"))
      return [];
    const said = `of sample ${sample.sample} the laboratory states ${describeStated(stated)}, ${message.says}`;
    // Dirty fluid needs circulating whatever the other sizes show.
    if (isDirty)
      return [reason("sizes-not-counted", `${said}; have ${message.count} counted in the verifying sample`)];
    // Without counts there is nothing to trust in place of the class.
    const accept =
      sample.counts === undefined
        ? ""
        : `. If it was looked into, write ${ACCEPTED} into a column "quarantine accepted" of its row and read it again`;
    return [reason(message.code, `${said}; ask the laboratory, and have ${message.count} counted${accept}`)];
  });
  return { reasons: [...reasons, ...(isDirty ? [] : checkClassOfPatch(cleanliness, sample))] };
}

/** Compared by eye, a patch explains nothing of the counts; dirtier than a target of its own standard it has to be looked into. */
function checkClassOfPatch(targets: Requirement["cleanliness"], sample: Sample): Reason[] {
  return classOfPatch(sample).flatMap((stated) => {
    const target = targets.find((one) => isDirtierThanTarget(stated, one, undefined));
    if (target === undefined) return [];
    const message =
      `the patch of sample ${sample.sample} is ${describeStated(stated)}, which is dirtier than ${formatTarget(target)}; ` +
      "ask the laboratory, and have every size of the target counted";
    return [reason("stated-class-outside", message)];
  });
}

/** The class of a patch as one that is stated; where it is at most that, it may be any cleaner one. */
function classOfPatch(sample: Sample): ReportedClass[] {
  const { class: stated, standard, code } = sample.patchTest ?? {};
  const isCleaner = stated?.limit === "below" || stated?.limit === "at-most";
  return [
    ...(stated === undefined || standard === undefined || isCleaner
      ? []
      : [{ standard, class: stated.limit === "above" ? `> ${stated.value}` : String(stated.value) }]),
    ...(code === undefined ? [] : [{ standard: "ISO 4406" as const, class: code }]),
    ...classesSaid(sample, isAboutPatch),
  ];
}

/** The classes that the laboratory states in words, in some of its columns. */
function classesSaid({ laboratorySays = [] }: Sample, isOf: (column: string) => boolean): ReportedClass[] {
  return laboratorySays.flatMap(({ column, text }) => (isOf(column) ? classesIn(column, text) : []));
}

interface Fault {
  readonly code: "stated-class-outside" | "stated-class-unexplained";
  readonly says: string;
  readonly count: string;
}

function faultOf(
  stated: ReportedClass,
  targets: Requirement["cleanliness"],
  { counts, acceptedChecks = [], reportedClasses = [] }: Sample,
): Fault | undefined {
  const target = targets.find((one) => isDirtierThanTarget(stated, one, counts));
  if (target !== undefined)
    return {
      code: "stated-class-outside",
      says: `which is dirtier than ${formatTarget(target)}`,
      count: "every size of the target",
    };
  // The intake sets one report aside for this; class and counts may have come in two.
  const fault = checkStatedClass(stated, counts);
  if (fault?.computed !== undefined && !acceptedChecks.includes(fault.code))
    return {
      code: "stated-class-unexplained",
      says: `and the counts are class ${fault.computed}`,
      count: "every size",
    };
  if (targets.some((one) => isMetBy(stated, one))) return undefined;
  const most = counts ?? mostBy(reportedClasses, targets);
  if (counts === undefined && most !== undefined && isDirtierThanMost(stated, most))
    return {
      code: "stated-class-unexplained",
      says: "dirtier than its class by the target's standard allows",
      count: "every size",
    };
  const dirtier = dirtierThanCounts(stated, most);
  if (dirtier === undefined || dirtier.isOneParticle || dirtier.classes <= MAX_CLASSES_UNSHOWN)
    return undefined;
  return {
    code: "stated-class-unexplained",
    says:
      counts === undefined
        ? `${dirtier.classes} classes dirtier than its class by the target's standard allows (${dirtier.shown})`
        : `${dirtier.classes} classes dirtier than the sizes that were counted show (${dirtier.shown})`,
    count: "the coarser sizes",
  };
}

/** Where nothing was counted, the most particles that the report allows by a class of a target's own standard. */
function mostBy(
  classes: readonly ReportedClass[],
  targets: Requirement["cleanliness"],
): Sample["counts"] | undefined {
  const edges = classes.flatMap((one) => targets.flatMap((target) => countsAtMost(one, target) ?? []));
  const most = edges.find((one): one is CountSet => one.form === "cumulative");
  // How much was counted is not known.
  return most && cumulativeCounts(most.counts, most.volumeMl);
}

/** A class that keeps every limit of a target leaves nothing of it to explain. */
function isMetBy(stated: ReportedClass, target: Requirement["cleanliness"][number]): boolean {
  return decideLimits({ classes: [stated] }, target).every(({ outcome }) => outcome === "inside");
}

function describeStated({ standard, class: name }: ReportedClass): string {
  return name.toUpperCase().includes(standard.toUpperCase()) ? `"${name}"` : `${standard} "${name}"`;
}
