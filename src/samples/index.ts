export { type PatchTest, patchTestSchema } from "./bottle-tests.js";
export {
  type Cart,
  type Circuit,
  type CirculatingCircuit,
  cartSchema,
  cartsFileSchema,
  cartsJsonSchema,
  circuitSchema,
  circulates,
  describeConfused,
  inUnits,
} from "./cart.js";
export { carryCarts, carryEvents, eventsAfter, isSame } from "./changes/carry-events.js";
export { cartChanges, type FleetChange, requirementChanges } from "./changes/fleet-changes.js";
export { readClock } from "./clock.js";
export { COUNTED_MINUTES, type CounterRun, counterRunSchema } from "./counter-run.js";
export { describeProblem, expecting } from "./describe-problem.js";
export {
  APPEARANCES,
  type Appearance,
  DESCRIBED,
  type DescribedPart,
  FILLED_FROM,
  SAMPLE_POINTS,
  type SamplePoint,
  sideOfElement,
  UNSUITED_POINTS,
} from "./drawing.js";
export { fluidSchema } from "./fluid-name.js";
export { type Hose, hoseSchema } from "./hoses.js";
export { hourMeterOf, namesHourMeter } from "./hour-meter.js";
export { assumedAsOf, cartsAsOf, type DatedReport, wasKnownBy } from "./known-by.js";
export {
  compareWithMaximum,
  compareWithRange,
  formatMeasured,
  type Limit,
  type LimitRange,
  limitSchema,
  type Measured,
  measuredSchema,
} from "./measured.js";
export { type MeasuredBy, measuredBy, namesWho } from "./measured-by.js";
export { METALS, type Metal } from "./metals.js";
export { findNamed } from "./names/find-named.js";
export { NameIndex, type NameInText } from "./names/name-index.js";
export { confusedPairs, couldBeConfused, keyOfName } from "./names/names.js";
export { ofOtherBases, otherCartChanges } from "./names/other-carts.js";
export { isReadable, READABLE_CHARACTERS } from "./names/readable.js";
export { isSameAircraft, keyOfRegister, looksLikeAircraft } from "./names/registers.js";
export {
  eventsInOrder,
  hasZone,
  MAX_RUN_MINUTES,
  mayFollow,
  mayPrecede,
  minutesOfRuns,
} from "./order-of-day.js";
export {
  type CartState,
  type CircuitEvent,
  cartStateSchema,
  circuitEventSchema,
  EVENT_KINDS,
  type FilterElement,
  filterElementSchema,
  type Ingress,
  ingressSchema,
  type RatedBeta,
  ratedBetaSchema,
  type StatedQuantity,
} from "./parts-of-circuit.js";
export {
  isPatchCode,
  MAX_PATCH_CLASS,
  PATCH_LIMIT_STANDARDS,
  PATCH_STANDARDS,
  type PatchPlace,
  type PatchStandard,
  patchPlaces,
} from "./patch-class.js";
export { type Confidence, confidenceSchema, type Precision } from "./precision.js";
export {
  MAX_DAYS,
  type Requirement,
  type RequirementsFile,
  requirementSchema,
  requirementsFileSchema,
  requirementsJsonSchema,
} from "./requirement.js";
export { maximumOf } from "./requirement-limits.js";
export {
  countSetSchema,
  daySchema,
  isCounterRun,
  type LimitedCount,
  type Origin,
  type OtherScaleCount,
  type ReportedClass,
  type ReportText,
  reportedClassSchema,
  resultsOf,
  type Sample,
  sampleSchema,
  type WordedResult,
} from "./sample.js";
export {
  badStatement,
  fluidsSaidIn,
  isTitleOfVerdict,
  leavesWords,
  readStatement,
  type Statement,
  saysPlainly,
} from "./statements/laboratory-statement.js";
export {
  asksForAnother,
  doubtsSamples,
  explains,
  meansAll,
  namesInLine,
} from "./statements/line-statement.js";
export { words } from "./statements/words.js";
export { FIELD_OF_QUANTITY, nameOfCount, wordedCounts } from "./worded.js";
