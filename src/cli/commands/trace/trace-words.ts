import {
  type AircraftTrace,
  type CartTrace,
  type DescribedHookup,
  describeAircraftHookups,
  describeAircraftTrace,
  describeAircraftUnknown,
  describeCircuitTrace,
  describeOnward,
} from "../../../fitness/index.js";
import { type Assumption, CART_CAUTIONS, joinAssumptions } from "../../../provenance/index.js";
import { describeAssumptions, describeCautions, describeMore, drawLines, drawList } from "../../text.js";

/** The trace of a cart as the command line prints it in JSON, with the answers in sentences. */
export function cartTraceAsJson(trace: CartTrace) {
  const says = trace.circuits.flatMap((circuit) => describeCircuitTrace(circuit).map((group) => group.says));
  return { says, ...trace, cautions: CART_CAUTIONS };
}

/** The trace of an aircraft in the same way. */
export function aircraftTraceAsJson(trace: AircraftTrace) {
  return { says: [describeAircraftTrace(trace)], ...trace, cautions: CART_CAUTIONS };
}

/** What a cart touched in a few lines. */
export function cartTraceInBrief({ circuits, notes }: CartTrace): string {
  const groups = circuits.flatMap((circuit) => describeCircuitTrace(circuit));
  const bad = groups.filter(({ state }) => state === "bad");
  return [
    drawLines(groups.map(({ says }) => says)),
    ...bad.map(({ name, hookups }) => inBrief(name, hookups)),
    notesInBrief(
      unique(bad.flatMap(({ unknown }) => unknown)),
      joinAssumptions(notes, ...circuits.map((circuit) => circuit.notes)),
    ),
    more(joinAssumptions(...bad.map(({ assumptions }) => assumptions))),
  ].join("");
}

/** What a cart touched, the answers first, then each hookup of what is bad. */
export function cartTraceAsText({ circuits, notes }: CartTrace): string {
  const groups = circuits.flatMap((circuit) => describeCircuitTrace(circuit));
  const bad = groups.filter(({ state }) => state === "bad");
  return [
    ...groups.map(({ says }) => `${says}\n`),
    ...bad.map(({ name, hookups }) => listed(name, hookups.flatMap(linesOf))),
    listed(
      "Served since by other circuits",
      circuits.flatMap((circuit) => describeOnward(circuit)),
    ),
    listed("Not known", unique(bad.flatMap(({ unknown }) => unknown))),
    listed("Note", messagesOf(joinAssumptions(notes, ...circuits.map((circuit) => circuit.notes)))),
    describeAssumptions(joinAssumptions(...bad.map(({ assumptions }) => assumptions))),
    describeCautions(CART_CAUTIONS),
  ].join("");
}

/** Which carts an aircraft met in a few lines. */
export function aircraftTraceInBrief(trace: AircraftTrace): string {
  return [
    drawLines([describeAircraftTrace(trace)]),
    inBrief("Hookups", describeAircraftHookups(trace)),
    notesInBrief(describeAircraftUnknown(trace), trace.notes),
    more(assumptionsOf(trace)),
  ].join("");
}

/** Which carts an aircraft met, the answer first, then each hookup. */
export function aircraftTraceAsText(trace: AircraftTrace): string {
  return [
    `${describeAircraftTrace(trace)}\n`,
    listed("Hookups", describeAircraftHookups(trace).flatMap(linesOf)),
    listed("Not known", describeAircraftUnknown(trace)),
    listed("Note", messagesOf(trace.notes)),
    describeAssumptions(assumptionsOf(trace)),
    describeCautions(CART_CAUTIONS),
  ].join("");
}

function assumptionsOf({ hookups }: AircraftTrace): Assumption[] {
  return joinAssumptions(...hookups.flatMap(({ bad }) => bad.map(({ carried }) => carried.assumptions)));
}

function inBrief(head: string, hookups: readonly DescribedHookup[]): string {
  if (hookups.length === 0) return "";
  return `\n${head}:\n${drawList(hookups.map(({ name, brief }) => [name, [brief]]))}`;
}

function notesInBrief(unknown: readonly string[], notes: readonly Assumption[]): string {
  const lines = [
    ...unknown.map((sentence) => `Not known: ${sentence}.`),
    ...notes.map(({ message }) => `Note: ${message}.`),
  ];
  return lines.length === 0 ? "" : `\n${drawLines(lines)}`;
}

function unique(sentences: readonly string[]): string[] {
  return [...new Set(sentences)];
}

function more(assumptions: readonly Assumption[]): string {
  return `\n${describeMore("the amounts carried over, the cautions", assumptions)}`;
}

function linesOf({ says, amounts }: DescribedHookup): string[] {
  return [says, ...amounts.map((line) => `  ${line}`)];
}

function messagesOf(notes: readonly Assumption[]): string[] {
  return notes.map(({ message }) => message);
}

function listed(head: string, lines: readonly string[]): string {
  return lines.length === 0 ? "" : `\n${head}:\n${lines.map((line) => `  ${line}\n`).join("")}`;
}
