import {
  type Circuit,
  type CircuitEvent,
  isCounterRun,
  mayFollow,
  type Requirement,
  type Sample,
} from "../../samples/index.js";
import { daysBetween } from "../days.js";
import { latestSamples } from "../latest.js";
import { effectOf } from "./event-effects.js";
import { groupOf, isReported, type Result, type ResultGroup, requiredResults } from "./results.js";

/** Which bottle shows which quantity. */
export interface Evidence {
  /** The latest bottles that report a quantity; several where their order is not known. */
  readonly of: (result: Result) => readonly Sample[];
  /** What the requirement needs of one bottle, and rests on it. */
  readonly restingOn: (sample: Sample) => readonly Result[];
  /** Bottles that something required rests on, newest first. */
  readonly used: readonly Sample[];
  /** These and every bottle that may be newer than the oldest of them: what they say against the fluid counts. */
  readonly looked: readonly Sample[];
  /** The last bottles of the fluid that is in the circuit now. */
  readonly newest: readonly Sample[];
  /** Where there is no bottle of this fluid: the last one of the former, and the change. */
  readonly former?: { readonly sample: Sample; readonly change: CircuitEvent };
}

/**
 * Finds for each quantity its own latest result, in the fluid that is in the circuit now.
 *
 * A quantity that the requirement does not need is looked for in no bottle that is older than all that is needed, unless it
 * tells which fluid it is: a contradiction does not end because the next bottle was sent without that test.
 *
 * @param circuit - with the events that have happened
 * @param samples - of this circuit, in any order
 */
export function evidenceOf(circuit: Circuit, requirement: Requirement, samples: readonly Sample[]): Evidence {
  const required = requiredResults(requirement);
  const present = samples.filter((sample) => changeAfter(circuit, sample) === undefined);
  const newest = latestSamples(present.filter((sample) => !isCounterRun(sample)));
  const needed = new Map(required.map((result) => [result, latestOf(result, present)]));
  const restsOn = new Map([...needed].map(([result, latest]) => [result, new Set(latest)]));
  const used = newestFirst([...new Set([...needed.values()].flat())]);
  // A run of a counter in the line is newer than the last bottle, and hides nothing of what is said of that.
  const rests = new Set([...used, ...newest]);
  const moments = oneOfEachMoment([...rests]);
  const looked =
    used.length === 0
      ? newest
      : present.filter((one) => rests.has(one) || moments.some((other) => !isOlder(one, other)));
  const [last] = latestSamples(samples);
  const change = present.length === 0 && last !== undefined ? changeAfter(circuit, last) : undefined;
  return {
    of: (result) =>
      needed.get(result) ?? latestOf(result, TELLS_FLUID.includes(groupOf(result)) ? present : looked),
    restingOn: (sample) => required.filter((result) => restsOn.get(result)?.has(sample)),
    used,
    looked,
    newest,
    ...(last && change && { former: { sample: last, change } }),
  };
}

/** Results that stay with a fluid until it is changed or they are measured again. */
const TELLS_FLUID: readonly ResultGroup[] = ["viscosity at 40 °C", "density at 15 °C", "chlorine", "metals"];

function latestOf(result: Result, samples: readonly Sample[]): Sample[] {
  return latestSamples(samples.filter((sample) => isReported(result, sample)));
}

/** The bottles that report something, or the one in which it is missing. */
export function orMissingIn(newest: Sample, bottles: readonly Sample[]): readonly Sample[] {
  return bottles.length > 0 ? bottles : [newest];
}

/** One sample of each moment of drawing: which are older depends on nothing else. */
function oneOfEachMoment(samples: readonly Sample[]): Sample[] {
  return [...new Map(samples.map((one) => [`${one.drawnOn} ${one.drawnTime ?? ""}`, one])).values()];
}

/** Whether a sample was surely drawn before another. */
export function isOlder(one: Sample, other: Sample): boolean {
  if (one === other) return false;
  if (one.drawnOn === other.drawnOn && one.drawnTime === other.drawnTime) return false;
  const days = daysBetween(one.drawnOn, other.drawnOn);
  // Zones move a moment by a day at most.
  if (Math.abs(days) > 2) return days > 0;
  const latest = latestSamples([one, other]);
  return latest.length === 1 && latest[0] === other;
}

/** Samples in order, the newest first. */
export function newestFirst(samples: readonly Sample[]): Sample[] {
  return [...samples].sort((a, b) => (a === b ? 0 : isOlder(a, b) ? 1 : isOlder(b, a) ? -1 : 0));
}

/** The first change that took the fluid of a sample out of the circuit. */
export function changeAfter(
  circuit: Circuit,
  sample: Pick<Sample, "sample" | "drawnOn" | "drawnTime">,
): CircuitEvent | undefined {
  return circuit.events
    .filter((event) => effectOf(event, "particles") === "gone" && mayFollow(event, sample))
    .sort((a, b) => a.on.localeCompare(b.on))[0];
}
