import { describeGoByThenDraw, describeInstead, describeMinutesDone } from "../../circulation/index.js";
import { describeElementTaken } from "../../cleanliness/index.js";
import { actorsOf, largestExchange, onlyTimeFails } from "../advice/next-step.js";
import { describeStillDue } from "../advice/still-due.js";
import { describeDecisions } from "../decisions/describe-decision.js";
import { isHeld, standsAs } from "../decisions/standing.js";
import type { Reason } from "../reasons.js";
import type { VerdictOnCircuit } from "./fleet.js";
import { nextSampleBy } from "./next-sample.js";

/** A verdict in a few words, for the people at the cart. */
export interface Brief {
  /** What to do, such as "circulate 21 min, then draw a sample". */
  readonly action: string;
  /** Why, the reason that decides first; after what a person decided about it. */
  readonly why: readonly string[];
}

/**
 * Says what to do with a circuit and why, in a line each. {@link Verdict} holds all reasons in full.
 *
 * @param judged - a circuit with its verdict, as `judgeCarts` gives it
 */
export function briefOf(judged: VerdictOnCircuit): Brief {
  return {
    action: describeAction(judged),
    why: [
      ...describeDecisions(judged.standing),
      ...firstReason(judged),
      ...minutesRun(judged),
      ...elementTaken(judged),
    ],
  };
}

function describeAction(judged: VerdictOnCircuit): string {
  const { verdict } = judged;
  if (isHeld(judged)) return "do not connect: held by a person";
  switch (standsAs(judged)) {
    case "fit": {
      const due = nextSampleBy(judged);
      if (due === undefined) return "fit to connect";
      return due < judged.verdict.on
        ? `fit to connect; the next sample was due on ${due}`
        : `fit to connect; next sample by ${due}`;
    }
    case "circulate":
      return verdict.goBy
        ? describeGoByThenDraw(verdict.goBy, "a sample")
        : `${describeStillDue(judged) ?? "circulate"}, then draw a sample`;
    case "exchange-fluid": {
      const way = largestExchange(verdict.next.exchange);
      return `exchange the fluid${way === undefined ? "" : ` (${way})`}, then draw a sample`;
    }
    case "resample":
      return describeResample(deciding(judged), describeStillDue(judged));
    case "do-not-connect":
      if (onlyTimeFails(verdict)) return `do not connect: no time is long enough${insteadOf(verdict)}`;
      return ["do not connect", ...verdict.changes.map(({ when }) => `cleared ${when}`)].join("; ");
  }
}

function insteadOf({ goBy }: VerdictOnCircuit["verdict"]): string {
  return goBy?.kind === "no-time" && goBy.instead ? `; ${describeInstead(goBy.instead)}` : "";
}

/** Where nobody at the cart can settle it, the bottle at hand comes before a new one. */
function describeResample(reasons: readonly Reason[], due: string | undefined): string {
  const actors = actorsOf(reasons);
  if (actors.includes("crew"))
    return `do not connect yet: ${due === undefined ? "" : `${due}, then `}draw a new sample`;
  const others = actors.map((actor) => `the ${actor}`).join(" and ");
  return `do not connect yet: ${others} can settle it${due === undefined ? "" : `; ${due}`}`;
}

function firstReason(judged: VerdictOnCircuit): string[] {
  const { verdict } = judged;
  if (verdict.verdict === "fit") return [];
  const [first, ...others] = deciding(judged);
  if (first === undefined) return [];
  const more =
    others.length === 0 ? "" : ` (and ${others.length} more reason${others.length === 1 ? "" : "s"})`;
  return [`${outOfReach(verdict, first) ?? firstClause(first.message)}${more}`];
}

/** Where circulating cannot get there, the target says where that would be. */
function outOfReach({ reasons }: VerdictOnCircuit["verdict"], { code }: Reason): string | undefined {
  if (code !== "particles-out-of-reach") return undefined;
  const exceeded = reasons.find(({ code: own }) => own === "particles-outside");
  return exceeded && `${exceeded.message.split(", most at")[0]}, and circulating cannot get there`;
}

/** Who has circulated already reads what came of it. */
function minutesRun(judged: VerdictOnCircuit): string[] {
  return standsAs(judged) === "circulate" ? describeMinutesDone(judged.verdict.goBy?.assumptions ?? []) : [];
}

/** A circulation that rests on an element of which nobody stated β, be it long enough or not, is never said without that. */
function elementTaken(judged: VerdictOnCircuit): string[] {
  const { circuit, verdict } = judged;
  const rests =
    standsAs(judged) === "circulate" ||
    verdict.reasons.some(
      ({ code, callsFor }) => code === "particles-out-of-reach" && callsFor === verdict.verdict,
    );
  return verdict.circulation !== undefined && rests
    ? describeElementTaken(circuit.element.assumptions ?? [])
    : [];
}

/** The reasons that decide; where no time is long enough, what circulating would have been for. */
function deciding({ verdict }: VerdictOnCircuit): Reason[] {
  const asked = onlyTimeFails(verdict) ? "circulate" : verdict.verdict;
  return verdict.reasons.filter(({ callsFor }) => callsFor === asked);
}

/** A clause of more than two lines is cut again, at its colon. */
const MAX_LENGTH = 140;

/** A reason states its finding first; what follows explains it. */
function firstClause(message: string): string {
  const clause = message.split("; ")[0] as string;
  return clause.length > MAX_LENGTH ? (clause.split(": ")[0] as string) : clause;
}
