import { frozen, type SourceKey } from "../provenance/index.js";
import type { FluidSpecification } from "./families.js";

/** A published or recalled limit of a fluid. The requirement of the aircraft system always goes before it. */
export interface ConditionLimit {
  readonly fluids: readonly FluidSpecification[];
  readonly measure:
    | "water"
    | "acid"
    | "viscosity38"
    | "specificGravity25"
    | "chlorine"
    | "calcium"
    | "potassium"
    | "sodium"
    | "sulfur";
  readonly state: "new" | "in-service";
  readonly where: string;
  readonly minimum?: number;
  readonly maximum?: number;
  readonly unit: "ppm by mass" | "mg KOH/g" | "mm²/s" | "relative to water";
  readonly source: SourceKey;
}

const ESTERS = ["AS1241 Type IV", "AS1241 Type V"] as const;
const MIL_FLUIDS = ["MIL-PRF-5606", "MIL-PRF-83282", "MIL-PRF-87257"] as const;

const SET = {
  fluids: ESTERS,
  state: "in-service",
  where: "airline custom",
  source: "PHOSPHATE-ESTER-IN-SERVICE-SET",
} as const;

/**
 * Limits that were found, each with its standing; where the source is from memory it is a default to be edited.
 *
 * @source TB-1-1520-240-20-121
 * @source NEW-FLUID-LIMITS
 * @source PHOSPHATE-ESTER-IN-SERVICE
 */
export const CONDITION_LIMITS: readonly ConditionLimit[] = frozen([
  {
    fluids: ["MIL-PRF-83282"],
    measure: "water",
    state: "in-service",
    where: "ground test stands, ground power units and hydraulic carts",
    maximum: 200,
    unit: "ppm by mass",
    source: "TB-1-1520-240-20-121",
  },
  {
    fluids: ["MIL-PRF-5606"],
    measure: "water",
    state: "in-service",
    where: "aircraft systems",
    maximum: 250,
    unit: "ppm by mass",
    source: "TB-1-1520-240-20-121",
  },
  {
    fluids: MIL_FLUIDS,
    measure: "water",
    state: "new",
    where: "new fluid",
    maximum: 100,
    unit: "ppm by mass",
    source: "NEW-FLUID-LIMITS",
  },
  {
    fluids: ["MIL-PRF-5606", "MIL-PRF-87257"],
    measure: "acid",
    state: "new",
    where: "new fluid",
    maximum: 0.2,
    unit: "mg KOH/g",
    source: "NEW-FLUID-LIMITS",
  },
  {
    fluids: ["MIL-PRF-83282"],
    measure: "acid",
    state: "new",
    where: "new fluid",
    maximum: 0.1,
    unit: "mg KOH/g",
    source: "NEW-FLUID-LIMITS",
  },
  {
    fluids: ESTERS,
    measure: "water",
    state: "new",
    where: "new fluid",
    maximum: 2000,
    unit: "ppm by mass",
    source: "NEW-FLUID-LIMITS",
  },
  {
    fluids: ESTERS,
    measure: "acid",
    state: "new",
    where: "new fluid",
    maximum: 0.1,
    unit: "mg KOH/g",
    source: "NEW-FLUID-LIMITS",
  },
  {
    fluids: ESTERS,
    measure: "water",
    state: "in-service",
    where: "airline custom",
    maximum: 8000,
    unit: "ppm by mass",
    source: "PHOSPHATE-ESTER-IN-SERVICE",
  },
  {
    fluids: ESTERS,
    measure: "acid",
    state: "in-service",
    where: "airline custom",
    maximum: 1.5,
    unit: "mg KOH/g",
    source: "PHOSPHATE-ESTER-IN-SERVICE",
  },
  { ...SET, measure: "viscosity38", minimum: 6, maximum: 12.5, unit: "mm²/s" },
  { ...SET, measure: "specificGravity25", minimum: 0.995, maximum: 1.066, unit: "relative to water" },
  { ...SET, measure: "chlorine", maximum: 200, unit: "ppm by mass" },
  { ...SET, measure: "calcium", maximum: 50, unit: "ppm by mass" },
  { ...SET, measure: "potassium", maximum: 50, unit: "ppm by mass" },
  { ...SET, measure: "sodium", maximum: 50, unit: "ppm by mass" },
  { ...SET, measure: "sulfur", maximum: 500, unit: "ppm by mass" },
]);

/**
 * The limits found for a family.
 *
 * @example
 * conditionLimitsOf("MIL-PRF-83282").length; // => 3
 */
export function conditionLimitsOf(fluid: FluidSpecification): ConditionLimit[] {
  return CONDITION_LIMITS.filter((limit) => limit.fluids.includes(fluid));
}
