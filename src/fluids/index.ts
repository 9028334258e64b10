export {
  FLUID_BASES,
  FLUID_SPECIFICATIONS,
  type FluidBase,
  type FluidSpecification,
  type Meeting,
  mayMeet,
  readFluidSpecification,
} from "./families.js";
