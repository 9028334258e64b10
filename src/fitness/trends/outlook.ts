import { type Assumption, joinAssumptions } from "../../provenance/index.js";
import type { Requirement } from "../../samples/index.js";
import type { CaseOnDay } from "../case.js";
import { dayAfter } from "../days.js";
import { changeAfter, evidenceOf } from "../evidence/evidence.js";
import { intervalOf } from "../evidence/results.js";
import type { JudgingDay } from "../judging-day.js";
import { latestSamples } from "../latest.js";
import { dueOf, RISK } from "./due.js";
import { headingOf } from "./heading.js";
import { boundsOf, isMeasured, MEASURES, type Measure, resultOfMeasure } from "./measures.js";
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

/** A measure whose trend called for a sample that was not drawn. */
export interface Overdue {
  readonly measure: Measure;
  /** The last sample with a result of it. */
  readonly drawnOn: string;
  /** When the next one was due. */
  readonly dueOn: string;
  /** Chance that the limit was crossed by then. */
  readonly chance: number;
  /** The day by which the limit was crossed, by the end of the interval, where that is before the day of judging. */
  readonly crossedBy?: string;
}

/** What is to come for a circuit. */
export interface Outlook {
  /** The last day for the next sample. */
  readonly nextSampleBy: string;
  /**
   * The requirement's interval since what has a limit was measured, a trend that may cross a limit sooner, or a change of the
   * fluid since the last sample.
   */
  readonly because: "interval" | "trend" | "fluid-change";
  /** Soonest first. */
  readonly crossings: readonly Crossing[];
  /** Measures whose trend called for a sample before the day of judging, and none was drawn. */
  readonly overdue: readonly Overdue[];
  /** What the pattern of the trends suggests; never a diagnosis. */
  readonly suggestions: readonly Suggestion[];
  /** Measures that surely rise, in the unit of each per year. */
  readonly rises: readonly Rise[];
  /** What the trends leave out; absent where nothing is. */
  readonly assumptions?: readonly Assumption[];
}

/** How fast a measure rises. */
export interface Rise {
  readonly measure: Measure;
  readonly perYear: number;
}

/** The limits that are crossed, or may be before the next sample. */
export function crossingsAhead(outlook: Outlook | undefined): Crossing[] {
  return (outlook?.crossings ?? []).filter(({ beforeNextSample }) => beforeNextSample !== "no");
}

/** How far ahead a crossing is looked for, in days. */
export const HORIZON_DAYS = 365;
/** Viscosity without a limit tells only of circuits that mix. */
function followed(requirement: Requirement): Measure[] {
  return MEASURES.filter((measure) => measure !== "viscosity" || boundsOf(measure, requirement).length > 0);
}

/** A rise by chance alone is as steep in one of twenty cases. */
const SURE = 0.05;
/** With fewer readings there is no trend to look at. */
const FEWEST = 4;

/**
 * When the next sample is due, which limits are expected to be crossed before, and what the trends suggest.
 *
 * @returns undefined without a sample or a requirement
 */
export function outlookOf(input: CaseOnDay): Outlook | undefined {
  const { requirement, samples, day } = input;
  const drawn = latestSamples(samples.filter(({ drawnOn }) => day.hasCome(drawnOn)));
  const last = drawn.at(-1)?.drawnOn;
  if (requirement === undefined || last === undefined) return undefined;
  const [changed] = drawn.flatMap((sample) => changeAfter(input.circuit, sample) ?? []);
  if (changed !== undefined) {
    return {
      nextSampleBy: changed.on,
      because: "fluid-change",
      crossings: [],
      overdue: [],
      suggestions: [],
      rises: [],
    };
  }
  const headingsOf = (one: Pick<CaseOnDay, "circuit" | "samples">, measures: readonly Measure[]) =>
    headingsFor(one, measures, requirement, day);
  const everyDays = (measure: Measure) => intervalOf(resultOfMeasure(measure), requirement);
  const { headings, assumptions } = headingsOf(input, followed(requirement));
  const byInterval = dueByInterval(input, requirement, last);
  // A measure without a limit asks for no sample.
  const due = headings
    .filter(({ bounds }) => bounds.length > 0)
    .map((heading) => dueOf(heading, everyDays(heading.measure)));
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
    overdue: headings.flatMap((heading) => overdueOf(heading, everyDays(heading.measure), day)),
    suggestions: suggestionsOf(input, headings, (one) => headingsOf(one, ["viscosity"]).headings),
    rises: headings.flatMap(({ measure, slope, test }) =>
      slope.kind === "slope" && slope.slope > 0 && test.pValue <= SURE
        ? [{ measure, perYear: slope.slope }]
        : [],
    ),
    ...(assumptions.length > 0 && { assumptions }),
  };
}

/** The day by which the first of the quantities is due again, or a sample at all. */
function dueByInterval({ circuit, samples, day }: CaseOnDay, requirement: Requirement, last: string): string {
  const evidence = evidenceOf(
    circuit,
    requirement,
    samples.filter(({ drawnOn }) => day.hasCome(drawnOn)),
  );
  const days = evidence.used.flatMap((sample) =>
    evidence.restingOn(sample).map((result) => dayAfter(sample.drawnOn, intervalOf(result, requirement))),
  );
  const everyDays = requirement.sampleEveryDays ?? requirement.sampleAgeDaysMax;
  return [...days, dayAfter(last, everyDays)].sort()[0] as string;
}

interface Headings {
  readonly headings: readonly Heading[];
  /** What is to be said of results that take no part. */
  readonly assumptions: readonly Assumption[];
}

function headingsFor(
  { circuit, samples }: Pick<CaseOnDay, "circuit" | "samples">,
  measures: readonly Measure[],
  requirement: Requirement,
  day: JudgingDay,
): Headings {
  const drawn = samples.filter(({ drawnOn }) => day.hasCome(drawnOn));
  const found = measures.flatMap((measure) => {
    if (!isMeasured(measure, drawn, FEWEST)) return [];
    return headingOf({
      circuit,
      samples: drawn,
      measure,
      bounds: boundsOf(measure, requirement),
      day,
      horizonDays: HORIZON_DAYS,
      longestDays: intervalOf(resultOfMeasure(measure), requirement),
      risk: RISK,
    });
  });
  return {
    // Without a result since the fluid was new the trend has nothing to say of the next sample.
    headings: found.map(({ heading }) => heading).filter(({ n }) => n >= FEWEST),
    assumptions: joinAssumptions(...found.map((one) => one.assumptions)),
  };
}

/**
 * Whether a trend called for a sample after the last one and before the day of judging.
 *
 * A result beyond its limit needs no trend to say so, and a sample drawn today is newer than any trend.
 */
function overdueOf(heading: Heading, everyDays: number, day: JudgingDay): Overdue[] {
  const { measure, bounds, forecast, segments } = heading;
  const { because, on: dueOn, chance } = dueOf(heading, everyDays);
  const drawnOn = segments.at(-1)?.readings.at(-1)?.drawnOn;
  if (bounds.length === 0 || chance === undefined || drawnOn === undefined || !day.isAfter(dueOn)) return [];
  if (because !== "risk" && because !== "risk-already-reached") return [];
  const latest = forecast.kind === "crosses" ? forecast.latest : undefined;
  const crossed = latest !== undefined && latest > drawnOn && day.isAfter(latest);
  return [{ measure, drawnOn, dueOn, chance, ...(crossed && { crossedBy: latest }) }];
}

function crossingOf({ measure, forecast }: Heading, nextSampleBy: string): Crossing[] {
  if (forecast.kind !== "crosses") return [];
  const { on, earliest, latest } = forecast;
  const beforeNextSample = on <= nextSampleBy ? "expected" : earliest <= nextSampleBy ? "possible" : "no";
  return [{ measure, on, earliest, ...(latest !== undefined && { latest }), beforeNextSample }];
}

function suggestionsOf(
  { circuit, samples, neighbours = [] }: CaseOnDay,
  headings: readonly Heading[],
  viscosityOf: (one: Pick<CaseOnDay, "circuit" | "samples">) => readonly Heading[],
): Suggestion[] {
  const alone = suggestFrom({ circuit, trends: headings });
  // Fluid that passes from one circuit to the other shows where the two are not the same, and by their viscosities.
  const unlike = neighbours.filter((other) => other.circuit.fluid !== circuit.fluid);
  if (unlike.length === 0) return alone;
  const trends = viscosityOf({ circuit, samples });
  const mixing = unlike.flatMap((other) =>
    suggestFrom({ circuit, trends, neighbour: { circuit: other.circuit, trends: viscosityOf(other) } }),
  );
  return [...alone, ...mixing];
}
