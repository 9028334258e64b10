export { type ColourReading, DYE_HUES, dyeOf, type Hue, readColour, wordsOf } from "./colours.js";
export { CONDITION_LIMITS, type ConditionLimit, conditionLimitsOf } from "./condition-limits.js";
export { type DensityData, densityAt, EXPANSION_PER_C } from "./density.js";
export {
  type AircraftFluid,
  FLUID_BASES,
  FLUID_SPECIFICATIONS,
  type FluidBase,
  type FluidSpecification,
  fluidsNamedIn,
  isPreservative,
  KNOWN_FLUIDS,
  type Meeting,
  mayMeet,
  PRESERVATIVE_FLUIDS,
  tryParseFluidSpecification,
} from "./families.js";
export { FLUID_DATA, type FluidData, fluidDataAssumption } from "./fluid-data.js";
export { FAR_BEYOND, FOREIGN_ELEMENTS, type ForeignElement } from "./foreign-elements.js";
export {
  type DensityClass,
  fluidsOfDensity,
  fluidsOfViscosity,
  possibleDensity,
  possibleViscosity,
  type RecalledRange,
  USUAL_DENSITIES,
  type UsualDensity,
  usualDensities,
  usualViscosity,
} from "./identity-ranges.js";
export {
  type Comparison,
  compareResults,
  type MethodMeasure,
  TEST_METHODS,
  type TestMethod,
  type TestMethodName,
  withinPublished,
} from "./method-precision.js";
export { type MixingSign, signsOfMixing } from "./mixing-signs.js";
export {
  type LineReading,
  temperatureAt,
  type ViscosityLine,
  type ViscosityPoint,
  viscosityAt,
  viscosityLine,
} from "./viscosity.js";
export {
  freeWaterTemperature,
  INSULATING_OIL_CURVE,
  type SaturationAnswer,
  type SaturationCurve,
  type SaturationPoint,
  saturationCurve,
  saturationPpm,
  shareOfSaturation,
  waterFromShare,
  waterPpmByVolume,
} from "./water-saturation.js";
