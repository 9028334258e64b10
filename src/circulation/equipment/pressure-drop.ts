import { temperatureAt, type ViscosityLine, viscosityAt } from "../../fluids/index.js";
import { checkNumbers } from "../../numeric/index.js";
import { type Assumption, joinAssumptions } from "../../provenance/index.js";

/** A pressure drop measured at a known flow and viscosity, with the element clean. */
export interface RatedDrop {
  /** Across the element in bar. */
  readonly elementBar: number;
  /** Across the empty housing in bar; 0 when absent. */
  readonly housingBar?: number;
  readonly flowLpm: number;
  readonly mm2PerS: number;
}

/** What an indication is read from. */
export interface IndicatorInput {
  readonly rated: RatedDrop;
  readonly viscosity: ViscosityLine;
  readonly flowLpm: number;
  readonly temperatureC: number;
  /** Differential pressure that trips the indicator, in bar. */
  readonly indicatorBar: number;
  /** Part of the setting that a clean element may use before an indication stands for the element; half when absent. */
  readonly cleanShare?: number;
}

/** What an indication means at the present temperature. */
export interface IndicatorReading {
  readonly viscosityMm2PerS: number;
  /** Drop of a clean element now, in bar. */
  readonly cleanDropBar: number;
  readonly meaning: "cold-fluid-alone-explains-it" | "cannot-tell" | "element-is-loaded";
  /** The largest flow at which the drop of a clean element leaves the indicator room now, in L/min. */
  readonly roomUpToLpm: number;
  /** Temperature from which an indication stands for the element. */
  readonly lookAgainAt:
    | { readonly kind: "temperature"; readonly temperatureC: number }
    | { readonly kind: "never" };
  readonly assumptions: readonly Assumption[];
}

/** 85 °F, from which a handbook has the indicators watched. */
export const WATCHED_FROM_C = (85 - 32) / 1.8;

/** The temperature from which minutes count, for the cart: that of the handbook as the cautions say it, others rounded up. */
export function formatCountFrom(temperatureC: number): string {
  if (temperatureC === WATCHED_FROM_C) return "29 °C (85 °F)";
  const upC = Math.ceil(temperatureC);
  return `${upC} °C (${Math.ceil(upC * 1.8 + 32)} °F)`;
}

/** Common practice, no source: a clean element should leave the indicator at least this much of its setting. */
const CLEAN_SHARE = 0.5;

/**
 * Drop of a clean element at another flow and viscosity: the element's part in proportion to flow and viscosity, the
 * housing's part to the square of the flow.
 *
 * @returns bar; the fluid is taken as the one the drop was measured with, so that its density cancels
 * @source DROP-SCALING
 * @example
 * cleanDrop({ elementBar: 1, flowLpm: 50, mm2PerS: 30 }, 25, 60); // => 1
 */
export function cleanDrop(rated: RatedDrop, flowLpm: number, mm2PerS: number): number {
  const { elementBar, housingBar, flowLpm: ratedFlowLpm } = rated;
  checkNumbers("notNegative", { elementBar, housingBar });
  checkNumbers("positive", { ratedFlowLpm, ratedMm2PerS: rated.mm2PerS, flowLpm, mm2PerS });
  const flow = flowLpm / ratedFlowLpm;
  return elementBar * flow * (mm2PerS / rated.mm2PerS) + (housingBar ?? 0) * flow * flow;
}

/** The flow at which a clean element drops so much: the positive root of the two parts of {@link cleanDrop}. */
function flowForDrop(
  { elementBar, housingBar = 0, flowLpm, mm2PerS: at }: RatedDrop,
  bar: number,
  mm2PerS: number,
) {
  const linear = elementBar * (mm2PerS / at);
  const times =
    housingBar === 0
      ? bar / linear
      : (Math.sqrt(linear ** 2 + 4 * housingBar * bar) - linear) / (2 * housingBar);
  return times * flowLpm;
}

/**
 * Tells a clogging indicator that was tripped by cold fluid from one that was tripped by a loaded element.
 *
 * @param input - see {@link IndicatorInput}
 * @returns what an indication means now, and the temperature to look again at, never below 85 °F (29.4 °C)
 * @throws RangeError for a value that is not above 0
 * @source DROP-SCALING
 * @source ASTM-D341
 * @source NAVEDTRA-14018-CIRCULATION
 */
export function assessIndicator(input: IndicatorInput): IndicatorReading {
  const { rated, flowLpm, indicatorBar } = input;
  const share = input.cleanShare ?? CLEAN_SHARE;
  const must = {
    elementBar: rated.elementBar,
    ratedFlowLpm: rated.flowLpm,
    mm2PerS: rated.mm2PerS,
    flowLpm,
    indicatorBar,
  };
  checkNumbers("positive", must);
  checkNumbers("number", { cleanShare: share });
  checkNumbers("finite", { temperatureC: input.temperatureC });
  if (!(share > 0 && share < 1)) throw new RangeError(`cleanShare must be between 0 and 1, not ${share}`);
  const now = viscosityAt(input.viscosity, input.temperatureC);
  const cleanDropBar = cleanDrop(rated, flowLpm, now.value);
  const allowed = share * indicatorBar - cleanDrop({ ...rated, elementBar: 0 }, flowLpm, now.value);
  const thinEnough = (allowed / rated.elementBar) * (rated.flowLpm / flowLpm) * rated.mm2PerS;
  const warm = thinEnough >= 0.3 ? temperatureAt(input.viscosity, thinEnough) : undefined;
  return {
    viscosityMm2PerS: now.value,
    cleanDropBar,
    roomUpToLpm: flowForDrop(rated, share * indicatorBar, now.value),
    meaning: !(cleanDropBar < indicatorBar)
      ? "cold-fluid-alone-explains-it"
      : cleanDropBar <= share * indicatorBar && input.temperatureC >= WATCHED_FROM_C
        ? "element-is-loaded"
        : "cannot-tell",
    lookAgainAt:
      warm === undefined
        ? { kind: "never" }
        : { kind: "temperature", temperatureC: Math.max(WATCHED_FROM_C, warm.value) },
    assumptions: joinAssumptions(now.assumptions, warm?.assumptions ?? [], [
      {
        code: "clean-drop-scaled",
        message:
          "the drop of a clean element was scaled with flow and viscosity, that of its housing with the square of the flow",
        source: "DROP-SCALING",
      },
    ]),
  };
}
