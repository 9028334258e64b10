import { type Assumption, frozen, joinAssumptions } from "../../provenance/index.js";
import type { Cart, Circuit, Requirement, Sample } from "../../samples/index.js";
import type { Bound } from "../../trend/index.js";
import type { UnreadResult } from "../case.js";
import { decidedByPeople, formatPlaces } from "../fleet/describe-unread.js";
import { type FleetLevels, fleetLevels } from "../fleet/fleet-levels.js";
import { RISK } from "./due.js";
import { measureTrend } from "./measure-trend.js";
import { boundsOf, limitsNotFollowed, MEASURES, type Measure } from "./measures.js";
import { HORIZON_DAYS } from "./outlook.js";
import { type Suggestion, suggestFrom } from "./patterns.js";
import type { MeasureTrend } from "./trend-case.js";

/** The measures of one circuit whose trends are wanted, and what they are taken from. */
export interface TrendQuestion {
  readonly cart: Cart;
  readonly circuit: Circuit;
  readonly measures: readonly Measure[];
  /** Today, as ISO 8601 calendar day. */
  readonly on: string;
  /** All carts, and the samples of all of them: alarm levels are those of the fleet. */
  readonly carts: readonly Cart[];
  readonly samples: readonly Sample[];
  /** Of the system that the circuit serves. */
  readonly requirement?: Requirement;
  /** Limits that take the place of those of the requirement. */
  readonly bounds?: Partial<Record<Measure, readonly Bound[]>>;
  /** Values of new fluid, each in the unit of its measure. */
  readonly newFluid?: Partial<Record<Measure, number>>;
  /** How far ahead a crossing is looked for; a year when absent. */
  readonly horizonDays?: number;
  /** Chance of having crossed a limit at which the next sample is due; 5 % when absent. */
  readonly risk?: number;
  /** The longest time between two samples; the requirement's when absent. */
  readonly longestDays?: number;
  /** What could not be read, or was taken back, and may be a result of the circuit. */
  readonly unread?: readonly UnreadResult[];
}

/** Where a circuit is heading in some measures. */
export interface TrendReport {
  readonly cart: string;
  readonly circuit: Circuit;
  /** In the order of the measures. */
  readonly trends: readonly MeasureTrend[];
  readonly horizonDays: number;
  readonly risk: number;
  readonly longestDays: number;
  readonly fleet: readonly FleetLevels[];
  readonly suggestions: readonly Suggestion[];
  readonly notes: readonly Assumption[];
}

/** The longest time between two samples where nothing else says one. Common practice, no source. */
const LONGEST_DAYS = 180;

/**
 * Says where the measures of one circuit are heading, what is usual in the fleet, and what the pattern of all measures of
 * the circuit suggests.
 *
 * @throws RangeError for what {@link measureTrend} refuses
 */
export function trendReport(question: TrendQuestion): TrendReport {
  const { cart, circuit, measures, on, carts, samples, requirement } = question;
  const horizonDays = question.horizonDays ?? HORIZON_DAYS;
  const risk = question.risk ?? RISK;
  const longestDays = question.longestDays ?? requirement?.sampleAgeDaysMax ?? LONGEST_DAYS;
  const isAssumed = question.longestDays === undefined && requirement === undefined;
  const trendOf = (of: Circuit, measure: Measure, bounds: readonly Bound[]) => {
    const newFluidValue = question.newFluid?.[measure];
    return measureTrend({
      circuit: of,
      samples: samples.filter((sample) => sample.cart === cart.cart && sample.circuit === of.circuit),
      measure,
      bounds,
      ...{ on, horizonDays, risk, longestDays },
      ...(newFluidValue !== undefined && { newFluidValue }),
    });
  };
  const trends = measures.map((measure) => trendOf(circuit, measure, boundsAskedFor(measure, question)));
  const neighbour = cart.circuits.find((other) => other.circuit !== circuit.circuit);
  return {
    cart: cart.cart,
    circuit,
    trends,
    ...{ horizonDays, risk, longestDays },
    fleet: measures.map((measure) =>
      fleetLevels(measure, circuit.fluid, {
        carts,
        samples: samples.filter(({ drawnOn }) => drawnOn <= on),
      }),
    ),
    suggestions: suggestFrom({
      circuit,
      trends: MEASURES.map((measure) => trendOf(circuit, measure, [])),
      ...(neighbour && {
        neighbour: { circuit: neighbour, trends: [trendOf(neighbour, "viscosity", [])] },
      }),
    }),
    notes: joinAssumptions(
      ...trends.map(({ notes }) => notes),
      isAssumed ? [LONGEST_ASSUMED] : [],
      requirement === undefined ? [] : notFollowed(measures, requirement),
      unreadResults(question.unread ?? []),
    ),
  };
}

function boundsAskedFor(measure: Measure, { bounds, requirement }: TrendQuestion): readonly Bound[] {
  const given = bounds?.[measure];
  if (given !== undefined) return given;
  return requirement === undefined ? [] : boundsOf(measure, requirement);
}

const LONGEST_ASSUMED: Assumption = frozen({
  code: "longest-interval-assumed",
  message: `no requirement says how long a sample lasts, so ${LONGEST_DAYS} days were taken as the longest interval`,
});

function notFollowed(measures: readonly Measure[], requirement: Requirement): Assumption[] {
  const targets = new Set(measures.flatMap((measure) => limitsNotFollowed(measure, requirement)));
  return [...targets].map((target) => ({
    code: "limit-not-followed",
    message: `${target} limits ranges of sizes, and a trend of particles above one size cannot be compared with it; judge each sample`,
  }));
}

function unreadResults(unread: readonly UnreadResult[]): Assumption[] {
  const open = unread.filter(({ decided }) => decided === undefined);
  const message = `${formatPlaces(open)} took no part and may hold a result of this circuit`;
  return [
    ...(open.length === 0 ? [] : [{ code: "rows-in-quarantine", message }]),
    ...decidedByPeople(unread, "a result of this circuit"),
  ];
}

/** From what calls for action first to what calls for none. */
const FORECASTS = [
  "crosses",
  "beyond-horizon",
  "no-trend",
  "cannot-tell",
] as const satisfies readonly MeasureTrend["forecast"]["kind"][];

/** The trend whose limit is crossed first; of those that cross none, the one that comes nearest to it. */
export function governingTrend(trends: readonly MeasureTrend[]): MeasureTrend {
  const rank = ({ forecast }: MeasureTrend) => FORECASTS.indexOf(forecast.kind);
  const day = ({ forecast }: MeasureTrend) => ("on" in forecast ? (forecast.on ?? "") : "");
  return [...trends].sort((a, b) => rank(a) - rank(b) || day(a).localeCompare(day(b)))[0] as MeasureTrend;
}

/** Whether a measure is beyond a limit now, or will be within the horizon. */
export function isOrWillBeBeyond({ beyondNow, latestBeyond, forecast }: MeasureTrend): boolean {
  return beyondNow === true || latestBeyond || forecast.kind === "crosses";
}
