import { checkNumbers } from "../../numeric/index.js";
import type { Assumption } from "../../provenance/index.js";
import { MAX_DAYS } from "../../samples/index.js";
import {
  type Bound,
  type Forecast,
  findOutliers,
  forecastWithin,
  type KnownTrend,
  type LevelLine,
  levelLine,
  nextSampleDue,
  type Observation,
  theilSen,
  trendTest,
} from "../../trend/index.js";
import { dayAfter } from "../days.js";
import { MEASURE_KINDS, type Reading, sideOf } from "./measures.js";
import { followedReadings } from "./one-port.js";
import {
  DAYS_PER_YEAR,
  dayOf,
  observationOf,
  observationsOf,
  type Segment,
  segmentsOf,
  yearsBetween,
} from "./segments.js";
import type { DatedForecast, Heading, TrendCaseOnDay } from "./trend-case.js";

/** Level of the intervals of slopes. */
export const INTERVAL_LEVEL = 0.9;
/** A later crossing is as good as none. */
const MAX_YEARS = 200;

/** Where a measure is heading, and what that was found from. */
export interface HeadingWithData {
  readonly heading: Heading;
  /** The segment since the fluid was last new. */
  readonly current: Segment;
  /** Of the current segment, x in years from `first`. */
  readonly observations: readonly Observation[];
  /** Day of its first reading; the day of judging when it has none. */
  readonly first: string;
  /** What is to be said of readings that take no part. */
  readonly assumptions: readonly Assumption[];
}

/**
 * Says where one measure of a circuit is heading: what a verdict needs of its trend, without what only a reader wants.
 *
 * @param input - circuit, samples and limits; see {@link TrendCaseOnDay}
 * @throws RangeError for a risk that does not lie between 0 and 1, or a horizon or longest interval that is not
 *   positive or is longer than a hundred years
 */
export function headingOf(input: TrendCaseOnDay): HeadingWithData {
  mustMakeSense(input);
  const { circuit, measure, day } = input;
  const { readings, assumptions } = followedReadings(measure, input.samples, day);
  const segments = segmentsOf(measure, readings, circuit.events);
  const current = segments.at(-1) as Segment;
  const first = current.readings[0]?.drawnOn ?? day.text;
  const { observations, steps } = observationsOf(measure, current, circuit.events);
  const slope = theilSen(observations, INTERVAL_LEVEL);
  const line = slope.kind === "slope" ? levelLine(observations, slope) : undefined;
  const test = trendTest(observations);
  const reported = forecastOf(input, observations, first, { fit: slope, line, test });
  const heading: Heading = {
    measure,
    unit: MEASURE_KINDS[measure].unit,
    n: current.readings.length,
    segments,
    steps,
    slope,
    test,
    // A verdict asks for those of one or two measures only.
    get outliers() {
      return slope.kind === "slope" ? outliersOf(current, observations, slope.slope) : [];
    },
    ...(line && { line }),
    bounds: input.bounds,
    ...(reported.bound && { bound: reported.bound }),
    latestBeyond: isLatestBeyond(input.bounds, current),
    forecast: reported.forecast,
    nextSample: nextOf(input, current, line, first),
  };
  return { heading, current, observations, first, assumptions };
}

function mustMakeSense({ risk, horizonDays, longestDays }: TrendCaseOnDay): void {
  checkNumbers("number", { risk, horizonDays, longestDays });
  if (!(risk > 0 && risk < 1)) throw new RangeError(`risk must lie between 0 and 1, not ${risk}`);
  for (const [name, days] of Object.entries({ horizonDays, longestDays })) {
    if (!(days > 0 && days <= MAX_DAYS))
      throw new RangeError(`${name} must be more than 0 and at most ${MAX_DAYS}, not ${days}`);
  }
}

/** Soonest first; an answer that tells more goes before one that tells less. */
const KINDS = ["crosses", "beyond-horizon", "no-trend", "cannot-tell"] as const;

/**
 * The forecast of the bound that comes first, on the axis of the observations; nothing without a bound.
 *
 * @param isAhead - whether an x lies within the horizon
 */
export function soonestForecast(
  bounds: readonly Bound[],
  observations: readonly Observation[],
  isAhead: (x: number) => boolean,
  known: KnownTrend,
): { readonly forecast?: Forecast; readonly bound?: Bound } {
  const [soonest = {}] = bounds
    .map((bound) => ({ bound, forecast: forecastWithin({ ...bound, observations, isAhead }, known) }))
    .sort(
      (a, b) =>
        KINDS.indexOf(a.forecast.kind) - KINDS.indexOf(b.forecast.kind) ||
        crossingOf(a.forecast) - crossingOf(b.forecast),
    );
  return soonest;
}

function forecastOf(
  { bounds, day, horizonDays }: TrendCaseOnDay,
  observations: readonly Observation[],
  first: string,
  known: KnownTrend,
): { readonly forecast: DatedForecast; readonly bound?: Bound } {
  const isAhead = (x: number) => day.isPast(first, x * DAYS_PER_YEAR - Math.round(horizonDays));
  const { bound, forecast } = soonestForecast(bounds, observations, isAhead, known);
  if (bound !== undefined && forecast !== undefined) return { bound, forecast: dated(forecast, first) };
  const slope = known.fit;
  const needed = slope.kind === "cannot-tell" ? slope.needed : observations.length;
  const why = slope.kind === "cannot-tell" ? "too-few" : "no-limit";
  return { forecast: { kind: "cannot-tell", why, n: observations.length, needed } };
}

function crossingOf(forecast: Forecast): number {
  return "x" in forecast && forecast.x !== undefined ? forecast.x : Number.POSITIVE_INFINITY;
}

function dated(forecast: Forecast, first: string): DatedForecast {
  const day = (x: number | undefined) =>
    x === undefined || Math.abs(x) > MAX_YEARS ? undefined : dayOf(x, first);
  switch (forecast.kind) {
    case "no-trend":
      return forecast;
    case "cannot-tell":
      return { ...forecast, why: "too-few" };
    case "beyond-horizon": {
      const [on, earliest] = [day(forecast.x), day(forecast.earliest)];
      return {
        kind: forecast.kind,
        level: forecast.level,
        ...(on !== undefined && { on }),
        ...(earliest !== undefined && { earliest }),
      };
    }
    case "crosses": {
      const clamp = (x: number) => Math.max(-MAX_YEARS, x);
      const latest = day(forecast.latest);
      return {
        kind: forecast.kind,
        on: dayOf(clamp(forecast.x), first),
        earliest: dayOf(clamp(forecast.earliest), first),
        ...(latest !== undefined && { latest }),
        level: forecast.level,
      };
    }
  }
}

function nextOf(
  { bounds, day, longestDays, risk }: TrendCaseOnDay,
  current: Segment,
  line: LevelLine | undefined,
  first: string,
): Heading["nextSample"] {
  const last = current.readings.at(-1)?.drawnOn;
  if (last === undefined) return { on: day.text, because: "no-sample" };
  if (isLatestBeyond(bounds, current)) return { on: last, because: "latest-beyond" };
  const latest = { on: dayAfter(last, Math.floor(longestDays)), because: "longest-interval" as const };
  if (line === undefined || bounds.length === 0) return latest;
  const lastX = yearsBetween(first, last);
  const soonest = bounds
    .map((bound) => nextSampleDue(line, bound, { lastX, risk, longest: longestDays / DAYS_PER_YEAR }))
    .sort((a, b) => a.x - b.x)[0];
  if (soonest === undefined || soonest.because === "longest-interval")
    return { ...latest, ...(soonest && { chance: soonest.chance }) };
  // Rounded down: the day before the risk is reached.
  const days = Math.floor((soonest.x - lastX) * DAYS_PER_YEAR + 1e-9);
  return { on: dayAfter(last, days), because: soonest.because, chance: soonest.chance };
}

/** Whether the latest result lies surely beyond a bound, whatever the line of the others says. */
function isLatestBeyond(bounds: readonly Bound[], current: Segment): boolean {
  const latest = current.readings.at(-1);
  if (latest === undefined) return false;
  const { value, limit } = latest;
  return bounds.some((bound) => {
    if (limit !== undefined && sideOf(limit) !== bound.towards) return false;
    // "> 200" is beyond 200 itself; "≥ 200" and a measured 200 are not surely so.
    if (limit === bound.towards && value === bound.limit) return true;
    return bound.towards === "above" ? !(value <= bound.limit) : !(value >= bound.limit);
  });
}

function outliersOf(
  current: Segment,
  observations: readonly Observation[],
  slope: number,
): (Reading & { readonly score: number })[] {
  const first = current.readings[0]?.drawnOn ?? "";
  return findOutliers(observations, slope).flatMap(({ x, y, score }) =>
    current.readings
      .filter((reading) => {
        const own = observationOf(reading, first);
        return own.x === x && own.y === y && own.limit === undefined;
      })
      .map((reading) => ({ ...reading, score })),
  );
}
