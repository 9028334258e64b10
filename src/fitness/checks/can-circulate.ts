import { describeGoBy, type TimeToGoBy } from "../../circulation/index.js";
import { type Circuit, circulates } from "../../samples/index.js";
import type { Finding } from "../assessed.js";
import { decide, type Reason, type ReasonCode, reason } from "../reasons.js";

const DIRTY: readonly ReasonCode[] = ["particles-outside", "patch-outside"];

/** A path that only delivers takes no particles out of what it holds. */
export function checkCanCirculate(circuit: Circuit, findings: readonly Finding[]): Finding {
  const isDirty = findings.some(({ reasons }) => reasons.some(({ code }) => DIRTY.includes(code)));
  if (circulates(circuit) || !isDirty) return { reasons: [] };
  const message =
    "this circuit has no flow of its own to circulate with: exchange its fluid, or clean the fluid with another filter, and draw a new sample";
  return { reasons: [reason("particles-out-of-reach", message)] };
}

/**
 * Where circulating would be all that is left to do, and no time of it is known to be long enough, the circuit is stopped.
 *
 * @param reasons - all others
 */
export function checkTimeSuffices(reasons: readonly Reason[], goBy: TimeToGoBy | undefined): Reason[] {
  return goBy?.kind === "no-time" && decide(reasons) === "circulate"
    ? [reason("particles-out-of-reach", describeGoBy(goBy))]
    : [];
}
