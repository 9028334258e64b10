import type { Assumption } from "../../provenance/index.js";
import { isSameAircraft } from "../../samples/index.js";
import { casesOf } from "../fleet/fleet.js";
import { type LoggedHookup, loggedHookups, notesOnRows, type TraceCase } from "./logged.js";
import { type CircuitTrace, traceCircuit } from "./trace-circuit.js";

/** A hookup of another circuit to an aircraft that this one had served. */
export interface Onward extends LoggedHookup {
  readonly aircraft: string;
}

/** A circuit traced, and what other circuits then touched. */
export interface CircuitOfCart extends CircuitTrace {
  /** Of aircraft served since the last good sample: other circuits that were connected to them on that day or later. */
  readonly onward: readonly Onward[];
}

/** What the circuits of one cart touched. */
export interface CartTrace {
  readonly cart: string;
  readonly on: string;
  readonly circuits: readonly CircuitOfCart[];
  /** What holds for all circuits. */
  readonly notes: readonly Assumption[];
}

/**
 * Says which aircraft the circuits of a cart served since their last good samples, and of every bad sample what was served between
 * the last good one before it and the next good one, with the most that each hookup can have carried over.
 *
 * Good and bad are what `judgeCircuit` says of each sample by itself. A hookup of the day of a sample whose order is not known
 * counts on both sides. What nobody entered is not traced.
 *
 * @param fleet - carts with their logs, requirements and samples
 * @param cart - name of the cart
 * @param circuit - only this circuit; all of the cart when absent
 * @throws RangeError when there is no such cart or circuit
 * @example
 * const element = { position: "pressure", betas: [{ sizeUmC: 4, beta: 20 }] };
 * const events = [{ on: "2026-03-06", kind: "hookup", aircraft: "X-1" }];
 * const main = { circuit: "main", serves: "main system", fluid: "MIL-PRF-83282", volumeL: 60, flowLpm: 45, element, events };
 * const fleet = { carts: [{ cart: "C-1", circuits: [main] }], requirements: [], samples: [], unread: [], on: "2026-03-14" };
 * traceCart(fleet, "C-1").circuits.map(({ hookups }) => hookups.length); // => [1]
 */
export function traceCart(fleet: TraceCase, cart: string, circuit?: string): CartTrace {
  const cases = casesOf(fleet).filter(
    (entry) => entry.cart === cart && (circuit === undefined || entry.circuit.circuit === circuit),
  );
  if (cases.length === 0) {
    throw new RangeError(
      `there is no ${circuit === undefined ? "" : `circuit "${circuit}" of `}cart "${cart}"`,
    );
  }
  const all = loggedHookups(fleet);
  return {
    cart,
    on: fleet.on,
    circuits: cases.map((entry) => {
      const trace = traceCircuit(entry, fleet.requirements);
      return { ...trace, onward: onwardOf(trace, all) };
    }),
    notes: notesOnRows(fleet),
  };
}

function onwardOf(trace: CircuitTrace, all: readonly LoggedHookup[]): Onward[] {
  const served = trace.quantities.flatMap(({ now }) => now.hookups);
  return all.flatMap((hookup): Onward[] => {
    const { aircraft } = hookup.event;
    const isOwn = hookup.cart === trace.cart && hookup.circuit === trace.circuit;
    if (isOwn || aircraft === undefined) return [];
    const isAfter = served.some(
      ({ event }) =>
        event.aircraft !== undefined &&
        isSameAircraft(event.aircraft, aircraft) &&
        event.on <= hookup.event.on,
    );
    return isAfter ? [{ ...hookup, aircraft }] : [];
  });
}
