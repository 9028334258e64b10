import { FLUID_BASES } from "../../fluids/index.js";
import { type Assumption, joinAssumptions } from "../../provenance/index.js";
import { type Observation, serialCorrelation, theilSen } from "../../trend/index.js";
import { inFourDigits as formatValue, inTwoDigits } from "../../units/index.js";
import { MEASURE_KINDS } from "./measures.js";
import { eventsWith } from "./segments.js";
import type { MeasureTrend, TrendCase } from "./trend-case.js";

/** A probability for reading, in two digits; one that is very small or nearly 1 is said to be below or above. */
export function formatChance(probability: number): string {
  if (probability < 0.0001) return "below 0.0001";
  return probability >= 0.995 && probability < 1 ? "above 0.99" : inTwoDigits(probability);
}

export { formatValue };

/** What a reader of the trend has to know besides its numbers. */
export function notesOf(
  input: TrendCase,
  trend: Omit<MeasureTrend, "notes">,
  observations: readonly Observation[],
): Assumption[] {
  return joinAssumptions(
    tooLittle(trend),
    limitValues(trend),
    steps(input, trend, observations),
    outliers(input, trend),
    eventsSince(input, trend),
    beyond(input, trend),
    lastChange(trend),
    kinked(input),
    alike(trend, observations),
  );
}

function note(code: string, message: string, source?: Assumption["source"]): Assumption[] {
  return [{ code, message, ...(source && { source }) }];
}

function tooLittle({ slope, forecast, n }: Omit<MeasureTrend, "notes">): Assumption[] {
  if (slope.kind === "slope") {
    return forecast.kind === "cannot-tell" && forecast.why === "no-limit"
      ? note("no-limit", "no limit applies, so no crossing is given")
      : [];
  }
  const why = {
    "too-few-measured": `measured values on ${slope.needed} different days are needed`,
    "mostly-limits": "most of them are known only as below or above a limit",
    "no-order": "their order in time says neither up nor down",
  }[slope.why];
  return note("cannot-tell", `${n} samples since the fluid was new cannot tell a trend: ${why}`);
}

function limitValues({ slope, segments }: Omit<MeasureTrend, "notes">): Assumption[] {
  const readings = segments.at(-1)?.readings ?? [];
  const limited = readings.filter((reading) => reading.limit !== undefined).length;
  if (limited === 0) return [];
  const how = slope.kind === "slope" ? "; they took part only where their order is sure" : "";
  return note(
    "limit-values",
    `${limited} of ${readings.length} values are limits such as "< 50" and were not turned into numbers${how}`,
    "AKRITAS-THEIL-SEN",
  );
}

function steps(
  { measure }: TrendCase,
  { steps: found, unit }: Omit<MeasureTrend, "notes">,
  observations: readonly Observation[],
): Assumption[] {
  const unknown = found.flatMap((step) => (step.kind === "found" ? [step] : []));
  if (unknown.length === 0) return [];
  const whole = theilSen(observations.map(({ block: _block, ...entry }) => entry));
  const otherwise =
    whole.kind === "slope"
      ? `; taken as part of a rise or fall, the slope would be ${inTwoDigits(whole.slope)} a year`
      : "";
  return unknown.flatMap((step) =>
    note(
      "step-found",
      `${MEASURE_KINDS[measure].name} steps by ${inTwoDigits(step.size)} ${unit} between ${step.after} and ${step.before} ` +
        `without a recorded event (chance ${formatChance(step.pAtMost)} at most); it was taken as a step${otherwise}. ` +
        "Look for a change of fluid, laboratory or sampling port",
      "WANG",
    ),
  );
}

function outliers(
  { measure }: TrendCase,
  { outliers: flagged, unit }: Omit<MeasureTrend, "notes">,
): Assumption[] {
  return flagged.flatMap(({ sample, drawnOn, value, score }) =>
    note(
      "outlier",
      `${MEASURE_KINDS[measure].name} of sample ${sample}, ${drawnOn} (${formatValue(value)} ${unit}), lies ${inTwoDigits(Math.abs(score))} standard deviations ` +
        `${score > 0 ? "above" : "below"} the line; it was kept; repeat it if it is recent`,
      "IGLEWICZ-HOAGLIN",
    ),
  );
}

/** Events after the last sample change what a forecast from the samples means. */
function eventsSince({ measure, circuit, on }: TrendCase, trend: Omit<MeasureTrend, "notes">): Assumption[] {
  const last = trend.segments.at(-1)?.readings.at(-1)?.drawnOn;
  return eventsWith(measure, circuit.events, "step")
    .filter((event) => last !== undefined && event.on >= last && event.on <= on)
    .flatMap((event) =>
      note(
        "event-after-last-sample",
        `${event.kind.replace("-", " ")} on ${event.on}, after the last sample: the forecast does not know of it`,
      ),
    );
}

function beyond({ measure }: TrendCase, trend: Omit<MeasureTrend, "notes">): Assumption[] {
  const { name } = MEASURE_KINDS[measure];
  const latest = trend.segments.at(-1)?.readings.at(-1);
  const single =
    trend.latestBeyond && latest !== undefined
      ? note(
          "latest-beyond",
          `${name} of the latest sample, ${latest.sample} of ${latest.drawnOn}, is beyond the limit, whatever the line says`,
        )
      : [];
  if (trend.beyondNow !== true || trend.bound === undefined) return single;
  const since = trend.forecast.kind === "crosses" ? `, since about ${trend.forecast.on}` : "";
  return [
    ...note(
      "limit-crossed",
      `the level of ${name} is beyond the limit of ${formatValue(trend.bound.limit)} ${trend.unit} already${since}`,
    ),
    ...single,
  ];
}

function lastChange({ lastChange: change, unit }: Omit<MeasureTrend, "notes">): Assumption[] {
  if (change === undefined) return [];
  const { from, to, sameLaboratory, differentLaboratories } = change;
  const held = [
    { who: "one operator's", comparison: sameLaboratory },
    { who: "two laboratories'", comparison: differentLaboratories },
  ].flatMap(({ who, comparison: { allowed, outcome } }) =>
    allowed === undefined
      ? []
      : [`${outcome === "different" ? "more" : "no more"} than ${who} scatter of ${inTwoDigits(allowed)}`],
  );
  return [
    ...note(
      "last-two-results",
      `the last two results, ${formatValue(from.value)} and ${formatValue(to.value)} ${unit}, differ by ${held.join(" and ")}`,
    ),
    ...differentLaboratories.assumptions,
  ];
}

/** Results that follow one another too closely are fewer than they seem. */
function alike({ slope }: Omit<MeasureTrend, "notes">, observations: readonly Observation[]): Assumption[] {
  if (slope.kind !== "slope") return [];
  const serial = serialCorrelation(observations, slope.slope);
  if (serial.kind === "too-few" || !serial.isLikely) return [];
  return note(
    "serial-correlation",
    `results one after the other resemble each other beyond the trend (correlation ${inTwoDigits(serial.lag1)} in ${serial.n}): ` +
      "they count as fewer than they are, so the trend is less sure and its interval wider than given",
    "SERIAL-CORRELATION",
  );
}

function kinked({ measure, circuit }: TrendCase): Assumption[] {
  if (measure !== "acid" || FLUID_BASES[circuit.fluid] !== "phosphate ester") return [];
  return note(
    "acid-may-speed-up",
    "acid in phosphate ester feeds its own rise once the scavenger is used up, so a straight line can be too late",
    "ESTER-HYDROLYSIS",
  );
}
