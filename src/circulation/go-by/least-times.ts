import type { SourceKey } from "../../provenance/index.js";
import { formatMinutes } from "../plan/format-minutes.js";

/** A time that a rule asks for before a verifying bottle is drawn. */
export interface LeastTime {
  readonly rule: "one-pass" | "five-minutes" | "requirement";
  readonly minutes: number;
  readonly meaning: string;
  readonly source: SourceKey;
}

/** Minutes at full flow before a bottle is drawn. */
const BEFORE_A_BOTTLE_MIN = 5;

/**
 * The times that published rules ask for: one circuit volume through the filters, and five minutes at full flow before a
 * bottle is drawn.
 *
 * The flow of the plan is taken as the full flow; at a lower flow both take longer in proportion.
 *
 * @param dueMin - minutes that a requirement still asks for, where it does
 * @source NAVEDTRA-14018-CIRCULATION
 * @source SE-SAMPLING
 */
export function leastTimes({
  volumeL,
  flowLpm,
  dueMin,
}: {
  readonly volumeL: number;
  readonly flowLpm: number;
  readonly dueMin?: number;
}): readonly LeastTime[] {
  return [
    {
      rule: "one-pass",
      minutes: volumeL / flowLpm,
      meaning: `one circuit volume through the filters, ${formatMinutes(volumeL / flowLpm)}`,
      source: "NAVEDTRA-14018-CIRCULATION",
    },
    {
      rule: "five-minutes",
      minutes: BEFORE_A_BOTTLE_MIN,
      meaning: `${formatMinutes(BEFORE_A_BOTTLE_MIN)} at full flow before a bottle is drawn, longer in proportion at a lower flow`,
      source: "SE-SAMPLING",
    },
    ...(dueMin === undefined
      ? []
      : [
          {
            rule: "requirement" as const,
            minutes: dueMin,
            meaning: `${formatMinutes(dueMin)} that the requirement still asks for`,
            source: "PRACTICE" as const,
          },
        ]),
  ];
}

/** The rule that makes a crew run longest, with the minutes that are still to be run for it. */
export function longestLeft(
  rules: readonly LeastTime[],
  doneMin: number,
): { readonly rule: LeastTime["rule"]; readonly minutes: number } {
  return rules
    .map(({ rule, minutes }) => ({ rule, minutes: COUNTS_DONE.includes(rule) ? minutes - doneMin : minutes }))
    .reduce((one, other) => (other.minutes > one.minutes ? other : one));
}

/** Rules for which minutes that were run count; before each bottle the fluid flows again, and what is due is what is left. */
const COUNTS_DONE: readonly LeastTime["rule"][] = ["one-pass"];
