export { carryCarts, eventsAfter } from "./carry-events.js";
export {
  type Cart,
  type CartState,
  type Circuit,
  type CircuitEvent,
  cartSchema,
  cartStateSchema,
  cartsFileSchema,
  circuitSchema,
  EVENT_KINDS,
  type FilterElement,
  filterElementSchema,
  type Ingress,
  type RatedBeta,
  sayConfused,
} from "./cart.js";
export {
  APPEARANCES,
  type Appearance,
  DESCRIBED,
  type DescribedPart,
  FILLED_FROM,
  SAMPLE_POINTS,
  type SamplePoint,
} from "./drawing.js";
export { cartChanges, type FleetChange, requirementChanges } from "./fleet-changes.js";
export {
  badStatement,
  fluidsSaidIn,
  readStatement,
  type Statement,
  saysPlainly,
} from "./laboratory-statement.js";
export {
  compareWithMaximum,
  compareWithRange,
  type Limit,
  limitSchema,
  type Measured,
  measuredSchema,
  type Range,
  sayMeasured,
} from "./measured.js";
export { METALS, type Metal } from "./metals.js";
export { NameIndex, type NameInText } from "./name-index.js";
export { confusedPairs, couldBeConfused } from "./names.js";
export { type Confidence, confidenceSchema, type Precision, precisionSchema } from "./precision.js";
export { isReadable, READABLE_CHARACTERS } from "./readable.js";
export {
  MOST_DAYS,
  type Requirement,
  type RequirementsFile,
  requirementSchema,
  requirementsFileSchema,
  requirementsJsonSchema,
} from "./requirement.js";
export {
  countSetSchema,
  daySchema,
  type LimitedCount,
  type Origin,
  type OtherScaleCount,
  type ReportedClass,
  type ReportText,
  resultsOf,
  type Sample,
  sampleSchema,
  type WordedResult,
} from "./sample.js";
export { sayProblem } from "./say-problem.js";
