import { type Assumption, frozen, type SourceKey } from "../provenance/index.js";
import type { FluidSpecification } from "./families.js";
import type { ViscosityPoint } from "./viscosity.js";

/** Physical data of a family. All from memory: to be replaced by the data sheet of the fluid at hand. */
export interface FluidData {
  /** At 40 and 100 °C. */
  readonly viscosity: readonly [ViscosityPoint, ViscosityPoint];
  readonly densityKgPerM3: number;
  readonly specificHeatKjPerKgK: number;
  readonly source: SourceKey;
}

function fromMemory(
  at40: number,
  at100: number,
  densityKgPerM3: number,
  specificHeatKjPerKgK: number,
): FluidData {
  return {
    viscosity: [
      { temperatureC: 40, mm2PerS: at40 },
      { temperatureC: 100, mm2PerS: at100 },
    ],
    densityKgPerM3,
    specificHeatKjPerKgK,
    source: "FLUID-DATA",
  };
}

/**
 * Editable defaults for each family. Viscosities are specification minima or the middle of the recalled range.
 *
 * @source FLUID-DATA
 */
export const FLUID_DATA: Record<FluidSpecification, FluidData> = frozen({
  "AS1241 Type IV": fromMemory(10.5, 3.5, 1000, 1.7),
  "AS1241 Type V": fromMemory(10.5, 3.5, 1000, 1.7),
  "MIL-PRF-5606": fromMemory(13.2, 4.9, 870, 1.9),
  "MIL-PRF-83282": fromMemory(14, 3.45, 850, 2),
  "MIL-PRF-87257": fromMemory(6.7, 2, 840, 2),
  "MIL-PRF-6083": fromMemory(13.2, 4.9, 870, 1.9),
  "MIL-PRF-46170": fromMemory(17, 3.6, 860, 2),
});

/** Says which data of a family a result rests on, so that a person can replace them. */
export function fluidDataAssumption(fluid: FluidSpecification): Assumption {
  const { viscosity, densityKgPerM3, specificHeatKjPerKgK, source } = FLUID_DATA[fluid];
  const points = viscosity.map((point) => `${point.mm2PerS} mm²/s at ${point.temperatureC} °C`);
  return {
    code: "fluid-data-from-memory",
    message:
      `${fluid} was taken with ${points.join(", ")}, ${densityKgPerM3} kg/m³ and ${specificHeatKjPerKgK} kJ/(kg K), ` +
      "from memory; use the data sheet of your fluid",
    source,
  };
}
