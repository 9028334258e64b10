import { describeHolds } from "../decisions/describe-decision.js";
import type { Standing } from "../decisions/standing.js";
import type { Verdict } from "../verdict.js";
import type { NextStep } from "./next-step.js";

/**
 * What to do now with a judged circuit. Where a person's decision holds it, that comes first, and nothing that was computed
 * leads to a hookup.
 */
export function nextUnder({ verdict, standing }: { verdict: Verdict; standing?: Standing }): NextStep {
  if (standing === undefined || !standing.held) return verdict.next;
  const texts = [
    ...describeHolds(standing).map((hold) => `do not connect: ${hold}`),
    "a person lifts the decision, with name and reason, once its cause is settled; nothing else ends it",
  ];
  return {
    ...verdict.next,
    action: standing.stands,
    steps: [
      ...texts.map((text) => ({ text, source: "PRACTICE" as const })),
      ...(verdict.verdict === "fit" ? [] : verdict.next.steps),
    ],
  };
}
