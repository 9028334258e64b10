import { checkNumbers } from "../numeric/index.js";
import type { Assumption } from "../provenance/index.js";
import type { FluidSpecification } from "./families.js";
import { FLUID_DATA } from "./fluid-data.js";

/** Share by which the volume grows per °C. All from memory: to be replaced by the data sheet of the fluid at hand. */
export const EXPANSION_PER_C: Record<FluidSpecification, number> = {
  "AS1241 Type IV": 0.00085,
  "AS1241 Type V": 0.00085,
  "MIL-PRF-5606": 0.00084,
  "MIL-PRF-83282": 0.00082,
  "MIL-PRF-87257": 0.00083,
  "MIL-PRF-6083": 0.00084,
  "MIL-PRF-46170": 0.00082,
};

/** A density and the growth of volume that carries it to other temperatures. */
export interface DensityData {
  readonly densityKgPerM3: number;
  readonly atC: number;
  readonly expansionPerC: number;
}

/**
 * Density at a temperature: ρ / (1 + expansion · (t − t₀)).
 *
 * @param fluid - family whose recalled values are used, or the values of a data sheet
 * @returns kg/m³; with an assumption when recalled values were used
 * @throws RangeError for a density or temperature that makes no sense
 * @source FLUID-DATA
 * @source FLUID-EXPANSION
 * @example
 * densityAt("MIL-PRF-83282", 15).densityKgPerM3; // => 850
 */
export function densityAt(
  fluid: FluidSpecification | DensityData,
  temperatureC: number,
): { readonly densityKgPerM3: number; readonly assumptions: readonly Assumption[] } {
  const data =
    typeof fluid === "string"
      ? {
          densityKgPerM3: FLUID_DATA[fluid].densityKgPerM3,
          atC: 15,
          expansionPerC: EXPANSION_PER_C[fluid],
        }
      : fluid;
  checkNumbers("finite", { temperatureC, atC: data.atC, expansionPerC: data.expansionPerC });
  checkNumbers("positive", { densityKgPerM3: data.densityKgPerM3 });
  const growth = 1 + data.expansionPerC * (temperatureC - data.atC);
  if (!(data.densityKgPerM3 > 0 && growth > 0)) {
    throw new RangeError(`no density follows from ${data.densityKgPerM3} kg/m³ at ${temperatureC} °C`);
  }
  const densityKgPerM3 = data.densityKgPerM3 / growth;
  if (typeof fluid !== "string") return { densityKgPerM3, assumptions: [] };
  return {
    densityKgPerM3,
    assumptions: [
      {
        code: "density-from-memory",
        message: `the density of ${fluid} is a recalled value; use the data sheet of the fluid`,
        source: "FLUID-DATA",
      },
    ],
  };
}
