import {
  type CircuitDecision,
  type Decision,
  type DecisionEffect,
  describeHolds,
  lastDayOf,
  type Standing,
} from "../../../fitness/index.js";

/** What people decided about a circuit, as the command line prints it. */
export function decisionsAsJson(standing: Standing | undefined) {
  return {
    heldBy: describeHolds(standing),
    decisions: (standing?.decisions ?? []).map(({ decision, effect }) => decisionAsJson(decision, effect)),
  };
}

/** A decision as the command line prints it; what is absent is null. */
export function decisionAsJson(decision: Decision, effect?: DecisionEffect) {
  const { number, at, person, second, decision: verdict, reason, madeOn, lifted } = decision;
  return {
    number,
    at,
    person,
    second: second ?? null,
    decision: verdict,
    reason,
    until: lastDayOf(decision) ?? null,
    madeOn: madeOn === undefined ? null : { verdict: madeOn.verdict, on: madeOn.on },
    lifted: lifted ?? null,
    ...(effect && { effect }),
  };
}

/** The same with the circuit it is about. */
export function circuitDecisionAsJson(decision: CircuitDecision) {
  return { cart: decision.cart, circuit: decision.circuit, ...decisionAsJson(decision) };
}

/** What heads every list of verdicts: the circuits that a person holds, a line for each decision. */
export function describeHeld(lines: readonly string[]): string {
  if (lines.length === 0) return "";
  return `Held by a person, not fit to connect:\n${lines.map((line) => `  ${line}\n`).join("")}\n`;
}
