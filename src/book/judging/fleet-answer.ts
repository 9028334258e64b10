import {
  type CircuitDecision,
  cartsTogether,
  compareFleetRows,
  type FleetRow,
  fleetRows,
  holdsElsewhere,
  isAllFit,
  type JudgedCart,
  type UnreadResult,
  unreadOfFleet,
} from "../../fitness/index.js";
import type { Assumption } from "../../provenance/index.js";
import type { Cart, RequirementsFile } from "../../samples/index.js";
import type { FleetOutline } from "./fleet-of-book.js";
import type { JudgedInBook } from "./judge-book.js";

/** What is said of a fleet besides its carts. It is known before any of them is judged. */
export interface FleetFrame {
  readonly on: string;
  /** The day whose knowledge is judged with; absent where it is all that is known. */
  readonly asOf?: string;
  readonly requirement: Pick<RequirementsFile, "document" | "revision" | "note">;
  readonly rowsInQuarantine: number;
  /** What holds circuits that are not judged. */
  readonly heldElsewhere: readonly CircuitDecision[];
  readonly rowsOfNoCart: readonly UnreadResult[];
  /** How files that take the place of what the book holds differ from it. */
  readonly assumptions: readonly Assumption[];
}

/** What is said of the circuits of one cart, or of some carts. */
export interface FleetPart {
  readonly rows: readonly FleetRow[];
  readonly carts: readonly Omit<JudgedCart, "circuits">[];
}

/** What a fleet was judged to be; in the rows, what needs doing first is at the top. */
export interface FleetAnswer extends FleetFrame, FleetPart {}

/**
 * Says what is known of a fleet before its carts are judged.
 *
 * @param judged - the carts that are to be judged
 * @param isWhole - whether they are all carts of the book
 */
export function fleetFrame(
  outline: FleetOutline,
  judged: readonly Cart[],
  { on, isWhole }: { readonly on: string; readonly isWhole: boolean },
): FleetFrame {
  const { document, revision, note } = outline.document;
  const circuits = judged.flatMap(({ cart, circuits: own }) => own.map(({ circuit }) => ({ cart, circuit })));
  return {
    on,
    ...(outline.asOf !== undefined && { asOf: outline.asOf }),
    requirement: { document, revision, ...(note !== undefined && { note }) },
    rowsInQuarantine: outline.quarantine.length,
    heldElsewhere: holdsElsewhere(outline.decisions, circuits, isWhole),
    rowsOfNoCart: unreadOfFleet(outline.unread, outline.carts, outline.knownCarts).ofNoCart,
    assumptions: outline.assumptions,
  };
}

/** What a fleet says of one cart. */
export function partOfCart(
  circuits: readonly JudgedInBook[],
  requirements: RequirementsFile["systems"],
): FleetPart {
  return {
    rows: fleetRowsOf(circuits),
    carts: cartsTogether(circuits, requirements).map(({ circuits: _circuits, ...cart }) => cart),
  };
}

/** The circuits of one cart as the fleet lists them, each with its verdict in the report before. */
export function fleetRowsOf(circuits: readonly JudgedInBook[]): FleetRow[] {
  const before = new Map(circuits.map(({ verdict, before }) => [verdict.circuit, before]));
  return fleetRows(circuits, (_cart, circuit) => before.get(circuit));
}

/** Puts together what was said of every cart, given in the order of the carts. */
export function fleetAnswer(frame: FleetFrame, parts: readonly FleetPart[]): FleetAnswer {
  return {
    ...frame,
    rows: parts.flatMap(({ rows }) => rows).sort(compareFleetRows),
    carts: parts.flatMap(({ carts }) => carts),
  };
}

/** Whether every circuit of a fleet may be connected and nothing else is open. */
export function isFleetFit({ rows, rowsInQuarantine, heldElsewhere, rowsOfNoCart }: FleetAnswer): boolean {
  const stands = rows.map((row) => row.stands);
  return rowsInQuarantine === 0 && isAllFit(stands, heldElsewhere, rowsOfNoCart);
}
