import type { SourceKey } from "../provenance/index.js";
import { FLUID_BASES, FLUID_SPECIFICATIONS, type FluidSpecification } from "./families.js";
import { FLUID_DATA } from "./fluid-data.js";

/** A lower and an upper end, both inside. */
export interface RecalledRange {
  readonly min: number;
  readonly max: number;
}

/** AS1241 Type IV comes in two classes: 1 is of low density, 2 of high density. */
export type DensityClass = 1 | 2;

/** Density at 15 °C in kg/m³ that one fluid usually has, new or in service. */
export interface UsualDensity extends RecalledRange {
  readonly class?: DensityClass;
  readonly nominal: number;
  readonly source: SourceKey;
}

function recalled(min: number, nominal: number, max: number): UsualDensity {
  return { min, nominal, max, source: "FLUID-DENSITY-RANGES" };
}

/** From memory; the in-service set of {@link CONDITION_LIMITS} ends at 1.066 relative to water at 25 °C, about 1072 here. */
const TYPE_IV_CLASS_2 = recalled(1054, 1063, 1075);

/**
 * Usual densities, by family and class. All from memory but the 870 of MIL-PRF-5606, which one printed data sheet bears out.
 *
 * The end that faces the other base is drawn close: 5 % of a hydrocarbon in a phosphate ester of nominal density, or of a
 * phosphate ester in a nominal hydrocarbon, moves the density by 6.5 to 11 kg/m³ and past that end. The other end is
 * wide. Each end leaves about 1 kg/m³ for the reproducibility of a hydrometer (from memory), so a fluid near its
 * nominal density is never past an end by measuring alone. A fluid that starts beyond its nominal density, away from the
 * other base, hides up to as much as it starts beyond it; only a range given for the fluid at hand sees more.
 *
 * Between hydrocarbons the numbers do not allow it: their ranges touch or overlap, and 5 % of one moves another by
 * 1.5 kg/m³ at most. Type IV class 1 and Type V have one range. These mixtures are not seen by density.
 *
 * @source FLUID-DENSITY-RANGES
 */
export const USUAL_DENSITIES: Record<FluidSpecification, readonly UsualDensity[]> = {
  "AS1241 Type IV": [
    { ...recalled(994, FLUID_DATA["AS1241 Type IV"].densityKgPerM3, 1025), class: 1 },
    { ...TYPE_IV_CLASS_2, class: 2 },
  ],
  "AS1241 Type V": [recalled(994, FLUID_DATA["AS1241 Type V"].densityKgPerM3, 1025)],
  "MIL-PRF-5606": [recalled(855, FLUID_DATA["MIL-PRF-5606"].densityKgPerM3, 876)],
  "MIL-PRF-83282": [recalled(838, FLUID_DATA["MIL-PRF-83282"].densityKgPerM3, 857)],
  "MIL-PRF-87257": [recalled(828, FLUID_DATA["MIL-PRF-87257"].densityKgPerM3, 847)],
  "MIL-PRF-6083": [recalled(855, FLUID_DATA["MIL-PRF-6083"].densityKgPerM3, 880)],
  "MIL-PRF-46170": [recalled(845, FLUID_DATA["MIL-PRF-46170"].densityKgPerM3, 875)],
};

/**
 * How far a recalled range may be wrong, in kg/m³ (common practice, no source): as much as 13 % of the other base moves a
 * density. What lies further out is another fluid or a mixture, whatever the range should have been.
 */
const DENSITY_DOUBT = 20;

/**
 * The usual densities of a fluid.
 *
 * @param label - what the label says; a class on it leaves only the range of that class
 * @returns one range, or two for AS1241 Type IV of unknown class; what lies between the two is in neither
 */
export function usualDensities(fluid: FluidSpecification, label?: string): readonly UsualDensity[] {
  const all = USUAL_DENSITIES[fluid];
  const named = /\bcl(?:ass)?[\s.-]*([12])\b/i.exec(label ?? "")?.[1];
  const ofClass = all.filter((range) => range.class === Number(named));
  return ofClass.length === 0 ? all : ofClass;
}

/** Densities that a fluid may have if the recalled range is wrong; beyond them it is surely not that fluid alone. */
export function possibleDensity(fluid: FluidSpecification): RecalledRange {
  const all = USUAL_DENSITIES[fluid];
  return {
    min: Math.min(...all.map(({ min }) => min)) - DENSITY_DOUBT,
    max: Math.max(...all.map(({ max }) => max)) + DENSITY_DOUBT,
  };
}

/** How far viscosity may lie from the recalled value before it is in doubt (common practice, no source). */
const VISCOSITY_USUAL = 0.25;
/** How far before it is surely not that fluid alone (common practice, no source). */
const VISCOSITY_POSSIBLE = 0.4;
/**
 * A phosphate ester in service is let down to 6.0 mm²/s at 38 °C (from memory), which is 5.7 at 40 °C: polymers shear down.
 *
 * @source PHOSPHATE-ESTER-IN-SERVICE-SET
 */
const ESTER_SHEARED = 5.7;

/** Usual viscosity at 40 °C in mm²/s: 25 % about the recalled value. */
export function usualViscosity(fluid: FluidSpecification): RecalledRange {
  return about(fluid, VISCOSITY_USUAL);
}

/** Viscosity at 40 °C in mm²/s beyond which it is surely not that fluid alone. */
export function possibleViscosity(fluid: FluidSpecification): RecalledRange {
  const { min, max } = about(fluid, VISCOSITY_POSSIBLE);
  return { min: FLUID_BASES[fluid] === "phosphate ester" ? Math.min(min, ESTER_SHEARED) : min, max };
}

function about(fluid: FluidSpecification, tolerance: number): RecalledRange {
  const nominal = FLUID_DATA[fluid].viscosity[0].mm2PerS;
  return { min: nominal * (1 - tolerance), max: nominal * (1 + tolerance) };
}

/** The other fluids that usually have a viscosity at 40 °C. */
export function fluidsOfViscosity(mm2PerS: number, besides: FluidSpecification): string[] {
  return FLUID_SPECIFICATIONS.filter((fluid) => fluid !== besides && within(mm2PerS, usualViscosity(fluid)));
}

/**
 * What a fluid of unusual density may be: other fluids that usually have it, and the fluid with a share of the other base.
 *
 * @returns for example "AS1241 Type IV class 2" and "MIL-PRF-83282 with about 13 % of a phosphate ester"
 */
export function fluidsOfDensity(kgPerM3: number, besides: FluidSpecification): string[] {
  const others = FLUID_SPECIFICATIONS.filter((fluid) => fluid !== besides).flatMap((fluid) =>
    USUAL_DENSITIES[fluid]
      .filter((range) => within(kgPerM3, range))
      .map((range) => (range.class === undefined ? fluid : `${fluid} class ${range.class}`)),
  );
  return [...mixtureOf(kgPerM3, besides), ...others];
}

/** The share of the other base, at its nominal density, that explains a density; with more than half it is that fluid. */
function mixtureOf(kgPerM3: number, own: FluidSpecification): string[] {
  const isEster = FLUID_BASES[own] === "phosphate ester";
  const other = FLUID_DATA[isEster ? "MIL-PRF-83282" : "AS1241 Type IV"].densityKgPerM3;
  return USUAL_DENSITIES[own].flatMap((range) => {
    const share = (kgPerM3 - range.nominal) / (other - range.nominal);
    if (!(share > 0 && share <= 0.5) || within(kgPerM3, range)) return [];
    const name = range.class === undefined ? own : `${own} class ${range.class}`;
    const base = isEster ? "hydrocarbon fluid" : "phosphate ester";
    return [`${name} with about ${Math.max(1, Math.round(100 * share))} % of a ${base}`];
  });
}

function within(value: number, { min, max }: RecalledRange): boolean {
  return value >= min && value <= max;
}
