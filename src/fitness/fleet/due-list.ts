import { dayAfter, daysBetween } from "../days.js";
import type { FleetRow } from "./fleet-rows.js";

/** A sample that is due. */
export interface DueSample {
  readonly cart: string;
  readonly circuit: string;
  readonly serves: string;
  /** The last day for it; the judged day where it is due now. */
  readonly dueOn: string;
  /** Days since it was due; 0 where it is not overdue. */
  readonly daysOverdue: number;
  /** What to do with the circuit. */
  readonly action: string;
}

/**
 * The samples that are due within some days, overdue ones first.
 *
 * A circuit that needs a new sample before anything else, or of which no day is known, is due on the judged day.
 *
 * @param on - the judged day
 * @param days - how many days to look ahead, 0 or more
 * @throws RangeError for days that are no whole number of 0 or more
 */
export function dueSamples(rows: readonly FleetRow[], on: string, days: number): DueSample[] {
  if (!(Number.isSafeInteger(days) && days >= 0)) {
    throw new RangeError(`days must be a whole number of 0 or more, not ${days}`);
  }
  const until = dayAfter(on, days);
  return rows
    .map(({ cart, circuit, serves, stands, nextSampleBy, brief }): DueSample => {
      const dueOn =
        nextSampleBy === undefined || (stands === "resample" && nextSampleBy > on) ? on : nextSampleBy;
      const daysOverdue = Math.max(0, daysBetween(dueOn, on));
      return { cart, circuit, serves, dueOn, daysOverdue, action: brief.action };
    })
    .filter(({ dueOn }) => dueOn <= until)
    .sort(
      (one, other) =>
        daysBetween(other.dueOn, one.dueOn) ||
        one.cart.localeCompare(other.cart, "en") ||
        one.circuit.localeCompare(other.circuit, "en"),
    );
}
