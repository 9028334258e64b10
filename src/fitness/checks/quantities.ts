import type { Assumption } from "../../provenance/index.js";
import type { Circuit, Requirement, Sample } from "../../samples/index.js";
import type { Assessed, Finding } from "../assessed.js";
import type { Evidence } from "../evidence/evidence.js";
import { requirementOf } from "../evidence/requirement-of.js";
import type { Result } from "../evidence/results.js";
import { QUANTITIES } from "../quantities.js";
import { compareVerdicts, decide } from "../reasons.js";
import { checkLimits } from "./limits.js";
import { checkParticles } from "./particles.js";
import { checkPatch } from "./patch.js";

/** What each quantity of a requirement comes to in its own bottle. */
export interface CheckedQuantities {
  /** One for each limit. */
  readonly findings: readonly Finding[];
  /** Of the last bottles, whose order is not known, the one that shows the strictest. */
  readonly shown: Sample;
  /** What the results of one bottle came to, and whether each is the latest of its quantity. */
  readonly assessedIn: (sample: Sample) => readonly (Assessed & { readonly isLatest: boolean })[];
}

/**
 * Holds every quantity against its limit by the latest bottle that reports it.
 *
 * Of several latest bottles whose order is not known the strictest counts. A quantity that no bottle of this fluid reports is
 * missing in the last one.
 */
export function checkQuantities(
  circuit: Circuit,
  requirement: Requirement,
  evidence: Evidence,
): CheckedQuantities | undefined {
  const held = new Map<Sample, readonly Finding[]>();
  const findingsOn = (sample: Sample) => {
    const known = held.get(sample) ?? [
      ...(requirement.cleanliness.length > 0
        ? [checkParticles(circuit, requirementOf(requirement, sample), sample)]
        : []),
      ...(requirement.patchTest === undefined ? [] : [checkPatch(requirement.patchTest, sample)]),
      ...checkLimits(requirement, sample),
    ];
    held.set(sample, known);
    return known;
  };
  const bottlesOf = new Map<Result, ReadonlySet<Sample>>();
  const isLatestOf = (result: Result, sample: Sample) => {
    const bottles = bottlesOf.get(result) ?? new Set(evidence.of(result));
    bottlesOf.set(result, bottles);
    return bottles.has(sample);
  };
  const reportedIn = (sample: Sample) =>
    findingsOn(sample).filter((finding) => isLatestOf(resultIn(finding), sample));
  const shown = strictest(evidence.newest, (sample) => reportedIn(sample).flatMap(({ reasons }) => reasons));
  if (shown === undefined) return undefined;
  const findings = findingsOn(shown).map((missing, place) => {
    const bottles = evidence.of(resultIn(missing));
    if (bottles.length === 0) return missing;
    const found = bottles.map((sample) => from(sample, findingsOn(sample)[place] as Finding, shown));
    return strictest(found, ({ reasons }) => reasons) as Finding;
  });
  const assessedIn = (sample: Sample) =>
    findingsOn(sample).flatMap((finding) => {
      const isLatest = isLatestOf(resultIn(finding), sample);
      return (finding.assessed ?? []).map((entry) => ({ ...entry, isLatest }));
    });
  return { findings, shown, assessedIn };
}

/** The last of those that call for the strictest verdict; nothing said against one is the mildest. */
function strictest<T>(all: readonly T[], reasonsOf: (one: T) => Finding["reasons"]): T | undefined {
  const verdicts = all.map((one) => {
    const reasons = reasonsOf(one);
    return { one, verdict: reasons.length === 0 ? "fit" : decide(reasons) };
  });
  return verdicts.sort((a, b) => compareVerdicts(a.verdict, b.verdict)).at(-1)?.one;
}

/** A finding with the bottle that it is of; the messages name one that is not shown with the verdict. */
function from(sample: Sample, { reasons, assessed = [], ...finding }: Finding, shown: Sample): Finding {
  const { sample: number, drawnOn } = sample;
  const where = ` (sample ${number} of ${drawnOn})`;
  const named = ({ message }: Finding["reasons"][number]) =>
    sample === shown || message.includes(number) ? message : `${message}${where}`;
  return {
    ...finding,
    reasons: reasons.map((one) => ({ ...one, message: named(one) })),
    assessed: assessed.map((entry): Assessed => ({ ...entry, sample: number, drawnOn })),
  };
}

/** The result that a finding is about; every finding on a limit assesses one. */
function resultIn({ assessed = [] }: Pick<Finding, "assessed">): Result {
  return QUANTITIES[assessed[0]?.quantity ?? "particles"].result;
}

/** Says which bottles show one quantity in an order that is not known. */
export function severalAtOnce(assessed: readonly Assessed[], evidence: Evidence): Assumption[] {
  const several = assessed.flatMap((entry) => {
    const bottles = evidence.of(resultIn({ assessed: [entry] }));
    return bottles.length < 2 ? [] : bottles;
  });
  const bottles = [...new Set(several)];
  if (bottles.length === 0) return [];
  const days = [...new Set(bottles.map(({ drawnOn }) => drawnOn))].sort().join(" and ");
  const message = `${bottles.length} samples were drawn on ${days} in an order that is not known; the strictest verdict counts`;
  return [{ code: "several-samples-that-day", message }];
}
