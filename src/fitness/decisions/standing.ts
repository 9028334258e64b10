import { grouped } from "../../numeric/index.js";
import { canonicalJson } from "../canonical-json.js";
import { compareVerdicts, type ReasonCode, type VerdictName } from "../reasons.js";
import type { Verdict } from "../verdict.js";
import { type CircuitDecision, compareDecisions, type Decision, isHold, lastDayOf } from "./decision.js";
import { type NamedCircuit, plainCircuit, plainName } from "./plain-name.js";

/**
 * What a decision does to a verdict: it holds the circuit; it is milder than the verdict, or says the same, and changes
 * nothing; its last day is over; it was made on another verdict; or somebody lifted it.
 */
export type DecisionEffect = "holds" | "milder" | "ended" | "other-verdict" | "lifted";

/** What stands for a circuit when people have decided about it. */
export interface Standing {
  /** The computed verdict, which no decision changes. */
  readonly computed: VerdictName;
  /** The stricter of the computed verdict and the decisions that hold the circuit. */
  readonly stands: VerdictName;
  /** Whether a person's decision holds the circuit: it is not fit to connect, whatever was computed. */
  readonly held: boolean;
  /** Every decision about the circuit; those that hold it first, the strictest at the top. */
  readonly decisions: readonly { readonly decision: Decision; readonly effect: DecisionEffect }[];
}

const EFFECTS: readonly DecisionEffect[] = ["holds", "milder", "other-verdict", "ended", "lifted"];

/**
 * Says what stands for a circuit: its computed verdict, or what a person decided more strictly.
 *
 * A stricter decision lasts until a person lifts it. A milder one never makes a circuit fit. It counts until its last day,
 * for the sample it was made on, and only while no reason has come up that was not there when it was made.
 *
 * @param verdict - as it was computed; it is not changed
 * @param decisions - all of this circuit, in any order
 */
export function standingOf(verdict: Verdict, decisions: readonly Decision[]): Standing {
  const reported = decisions
    .map((decision) => ({ decision, effect: effectOf(decision, verdict) }))
    .sort(
      (a, b) =>
        EFFECTS.indexOf(a.effect) - EFFECTS.indexOf(b.effect) || compareDecisions(a.decision, b.decision),
    );
  const holding = reported
    .filter(({ effect }) => effect === "holds")
    .map(({ decision }) => decision.decision);
  return {
    computed: verdict.verdict,
    stands: [verdict.verdict, ...holding].sort(compareVerdicts).at(-1) as VerdictName,
    held: holding.length > 0,
    decisions: reported,
  };
}

function effectOf(decision: Decision, verdict: Verdict): DecisionEffect {
  if (decision.lifted !== undefined) return "lifted";
  if (isHold(decision)) return "holds";
  const { madeOn } = decision;
  const lastDay = lastDayOf(decision);
  if (lastDay === undefined || !(verdict.on <= lastDay)) return "ended";
  if (madeOn === undefined || !isAlike(madeOn, verdict)) return "other-verdict";
  // What has become milder than the decision since: the stricter of the two counts.
  return compareVerdicts(decision.decision, verdict.verdict) > 0 ? "holds" : "milder";
}

/** Reasons whose words went on with the days when earlier versions judged. */
const TELLING_DAYS: readonly ReasonCode[] = ["sample-too-old", "cart-state-too-old"];

/** Whether a verdict rests on the same sample as an earlier one, and has no reason against the circuit that was not there. */
function isAlike(then: NonNullable<Decision["madeOn"]>, now: Verdict): boolean {
  if (now.on < then.on || sampleText(then) !== sampleText(now)) return false;
  const known = new Set(objections(then));
  return objections(now).every((text) => known.has(text));
}

function sampleText({ sample }: Pick<Verdict, "sample">): string {
  return sample === undefined ? "" : canonicalJson(sample);
}

function objections({ reasons }: Pick<Verdict, "reasons">): string[] {
  return reasons
    .filter(({ callsFor }) => callsFor !== "fit")
    .map(({ code, message }) => (TELLING_DAYS.includes(code) ? code : `${code} ${message}`));
}

/** A judged circuit, as much of it as is needed to say what stands. */
export interface Judged {
  readonly verdict: Pick<Verdict, "verdict">;
  readonly standing?: Standing;
}

/**
 * What stands for a judged circuit; see {@link Standing}.
 *
 * @example
 * const element = { position: "pressure", betas: [{ sizeUmC: 4, beta: 20 }] };
 * const main = { circuit: "main", serves: "main system", fluid: "MIL-PRF-83282", volumeL: 60, flowLpm: 45, element, events: [] };
 * const carts = [{ cart: "C-1", circuits: [main] }];
 * const circuits = judgeCarts({ carts, requirements: [], samples: [], unread: [], on: "2026-03-14" });
 * circuits.map(standsAs); // => ["do-not-connect"]
 */
export function standsAs({ verdict, standing }: Judged): VerdictName {
  return standing?.stands ?? verdict.verdict;
}

/** Whether a person's decision holds a judged circuit. */
export function isHeld({ standing }: Judged): boolean {
  return standing?.held ?? false;
}

/**
 * Adds to judged circuits what people decided about them.
 *
 * @param decisions - about any circuits
 */
export function standingAdder(
  decisions: readonly CircuitDecision[],
): <J extends { readonly verdict: Verdict }>(judged: J) => J & { readonly standing?: Standing } {
  const byCircuit = grouped(decisions, plainCircuit);
  return (judged) => {
    const own = byCircuit.get(plainCircuit(judged.verdict));
    return own === undefined ? judged : { ...judged, standing: standingOf(judged.verdict, own) };
  };
}

/**
 * The decisions that hold a circuit which was not judged: it was renamed, or is in no carts file any more.
 *
 * @param judged - the circuits that were judged
 * @param whole - whether all of the book was to be judged; otherwise only the carts of these circuits count
 */
export function holdsElsewhere(
  decisions: readonly CircuitDecision[],
  judged: readonly NamedCircuit[],
  whole: boolean,
): CircuitDecision[] {
  const carts = new Set(judged.map(({ cart }) => plainName(cart)));
  const circuits = new Set(judged.map(plainCircuit));
  return decisions
    .filter(isHold)
    .filter((decision) => !circuits.has(plainCircuit(decision)))
    .filter(({ cart }) => whole || carts.has(plainName(cart)))
    .sort(compareDecisions);
}

/** Circuits that may be connected, and those that may not; of these what a person holds first. */
export function separateFit<T extends Judged>(
  judged: readonly T[],
): {
  readonly fit: readonly T[];
  readonly notFit: readonly T[];
} {
  return {
    fit: judged.filter((one) => standsAs(one) === "fit"),
    notFit: judged
      .filter((one) => standsAs(one) !== "fit")
      .sort((a, b) => Number(isHeld(b)) - Number(isHeld(a))),
  };
}

/**
 * Whether every circuit may be connected and nothing else is open.
 *
 * @param stands - what stands for each circuit; see {@link standsAs}
 * @param open - rows in quarantine, rows of no cart, and what holds circuits that were not judged
 */
export function isAllFit(stands: readonly VerdictName[], ...open: readonly (readonly unknown[])[]): boolean {
  return stands.every((verdict) => verdict === "fit") && open.every((list) => list.length === 0);
}
