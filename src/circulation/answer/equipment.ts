import {
  FLUID_DATA,
  type FluidSpecification,
  fluidDataAssumption,
  type ViscosityLine,
  viscosityLine,
} from "../../fluids/index.js";
import { type Assumption, joinAssumptions } from "../../provenance/index.js";
import { type HeatInput, type HeatPlan, planHeat } from "../equipment/heat.js";
import { type ElementLoading, elementLoading, QUARTZ_SPHERES } from "../equipment/loading.js";
import {
  assessIndicator,
  type IndicatorInput,
  type IndicatorReading,
  type RatedDrop,
} from "../equipment/pressure-drop.js";
import type { CirculationInput } from "../model/circuit.js";
import { removedBetween } from "../model/expected.js";

/** What is known of heat; the rest follows from the circuit, the fluid or common practice. */
export type HeatSettings = Pick<HeatInput, "dropBar" | "startC" | "limitC"> &
  Partial<
    Pick<
      HeatInput,
      "densityKgPerM3" | "specificHeatKjPerKgK" | "pumpEfficiency" | "coolingKw" | "restartC" | "shownIn"
    >
  > & {
    /** Gives density and specific heat, from memory, where they are absent. */
    readonly fluid?: FluidSpecification;
  };

/**
 * Splits a circulation into runs below the high-temperature limit; see {@link planHeat}.
 *
 * Without an efficiency the pump is taken to lose nothing, without cooling nothing leaves the fluid, and without a restart
 * temperature the fluid cools to where it started.
 *
 * @throws RangeError when neither the fluid nor its density and specific heat are given
 */
export function heatOfCirculation(
  circuit: Pick<CirculationInput, "volumeL" | "flowLpm">,
  { fluid, ...settings }: HeatSettings,
  minutes: number,
): HeatPlan {
  const data = fluid && FLUID_DATA[fluid];
  const densityKgPerM3 = settings.densityKgPerM3 ?? data?.densityKgPerM3;
  const specificHeatKjPerKgK = settings.specificHeatKjPerKgK ?? data?.specificHeatKjPerKgK;
  if (densityKgPerM3 === undefined || specificHeatKjPerKgK === undefined) {
    throw new RangeError("the fluid, or its density and specific heat, must be given");
  }
  const plan = planHeat(
    {
      pumpEfficiency: 1,
      coolingKw: 0,
      restartC: settings.startC,
      ...settings,
      volumeL: circuit.volumeL,
      flowLpm: circuit.flowLpm,
      densityKgPerM3,
      specificHeatKjPerKgK,
    },
    minutes,
  );
  return { ...plan, assumptions: joinAssumptions(recalled(fluid), plan.assumptions) };
}

/** What is known of an element. */
export interface ElementSettings {
  /** Rated retained capacity in grams of test dust. */
  readonly capacityG: number;
  /** 0 when absent. */
  readonly retainedBeforeG?: number;
  /** Of the dust; quartz when absent. */
  readonly densityGPerCm3?: number;
  /** Of the dust; spheres when absent. */
  readonly shapeFactor?: number;
}

/** How far a circulation of this many passes loads the element. */
export function loadingOfCirculation(
  input: CirculationInput,
  { capacityG, retainedBeforeG = 0, ...dust }: ElementSettings,
  passes: number,
): ElementLoading {
  return elementLoading({
    volumeL: input.volumeL,
    capacityG,
    retainedBeforeG,
    removed: removedBetween(input, 0, passes),
    removedPerPassAtEnd: removedBetween(input, passes, passes + 1),
    dust: { ...QUARTZ_SPHERES, ...dust },
  });
}

/** What is known of a clogging indicator. */
export interface IndicatorSettings extends Pick<IndicatorInput, "temperatureC" | "indicatorBar"> {
  /** At the flow of the circuit when no other is given. */
  readonly rated: Omit<RatedDrop, "flowLpm"> & Partial<Pick<RatedDrop, "flowLpm">>;
  /** The viscosity of the fluid; that of a named one is from memory. */
  readonly viscosity: ViscosityLine | FluidSpecification;
}

/** What an indication means while the circuit circulates; see {@link assessIndicator}. */
export function indicatorOfCirculation(
  { flowLpm }: Pick<CirculationInput, "flowLpm">,
  { rated, viscosity, ...settings }: IndicatorSettings,
): IndicatorReading {
  const { line, assumptions } = viscosityOf(viscosity);
  const reading = assessIndicator({ ...settings, flowLpm, rated: { flowLpm, ...rated }, viscosity: line });
  return { ...reading, assumptions: joinAssumptions(assumptions, reading.assumptions) };
}

/** A viscosity line as given, or that of a named fluid, which is from memory. */
export function viscosityOf(viscosity: IndicatorSettings["viscosity"]): {
  readonly line: ViscosityLine;
  readonly assumptions: readonly Assumption[];
} {
  if (typeof viscosity !== "string") return { line: viscosity, assumptions: [] };
  return { line: viscosityLine(...FLUID_DATA[viscosity].viscosity), assumptions: recalled(viscosity) };
}

function recalled(fluid: FluidSpecification | undefined): Assumption[] {
  return fluid === undefined ? [] : [fluidDataAssumption(fluid)];
}
