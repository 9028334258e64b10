import { speaksUntil } from "./able-to-speak.js";
import { elementUsedNow } from "./cart-state.js";
import { daysBetween } from "./days.js";
import type { VerdictOnCircuit } from "./fleet.js";
import type { Crossing } from "./outlook.js";
import { compareVerdicts, type VerdictName } from "./reasons.js";

/** What a fleet table says of one circuit. */
export interface FleetRow {
  readonly cart: string;
  readonly circuit: string;
  readonly serves: string;
  readonly verdict: VerdictName;
  /** The messages of the reasons that decide. */
  readonly because: readonly string[];
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
  /** The verdict of the report before; absent when there was none. */
  readonly before?: VerdictName;
}

/** From this share of its permissible pressure drop an element is near its capacity (common practice). */
export const ELEMENT_NEAR_CAPACITY = 0.8;

/**
 * The circuits of a fleet, what needs doing first at the top.
 *
 * Stricter verdicts go first; among equal ones a limit about to be crossed, then an element near its capacity, then the
 * sample that is due soonest, then cart and circuit by name.
 *
 * @param before - the verdict that an earlier report gave a circuit
 */
export function fleetRows(
  judged: readonly VerdictOnCircuit[],
  before: (cart: string, circuit: string) => VerdictName | undefined = () => undefined,
): FleetRow[] {
  return judged.map((entry) => rowOf(entry, before)).sort(compareFleetRows);
}

/** The last day for the next sample: that of the outlook, or the earlier one on which the last sample ceased to speak. */
function nextSampleBy({ circuit, verdict, requirement }: VerdictOnCircuit): string | undefined {
  const { outlook, sample } = verdict;
  if (outlook === undefined || requirement === undefined || sample === undefined)
    return outlook?.nextSampleBy;
  const { on, because } = speaksUntil(circuit, requirement, sample);
  return because !== "age" && on < outlook.nextSampleBy ? on : outlook.nextSampleBy;
}

function rowOf(entry: VerdictOnCircuit, before: Parameters<typeof fleetRows>[1]): FleetRow {
  const { circuit, verdict } = entry;
  const due = nextSampleBy(entry);
  const earlier = before?.(verdict.cart, verdict.circuit);
  const elementUsed = elementUsedNow(circuit, verdict.on);
  return {
    cart: verdict.cart,
    circuit: verdict.circuit,
    serves: verdict.serves,
    verdict: verdict.verdict,
    because: verdict.reasons
      .filter(({ callsFor }) => callsFor === verdict.verdict)
      .map(({ message }) => message),
    ...(due !== undefined && { nextSampleBy: due, daysToSample: daysBetween(verdict.on, due) }),
    crossings: (verdict.outlook?.crossings ?? []).filter(({ beforeNextSample }) => beforeNextSample !== "no"),
    ...(elementUsed !== undefined && { elementUsed }),
    elementNearCapacity: elementUsed !== undefined && !(elementUsed < ELEMENT_NEAR_CAPACITY),
    ...(earlier && { before: earlier }),
  };
}

/** The order of {@link fleetRows}, for putting rows together that were made apart. */
export function compareFleetRows(a: FleetRow, b: FleetRow): number {
  const expected = ({ crossings }: FleetRow) =>
    crossings.some(({ beforeNextSample }) => beforeNextSample === "expected");
  return (
    compareVerdicts(b.verdict, a.verdict) ||
    Number(expected(b)) - Number(expected(a)) ||
    Number(b.elementNearCapacity) - Number(a.elementNearCapacity) ||
    (a.daysToSample ?? 0) - (b.daysToSample ?? 0) ||
    a.cart.localeCompare(b.cart, "en") ||
    a.circuit.localeCompare(b.circuit, "en")
  );
}
