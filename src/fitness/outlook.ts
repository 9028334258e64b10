import type { Requirement } from "../samples/index.js";
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
  /** The requirement's interval since what has a limit was measured, or a trend that may cross a limit sooner. */
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
/** Viscosity has no limit here, and tells only of circuits that mix. */
const FOLLOWED = MEASURES.filter((measure) => measure !== "viscosity");
/** With fewer readings there is no trend to look at. */
const FEWEST = 4;

/**
 * When the next sample is due, which limits are expected to be crossed before, and what the trends suggest.
 *
 * @returns undefined without a sample or a requirement
 */
export function outlookOf(input: CircuitCase): Outlook | undefined {
  const { requirement, samples, on } = input;
  const last = samples
    .map(({ drawnOn }) => drawnOn)
    .filter((drawnOn) => drawnOn <= on)
    .sort()
    .at(-1);
  if (requirement === undefined || last === undefined) return undefined;
  const everyDays = requirement.sampleEveryDays ?? requirement.sampleAgeDaysMax;
  const headingsOf = (one: Pick<CircuitCase, "circuit" | "samples">, measures: readonly Measure[]) =>
    headingsFor(one, measures, requirement, on, everyDays);
  const headings = headingsOf(input, FOLLOWED);
  const byInterval = dayAfter(last, everyDays);
  // A measure without a limit asks for no sample.
  const due = headings.filter(({ bounds }) => bounds.length > 0).map(({ nextSample }) => nextSample);
  const soonest = due.reduce((first, next) => (next.on < first.on ? next : first), {
    on: byInterval,
    because: "longest-interval",
  });
  return {
    nextSampleBy: soonest.on,
    because: soonest.because === "longest-interval" ? "interval" : "trend",
    crossings: headings
      .flatMap((heading) => crossingOf(heading, byInterval))
      .sort((a, b) => a.on.localeCompare(b.on) || a.measure.localeCompare(b.measure)),
    suggestions: suggestionsOf(input, headings, (one) => headingsOf(one, ["viscosity"])),
  };
}

function headingsFor(
  { circuit, samples }: Pick<CircuitCase, "circuit" | "samples">,
  measures: readonly Measure[],
  requirement: Requirement,
  on: string,
  everyDays: number,
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
  { circuit, samples, beside = [] }: CircuitCase,
  headings: readonly Heading[],
  viscosityOf: (one: Pick<CircuitCase, "circuit" | "samples">) => Heading[],
): Suggestion[] {
  const alone = suggestFrom({ circuit, trends: headings });
  // Fluid that passes from one circuit to the other shows where the two are not the same, and by their viscosities.
  const unlike = beside.filter((other) => other.circuit.fluid !== circuit.fluid);
  if (unlike.length === 0) return alone;
  const trends = viscosityOf({ circuit, samples });
  const mixing = unlike.flatMap((other) =>
    suggestFrom({ circuit, trends, beside: { circuit: other.circuit, trends: viscosityOf(other) } }),
  );
  return [...alone, ...mixing];
}
