import {
  fleetLevels,
  MEASURES,
  type Measure,
  type MeasureTrend,
  measureTrend,
  suggestFrom,
} from "../../../fitness/index.js";
import { type Assumption, joinAssumptions } from "../../../provenance/index.js";
import type { Cart, Circuit, Requirement } from "../../../samples/index.js";
import { readDay } from "../../day.js";
import { type ExitCode, type Io, printJson, UsageError } from "../../io.js";
import { type History, readHistory } from "./trend-history.js";
import {
  readBounds,
  readDays,
  readMeasures,
  readMeasureValue,
  readPositive,
  type TrendOptions,
} from "./trend-options.js";
import { describeTrendReport, type TrendReport, trendAsJson } from "./trend-words.js";

/** The longest time between two samples where no requirement says one. */
const MAX_DAYS = 180;

/** Prints where a measure of one circuit is heading. */
export async function runTrend(
  sampleFiles: readonly string[],
  options: TrendOptions,
  io: Io,
): Promise<ExitCode> {
  const report = trendReport(options, await readHistory(sampleFiles, options));
  if (options.json) printJson(io, trendAsJson(report));
  else io.out(describeTrendReport(report));
  return report.trends.some(isOrWillBeBeyond) ? 1 : 0;
}

/** Beyond a limit now, or within the horizon. */
function isOrWillBeBeyond({ beyondNow, latestBeyond, forecast }: MeasureTrend): boolean {
  return beyondNow === true || latestBeyond || forecast.kind === "crosses";
}

function trendReport(options: TrendOptions, history: History): TrendReport {
  const measures = readMeasures(options.measure);
  const { cart, circuit } = findCircuit(options, history.carts);
  const requirement = history.requirements.find((entry) => entry.system === circuit.serves);
  const on = readDay(options.on);
  const common = {
    on,
    horizonDays: readDays("--horizon", options.horizon, 365),
    risk: readRisk(options.risk),
    ...longestOf(options, requirement),
  };
  const trendOf = (measure: Measure, of: Circuit, bounds: ReturnType<typeof readBounds>) =>
    measureTrend({
      ...common,
      circuit: of,
      samples: history.samples.filter((sample) => sample.cart === cart.cart && sample.circuit === of.circuit),
      measure,
      bounds: bounds.bounds,
      ...(options.newFluid !== undefined &&
        measures.includes(measure) && {
          newFluidValue: readMeasureValue("--new-fluid", options.newFluid, measure).value,
        }),
    });
  const none = { bounds: [], assumptions: [] };
  const required = measures.map((measure) => ({ measure, read: readBounds(options, measure, requirement) }));
  const trends = required.map(({ measure, read }) => trendOf(measure, circuit, read));
  const beside = cart.circuits.find((entry) => entry.circuit !== circuit.circuit);
  return {
    cart: cart.cart,
    circuit,
    trends,
    horizonDays: common.horizonDays,
    risk: common.risk,
    longestDays: common.longestDays,
    fleet: measures.map((measure) =>
      fleetLevels(measure, circuit.fluid, {
        carts: history.carts,
        samples: history.samples.filter(({ drawnOn }) => drawnOn <= on),
      }),
    ),
    suggestions: suggestFrom({
      circuit,
      trends: MEASURES.map((measure) => trendOf(measure, circuit, none)),
      ...(beside && { beside: { circuit: beside, trends: [trendOf("viscosity", beside, none)] } }),
    }),
    notes: joinAssumptions(
      ...required.map(({ read }) => read.assumptions),
      ...trends.map(({ notes }) => notes),
      common.assumptions,
      unreadRows(history.unread),
    ),
  };
}

function findCircuit(
  options: TrendOptions,
  carts: readonly Cart[],
): { readonly cart: Cart; readonly circuit: Circuit } {
  if (carts.length === 0) throw new UsageError("--carts: the book knows no carts; give a carts file");
  const cart = carts.find((entry) => entry.cart === options.cart);
  if (cart === undefined) {
    throw new UsageError(
      `--cart: expected one of ${carts.map((entry) => entry.cart).join(", ")}, found "${options.cart}"`,
    );
  }
  const circuit = cart.circuits.find((entry) => entry.circuit === options.circuit);
  if (circuit === undefined) {
    throw new UsageError(
      `--circuit: expected one of ${cart.circuits.map((entry) => entry.circuit).join(", ")}, found "${options.circuit}"`,
    );
  }
  return { cart, circuit };
}

function readRisk(text: string): number {
  const risk = readPositive("--risk", text, "a chance in per cent, above 0 and below 100") / 100;
  if (!(risk < 1)) throw new UsageError(`--risk: expected a chance in per cent below 100, found "${text}"`);
  return risk;
}

function longestOf(
  { longest }: TrendOptions,
  requirement: Requirement | undefined,
): { readonly longestDays: number; readonly assumptions: readonly Assumption[] } {
  if (longest !== undefined) return { longestDays: readDays("--longest", longest, 90), assumptions: [] };
  if (requirement !== undefined) return { longestDays: requirement.sampleAgeDaysMax, assumptions: [] };
  const message = `no requirement says how long a sample lasts, so ${MAX_DAYS} days were taken as the longest interval`;
  return { longestDays: MAX_DAYS, assumptions: [{ code: "longest-interval-assumed", message }] };
}

function unreadRows(count: number): Assumption[] {
  if (count === 0) return [];
  const message = `rows in quarantine that took no part and may hold results of this circuit: ${count}`;
  return [{ code: "rows-in-quarantine", message }];
}
