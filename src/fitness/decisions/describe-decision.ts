import { VERDICT_WORDS, type VerdictName } from "../reasons.js";
import { type CircuitDecision, type Decision, lastDayOf } from "./decision.js";
import type { NamedCircuit } from "./plain-name.js";
import type { DecisionEffect, Standing } from "./standing.js";

/** The line that heads a circuit which a person holds. */
export function describeHold({ person, at, reason }: Decision): string {
  return `HELD by ${inOneLine(person)} on ${at.slice(0, 10)}: ${inOneLine(reason)}`;
}

/** The same with cart and circuit, for a list. */
export function describeHeldCircuit(decision: CircuitDecision): string {
  return `${decision.cart}, circuit ${decision.circuit}: ${describeHold(decision)}`;
}

/**
 * Every decision that holds a circuit, for the head of a list.
 *
 * @param elsewhere - those that hold circuits which were not judged
 */
export function describeAllHolds(
  judged: readonly (NamedCircuit & { readonly standing?: Standing | undefined })[],
  elsewhere: readonly CircuitDecision[],
): string[] {
  return [
    ...judged.flatMap(({ cart, circuit, standing }) =>
      describeHolds(standing).map((hold) => `${cart}, circuit ${circuit}: ${hold}`),
    ),
    ...elsewhere.map((decision) => `${describeHeldCircuit(decision)} (no circuit of this name was judged)`),
  ];
}

/** A decision in full: what, who, when, until when, why, and how it was lifted. */
export function describeDecision(decision: Decision): string {
  const { number, person, second, at, reason, lifted } = decision;
  const who = second === undefined ? inOneLine(person) : `${inOneLine(person)} and ${inOneLine(second)}`;
  const end =
    lifted === undefined
      ? ""
      : `; lifted by ${inOneLine(lifted.person)} on ${lifted.at.slice(0, 10)}: ${inOneLine(lifted.reason)}`;
  return (
    `decision ${number}: "${VERDICT_WORDS[decision.decision]}" decided by ${who} on ${at.slice(0, 10)}, ${describeUntil(decision)}: ` +
    `${inOneLine(reason)}${end}`
  );
}

function describeUntil(decision: Decision): string {
  const lastDay = lastDayOf(decision);
  return lastDay === undefined ? "until a person lifts it" : `until ${lastDay}`;
}

/** The decisions that count for a verdict now or were made on another one, in full; those that are over are left out. */
export function describeDecisions(standing: Standing | undefined): string[] {
  return describeEffects(standing, ({ effect }) => effect !== "ended" && effect !== "lifted");
}

/** The same without those that hold the circuit, where their heading is shown already. */
export function describeOtherDecisions(standing: Standing | undefined): string[] {
  return describeEffects(standing, ({ effect }) => effect === "milder" || effect === "other-verdict");
}

/** Every decision in full, with what it does to the verdict. */
export function describeAllDecisions(standing: Standing | undefined): string[] {
  return describeEffects(standing, () => true);
}

function describeEffects(
  standing: Standing | undefined,
  wanted: (reported: Standing["decisions"][number]) => boolean,
): string[] {
  if (standing === undefined) return [];
  const computed = `; the verdict stays as computed, "${VERDICT_WORDS[standing.computed]}"`;
  return standing.decisions.filter(wanted).map(({ decision, effect }) => {
    const { madeOn } = decision;
    const does: Record<DecisionEffect, string> = {
      holds: computed,
      milder: computed,
      ended: "; its last day is over",
      "other-verdict": `; made on the verdict "${madeOn && VERDICT_WORDS[madeOn.verdict]}" of ${madeOn?.on}, not on this one`,
      lifted: "",
    };
    return `${describeDecision(decision)}${does[effect]}`;
  });
}

/** What stands for a circuit, and that a person holds it: "held: take a new sample". */
export function describeStands(stands: VerdictName, held: boolean): string {
  return held ? `held: ${VERDICT_WORDS[stands]}` : VERDICT_WORDS[stands];
}

/** The decisions that hold a circuit, each as its heading. */
export function describeHolds(standing: Standing | undefined): string[] {
  return (standing?.decisions ?? [])
    .filter(({ effect }) => effect === "holds")
    .map(({ decision }) => describeHold(decision));
}

/** A name or a reason cannot begin a line of its own. */
function inOneLine(text: string): string {
  return text.trim().replace(/\s+/g, " ");
}
