import { levelLine, theilSen, trendTest } from "../../trend/index.js";
import { daysBetween } from "../days.js";
import { INTERVAL_LEVEL, soonestForecast } from "./heading.js";
import { hoursOn, runningHours } from "./running-hours.js";
import { inKnownBlocks, type Segment, withFoundBlocks } from "./segments.js";
import type { OverHours, TrendCase } from "./trend-case.js";

/**
 * Where a measure is heading over the running hours of the cart: the same line, test and window as by the calendar, with the
 * hour-meter in place of the date.
 *
 * Water that enters while a cart stands follows the calendar, and what wears or heats the fluid follows the hours. Which of the
 * two a circuit follows is not known beforehand, so both are given, and the limit may be crossed by whichever comes first.
 *
 * @param current - the segment since the fluid was last new
 * @returns undefined where no hour-meter reading is known
 */
export function overHoursOf(
  { circuit, measure, samples, on, bounds, horizonDays }: TrendCase,
  current: Segment,
): OverHours | undefined {
  const first = current.readings[0]?.drawnOn ?? on;
  const { readings, contradiction, notRead } = runningHours(samples, circuit.events, first, on);
  const last = readings.at(-1);
  if (last === undefined)
    return notRead.length === 0 ? undefined : { kind: "cannot-tell", n: 0, why: whyNotRead(notRead) };
  if (contradiction !== undefined) return { kind: "cannot-tell", n: 0, why: contradiction };
  const all = inKnownBlocks(measure, current, circuit.events).observations;
  const timed = all.flatMap((observation, index) => {
    const hours = hoursOn(readings, current.readings[index]?.drawnOn ?? "");
    return hours === undefined ? [] : [{ ...observation, x: hours }];
  });
  // A cart that stood for months makes a step by the calendar and none over its hours, so steps are looked for again.
  const known = withFoundBlocks(timed).observations;
  const n = known.length;
  const slope = theilSen(known, INTERVAL_LEVEL);
  if (slope.kind === "cannot-tell") {
    const why = `samples at ${slope.needed} different readings of the hour-meter are needed, and it is known for ${n} of ${all.length}`;
    return { kind: "cannot-tell", n, why: notRead.length === 0 ? why : `${why}; ${whyNotRead(notRead)}` };
  }
  const line = levelLine(known, slope);
  const { hours: start, on: since } = readings[0] ?? last;
  const hoursPerDay = (last.hours - start) / Math.max(1, daysBetween(since, last.on));
  const horizon = last.hours + hoursPerDay * (daysBetween(last.on, on) + horizonDays);
  const { forecast } = soonestForecast(bounds, known, (x) => x <= horizon, {
    fit: slope,
    line,
    test: trendTest(known),
  });
  const base = {
    kind: "hours",
    n,
    without: all.length - n,
    notRead,
    last: { on: last.on, hours: last.hours },
    slope,
  } as const;
  if (forecast === undefined || forecast.kind === "cannot-tell")
    return { ...base, forecast: { kind: "no-limit" } };
  if (forecast.kind === "no-trend") return { ...base, forecast };
  const { x, earliest, latest, level } = { x: undefined, latest: undefined, ...forecast };
  return {
    ...base,
    forecast: {
      kind: forecast.kind,
      level,
      ...(x !== undefined && { hours: x }),
      ...(earliest !== undefined && { earliest }),
      ...(latest !== undefined && { latest }),
    },
  };
}

function whyNotRead(notRead: readonly string[]): string {
  return `no plain number of hours: ${notRead.join(", ")}`;
}
