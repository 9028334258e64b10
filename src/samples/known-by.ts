import type { Assumption } from "../provenance/index.js";
import type { Cart } from "./cart.js";
import type { Sample } from "./sample.js";

/** A report of a sample, and the day on which it came into a sample book. */
export interface DatedReport {
  readonly sample: Sample;
  /** Absent where there is no book. */
  readonly importedOn?: string;
}

/**
 * Whether a report was known on a day: the sample was drawn, and reported or imported by then.
 *
 * A report that gives no day of its own became known when it came into the book. Where there is no book either, it is taken
 * as known from the day on which the bottle was received, or else drawn.
 */
export function wasKnownBy(
  day: string,
  { sample: { drawnOn, receivedOn, reportedOn }, importedOn }: DatedReport,
): boolean {
  const days = [reportedOn, importedOn].filter((one) => one !== undefined);
  const known = days.length > 0 ? days : [receivedOn ?? drawnOn];
  return drawnOn <= day && known.some((one) => one <= day);
}

/** So many samples are named in one assumption. */
const MAX_NAMED = 5;

/**
 * What judging with the knowledge of a day had to take for granted.
 *
 * @param isHeld - whether the carts and the requirement are those that were held on that day; only a book knows
 */
export function assumedAsOf(
  day: string,
  reports: readonly DatedReport[],
  isHeld: { readonly carts: boolean; readonly requirement: boolean },
): Assumption[] {
  const undated = reports.filter(
    ({ sample: { drawnOn, reportedOn } }) => reportedOn === undefined && drawnOn <= day,
  );
  const [imported, others] = [
    undated.filter(({ importedOn }) => importedOn !== undefined),
    undated.filter(({ importedOn }) => importedOn === undefined),
  ];
  const leftOut = imported.filter((report) => !wasKnownBy(day, report));
  const left = leftOut.length === 0 ? "" : `; after ${day} came, and so was left out, ${namesOf(leftOut)}`;
  const ofToday = [...(isHeld.carts ? [] : ["carts"]), ...(isHeld.requirement ? [] : ["requirement"])].join(
    " and ",
  );
  return [
    ...(ofToday === ""
      ? []
      : [
          {
            code: "of-today",
            message: `no book has kept what was in force on ${day}: the ${ofToday} of today ${ofToday === "requirement" ? "was" : "were"} taken`,
          },
        ]),
    ...(isHeld.carts
      ? []
      : [
          {
            code: "events-as-listed",
            message: `the carts file does not say when an event or a state was entered: those up to ${day} were taken as known then`,
          },
        ]),
    ...(imported.length === 0
      ? []
      : [
          {
            code: "known-from-import",
            message: `a report without its day counts from the day on which its file came into the book: ${namesOf(imported)}${left}`,
          },
        ]),
    ...(others.length === 0
      ? []
      : [
          {
            code: "known-when-drawn",
            message: `a report without its day was taken as known once the bottle was received, or else drawn: ${namesOf(others)}`,
          },
        ]),
  ];
}

function namesOf(reports: readonly DatedReport[]): string {
  const names = reports.slice(0, MAX_NAMED).map(({ sample }) => sample.sample);
  const more = reports.length - names.length;
  return `sample ${names.join(", ")}${more > 0 ? ` and ${more} more` : ""}`;
}

/** Carts with the events and states up to a day. */
export function cartsAsOf(day: string, carts: readonly Cart[]): Cart[] {
  return carts.map((cart) => ({
    ...cart,
    circuits: cart.circuits.map(({ state, ...circuit }) => ({
      ...circuit,
      events: circuit.events.filter(({ on }) => on <= day),
      ...(state !== undefined && state.on <= day && { state }),
    })),
  }));
}
