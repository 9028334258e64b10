export {
  type Cart,
  type Circuit,
  type CircuitEvent,
  cartSchema,
  cartsFileSchema,
  circuitSchema,
  type FilterElement,
  filterElementSchema,
  type Ingress,
  type RatedBeta,
} from "./cart.js";
export {
  compareWithMaximum,
  type Limit,
  limitSchema,
  type Measured,
  measuredSchema,
  sayMeasured,
} from "./measured.js";
export {
  type Requirement,
  type RequirementsFile,
  requirementSchema,
  requirementsFileSchema,
} from "./requirement.js";
export {
  countSetSchema,
  daySchema,
  type LimitedCount,
  type Origin,
  type OtherScaleCount,
  type ReportedClass,
  resultsOf,
  type Sample,
  sampleSchema,
  type WordedResult,
} from "./sample.js";
