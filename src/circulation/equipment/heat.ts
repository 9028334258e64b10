import { type Assumption, frozen } from "../../provenance/index.js";
import { formatQuantity, type ShownIn } from "../../units/index.js";

/** What warms and cools the fluid while it circulates. */
export interface HeatInput {
  readonly volumeL: number;
  readonly densityKgPerM3: number;
  readonly specificHeatKjPerKgK: number;
  /** Flow that the pump delivers in L/min. */
  readonly flowLpm: number;
  /** Pressure that the flow loses on its way around, in bar. */
  readonly dropBar: number;
  /** Power of the pump shaft that ends up as flow, as a fraction; the rest warms the fluid too. */
  readonly pumpEfficiency: number;
  /** Heat taken out while circulating and in pauses, in kW. */
  readonly coolingKw: number;
  readonly startC: number;
  /** The high-temperature limit given for the cart, in °C. */
  readonly limitC: number;
  /** Temperature at which a run may be started again, in °C. */
  readonly restartC: number;
  /** The units in which it is answered; metric when absent. */
  readonly shownIn?: ShownIn | undefined;
}

/** How a circulation fits under the high-temperature limit. */
export type HeatPlan = {
  /** Heat put into the fluid while the pump runs, in kW. */
  readonly heatKw: number;
  /** Degrees per minute while the pump runs; negative when cooling wins. */
  readonly warmingCPerMin: number;
  readonly assumptions: readonly Assumption[];
} & (
  | { readonly kind: "one-run"; readonly endC: number }
  | {
      readonly kind: "runs-with-pauses";
      readonly firstRunMin: number;
      /** Length of every full run after the first; the last one is shorter. */
      readonly runMin: number;
      readonly pauseMin: number;
      readonly pauses: number;
      readonly totalMin: number;
    }
  | { readonly kind: "refused"; readonly why: string }
);

/** 1 bar · 1 L/min is 1/600 kW. */
const BAR_LPM_PER_KW = 600;

/**
 * Heat that circulating puts into the fluid: what the flow loses and what the pump loses, Δp·Q/η.
 *
 * @returns kW
 * @source FIRST-ORDER
 * @example
 * heatOf({ flowLpm: 60, dropBar: 100, pumpEfficiency: 0.8 }); // => 12.5
 */
export function heatOf(input: Pick<HeatInput, "flowLpm" | "dropBar" | "pumpEfficiency">): number {
  return (input.dropBar * input.flowLpm) / BAR_LPM_PER_KW / input.pumpEfficiency;
}

/**
 * Temperature of the fluid after some minutes with the pump running.
 *
 * @returns °C
 * @source FIRST-ORDER
 */
export function temperatureAfter(input: HeatInput, minutes: number): number {
  return input.startC + rateOf(input, heatOf(input)) * minutes;
}

/**
 * Splits a circulation into runs that stay below the high-temperature limit.
 *
 * @param input - see {@link HeatInput}
 * @param minutes - minutes of circulation that are needed, 0 or more
 * @returns one run, runs with cooling pauses, or why it cannot be done
 * @throws RangeError naming a value that cannot be
 * @source FIRST-ORDER
 */
export function planHeat(input: HeatInput, minutes: number): HeatPlan {
  check(input, minutes);
  const heatKw = heatOf(input);
  const warming = rateOf(input, heatKw);
  const shared = { heatKw, warmingCPerMin: warming, assumptions: [FLUID_ONLY] };
  const shown = (temperatureC: number) => formatQuantity("temperature", temperatureC, input.shownIn);
  if (!(input.startC < input.limitC)) {
    return {
      ...shared,
      kind: "refused",
      why: `the fluid is at ${shown(input.startC)}, not below the limit of ${shown(input.limitC)}`,
    };
  }
  const endC = input.startC + warming * minutes;
  if (endC < input.limitC) return { ...shared, kind: "one-run", endC };
  if (!(input.coolingKw > 0)) {
    return {
      ...shared,
      kind: "refused",
      why: `the fluid would reach the limit of ${shown(input.limitC)} after ${((input.limitC - input.startC) / warming).toPrecision(3)} minutes, and no cooling is given for a pause`,
    };
  }
  if (!(input.restartC < input.limitC)) {
    return {
      ...shared,
      kind: "refused",
      why: `a restart at ${shown(input.restartC)} is not below the limit of ${shown(input.limitC)}`,
    };
  }
  const span = input.limitC - input.restartC;
  const firstRunMin = (input.limitC - input.startC) / warming;
  const runMin = span / warming;
  const pauseMin = span / -rateOf(input, 0);
  const pauses = Math.ceil((minutes - firstRunMin) / runMin);
  return {
    ...shared,
    kind: "runs-with-pauses",
    firstRunMin,
    runMin,
    pauseMin,
    pauses,
    totalMin: minutes + pauses * pauseMin,
  };
}

const FLUID_ONLY: Assumption = frozen({
  code: "heat-in-fluid-only",
  message:
    "all heat was taken to stay in the fluid apart from the given cooling; metal and air take some, so the fluid warms more slowly",
  source: "FIRST-ORDER",
});

/** Degrees per minute with a given heat. */
function rateOf(input: HeatInput, heatKw: number): number {
  const kjPerK = (input.volumeL / 1000) * input.densityKgPerM3 * input.specificHeatKjPerKgK;
  return ((heatKw - input.coolingKw) * 60) / kjPerK;
}

function check(input: HeatInput, minutes: number): void {
  const above = ["volumeL", "densityKgPerM3", "specificHeatKjPerKgK", "flowLpm", "pumpEfficiency"] as const;
  for (const name of above) {
    if (!(input[name] > 0 && Number.isFinite(input[name]))) {
      throw new RangeError(`${name} must be more than 0, not ${input[name]}`);
    }
  }
  if (!(input.pumpEfficiency <= 1)) {
    throw new RangeError(`pumpEfficiency must be a fraction up to 1, not ${input.pumpEfficiency}`);
  }
  const notBelow = { dropBar: input.dropBar, coolingKw: input.coolingKw, minutes };
  for (const [name, value] of Object.entries(notBelow)) {
    if (!(value >= 0 && Number.isFinite(value)))
      throw new RangeError(`${name} must be 0 or more, not ${value}`);
  }
  for (const name of ["startC", "limitC", "restartC"] as const) {
    if (!Number.isFinite(input[name]))
      throw new RangeError(`${name} must be a temperature, not ${input[name]}`);
  }
}
