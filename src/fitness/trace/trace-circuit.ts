import type { Assumption } from "../../provenance/index.js";
import {
  type Circuit,
  type CircuitEvent,
  eventsInOrder,
  mayFollow,
  mayPrecede,
  type Requirement,
  type Sample,
} from "../../samples/index.js";
import type { CircuitCase } from "../case.js";
import { limitedQuantities } from "../checks/evidence.js";
import { circuitUntil } from "../checks/happened.js";
import { decidedByPeople, formatPlaces } from "../fleet/describe-unread.js";
import { JudgingDay } from "../judging-day.js";
import { spellingsIn } from "./aircraft.js";
import { type CarryOver, carriedBy, fluidCarriedBy } from "./carried.js";
import { daysOf, type LoggedHookup, note } from "./logged.js";
import { type Shown, shownBy, TRACED, type Traced, tracedOf } from "./shows.js";
import { type Span, spansOf } from "./spans.js";

/** Number and day of a sample. */
export type SampleRef = Pick<Sample, "sample" | "drawnOn">;

/** A hookup in a stretch without a good sample. */
export interface TracedHookup extends LoggedHookup {
  /** Against the first bad sample: before it, after it, or not known; absent where none is bad. */
  readonly when?: "before-bad" | "after-bad" | "not-known";
  readonly carried: CarryOver;
}

/** The hookups of a circuit in a stretch in which one quantity was not known to be good. */
export interface TracedSpan {
  /** The last good sample before it; absent where no good sample came before; the stretch then begins with the log. */
  readonly lastGood?: SampleRef;
  readonly firstBad?: SampleRef;
  readonly lastBad?: SampleRef;
  /** The good sample that ends it; absent where none does. */
  readonly nextGood?: SampleRef;
  /** In the order in which they happened. */
  readonly hookups: readonly TracedHookup[];
}

/** One quantity of a circuit, traced. */
export interface QuantityTrace {
  readonly quantity: Traced;
  /** By the last sample that is good or bad; "not-shown" where none is. */
  readonly state: "good" | "bad" | "not-shown";
  /** The stretch that is open on the day of asking. */
  readonly now: TracedSpan;
  /** Stretches of the past that had a bad sample, newest first. */
  readonly earlier: readonly TracedSpan[];
}

/** What one sample shows by itself of each quantity: good, bad, or reported and neither. */
export interface TracedSample extends SampleRef {
  readonly shows: Partial<Readonly<Record<Traced, "good" | "bad" | "open">>>;
}

/** What a circuit was connected to, and what its samples say of that time. */
export interface CircuitTrace {
  readonly cart: string;
  readonly circuit: string;
  readonly serves: string;
  readonly on: string;
  /** All hookups in the log until then, in the order in which they happened. */
  readonly hookups: readonly LoggedHookup[];
  /** Oldest first, each with what it shows by itself; none where there is no requirement. */
  readonly samples: readonly TracedSample[];
  readonly quantities: readonly QuantityTrace[];
  /** What a reader has to know of the log and the samples. */
  readonly notes: readonly Assumption[];
}

/**
 * Traces one circuit: for each quantity the hookups since its last good sample, and of every bad sample those between the last
 * good sample before it and the next good one.
 *
 * @param input - the circuit with its samples; see {@link CircuitCase}
 * @param requirements - of all systems, for the volumes of the aircraft
 */
export function traceCircuit(input: CircuitCase, requirements: readonly Requirement[]): CircuitTrace {
  const { cart, requirement, on } = input;
  const circuit = circuitUntil(input.circuit, new JudgingDay(on));
  const known = { ...input, circuit, samples: input.samples.filter(({ drawnOn }) => drawnOn <= on) };
  const shown = requirement === undefined ? [] : shownBy(known, requirement);
  const hookups = eventsInOrder(circuit.events)
    .filter(({ kind }) => kind === "hookup")
    .map((event): LoggedHookup => ({ cart, circuit: circuit.circuit, event }));
  const limited = requirement === undefined ? [] : limitedQuantities(requirement).map(tracedOf);
  const traced = TRACED.filter((name) => name === "fluid" || limited.includes(name));
  return {
    cart,
    circuit: circuit.circuit,
    serves: circuit.serves,
    on,
    hookups,
    samples: shown.map(({ sample, shows }) => ({ ...refOf(sample), shows })),
    quantities: traced.map((name) => traceQuantity(name, { circuit, requirements, shown, hookups })),
    notes: notesOn(input, known.samples, hookups),
  };
}

interface TraceCase {
  readonly circuit: Circuit;
  readonly requirements: readonly Requirement[];
  readonly shown: readonly Shown[];
  readonly hookups: readonly LoggedHookup[];
}

function traceQuantity(quantity: Traced, traceCase: TraceCase): QuantityTrace {
  const samplesThat = (outcome: "good" | "bad") =>
    traceCase.shown.filter(({ shows }) => shows[quantity] === outcome).map(({ sample }) => sample);
  const { current, earlier } = spansOf(samplesThat("good"), samplesThat("bad"));
  const state = current.bad.length > 0 ? "bad" : current.lastGood === undefined ? "not-shown" : "good";
  return {
    quantity,
    state,
    now: hookupsIn(current, quantity, traceCase),
    earlier: earlier.map((span) => hookupsIn(span, quantity, traceCase)),
  };
}

function hookupsIn({ lastGood, bad, nextGood }: Span, quantity: Traced, traceCase: TraceCase): TracedSpan {
  const [firstBad, lastBad] = [bad[0], bad.at(-1)];
  const hookups = traceCase.hookups.filter(
    ({ event }) =>
      (lastGood === undefined || mayFollow(event, lastGood)) &&
      (nextGood === undefined || mayPrecede(event, nextGood)),
  );
  return {
    ...(lastGood && { lastGood: refOf(lastGood) }),
    ...(firstBad && { firstBad: refOf(firstBad) }),
    ...(lastBad && { lastBad: refOf(lastBad) }),
    ...(nextGood && { nextGood: refOf(nextGood) }),
    hookups: hookups.map((hookup) => {
      const carryCase = { ...traceCase, event: hookup.event };
      if (firstBad === undefined) return { ...hookup, carried: fluidCarriedBy(carryCase) };
      return {
        ...hookup,
        when: whenOf(hookup.event, firstBad),
        carried: carriedBy(carryCase, quantity),
      };
    }),
  };
}

function whenOf(event: CircuitEvent, firstBad: Sample): NonNullable<TracedHookup["when"]> {
  if (!mayFollow(event, firstBad)) return "before-bad";
  return mayPrecede(event, firstBad) ? "not-known" : "after-bad";
}

function refOf({ sample, drawnOn }: Sample): SampleRef {
  return { sample, drawnOn };
}

/** What may make the trace miss something. */
function notesOn(
  { circuit, requirement, samples, unread, on }: CircuitCase,
  known: readonly Sample[],
  hookups: readonly LoggedHookup[],
): Assumption[] {
  const future = circuit.events.filter((event) => event.on > on && event.kind === "hookup");
  const unnamed = hookups.filter(({ event }) => event.aircraft === undefined).map(({ event }) => event);
  const otherwise = spellingsIn(hookups);
  const open = unread.filter(({ decided }) => decided === undefined);
  const name = `circuit ${circuit.circuit}`;
  return [
    ...note(
      "no-requirement",
      requirement === undefined,
      () =>
        `no requirement is named "${circuit.serves}", the system that ${name} serves: no sample of it can be called good or bad`,
    ),
    ...note(
      "no-hookups",
      hookups.length === 0,
      () => `the log of ${name} has no hookup until ${on}; a hookup that nobody entered is not traced`,
    ),
    ...note(
      "aircraft-not-stated",
      unnamed.length > 0,
      () => `the log of ${name} names no aircraft for the hookup of ${daysOf(unnamed)}`,
    ),
    ...note(
      "register-written-otherwise",
      otherwise.length > 0,
      () =>
        `in the log of ${name} these were taken for one aircraft: ${otherwise.map((names) => names.map((one) => `"${one}"`).join(" and ")).join("; ")}`,
    ),
    ...note(
      "future-hookup",
      future.length > 0,
      () =>
        `the log of ${name} has a hookup dated ${daysOf(future)}, after ${on}: it is left out; correct the day where the year is wrong`,
    ),
    ...note(
      "future-sample",
      known.length < samples.length,
      () => `samples of ${name} dated after ${on} are left out: ${samples.length - known.length}`,
    ),
    ...note(
      "unread-rows",
      open.length > 0,
      () =>
        `${formatPlaces(open)} could not be read and may hold a result of ${name}: a bad one may be among them`,
    ),
    ...decidedByPeople(unread, `a result of ${name}`),
  ];
}
