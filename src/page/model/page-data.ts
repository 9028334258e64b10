import {
  type CircuitCase,
  type CircuitDecision,
  casesOf,
  describeAllHolds,
  describeBesideFit,
  type FleetCase,
  holdsElsewhere,
  judgeCase,
  mustNeverMeet,
  standingAdder,
  unreadOfFleet,
  type VerdictOnCircuit,
} from "../../fitness/index.js";
import type { RequirementsFile } from "../../samples/index.js";

/** Everything that a page knows; plain data, so that the page can hold it as JSON. */
export interface PageData extends FleetCase {
  /** The day of the data: the one for which the page was written. */
  readonly on: string;
  /** The document that the requirements are from. */
  readonly document: Pick<RequirementsFile, "document" | "revision" | "note">;
  readonly decisions: readonly CircuitDecision[];
}

/** A fleet as it was read, from files or from a sample book. */
type FleetRead = Omit<FleetCase, "on"> & { readonly document: RequirementsFile };

/** Takes what a page needs out of a fleet. */
export function pageDataOf(fleet: FleetRead, on: string): PageData {
  const { carts, requirements, samples, unread, knownCarts, decisions = [] } = fleet;
  const { document, revision, note } = fleet.document;
  const known = new Set(carts.map(({ cart }) => cart));
  return {
    on,
    document: { document, revision, ...(note !== undefined && { note }) },
    carts,
    requirements,
    samples: samples.filter(({ cart }) => known.has(cart)),
    unread,
    ...(knownCarts && { knownCarts }),
    decisions,
  };
}

/** What the verdict on every circuit of the page rests on, on the day of the device. */
export function casesOn(data: PageData, deviceOn: string): CircuitCase[] {
  return casesOf({ ...data, on: deviceOn });
}

/** Judges one circuit as the command line does, with what people decided about it. */
export function judgeOn(data: PageData, input: CircuitCase): VerdictOnCircuit {
  return standingAdder(data.decisions)(judgeCase(input));
}

/** The circuits that a person holds, for the head of the page. */
export function holdsOn(data: PageData, judged: readonly VerdictOnCircuit[]): string[] {
  const verdicts = judged.map(({ verdict }) => verdict);
  return describeAllHolds(
    judged.map(({ verdict, standing }) => ({ ...verdict, standing })),
    holdsElsewhere(data.decisions, verdicts, false),
  );
}

/** What a "fit" has to be read with, such as a row that can be given to no cart. */
export function doubtsOf(data: PageData, { verdict }: VerdictOnCircuit): string[] {
  if (verdict.verdict !== "fit") return [];
  return describeBesideFit(verdict, unreadOfFleet(data.unread, data.carts, data.knownCarts).ofNoCart);
}

/** The other circuits of the cart whose fluid must never meet that of this one. */
export function neverMeet({ circuit, neighbours = [] }: CircuitCase): string[] {
  return neighbours
    .filter((other) => mustNeverMeet(circuit, other.circuit))
    .map(
      ({ circuit: other }) =>
        `the fluid of circuit ${other.circuit} must never meet that of this one, nor their hoses`,
    );
}
