import { type CircuitEvent, hourMeterOf, type Sample } from "../../samples/index.js";
import { compareDays, daysBetween } from "../days.js";

/** A reading of the hour-meter of a cart. */
export interface HourReading {
  readonly on: string;
  readonly hours: number;
  /** Where it was written down, for messages. */
  readonly where: string;
}

/** What is known of the running hours of a circuit. */
export interface RunningHours {
  /** Oldest first, never falling. */
  readonly readings: readonly HourReading[];
  /** Why no running hours can be taken from the readings. */
  readonly contradiction?: string;
  /** Readings of reports that are no plain number of hours. */
  readonly notRead: readonly string[];
}

/** Meters are read in whole hours now and then. */
const ROUNDING_H = 1;

/**
 * The hour-meter readings of a circuit: those that reports give with its samples, and those of the events of its log.
 *
 * A meter that falls was replaced or misread, and one that gains more than 24 hours a day was misread; which of the two
 * readings is wrong nobody can tell from them, so no hours are taken at all.
 *
 * @param samples - of this circuit, in any order
 * @param from - the first day that counts; the last reading before it is taken where that day has none
 * @param on - the last day that counts
 */
export function runningHours(
  samples: readonly Sample[],
  events: readonly CircuitEvent[],
  from: string,
  on: string,
): RunningHours {
  const ofSamples = samples.flatMap(({ sample, drawnOn, ...rest }) => {
    const hours = hourMeterOf(rest);
    return hours === undefined ? [] : [{ on: drawnOn, hours, where: `sample ${sample}` }];
  });
  const ofEvents = events.flatMap(({ hourMeterH, ...event }) =>
    hourMeterH === undefined
      ? []
      : [{ on: event.on, hours: hourMeterH, where: `the ${event.kind.replace("-", " ")} of ${event.on}` }],
  );
  const all = [...ofSamples, ...ofEvents].filter((reading) => reading.on <= on);
  const isRead = (reading: (typeof all)[number]): reading is HourReading => typeof reading.hours === "number";
  const readings = all.filter(isRead).sort((a, b) => compareDays(a.on, b.on) || a.hours - b.hours);
  const start = readings.findIndex((reading) => reading.on >= from);
  const needsOneBefore = start > 0 && readings[start]?.on !== from;
  const since = start < 0 ? [] : readings.slice(needsOneBefore ? start - 1 : start);
  const contradiction = contradictionIn(since);
  return {
    readings: since,
    ...(contradiction !== undefined && { contradiction }),
    notRead: all.flatMap((reading) =>
      isRead(reading) || reading.on < from ? [] : [`"${reading.hours}" of ${reading.where}`],
    ),
  };
}

function contradictionIn(readings: readonly HourReading[]): string | undefined {
  for (const [index, later] of readings.slice(1).entries()) {
    const earlier = readings[index] as HourReading;
    const gained = later.hours - earlier.hours;
    const from = `${earlier.hours} h (${earlier.where}, ${earlier.on}) and ${later.hours} h (${later.where}, ${later.on})`;
    if (gained < -ROUNDING_H) return `the hour-meter falls between ${from}: it was replaced or misread`;
    if (gained > 24 * (daysBetween(earlier.on, later.on) + 1) + ROUNDING_H)
      return `the hour-meter gains more than 24 hours a day between ${from}: one of them was misread`;
  }
  return undefined;
}

/**
 * The running hours on a day: a reading of that day, or in proportion to the days between the readings before and after it.
 *
 * @returns undefined before the first reading and after the last
 */
export function hoursOn(readings: readonly HourReading[], on: string): number | undefined {
  const before = readings.findLast((reading) => reading.on <= on);
  const after = readings.find((reading) => reading.on >= on);
  if (before === undefined || after === undefined) return undefined;
  const days = daysBetween(before.on, after.on);
  if (days <= 0) return before.hours;
  return before.hours + ((after.hours - before.hours) * daysBetween(before.on, on)) / days;
}
