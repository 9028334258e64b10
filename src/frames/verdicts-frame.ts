import type { DataFrame } from "danfojs";
import { formatIso4406 } from "../cleanliness/index.js";
import { daysBetween, type JudgedCircuit, resultOf, type VerdictOnCircuit } from "../fitness/index.js";
import { type FrameColumn, frameOf } from "./columns.js";

/** The columns of a frame of verdicts; a table that is written out has them too. */
export const VERDICT_COLUMNS_OF_FRAME: readonly FrameColumn<VerdictOnCircuit>[] = [
  { name: "on", type: "string", of: ({ verdict }) => verdict.on },
  { name: "cart", type: "string", of: ({ verdict }) => verdict.cart },
  { name: "circuit", type: "string", of: ({ verdict }) => verdict.circuit },
  { name: "serves", type: "string", of: ({ verdict }) => verdict.serves },
  { name: "verdict", type: "string", of: ({ verdict }) => verdict.verdict },
  { name: "decidedBy", type: "string", of: (judged) => describeDeciding(judged, "code", ", ") },
  { name: "why", type: "string", of: (judged) => describeDeciding(judged, "message", "; ") },
  { name: "sample", type: "string", of: ({ verdict }) => verdict.sample?.sample },
  { name: "drawnOn", type: "string", of: ({ verdict }) => verdict.sample?.drawnOn },
  {
    name: "sampleAgeDays",
    type: "number",
    of: ({ verdict: { sample, on } }) => sample && daysBetween(sample.drawnOn, on),
  },
  {
    name: "iso4406",
    type: "string",
    of: ({ verdict: { classification } }) => classification?.iso4406 && formatIso4406(classification.iso4406),
  },
  {
    name: "as4059Cumulative",
    type: "string",
    of: ({ verdict }) => verdict.classification?.as4059Cumulative?.class,
  },
  {
    name: "as4059Differential",
    type: "string",
    of: ({ verdict }) => verdict.classification?.as4059Differential?.class,
  },
  { name: "nas1638", type: "string", of: ({ verdict }) => verdict.classification?.nas1638?.class },
  { name: "waterPpm", type: "number", of: ({ verdict }) => resultOf(verdict, "water")?.value },
  { name: "waterPpmLimit", type: "string", of: ({ verdict }) => resultOf(verdict, "water")?.limit },
  { name: "acidMgKohPerG", type: "number", of: ({ verdict }) => resultOf(verdict, "acid number")?.value },
  {
    name: "acidMgKohPerGLimit",
    type: "string",
    of: ({ verdict }) => resultOf(verdict, "acid number")?.limit,
  },
  {
    name: "circulation",
    type: "string",
    of: ({ verdict: { circulation } }) =>
      circulation && (circulation.reachable ? "reachable" : "out-of-reach"),
  },
  { name: "circulatePasses", type: "number", of: (judged) => timed(judged)?.passes },
  { name: "circulateMinutes", type: "number", of: (judged) => timed(judged)?.minutes },
  { name: "circulateMinutesStated", type: "number", of: (judged) => reachable(judged)?.minutes },
  { name: "circulateGoverning", type: "string", of: ({ verdict }) => verdict.circulation?.governing },
];

/**
 * Puts verdicts into a data frame, a row for each circuit.
 *
 * `decidedBy` and `why` hold the codes and messages of the reasons that call for the verdict; milder ones are in the
 * verdict itself. `circulation` is null where no particle limit is exceeded, "reachable" where circulating gets there by
 * the stated values, and "out-of-reach" where it cannot. `circulatePasses` and `circulateMinutes` are those to go by; not known
 * where no time is long enough. `circulateMinutesStated` are those of the stated values alone, which are no time to go by. A class is a text, because "00" and "0" are two classes.
 * A value with a `…Limit` of "below" or "above" is a limit and not a measurement. What is not known is NaN in a column
 * of numbers and null in a column of texts. There is no way back: a verdict is judged, never typed in.
 *
 * @param judged - judged circuits in the order of the frame
 * @returns a danfo DataFrame; its `sortValues` leaves rows out of order when the column has missing numbers
 * @throws FramesError when the package danfojs is not installed
 */
export function verdictsFrame(judged: readonly JudgedCircuit[]): DataFrame {
  return frameOf(judged, VERDICT_COLUMNS_OF_FRAME);
}

function describeDeciding({ verdict }: VerdictOnCircuit, part: "code" | "message", between: string): string {
  return verdict.reasons
    .filter((reason) => reason.callsFor === verdict.verdict)
    .map((reason) => reason[part])
    .join(between);
}

function timed({ verdict: { goBy } }: VerdictOnCircuit) {
  return goBy?.kind === "minutes" ? goBy : undefined;
}

function reachable({ verdict: { circulation } }: VerdictOnCircuit) {
  return circulation?.reachable === true ? circulation : undefined;
}
