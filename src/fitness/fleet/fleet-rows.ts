import { elementUsedNow } from "../checks/cart-state.js";
import { daysBetween } from "../days.js";
import { describeHolds } from "../decisions/describe-decision.js";
import { isHeld, type Standing, standsAs } from "../decisions/standing.js";
import { compareVerdicts, type VerdictName } from "../reasons.js";
import { type Crossing, crossingsAhead } from "../trends/outlook.js";
import type { Verdict } from "../verdict.js";
import { type Brief, briefOf } from "./brief.js";
import type { VerdictOnCircuit } from "./fleet.js";
import { nextSampleBy } from "./next-sample.js";

/** What a fleet table says of one circuit. */
export interface FleetRow {
  readonly cart: string;
  readonly circuit: string;
  readonly serves: string;
  /** As it was computed. */
  readonly verdict: VerdictName;
  /** The verdict, or a person's stricter decision. */
  readonly stands: VerdictName;
  /** Whether a person's decision holds the circuit. */
  readonly held: boolean;
  readonly brief: Brief;
  /** Who holds the circuit, and the messages of the reasons that decide. */
  readonly because: readonly string[];
  /** What people decided about the circuit; absent where nobody has. */
  readonly standing?: Standing;
  /**
   * The last day for the next sample, or the day on which the last one ceased to speak; absent where there is no sample or
   * no requirement.
   */
  readonly nextSampleBy?: string;
  /** Days until then; negative when it is overdue. */
  readonly daysToSample?: number;
  /** Limits expected to be crossed before the next sample, or possibly. */
  readonly crossings: readonly Crossing[];
  /** Share of the permissible pressure drop that the element now fitted uses, as entered; a fraction. */
  readonly elementUsed?: number;
  /** Whether the element should be changed before long. */
  readonly elementNearCapacity: boolean;
  /** The verdict of the report before, and its day; absent when there was none. */
  readonly before?: VerdictName;
  readonly beforeOn?: string;
}

/** From this share of its permissible pressure drop an element is near its capacity (common practice). */
export const ELEMENT_NEAR_CAPACITY = 0.8;

/**
 * The circuits of a fleet, what needs doing first at the top.
 *
 * What a person holds goes first, then stricter signs; among equal ones a limit about to be crossed, then an element near its capacity, then the
 * sample that is due soonest, then cart and circuit by name.
 *
 * @param before - the verdict that an earlier report gave a circuit, and the day it was judged for
 * @example
 * const element = { position: "pressure", betas: [{ sizeUmC: 4, beta: 20 }] };
 * const main = { circuit: "main", serves: "main system", fluid: "MIL-PRF-83282", volumeL: 60, flowLpm: 45, element, events: [] };
 * const carts = [{ cart: "C-1", circuits: [main] }];
 * const circuits = judgeCarts({ carts, requirements: [], samples: [], unread: [], on: "2026-03-14" });
 * fleetRows(circuits).map(({ cart, circuit, stands }) => `${cart} ${circuit}: ${stands}`); // => ["C-1 main: do-not-connect"]
 */
export function fleetRows(
  judged: readonly VerdictOnCircuit[],
  before: (cart: string, circuit: string) => Pick<Verdict, "verdict" | "on"> | undefined = () => undefined,
): FleetRow[] {
  return judged.map((entry) => rowOf(entry, before)).sort(compareFleetRows);
}

function rowOf(entry: VerdictOnCircuit, before: Parameters<typeof fleetRows>[1]): FleetRow {
  const { circuit, verdict, standing } = entry;
  const due = nextSampleBy(entry);
  const earlier = before?.(verdict.cart, verdict.circuit);
  const elementUsed = elementUsedNow(circuit, verdict.on);
  return {
    cart: verdict.cart,
    circuit: verdict.circuit,
    serves: verdict.serves,
    verdict: verdict.verdict,
    stands: standsAs(entry),
    held: isHeld(entry),
    brief: briefOf(entry),
    because: [
      ...describeHolds(standing),
      ...(isHeld(entry) && verdict.verdict === "fit" ? [] : deciding(verdict)),
    ],
    ...(standing && { standing }),
    ...(due !== undefined && { nextSampleBy: due, daysToSample: daysBetween(verdict.on, due) }),
    crossings: crossingsAhead(verdict.outlook).map(inOneOrder),
    ...(elementUsed !== undefined && { elementUsed }),
    elementNearCapacity: elementUsed !== undefined && !(elementUsed < ELEMENT_NEAR_CAPACITY),
    ...(earlier && { before: earlier.verdict, beforeOn: earlier.on }),
  };
}

/** A verdict that comes from a record has its names in another order than one that has just been made. */
function inOneOrder({ measure, on, earliest, latest, beforeNextSample }: Crossing): Crossing {
  return { measure, on, earliest, ...(latest !== undefined && { latest }), beforeNextSample };
}

function deciding({ verdict, reasons }: Verdict): string[] {
  return reasons.filter(({ callsFor }) => callsFor === verdict).map(({ message }) => message);
}

/** Whether the verdict differs from that of the report before. */
export function isChanged({ before, verdict }: Pick<FleetRow, "before" | "verdict">): boolean {
  return before !== undefined && before !== verdict;
}

/** The order of {@link fleetRows}, for putting rows together that were made apart. */
export function compareFleetRows(a: FleetRow, b: FleetRow): number {
  const expected = ({ crossings }: FleetRow) =>
    crossings.some(({ beforeNextSample }) => beforeNextSample === "expected");
  return (
    Number(b.held) - Number(a.held) ||
    compareVerdicts(b.stands, a.stands) ||
    Number(expected(b)) - Number(expected(a)) ||
    Number(b.elementNearCapacity) - Number(a.elementNearCapacity) ||
    (a.daysToSample ?? 0) - (b.daysToSample ?? 0) ||
    a.cart.localeCompare(b.cart, "en") ||
    a.circuit.localeCompare(b.circuit, "en")
  );
}
