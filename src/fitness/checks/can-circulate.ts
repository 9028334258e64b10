import { type Circuit, circulates } from "../../samples/index.js";
import type { Finding } from "../assessed.js";
import { type ReasonCode, reason } from "../reasons.js";

const DIRTY: readonly ReasonCode[] = ["particles-outside", "patch-outside"];

/** A path that only delivers takes no particles out of what it holds. */
export function checkCanCirculate(circuit: Circuit, findings: readonly Finding[]): Finding {
  const isDirty = findings.some(({ reasons }) => reasons.some(({ code }) => DIRTY.includes(code)));
  if (circulates(circuit) || !isDirty) return { reasons: [] };
  const message =
    "this circuit has no flow of its own to circulate with: exchange its fluid, or clean the fluid with another filter, and draw a new sample";
  return { reasons: [reason("particles-out-of-reach", message)] };
}
