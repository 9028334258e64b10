import { type CircuitEvent, eventsInOrder, mayFollow } from "../../samples/index.js";
import { findSteps, type Observation, type Step } from "../../trend/index.js";
import { dayAfter, daysBetween } from "../days.js";
import { MEASURE_KINDS, type Measure, type Reading, sideOf } from "./measures.js";

export const DAYS_PER_YEAR = 365.25;

/** A stretch of a circuit's history between two changes of the fluid. */
export interface Segment {
  /** The event that began it; absent for the first. */
  readonly startedBy?: CircuitEvent;
  readonly readings: readonly Reading[];
}

/** A jump within the current segment: known from an event, or found. */
export type KnownOrFoundStep =
  | { readonly kind: "known"; readonly event: CircuitEvent }
  | {
      readonly kind: "found";
      /** Days of the samples before and after it. */
      readonly after: string;
      readonly before: string;
      /** In the unit of the measure. */
      readonly size: number;
      readonly pAtMost: number;
    };

/**
 * Cuts a history at the events that make the fluid new for a measure.
 *
 * A sample of the day of an event counts as drawn before it where their order is not known.
 *
 * @param readings - oldest first
 * @returns the segments, oldest first; the last one, the current, may be empty
 */
export function segmentsOf(
  measure: Measure,
  readings: readonly Reading[],
  events: readonly CircuitEvent[],
): Segment[] {
  const cuts = eventsWith(measure, events, "new-fluid");
  return [undefined, ...cuts]
    .map((event, index) => {
      const next = cuts[index];
      const members = readings.filter(
        (reading) =>
          (event === undefined || !mayFollow(event, reading)) &&
          (next === undefined || mayFollow(next, reading)),
      );
      return { ...(event && { startedBy: event }), readings: members };
    })
    .filter(({ readings: members }, index) => members.length > 0 || index === cuts.length);
}

/** The events that have an effect on a measure, by day. */
export function eventsWith(
  measure: Measure,
  events: readonly CircuitEvent[],
  effect: "new-fluid" | "step",
): CircuitEvent[] {
  return eventsInOrder(events.filter((event) => MEASURE_KINDS[measure].effects[event.kind] === effect));
}

/** A segment as observations, x in years from its first reading, in a new block after each jump. */
export interface SegmentObservations {
  readonly observations: readonly Observation[];
  readonly steps: readonly KnownOrFoundStep[];
}

/**
 * Turns a segment into observations.
 *
 * Events that make the measure jump start a new block; then each block is searched for steps that no event explains, and
 * those start a block as well.
 */
export function observationsOf(
  measure: Measure,
  segment: Segment,
  events: readonly CircuitEvent[],
): SegmentObservations {
  const first = segment.readings[0]?.drawnOn ?? "";
  const { observations, jumps } = inKnownBlocks(measure, segment, events);
  const searched = withFoundBlocks(observations);
  return {
    observations: searched.observations,
    steps: [
      ...jumps.map((event) => ({ kind: "known" as const, event })),
      ...searched.found.map(({ after, before, size, pAtMost }) => ({
        kind: "found" as const,
        after: dayOf(after, first),
        before: dayOf(before, first),
        size,
        pAtMost,
      })),
    ],
  };
}

/** The readings of a segment as observations, one for each, in a new block after each event that makes the measure jump. */
export function inKnownBlocks(
  measure: Measure,
  { readings }: Segment,
  events: readonly CircuitEvent[],
): { readonly observations: readonly Observation[]; readonly jumps: readonly CircuitEvent[] } {
  const [first, last] = [readings[0], readings.at(-1)];
  if (first === undefined || last === undefined) return { observations: [], jumps: [] };
  const jumps = eventsWith(measure, events, "step").filter(
    (event) => mayFollow(event, first) && !mayFollow(event, last),
  );
  let block = 0;
  const observations = readings.map((reading): Observation => {
    for (let next = jumps[block]; next !== undefined && !mayFollow(next, reading); next = jumps[block])
      block += 1;
    const { x, y, limit } = observationOf(reading, first.drawnOn);
    return limit === undefined ? { x, y, block } : { x, y, limit, block };
  });
  return { observations, jumps };
}

/** Searches each block for steps, and starts a block with each that is found. */
export function withFoundBlocks(observations: readonly Observation[]): {
  readonly observations: readonly Observation[];
  readonly found: readonly Step[];
} {
  const found = findSteps(observations);
  if (found.length === 0) return { observations, found };
  return {
    observations: observations.map((entry) => ({
      ...entry,
      block: (entry.block ?? 0) + found.filter(({ before }) => before <= entry.x).length,
    })),
    found,
  };
}

/**
 * A reading as an observation, without blocks. "≤ 50" is taken as "< 50": they differ only when another result is 50 itself.
 */
export function observationOf({ drawnOn, value, limit }: Reading, first: string): Observation {
  const x = yearsBetween(first, drawnOn);
  return limit === undefined ? { x, y: value } : { x, y: value, limit: sideOf(limit) };
}

/** Years of 365.25 days from one calendar day to another. */
export function yearsBetween(from: string, to: string): number {
  return daysBetween(from, to) / DAYS_PER_YEAR;
}

/** The calendar day some years after another, to the nearest day. */
export function dayOf(years: number, first: string): string {
  return dayAfter(first, Math.round(years * DAYS_PER_YEAR));
}
