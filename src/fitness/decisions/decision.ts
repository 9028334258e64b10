import { compareVerdicts, type VerdictName } from "../reasons.js";
import type { Verdict } from "../verdict.js";

/** What a person decided about a circuit. The computed verdict never changes by it. */
export interface Decision {
  /** By which a person names it. */
  readonly number: number;
  /** When it was made, as ISO 8601. */
  readonly at: string;
  readonly person: string;
  readonly second?: string;
  readonly decision: VerdictName;
  readonly reason: string;
  /** The last day of a milder decision; the day of its verdict when absent. */
  readonly until?: string;
  /** The computed verdict it was made on; absent where the circuit had none. */
  readonly madeOn?: Pick<Verdict, "verdict" | "on" | "reasons" | "sample">;
  /** Absent while nobody has lifted it. */
  readonly lifted?: Lifting;
}

/** How a decision was lifted. */
export interface Lifting {
  readonly at: string;
  readonly person: string;
  readonly reason: string;
}

/** A decision with the circuit it is about. */
export interface CircuitDecision extends Decision {
  readonly cart: string;
  readonly circuit: string;
}

/**
 * Whether a decision lasts until a person lifts it: one that stops the circuit and is not milder than the verdict it was
 * made on. "Resample" on a verdict "resample" lasts too: the person said so whatever the next verdict is.
 */
export function isLasting({
  decision,
  madeOn,
}: {
  readonly decision: VerdictName;
  readonly madeOn?: Pick<Verdict, "verdict">;
}): boolean {
  return decision !== "fit" && (madeOn === undefined || compareVerdicts(decision, madeOn.verdict) >= 0);
}

/** The last day of a decision; absent for one that lasts until a person lifts it. */
export function lastDayOf(decision: Decision): string | undefined {
  return isLasting(decision) ? undefined : (decision.until ?? decision.madeOn?.on);
}

/** Whether a decision holds its circuit whatever is computed. */
export function isHold(decision: Decision): boolean {
  return decision.lifted === undefined && isLasting(decision);
}

/** Strictest first, and of equal ones the newest. */
export function compareDecisions(a: Decision, b: Decision): number {
  return compareVerdicts(b.decision, a.decision) || b.number - a.number;
}
