import type { CircuitCase, Decision, VerdictName } from "../../../src/fitness/index.js";
import { judgeCircuit } from "../../../src/fitness/index.js";
import { caseOf, sample } from "./bases.js";

export const FIT = caseOf({});
export const WET = caseOf(sample({ waterPpm: { value: 350 } }));

let number = 0;
/** A decision made on the verdict of a case; on none where there is no case. */
export function decided(
  decision: VerdictName,
  on: CircuitCase | undefined,
  more: Partial<Decision> = {},
): Decision {
  number += 1;
  return {
    number,
    at: "2026-03-14T09:30:00.000Z",
    person: "A. Person",
    decision,
    reason: "bottle found open",
    ...(on && { madeOn: judgeCircuit(on) }),
    ...more,
  };
}
export const lifted = { at: "2026-03-15T08:00:00.000Z", person: "B. Person", reason: "drawn again" };
export const until = (day: string): Partial<Decision> => ({ until: day });
