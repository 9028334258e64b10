import {
  type DatedForecast,
  describeForecast,
  describeNextSample,
  describeOverHours,
  describeTrend,
  type FleetLevels,
  governingTrend,
  MEASURE_KINDS,
  type MeasureTrend,
  type OverHours,
  type Suggestion,
  type TrendReport,
} from "../../../fitness/index.js";
import { DEFERENCE, describeSource } from "../../../provenance/index.js";
import type { RobustSlope } from "../../../trend/index.js";
import { inTwoDigits } from "../../../units/index.js";
import { describeAssumptions, describeCautions, describeMore, drawLines, formatNumber } from "../../text.js";
import { drawChart } from "./chart.js";

/** A report as one JSON document: what is not known is null. */
export function trendAsJson(report: TrendReport) {
  const governing = governingTrend(report.trends);
  const nextSamples = report.trends.map(({ nextSample }) => nextSample.on).sort();
  return {
    cart: report.cart,
    circuit: report.circuit.circuit,
    ...oneAsJson(governing),
    nextSampleDue: nextSamples[0] ?? null,
    ...(report.trends.length > 1 && { channels: report.trends.map(oneAsJson) }),
    horizonDays: report.horizonDays,
    risk: report.risk,
    longestDays: report.longestDays,
    fleet: report.fleet,
    suggestions: report.suggestions,
    notes: report.notes,
    cautions: [DEFERENCE],
  };
}

function oneAsJson(trend: MeasureTrend) {
  const { slope, test, forecast, nextSample } = trend;
  return {
    measure: trend.measure,
    unit: trend.unit,
    on: trend.on,
    n: trend.n,
    slopePerYear: slope.kind === "slope" ? slope.slope : null,
    slopeInterval: intervalOf(slope),
    pValue: slope.kind === "slope" ? test.pValue : null,
    limits: trend.bounds,
    beyondNow: trend.beyondNow ?? null,
    latestBeyond: trend.latestBeyond,
    chanceNow: trend.chanceNow ?? null,
    segments: trend.segments.map(({ startedBy, readings, slope: own }) => ({
      startedBy: startedBy ?? null,
      from: readings[0]?.drawnOn ?? null,
      to: readings.at(-1)?.drawnOn ?? null,
      n: readings.length,
      slopePerYear: own.kind === "slope" ? own.slope : null,
      slopeInterval: intervalOf(own),
    })),
    steps: trend.steps,
    outliers: trend.outliers,
    forecast: forecastAsJson(forecast),
    nextSampleDue: nextSample.on,
    nextSampleBecause: nextSample.because,
    generation: trend.generation ?? null,
    overHours: trend.overHours === undefined ? null : overHoursAsJson(trend.overHours),
    lastChange: trend.lastChange ?? null,
  };
}

function intervalOf(slope: RobustSlope): [number, number] | null {
  if (slope.kind !== "slope" || slope.interval.kind !== "interval") return null;
  return [slope.interval.low, slope.interval.high];
}

function overHoursAsJson(overHours: OverHours) {
  if (overHours.kind === "cannot-tell") return overHours;
  const { n, without, notRead, last, slope, forecast } = overHours;
  const hours = (name: "hours" | "earliest" | "latest") =>
    (forecast as Partial<Record<typeof name, number>>)[name] ?? null;
  return {
    ...{ kind: overHours.kind, n, without, notRead, last },
    slopePerHour: slope.slope,
    slopeInterval: intervalOf(slope),
    forecast: {
      kind: forecast.kind,
      hours: hours("hours"),
      earliest: hours("earliest"),
      latest: hours("latest"),
    },
  };
}

function forecastAsJson(forecast: DatedForecast) {
  const day = (name: "on" | "earliest" | "latest") =>
    name in forecast ? ((forecast as Partial<Record<typeof name, string>>)[name] ?? null) : null;
  return { kind: forecast.kind, date: day("on"), earliest: day("earliest"), latest: day("latest") };
}

/** Where each measure is heading, with its chart. */
export function describeTrendInBrief(report: TrendReport): string {
  return [
    `${report.cart}, circuit ${report.circuit.circuit}, ${report.circuit.fluid}, on ${report.trends[0]?.on}\n`,
    ...report.trends.map((trend) => `\n${drawChart(trend)}\n${drawLines(sentencesOf(trend))}`),
    drawLines([
      ...report.suggestions.map(({ reading }) => `To be confirmed: ${reading}.`),
      // Without it "no limit applies" would be taken for the requirement's word.
      ...report.notes.flatMap(({ code, message }) => (code === "limit-not-followed" ? [`${message}.`] : [])),
    ]),
    describeMore("levels of the fleet, reasons for each suggestion", report.notes),
  ].join("");
}

/** A report as text, with a chart for each trend. */
export function describeTrendReport(report: TrendReport): string {
  return [
    `${report.cart}, circuit ${report.circuit.circuit}, ${report.circuit.fluid}, on ${report.trends[0]?.on}\n`,
    ...report.trends.map((trend) => `\n${drawChart(trend)}\n${sentencesOf(trend).join("\n")}\n`),
    ...report.fleet.map(describeFleet),
    report.suggestions.length === 0 ? "" : "\nWhat the pattern suggests, to be confirmed:\n",
    ...report.suggestions.map(describeSuggestion),
    describeAssumptions(report.notes),
    describeCautions([DEFERENCE]),
  ].join("");
}

function sentencesOf(trend: MeasureTrend): string[] {
  const limits = trend.bounds.map(
    ({ limit, towards }) => `${towards === "above" ? "at most" : "at least"} ${formatNumber(limit)}`,
  );
  const limit = limits.length === 0 ? "" : `, limit ${limits.join(", ")} ${trend.unit}`;
  const { generation } = trend;
  return [
    `${capital(describeTrend(trend))}.`,
    `${capital(MEASURE_KINDS[trend.measure].name)}${limit}: ${describeForecast(trend.forecast)}.`,
    ...(trend.overHours === undefined ? [] : [`${capital(describeOverHours(trend.overHours))}.`]),
    `Next sample due ${describeNextSample(trend)}.`,
    ...(generation === undefined
      ? []
      : [`Generation without dilution by top-ups: ${inTwoDigits(generation.perYear)} ${trend.unit} a year.`]),
  ];
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

function describeFleet({ fluid, measure, circuits, levels, limited }: FleetLevels): string {
  const name = MEASURE_KINDS[measure].name;
  if (levels.kind === "cannot-tell") {
    return `\nAlarm levels of ${name} from the fleet: ${levels.n} results in ${fluid} are too few, ${levels.needed} are needed.\n`;
  }
  const { percentiles, robust } = levels;
  const bounds = limited === 0 ? "" : `; ${limited} of them limit values, taken at their limit`;
  return (
    `\nUnusual for the fleet (${levels.n} results of ${circuits} circuits in ${fluid}${bounds}), not a limit:\n` +
    `  ${name} above ${inTwoDigits(percentiles.attention)} (80 %), ${inTwoDigits(percentiles.alert)} (90 %), ` +
    `${inTwoDigits(percentiles.alarm)} (98 %); by median and scatter ${inTwoDigits(robust.attention)}, ` +
    `${inTwoDigits(robust.alert)}, ${inTwoDigits(robust.alarm)}\n`
  );
}

function describeSuggestion({ reading, because, confirmedBy, source }: Suggestion): string {
  return (
    `  - ${reading}.\n    Because: ${because.join("; ")}.\n` +
    `    Confirmed by: ${confirmedBy.join("; ")}.\n    Source: ${describeSource(source)}.\n`
  );
}
