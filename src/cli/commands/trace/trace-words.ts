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
import { describeAssumptions, describeCautions } from "../../text.js";

/** The trace of a cart as the command line prints it in JSON, with the answers in sentences. */
export function cartTraceAsJson(trace: CartTrace) {
  const says = trace.circuits.flatMap((circuit) => describeCircuitTrace(circuit).map((group) => group.says));
  return { says, ...trace, cautions: CART_CAUTIONS };
}

/** The trace of an aircraft in the same way. */
export function aircraftTraceAsJson(trace: AircraftTrace) {
  return { says: [describeAircraftTrace(trace)], ...trace, cautions: CART_CAUTIONS };
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
    listed("Not known", [...new Set(bad.flatMap(({ unknown }) => unknown))]),
    listed("Note", messagesOf(joinAssumptions(notes, ...circuits.map((circuit) => circuit.notes)))),
    describeAssumptions(joinAssumptions(...bad.map(({ assumptions }) => assumptions))),
    describeCautions(CART_CAUTIONS),
  ].join("");
}

/** Which carts an aircraft met, the answer first, then each hookup. */
export function aircraftTraceAsText(trace: AircraftTrace): string {
  const carried = trace.hookups.flatMap(({ bad }) => bad.map((one) => one.carried));
  return [
    `${describeAircraftTrace(trace)}\n`,
    listed("Hookups", describeAircraftHookups(trace).flatMap(linesOf)),
    listed("Not known", describeAircraftUnknown(trace)),
    listed("Note", messagesOf(trace.notes)),
    describeAssumptions(joinAssumptions(...carried.map(({ assumptions }) => assumptions))),
    describeCautions(CART_CAUTIONS),
  ].join("");
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
