import { inTwoDigits } from "../../units/index.js";
import type { Verdict } from "../verdict.js";
import { MEASURE_KINDS } from "./measures.js";
import { type Crossing, crossingsAhead } from "./outlook.js";
import type { DatedForecast, MeasureTrend, OverHours } from "./trend-case.js";
import { formatChance, formatValue } from "./trend-notes.js";

/**
 * Says a trend in one line: the slope and how sure it is.
 *
 * @returns for example "water: rising by 41 ppm by mass a year (90 % interval 35 to 48), from 14 samples"
 * @example
 * const circuit = { circuit: "main", serves: "main system", fluid: "MIL-PRF-83282", volumeL: 60, events: [] };
 * const values = [100, 120, 131, 152, 170];
 * const samples = values.map((value, month) => ({ drawnOn: `2026-0${month + 1}-01`, waterPpm: { value } }));
 * const limit = { bounds: [], horizonDays: 365, longestDays: 90, risk: 0.05 };
 * const trend = measureTrend({ circuit, samples, measure: "water", on: "2026-05-02", ...limit });
 * describeTrend(trend); // => "water: rising by 210 ppm by mass a year (90 % interval 190 to 240), from 5 samples"
 */
export function describeTrend({ measure, unit, slope, test, n }: MeasureTrend): string {
  const { name } = MEASURE_KINDS[measure];
  if (slope.kind === "cannot-tell") return `${name}: no trend can be read from ${n} samples`;
  const interval =
    slope.interval.kind === "interval"
      ? `90 % interval ${inTwoDigits(slope.interval.low)} to ${inTwoDigits(slope.interval.high)}`
      : "too few to bound it";
  if (!(test.pValue <= 0.05)) {
    return `${name}: no trend; ${inTwoDigits(slope.slope)} ${unit} a year is within chance (${interval}), from ${n} samples`;
  }
  const verb = slope.slope > 0 ? "rising" : "falling";
  return `${name}: ${verb} by ${inTwoDigits(Math.abs(slope.slope))} ${unit} a year (${interval}), from ${n} samples`;
}

/**
 * Says a forecast in one sentence; a date never stands without its interval.
 *
 * @param forecast - of {@link measureTrend}
 */
export function describeForecast(forecast: DatedForecast): string {
  switch (forecast.kind) {
    case "crosses": {
      const until = forecast.latest === undefined ? "with no known end" : `at the latest ${forecast.latest}`;
      return `crosses the limit about ${forecast.on}: at the earliest ${forecast.earliest}, ${until}`;
    }
    case "no-trend":
      return "no trend, so no crossing is given";
    case "beyond-horizon": {
      const early =
        forecast.earliest === undefined ? "" : `, though it could as early as ${forecast.earliest}`;
      const when = forecast.on === undefined ? "" : ` (about ${forecast.on})`;
      return `does not cross the limit within the horizon${when}${early}`;
    }
    case "cannot-tell":
      return forecast.why === "no-limit"
        ? "no limit applies, so no crossing is given"
        : `cannot tell from ${forecast.n} samples`;
  }
}

/**
 * Says where a measure is heading over running hours, in one sentence; a number of hours never stands without its interval.
 *
 * @param overHours - of {@link measureTrend}
 */
export function describeOverHours(overHours: OverHours): string {
  if (overHours.kind === "cannot-tell") return `over running hours that is not known: ${overHours.why}`;
  const { n, without, forecast, last, notRead } = overHours;
  const some = without === 0 ? "" : `, the hours of ${without} others are not known`;
  const odd = notRead.length === 0 ? "" : `; not read: ${notRead.join(", ")}`;
  const from = `from ${n} samples${some}${odd}`;
  if (forecast.kind === "no-trend") return `over running hours there is no trend, ${from}`;
  if (forecast.kind === "no-limit") return `over running hours no limit applies, ${from}`;
  const { hours, earliest, latest } = forecast;
  const left = (at: number) => formatValue(Math.round(Math.max(0, at - last.hours)));
  const since = `the last reading, ${formatValue(last.hours)} h on ${last.on}`;
  if (forecast.kind === "beyond-horizon") {
    const early = earliest === undefined ? "" : `, though it could after ${left(earliest)} h`;
    return `over running hours it does not reach the limit in the hours of that time${early}; ${from}`;
  }
  if (hours !== undefined && hours <= last.hours)
    return `over running hours it reached the limit before ${since}; ${from}`;
  const until = latest === undefined ? "with no known end" : `${left(latest)} h`;
  return (
    `over running hours it reaches the limit after ${left(hours ?? last.hours)} h (${left(earliest ?? last.hours)} h to ${until}), ` +
    `counted from ${since}; ${from}; the date or the hours, whichever comes first`
  );
}

/** Says when the next sample is due, and why then. */
export function describeNextSample({ nextSample }: Pick<MeasureTrend, "nextSample">): string {
  const chance =
    nextSample.chance === undefined ? "" : ` (chance of having crossed ${formatChance(nextSample.chance)})`;
  const why = {
    risk: "then the chance of having crossed the limit reaches the risk chosen",
    "longest-interval": "the longest interval allowed",
    "risk-already-reached": "at once, the chance of having crossed the limit has reached the risk chosen",
    "latest-beyond": "at once, the latest result is beyond the limit",
    "no-sample": "there is no sample of this fluid",
  }[nextSample.because];
  return `${nextSample.on}: ${why}${chance}`;
}

/** What a trend says of a limit, in one sentence: crossed, or to be crossed, and between which days. */
export function describeCrossing(crossing: Crossing, judgedOn: string): string {
  const { measure, on, earliest, latest, beforeNextSample } = crossing;
  const until = latest === undefined ? "with no latest day that can be given" : `at the latest ${latest}`;
  const verb =
    on <= judgedOn
      ? "crossed its limit"
      : beforeNextSample === "no"
        ? "crosses its limit"
        : `is ${beforeNextSample} to cross its limit before the next sample,`;
  return `by its trend ${MEASURE_KINDS[measure].name} ${verb} about ${on}, at the earliest ${earliest}, ${until}`;
}

/** What the trends of a circuit say of limits that are crossed, or may be before the next sample. */
export function describeCrossings({ outlook, on }: Pick<Verdict, "outlook" | "on">): string[] {
  return crossingsAhead(outlook).map((crossing) => describeCrossing(crossing, on));
}
