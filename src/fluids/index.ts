export {
  FLUID_BASES,
  FLUID_SPECIFICATIONS,
  type FluidBase,
  type FluidSpecification,
  type Meeting,
  mayMeet,
  readFluidSpecification,
} from "./families.js";
export { FLUID_DATA, type FluidData } from "./fluid-data.js";
export {
  type LineReading,
  temperatureAt,
  type ViscosityLine,
  type ViscosityPoint,
  viscosityAt,
  viscosityLine,
} from "./viscosity.js";
