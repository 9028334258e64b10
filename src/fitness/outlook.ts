import type { Circuit, Requirement, Sample } from "../samples/index.js";
import type { CircuitCase } from "./case.js";
import { dayAfter } from "./days.js";
import { headingOf } from "./heading.js";
import { boundOf, isMeasured, MEASURES, type Measure } from "./measures.js";
import { type Suggestion, suggestFrom } from "./patterns.js";
import type { Heading } from "./trend-case.js";

/** A limit that the trend says will be crossed. */
export interface Crossing {
  readonly measure: Measure;
  /** Most likely day, with the ends of its interval. */
  readonly on: string;
  readonly earliest: string;
  /** Absent when the interval has no end. */
  readonly latest?: string;
  /** Whether that is before the next sample is due: expected, possible at the earliest, or not. */
  readonly beforeNextSample: "expected" | "possible" | "no";
}

/** What is to come for a circuit. */
export interface Outlook {
  /** The last day for the next sample. */
  readonly nextSampleBy: string;
  /** The requirement's interval, or a trend that may cross a limit sooner. */
  readonly because: "interval" | "trend";
  /** Soonest first. */
  readonly crossings: readonly Crossing[];
  /** What the pattern of the trends suggests; never a diagnosis. */
  readonly suggestions: readonly Suggestion[];
}

/** How far ahead a crossing is told, in days. */
const HORIZON_DAYS = 365;
/** Chance of having crossed a limit at which the next sample is due. */
const RISK = 0.05;
/** With fewer readings there is no trend to look at. */
const FEWEST = 4;

/**
 * When the next sample is due, which limits are expected to be crossed before, and what the trends suggest.
 *
 * @returns undefined without a sample or a requirement
 */
export function outlookOf(input: CircuitCase): Outlook | undefined {
  const { requirement, circuit, samples, on } = input;
  const last = samples
    .map(({ drawnOn }) => drawnOn)
    .filter((drawnOn) => drawnOn <= on)
    .sort()
    .at(-1);
  if (requirement === undefined || last === undefined) return undefined;
  const everyDays = requirement.sampleEveryDays ?? requirement.sampleAgeDaysMax;
  const trends = trendsFor(circuit, samples, requirement, on, everyDays);
  const byInterval = dayAfter(last, everyDays);
  const nextSampleBy = [byInterval, ...trends.map(({ nextSample }) => nextSample.on)].sort()[0] as string;
  return {
    nextSampleBy,
    because: nextSampleBy < byInterval ? "trend" : "interval",
    crossings: trends
      .flatMap((trend) => crossingOf(trend, byInterval))
      .sort((a, b) => a.on.localeCompare(b.on) || a.measure.localeCompare(b.measure)),
    suggestions: suggestionsOf(input, trends, requirement, everyDays),
  };
}

function trendsFor(
  circuit: Circuit,
  samples: readonly Sample[],
  requirement: Requirement,
  on: string,
  everyDays: number,
  measures: readonly Measure[] = MEASURES,
): Heading[] {
  const drawn = samples.filter(({ drawnOn }) => drawnOn <= on);
  return measures.flatMap((measure) => {
    if (!isMeasured(measure, drawn, FEWEST)) return [];
    const bound = boundOf(measure, requirement);
    const { heading } = headingOf({
      circuit,
      samples: drawn,
      measure,
      bounds: bound === undefined ? [] : [bound],
      on,
      horizonDays: HORIZON_DAYS,
      longestDays: everyDays,
      risk: RISK,
    });
    // Without a result since the fluid was new the trend has nothing to say of the next sample.
    return heading.n < FEWEST ? [] : [heading];
  });
}

function crossingOf({ measure, forecast }: Heading, nextSampleBy: string): Crossing[] {
  if (forecast.kind !== "crosses") return [];
  const { on, earliest, latest } = forecast;
  const beforeNextSample = on <= nextSampleBy ? "expected" : earliest <= nextSampleBy ? "possible" : "no";
  return [{ measure, on, earliest, ...(latest !== undefined && { latest }), beforeNextSample }];
}

function suggestionsOf(
  { circuit, beside = [], on }: CircuitCase,
  trends: readonly Heading[],
  requirement: Requirement,
  everyDays: number,
): Suggestion[] {
  const alone = suggestFrom({ circuit, trends });
  // Fluid that passes from one circuit to the other shows where the two are not the same, and by their viscosities.
  const unlike = beside.filter((other) => other.circuit.fluid !== circuit.fluid);
  const mixing = unlike.flatMap((other) => {
    const otherTrends = trendsFor(other.circuit, other.samples, requirement, on, everyDays, ["viscosity"]);
    return suggestFrom({ circuit, trends, beside: { circuit: other.circuit, trends: otherTrends } }).filter(
      ({ code }) => code === "cross-mixing-of-circuits",
    );
  });
  return [...alone, ...mixing];
}
