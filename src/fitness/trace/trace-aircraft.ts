import type { Assumption } from "../../provenance/index.js";
import { isSameAircraft, looksLikeAircraft } from "../../samples/index.js";
import { casesOf } from "../fleet/fleet.js";
import { aircraftOf } from "./aircraft.js";
import { daysOf, type LoggedHookup, loggedHookups, note, notesOnRows, type TraceCase } from "./logged.js";
import type { Traced } from "./shows.js";
import { type CircuitTrace, type TracedHookup, type TracedSpan, traceCircuit } from "./trace-circuit.js";

/** One quantity that was bad around a hookup: the samples, and what can have been carried over. */
export interface BadThen extends Omit<TracedSpan, "hookups">, Pick<TracedHookup, "when" | "carried"> {
  readonly quantity: Traced;
}

/** A hookup of an aircraft, with what the samples of the circuit say of that time. */
export interface AircraftHookup extends LoggedHookup {
  readonly bad: readonly BadThen[];
  /** Quantities that no later sample has shown to be good, and none to be bad. */
  readonly waiting: readonly Traced[];
}

/** Which carts an aircraft met. */
export interface AircraftTrace {
  /** As it was asked for. */
  readonly aircraft: string;
  readonly on: string;
  /** Oldest first. */
  readonly hookups: readonly AircraftHookup[];
  /** Registers in the logs that could be the same aircraft and were not taken for it. */
  readonly similar: readonly string[];
  readonly notes: readonly Assumption[];
}

/**
 * Says which circuits an aircraft met, and which of them were bad at that time.
 *
 * A register is the same in letters of any case, with or without spaces and dashes; the notes say where it is written in another
 * way. One with O for 0 or I for 1 is named and not taken.
 *
 * @param fleet - carts with their logs, requirements and samples
 * @param aircraft - the register
 * @example
 * const element = { position: "pressure", betas: [{ sizeUmC: 4, beta: 20 }] };
 * const events = [{ on: "2026-03-06", kind: "hookup", aircraft: "X-1" }];
 * const main = { circuit: "main", serves: "main system", fluid: "MIL-PRF-83282", volumeL: 60, flowLpm: 45, element, events };
 * const fleet = { carts: [{ cart: "C-1", circuits: [main] }], requirements: [], samples: [], unread: [], on: "2026-03-14" };
 * traceAircraft(fleet, "x1").hookups.map(({ cart }) => cart); // => ["C-1"]
 */
export function traceAircraft(fleet: TraceCase, aircraft: string): AircraftTrace {
  const all = loggedHookups(fleet);
  const own = all.filter(({ event }) => isOf(aircraft, event.aircraft));
  const isMet = (cart: string, circuit: string) =>
    own.some((hookup) => hookup.cart === cart && hookup.circuit === circuit);
  const traces = casesOf(fleet)
    .filter(({ cart, circuit }) => isMet(cart, circuit.circuit))
    .map((entry) => traceCircuit(entry, fleet.requirements));
  return {
    aircraft,
    on: fleet.on,
    hookups: own.map((hookup) => {
      const trace = traces.find(({ cart, circuit }) => cart === hookup.cart && circuit === hookup.circuit);
      return { ...hookup, ...heldThen(hookup, trace?.quantities ?? []) };
    }),
    similar: aircraftOf(all).filter((register) => looksLikeAircraft(register, aircraft)),
    notes: [
      ...notesOn(aircraft, all, own, fleet),
      ...traces.flatMap(({ notes }) => notes.filter(isOfSamples)),
      ...notesOnRows(fleet),
    ],
  };
}

function isOf(aircraft: string, register: string | undefined): boolean {
  return register !== undefined && isSameAircraft(register, aircraft);
}

function heldThen(
  { event }: LoggedHookup,
  quantities: CircuitTrace["quantities"],
): Pick<AircraftHookup, "bad" | "waiting"> {
  const isThis = (one: LoggedHookup) => one.event === event;
  return {
    bad: quantities.flatMap(({ quantity, now, earlier }) =>
      [now, ...earlier].flatMap(({ hookups, ...span }): BadThen[] => {
        const found = hookups.find(isThis);
        if (span.firstBad === undefined || found === undefined) return [];
        const { when, carried } = found;
        return [{ quantity, ...span, ...(when && { when }), carried }];
      }),
    ),
    waiting: quantities.flatMap(({ quantity, state, now }) =>
      state !== "bad" && now.hookups.some(isThis) ? [quantity] : [],
    ),
  };
}

/** Notes on a circuit that matter for one of its aircraft too. */
function isOfSamples({ code }: Assumption): boolean {
  return ["no-requirement", "unread-rows", "future-sample"].includes(code);
}

function notesOn(
  aircraft: string,
  all: readonly LoggedHookup[],
  own: readonly LoggedHookup[],
  { carts, on }: TraceCase,
): Assumption[] {
  const others = [...new Set(own.map(({ event }) => event.aircraft))].filter((name) => name !== aircraft);
  const unnamed = all.filter(({ event }) => event.aircraft === undefined);
  const circuits = carts.flatMap((entry) =>
    entry.circuits.map((circuit) => ({ cart: entry.cart, ...circuit })),
  );
  const future = circuits
    .flatMap(({ events }) => events)
    .filter((event) => event.on > on && isOf(aircraft, event.aircraft));
  const silent = circuits.filter(({ events }) => !events.some(({ kind }) => kind === "hookup"));
  return [
    ...note(
      "register-written-otherwise",
      others.length > 0,
      () => `${others.map((name) => `"${name}"`).join(", ")} in the logs was taken for "${aircraft}"`,
    ),
    ...note("aircraft-not-stated", unnamed.length > 0, () => {
      const which = unnamed.map(({ cart, circuit, event }) => `${cart} ${circuit} on ${event.on}`).join(", ");
      return `hookups that name no aircraft may be of this one: ${which}`;
    }),
    ...note(
      "future-hookup",
      future.length > 0,
      () =>
        `a hookup dated ${daysOf(future)}, after ${on}, is left out; correct the day where the year is wrong`,
    ),
    ...note("no-hookups", silent.length > 0, () => {
      const which = silent.map(({ cart, circuit }) => `${cart} ${circuit}`).join(", ");
      return `the log of ${which} has no hookup; a hookup that nobody entered is not traced`;
    }),
  ];
}
