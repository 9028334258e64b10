import type { Comparison } from "../../fluids/index.js";
import type { Assumption } from "../../provenance/index.js";
import type { Circuit, Sample } from "../../samples/index.js";
import type { Bound, LevelLine, RobustSlope, SlopeInterval, TrendTest } from "../../trend/index.js";
import type { JudgingDay } from "../judging-day.js";
import type { Measure, Reading } from "./measures.js";
import type { KnownOrFoundStep, Segment } from "./segments.js";

/** What a trend of one measure rests on. */
export interface TrendCase {
  readonly circuit: Circuit;
  /** Samples of this circuit, in any order. */
  readonly samples: readonly Sample[];
  readonly measure: Measure;
  /** Limits of the measure, in its unit; none, an upper one, a lower one or both. */
  readonly bounds: readonly Bound[];
  /** Today, as ISO 8601 calendar day. */
  readonly on: string;
  /** How far ahead a crossing is looked for. */
  readonly horizonDays: number;
  /** The longest time between two samples. */
  readonly longestDays: number;
  /** Chance of having crossed a limit at which the next sample is due, 0 to 1. */
  readonly risk: number;
  /** Value of new fluid in the unit of the measure; with it and the litres added, generation is separated from dilution. */
  readonly newFluidValue?: number;
}

/** The same while a verdict is made. */
export interface TrendCaseOnDay extends Omit<TrendCase, "on"> {
  readonly day: JudgingDay;
}

/** A forecast in days of the calendar. */
export type DatedForecast =
  | {
      readonly kind: "crosses";
      readonly on: string;
      readonly earliest: string;
      /** Absent when the interval has no end. */
      readonly latest?: string;
      readonly level: number;
    }
  | { readonly kind: "no-trend"; readonly pValue: number }
  | {
      readonly kind: "beyond-horizon";
      /** Absent when the level moves away from the limit. */
      readonly on?: string;
      /** Given where the interval reaches into the horizon. */
      readonly earliest?: string;
      readonly level: number;
    }
  | {
      readonly kind: "cannot-tell";
      readonly why: "too-few" | "no-limit";
      readonly n: number;
      readonly needed: number;
    };

/** Where a measure is heading over the running hours of the cart, or why that is not known. */
export type OverHours =
  | {
      readonly kind: "hours";
      /** Readings of the current segment whose running hours are known. */
      readonly n: number;
      /** Readings of it whose running hours are not known. */
      readonly without: number;
      /** Readings of the hour-meter that are no plain number of hours. */
      readonly notRead: readonly string[];
      /** The last reading of the hour-meter. */
      readonly last: { readonly on: string; readonly hours: number };
      /** Of the current segment, per hour. */
      readonly slope: Extract<RobustSlope, { kind: "slope" }>;
      readonly forecast: HoursForecast;
    }
  | { readonly kind: "cannot-tell"; readonly n: number; readonly why: string };

/** A forecast in hours of the hour-meter. */
export type HoursForecast =
  | { readonly kind: "no-trend"; readonly pValue: number }
  | { readonly kind: "no-limit" }
  | {
      /** Beyond the horizon: more hours than the cart runs in the days that are looked ahead, as it has run so far. */
      readonly kind: "crosses" | "beyond-horizon";
      /** What the hour-meter shows when the limit is crossed; absent when the level moves away from the limit. */
      readonly hours?: number;
      readonly earliest?: number;
      /** Absent when the interval has no end. */
      readonly latest?: number;
      readonly level: number;
    };

/** A segment with its own slope per year. */
export interface SegmentTrend extends Segment {
  readonly slope: RobustSlope;
}

/** Where one measure of one circuit is heading, as far as a verdict needs it. */
export interface Heading {
  readonly measure: Measure;
  readonly unit: string;
  /** Readings of the current segment. */
  readonly n: number;
  readonly segments: readonly Segment[];
  readonly steps: readonly KnownOrFoundStep[];
  /** Of the current segment, per year. */
  readonly slope: RobustSlope;
  readonly test: TrendTest;
  readonly outliers: readonly (Reading & { readonly score: number })[];
  /** The level of the last block, x in years from the first reading of the current segment. */
  readonly line?: LevelLine;
  readonly bounds: readonly Bound[];
  /** The bound that the forecast is about. */
  readonly bound?: Bound;
  /** Whether the latest result by itself is surely beyond a bound. */
  readonly latestBeyond: boolean;
  readonly forecast: DatedForecast;
  readonly nextSample: {
    readonly on: string;
    readonly because: "risk" | "longest-interval" | "risk-already-reached" | "latest-beyond" | "no-sample";
    readonly chance?: number;
  };
}

/** The trend of one measure of one circuit, as it is shown. */
export interface MeasureTrend extends Heading {
  /** The day for which it is shown. */
  readonly on: string;
  readonly segments: readonly SegmentTrend[];
  /** The lines of the current segment between its steps. */
  readonly lines: readonly {
    readonly from: string;
    readonly to: string;
    readonly startsAt: number;
    readonly endsAt: number;
  }[];
  /** Whether the level of today is beyond a bound; absent when there is no line or no bound. */
  readonly beyondNow?: boolean;
  /** Chance that the level of today is beyond the bound. */
  readonly chanceNow?: number;
  /** Rise per year with dilution by top-ups taken out; given where litres and the value of new fluid are known. */
  readonly generation?: { readonly perYear: number; readonly interval: SlopeInterval };
  /** The same over running hours; absent where no reading of the hour-meter is known. */
  readonly overHours?: OverHours;
  /** The last two measured results compared by the precision of the test method. */
  readonly lastChange?: {
    readonly from: Reading;
    readonly to: Reading;
    readonly sameLaboratory: Comparison;
    readonly differentLaboratories: Comparison;
  };
  readonly notes: readonly Assumption[];
}
