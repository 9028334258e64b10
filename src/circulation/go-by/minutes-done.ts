import type { Assumption } from "../../provenance/index.js";

/** What was circulated already since the sample that a circulation starts from. */
export interface MinutesDone {
  /** At the flow of the circuit and under its conditions; 0 or more. */
  readonly minutes: number;
  /** What the minutes rest on, and what was left out of them. */
  readonly assumptions?: readonly Assumption[];
}

/** Codes of what is said of minutes that were run. */
export const MINUTES_COUNTED = "minutes-run-counted";
export const MINUTES_NOT_COUNTED = "minutes-run-not-counted";

/** Says which of the minutes that were run a time to go by holds, and which not. */
export function describeMinutesDone(assumptions: readonly Assumption[]): string[] {
  return assumptions
    .filter(({ code }) => code === MINUTES_COUNTED || code === MINUTES_NOT_COUNTED)
    .map(({ message }) => message);
}
