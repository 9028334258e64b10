import { describeGoByThenDraw } from "../../circulation/index.js";
import { describeHolds } from "../decisions/describe-decision.js";
import type { Standing } from "../decisions/standing.js";
import { VERDICT_WORDS } from "../reasons.js";
import type { Verdict } from "../verdict.js";

export type DescribedVerdict = Pick<
  Verdict,
  "cart" | "circuit" | "serves" | "verdict" | "reasons" | "circulation" | "goBy"
>;

/**
 * Says a verdict in one line: what to do, and the reasons that call for it.
 *
 * @param verdict - a verdict of {@link judgeCircuit}
 * @param standing - what people decided about the circuit; where that holds it, it is said instead
 * @returns for example `Cart 7, circuit A: not fit yet; circulate 25 min (6.3 passes), then draw a verifying sample, because …`;
 *   milder reasons are not in it
 * @example
 * const reasons = [{ code: "water-outside", callsFor: "exchange-fluid", message: "water: 250 ppm, at most 200" }];
 * const verdict = { cart: "C-1", circuit: "main", serves: "main system", verdict: "exchange-fluid", reasons };
 * describeVerdict(verdict); // => "C-1, circuit main: not fit; exchange fluid, because water: 250 ppm, at most 200."
 */
export function describeVerdict(verdict: DescribedVerdict, standing?: Standing): string {
  if (standing?.held) {
    const holds = describeHolds(standing).join("; ");
    return `${verdict.cart}, circuit ${verdict.circuit}: not fit to connect, ${holds} (computed: ${VERDICT_WORDS[verdict.verdict]}).`;
  }
  const because = verdict.reasons
    .filter((reason) => reason.callsFor === verdict.verdict)
    .map((reason) => reason.message)
    .join("; ");
  return `${verdict.cart}, circuit ${verdict.circuit}: ${describeAction(verdict)}, because ${because}.`;
}

function describeAction({ verdict, serves, goBy }: DescribedVerdict): string {
  switch (verdict) {
    case "fit":
      return `fit to connect to ${serves}`;
    case "circulate":
      return goBy === undefined
        ? "not fit yet; circulate"
        : `not fit yet; ${describeGoByThenDraw(goBy, "a verifying sample")}`;
    case "exchange-fluid":
      return "not fit; exchange fluid";
    case "resample":
      return "not known to be fit; draw a new sample";
    case "do-not-connect":
      return "do not connect";
  }
}
