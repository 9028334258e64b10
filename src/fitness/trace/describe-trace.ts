import { type Assumption, joinAssumptions } from "../../provenance/index.js";
import { inFourDigits, inShownUnit, type ShownIn } from "../../units/index.js";
import { aircraftOf } from "./aircraft.js";
import type { CarriedAmount, CarryOver } from "./carried.js";
import type { LoggedHookup } from "./logged.js";
import type { Traced } from "./shows.js";
import type { AircraftTrace } from "./trace-aircraft.js";
import type { CartTrace } from "./trace-cart.js";
import type { CircuitTrace, QuantityTrace, SampleRef, TracedHookup, TracedSpan } from "./trace-circuit.js";

const NAMES: Readonly<Record<Traced, string>> = {
  particles: "particles",
  water: "water",
  acid: "the acid number",
  viscosity: "the viscosity",
  chlorine: "chlorine",
  metals: "metals",
  fluid: "the identity of the fluid",
};

/** A hookup in words, and below it what it can have carried over. */
export interface DescribedHookup {
  /** Day and aircraft. */
  readonly name: string;
  /** The same in short: by how much the aircraft's fluid can have risen. */
  readonly brief: string;
  readonly says: string;
  readonly amounts: readonly string[];
}

/** Quantities of one circuit that share their last good and their bad samples, so that one sentence says it of all. */
export interface TraceGroup {
  readonly cart: string;
  readonly circuit: string;
  readonly quantities: readonly Traced[];
  readonly state: QuantityTrace["state"];
  /** What happened, in a sentence. */
  readonly says: string;
  /** "Circuit fore of C-1, water". */
  readonly name: string;
  readonly hookups: readonly DescribedHookup[];
  /** What is not known of the hookups, each sentence once with the days it is about. */
  readonly unknown: readonly string[];
  readonly assumptions: readonly Assumption[];
}

/** One quantity in one stretch. */
interface Stretch {
  readonly quantity: Traced;
  readonly state: QuantityTrace["state"];
  readonly span: TracedSpan;
  readonly isNow: boolean;
}

/** The answer of a trace in sentences: what is bad first. Stretches of the past follow where they hold hookups. */
export function describeCircuitTrace(trace: CircuitTrace): TraceGroup[] {
  const now = trace.quantities.map(
    ({ quantity, state, now: span }): Stretch => ({ quantity, state, span, isNow: true }),
  );
  const earlier = trace.quantities.flatMap(({ quantity, earlier: spans }) =>
    spans
      .filter(({ hookups }) => hookups.length > 0)
      .map((span): Stretch => ({ quantity, state: "bad", span, isNow: false })),
  );
  const groups = new Map<string, [Stretch, ...Stretch[]]>();
  for (const stretch of [...now.sort((a, b) => ORDER[a.state] - ORDER[b.state]), ...earlier]) {
    const { lastGood, firstBad, lastBad, nextGood } = stretch.span;
    const key = JSON.stringify([stretch.state, stretch.isNow, lastGood, firstBad, lastBad, nextGood]);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [stretch]);
    else group.push(stretch);
  }
  return [...groups.values()].map((group) => describeGroup(trace, group));
}

function describeGroup(trace: CircuitTrace, group: readonly [Stretch, ...Stretch[]]): TraceGroup {
  const { cart, circuit } = trace;
  const [{ state, span }] = group;
  const quantities = group.map(({ quantity }) => quantity);
  const all = group.flatMap((one) => one.span.hookups);
  return {
    cart,
    circuit,
    quantities,
    state,
    says: asSentence(describeStretch(trace, group)),
    name: `Circuit ${circuit} of ${cart}, ${list(quantities.map((one) => NAMES[one]))}`,
    hookups: span.hookups.map((hookup, index) => {
      const amounts = shownOf(group.flatMap((one) => one.span.hookups[index]?.carried.amounts ?? []));
      return {
        name: nameOfHookup(hookup),
        brief: describeInBrief(hookup.carried, amounts),
        says: `${describeHookup(hookup)}: ${describeFluid(hookup.carried)}`,
        amounts: amounts.map(describeAmount),
      };
    }),
    unknown: describeUnknown(all),
    assumptions: joinAssumptions(...all.map(({ carried }) => carried.assumptions)),
  };
}

const ORDER: Readonly<Record<QuantityTrace["state"], number>> = { bad: 0, "not-shown": 1, good: 2 };

function describeStretch(
  { cart, circuit, quantities: all }: CircuitTrace,
  group: readonly [Stretch, ...Stretch[]],
): string {
  const [{ span, isNow }] = group;
  const { lastGood, firstBad, lastBad, nextGood, hookups } = span;
  const name = `circuit ${circuit} of ${cart}`;
  const served = `served ${describeServed(hookups)}`;
  const what = list(group.map(({ quantity }) => NAMES[quantity]));
  const isWhole = isNow && group.length === all.length;
  if (firstBad === undefined || lastBad === undefined) {
    if (lastGood === undefined)
      return `${name}: no sample shows ${isWhole ? "it" : what} to be good. Since its log begins it ${served}.`;
    return isWhole
      ? `Since the last good sample of ${lastGood.drawnOn} (${lastGood.sample}) ${name} ${served}.`
      : `${name}: last good for ${what} in sample ${describeSample(lastGood)}; since then it ${served}.`;
  }
  const samples =
    firstBad.sample === lastBad.sample
      ? `sample ${describeSample(firstBad)} is bad`
      : `samples ${describeSample(firstBad)} to ${describeSample(lastBad)} are bad`;
  const before = lastGood === undefined ? "" : `the last good sample, ${describeSample(lastGood)},`;
  const since =
    nextGood === undefined
      ? `Since ${before || "its log begins, as no good sample came before,"}`
      : `Between ${before || "the beginning of its log"} and the next good one, ${describeSample(nextGood)},`;
  return `${isNow ? "" : "earlier, "}${name}: ${samples} for ${what}. ${since} it ${served}${describeSides(hookups)}.`;
}

function describeSample({ sample, drawnOn }: SampleRef): string {
  return `${sample} of ${drawnOn}`;
}

/** "3 aircraft: N1, N2, N3, and 1 hookup that names none". */
function describeServed(hookups: readonly LoggedHookup[]): string {
  const aircraft = aircraftOf(hookups);
  const unnamed = hookups.filter(({ event }) => event.aircraft === undefined).length;
  const none =
    unnamed === 0 ? "" : `${unnamed} hookup${unnamed === 1 ? " that names none" : "s that name none"}`;
  if (aircraft.length === 0) return none === "" ? "no aircraft" : `an aircraft that is not named: ${none}`;
  return `${aircraft.length} aircraft: ${aircraft.join(", ")}${none === "" ? "" : `; and ${none}`}`;
}

/** How many hookups were before and after the first bad sample. */
function describeSides(hookups: readonly TracedHookup[]): string {
  const count = (when: TracedHookup["when"]) => hookups.filter((one) => one.when === when).length;
  const parts = [
    [count("before-bad"), "before the bad sample"],
    [count("not-known"), "on its day, before or after it"],
    [count("after-bad"), "after it"],
  ].flatMap(([number, words]) => (number === 0 ? [] : [`${number} ${words}`]));
  if (hookups.length === 0) return "";
  return ` (${hookups.length} hookup${hookups.length === 1 ? "" : "s"}: ${parts.join(", ")})`;
}

/** A hookup as the log has it: day, aircraft, system, minutes, litres. */
export function describeHookup({ event }: LoggedHookup): string {
  const { on, at, aircraft, system, minutes, servicedL, aircraftFound } = event;
  return [
    `${on}${at === undefined ? "" : ` ${at}`}`,
    aircraft ?? "aircraft not named",
    ...(system === undefined ? [] : [system]),
    ...(minutes === undefined ? [] : [`${inFourDigits(minutes)} min`]),
    ...(servicedL === undefined ? [] : [`${inFourDigits(servicedL)} L serviced`]),
    ...(aircraftFound === undefined ? [] : [`found ${aircraftFound}`]),
  ].join(", ");
}

function describeFluid({ litres, share, shownIn }: CarryOver): string {
  const part = share === undefined ? "" : `, ${roundedUp(100 * share)} % of what the aircraft's system holds`;
  return `at most ${volumeUp(litres, shownIn)} of its fluid${part}`;
}

/** The sizes of a count that a person reads first; the others are in the result. */
const SHOWN_SIZES = ["particles > 4 µm(c)", "particles > 6 µm(c)", "particles > 14 µm(c)"];

/** Of counts at many sizes those that are shown. */
function shownOf(amounts: readonly CarriedAmount[]): readonly CarriedAmount[] {
  const usual = amounts.filter(({ what, unit }) => unit !== "particles" || SHOWN_SIZES.includes(what));
  return usual.length > 0 ? usual : amounts;
}

function nameOfHookup({ event }: LoggedHookup): string {
  return `${event.on} ${event.aircraft ?? "aircraft not named"}`;
}

/** Of particles the smallest size alone: it rises most. */
function describeInBrief(carried: CarryOver, amounts: readonly CarriedAmount[]): string {
  const [particles] = amounts.filter(({ unit }) => unit === "particles");
  const rises = [particles, ...amounts.filter(({ unit }) => unit !== "particles")].flatMap((amount) =>
    amount === undefined ? [] : [`${amount.what} +${roundedUp(amount.rise.atMost)} ${amount.rise.unit}`],
  );
  return [`at most ${volumeUp(carried.litres, carried.shownIn)} of its fluid`, ...rises].join(", ");
}

/** The most that can have been carried over of one contaminant. */
function describeAmount({ what, unit, atMost, rise, ifMixed }: CarriedAmount): string {
  const of = unit === "particles" ? "" : ` ${unit}`;
  // Where filters clean both volumes the mixed figure is far below what comes in besides, so it says nothing.
  const mixed =
    ifMixed === undefined || unit === "particles"
      ? ""
      : `; if both mix, ${roundedUp(ifMixed)}${of} and ${roundedUp(rise.ifMixed ?? 0)} ${rise.unit}`;
  return `${what}: at most ${roundedUp(atMost)}${of}, which raises the aircraft's fluid by ${roundedUp(rise.atMost)} ${rise.unit}${mixed}`;
}

function volumeUp(litres: number, shownIn: ShownIn | undefined): string {
  const { value, unit } = inShownUnit("volume", litres, shownIn);
  return `${roundedUp(value)} ${unit}`;
}

/** Three digits, never below the bound. */
function roundedUp(value: number): string {
  if (value === 0) return "0";
  const step = 10 ** (Math.floor(Math.log10(value)) - 2);
  const up = Number((Math.ceil(Number((value / step).toPrecision(12))) * step).toPrecision(3));
  return up >= 1e6 ? up.toExponential().replace("e+", "e") : inFourDigits(up);
}

function describeUnknown(hookups: readonly Pick<TracedHookup, "event" | "carried">[]): string[] {
  const days = new Map<string, Set<string>>();
  for (const { event, carried } of hookups) {
    for (const sentence of carried.missing) {
      const known = days.get(sentence) ?? new Set();
      days.set(sentence, known.add(event.on));
    }
  }
  return [...days].map(([sentence, on]) => `${[...on].join(", ")}: ${sentence}`);
}

/** What other circuits then touched. */
export function describeOnward({ cart, circuit, onward }: CartTrace["circuits"][number]): string[] {
  return onward.map(
    (other) =>
      `${other.aircraft}, served by circuit ${circuit} of ${cart}, was connected to circuit ${other.circuit} of ${other.cart} on ${other.event.on}`,
  );
}

/** The answer of a trace of an aircraft in one sentence. */
export function describeAircraftTrace({ aircraft, on, hookups, similar }: AircraftTrace): string {
  const looks = similar.length === 0 ? "" : ` Registers that could be the same: ${similar.join(", ")}.`;
  if (hookups.length === 0) return `No log has a hookup of ${aircraft} until ${on}.${looks}`;
  const circuits = [...new Set(hookups.map(({ cart, circuit }) => `circuit ${circuit} of ${cart}`))];
  const bad = hookups.filter((one) => one.bad.length > 0);
  const found =
    bad.length === 0
      ? "no sample of them is known to be bad around that time"
      : `bad around that time: ${bad.map(describeBadThen).join("; ")}`;
  const met = `${aircraft} was connected to ${list(circuits)} in ${hookups.length} hookup${hookups.length === 1 ? "" : "s"}`;
  return `${met}; ${found}.${looks}`;
}

function describeBadThen({ cart, circuit, event, bad }: AircraftTrace["hookups"][number]): string {
  const samples = new Set(
    bad.flatMap(({ firstBad }) => (firstBad ? [`sample ${describeSample(firstBad)}`] : [])),
  );
  const quantities = new Set(bad.map(({ quantity }) => NAMES[quantity]));
  return `circuit ${circuit} of ${cart} on ${event.on}, ${list([...quantities])} (${list([...samples])})`;
}

/** Each hookup of an aircraft in words. */
export function describeAircraftHookups({ hookups }: AircraftTrace): DescribedHookup[] {
  return hookups.map((hookup) => {
    const { cart, circuit, event, bad, waiting } = hookup;
    const says = `${describeHookup(hookup)}, by circuit ${circuit} of ${cart}`;
    const name = `${event.on} circuit ${circuit} of ${cart}`;
    const [first] = bad;
    if (first !== undefined) {
      const amounts = shownOf(bad.flatMap(({ carried }) => carried.amounts));
      return {
        name,
        brief: describeInBrief(first.carried, amounts),
        says: `${says}: ${describeFluid(first.carried)}`,
        amounts: amounts.map(describeAmount),
      };
    }
    const brief =
      waiting.length > 0
        ? `no later sample has shown ${list(waiting.map((one) => NAMES[one]))}`
        : "good by the samples after it";
    return { name, brief, says: `${says}: ${brief}`, amounts: [] };
  });
}

/** What is not known of the hookups of an aircraft to circuits that were bad. */
export function describeAircraftUnknown({ hookups }: AircraftTrace): string[] {
  return describeUnknown(hookups.flatMap(({ event, bad }) => bad.map(({ carried }) => ({ event, carried }))));
}

function asSentence(text: string): string {
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}`;
}

function list(words: readonly string[]): string {
  return words.length < 2 ? words.join("") : `${words.slice(0, -1).join(", ")} and ${words.at(-1)}`;
}
