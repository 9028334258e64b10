import { daySchema } from "../../samples/index.js";
import { VERDICTS, type VerdictName } from "../reasons.js";
import type { Verdict } from "../verdict.js";
import { type Decision, isHold, isLasting } from "./decision.js";
import { describeDecision, describeHold } from "./describe-decision.js";

/** A decision as a person enters it. */
export interface DecisionEntry {
  readonly person: string;
  readonly second?: string;
  readonly decision: VerdictName;
  readonly reason: string;
  /** The last day of a milder decision, as ISO 8601 calendar day. */
  readonly until?: string;
}

/** Who lifts a decision, and why. */
export interface LiftingEntry {
  readonly person: string;
  readonly reason: string;
  /** Which one; may be left away where only one can be meant. */
  readonly number?: number;
}

/**
 * Says why a decision cannot be entered.
 *
 * @param madeOn - the computed verdict it is made on; absent where the circuit has none
 * @param others - the decisions about the same circuit so far
 * @returns undefined when nothing is wrong
 */
export function faultOfDecision(
  entry: DecisionEntry,
  madeOn: Pick<Verdict, "verdict" | "on"> | undefined,
  others: readonly Decision[],
): string | undefined {
  const { decision } = entry;
  if (!VERDICTS.includes(decision)) return `"${decision}" is no decision; expected ${VERDICTS.join(", ")}`;
  const unnamed = faultOfNames(entry, "an override");
  if (unnamed !== undefined) return unnamed;
  if (madeOn === undefined) {
    if (decision !== "do-not-connect")
      return "only do-not-connect can be decided without one; judge it first";
    return faultOfLasting(entry);
  }
  return isLasting({ decision, madeOn }) ? faultOfLasting(entry) : faultOfMilder(entry, madeOn, others);
}

/** Says why a decision cannot be lifted; undefined when nothing is wrong. */
export function faultOfLifting(entry: LiftingEntry): string | undefined {
  return faultOfNames(entry, "lifting a decision");
}

/**
 * Finds the decision that a person wants to lift: the one with the number given, or else the one that holds the circuit, or
 * else the only one that was not lifted.
 *
 * @returns the decision, or why none can be meant
 */
export function decisionToLift<D extends Decision>(
  decisions: readonly D[],
  number: number | undefined,
): D | string {
  const open = decisions.filter(({ lifted }) => lifted === undefined);
  const holding = open.filter(isHold);
  const meant =
    number === undefined
      ? holding.length > 0
        ? holding
        : open
      : open.filter((decision) => decision.number === number);
  const [only, another] = meant;
  if (only !== undefined && another === undefined) return only;
  if (open.length === 0) return "there is no decision to lift";
  const all = open.map(describeDecision).join("; ");
  return only === undefined
    ? `there is no decision ${number} to lift; there is ${all}`
    : `several decisions stand; say the number of one: ${all}`;
}

function faultOfNames(
  { person, second, reason }: { readonly person: string; readonly second?: string; readonly reason: string },
  what: string,
): string | undefined {
  if (!isText(person)) return `${what} needs the name of the person`;
  if (!isText(reason)) return `${what} needs a reason`;
  if (second === undefined) return undefined;
  if (!isText(second)) return `${what} needs the name of the second person`;
  if (plainPerson(second) === plainPerson(person)) {
    return `the second person must be another than the first: "${person}" and "${second}"`;
  }
  return undefined;
}

function faultOfLasting({ until }: DecisionEntry): string | undefined {
  if (until === undefined) return undefined;
  return "a decision that is not milder than the verdict lasts until a person lifts it; leave out the last day (until)";
}

function faultOfMilder(
  { decision, second, until }: DecisionEntry,
  { verdict, on }: Pick<Verdict, "verdict" | "on">,
  others: readonly Decision[],
): string | undefined {
  if (until !== undefined && !daySchema.safeParse(until).success) {
    return `until: expected a day such as 2026-03-14, found "${until}"`;
  }
  if (until !== undefined && until < on) {
    return `until: ${until} is before ${on}, the day the verdict was judged for`;
  }
  if (verdict === "do-not-connect" && second === undefined) {
    return (
      `the verdict of ${on} is do-not-connect; deciding for ${decision} needs the name of a second person (second). ` +
      "Judge again first if something has changed since"
    );
  }
  const hold = others.find(isHold);
  if (hold !== undefined) {
    return `${describeHold(hold)}; no milder decision is kept until a person has lifted decision ${hold.number}`;
  }
  return undefined;
}

/** A text that can be read as a name or a reason: it has a letter or a figure, not only marks and spaces. */
export function isText(text: string): boolean {
  return /[\p{L}\p{N}]/u.test(text);
}

/** A person whatever the case, the spaces and points, the accents and the order of the names. */
function plainPerson(name: string): string {
  const letters = name.normalize("NFKD").replace(/\p{M}/gu, "").toLowerCase();
  return (letters.match(/[\p{L}\p{N}]+/gu) ?? []).sort().join(" ");
}
