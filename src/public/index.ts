// What people meet first: counts and classes, a circulation plan, a verdict. No file, clock or database is touched.

// Circulation: how long, how sure, did it work
export {
  assessInterim,
  type CirculationInput,
  type CirculationPlan,
  type CirculationStep,
  circulationSteps,
  type DryingInput,
  type DryingNeed,
  type ExchangeInput,
  type ExchangePlan,
  formatMinutes,
  type InterimAssessment,
  type InterimInput,
  type InterimSample,
  type PlanConfidence,
  type PlannedChannel,
  planCirculation,
  planConfidence,
  planDrying,
  planExchange,
  type StepsInput,
  type Uncertainty,
} from "../circulation/index.js";

// Cleanliness classes and targets
export {
  type Classification,
  type ClassResult,
  type CleanlinessTarget,
  type ComparedLimit,
  classify,
  classifyAll,
  compareWithLimits,
  type FullClassification,
  formatIso4406,
  formatTarget,
  type Iso4406Code,
  type JointCertainty,
  limitsConfidence,
  limitsOfTarget,
  type ParticleLimit,
  parseIso4406,
  parseTarget,
} from "../cleanliness/index.js";
// Counts
export {
  type BlankedSample,
  type ConvertedCounts,
  CountError,
  type Counting,
  type CountSet,
  type CumulativeCount,
  countAt,
  cumulativeCounts,
  type IntervalCount,
  intervalCounts,
  type PooledCounts,
  poolReplicates,
  type Reproducibility,
  type SizeScale,
  subtractBlank,
  toUmC,
} from "../counts/index.js";

// Verdicts
export {
  type Assessed,
  type CircuitCase,
  type CircuitDecision,
  type Conformance,
  cartsTogether,
  type Decision,
  type DescribedVerdict,
  describeTrend,
  describeVerdict,
  type FleetCase,
  type FleetRow,
  fleetRows,
  type Judged,
  type JudgedCart,
  type JudgedCircuit,
  judgeCarts,
  judgeCircuit,
  type Measure,
  type MeasureTrend,
  measureTrend,
  type NextStep,
  type Outcome,
  type Outlook,
  REASONS,
  type Reason,
  type ReasonCode,
  type Standing,
  standsAs,
  type TrendCase,
  type UnreadResult,
  type ValidUntil,
  VERDICTS,
  type Verdict,
  type VerdictName,
  type VerdictOnCircuit,
  validUntil,
} from "../fitness/index.js";

// Fluids
export {
  FLUID_SPECIFICATIONS,
  type FluidSpecification,
  type Meeting,
  mayMeet,
  tryParseFluidSpecification,
} from "../fluids/index.js";
// Seeded random numbers
export { type RandomSource, seededRandom } from "../numeric/index.js";
// Sources, assumptions and cautions
export {
  type Assumption,
  CART_CAUTIONS,
  type Caution,
  describeSource,
  SOURCES,
  type SourceKey,
} from "../provenance/index.js";
// Samples, carts and requirements
export type {
  Cart,
  Circuit,
  CircuitEvent,
  Measured,
  Requirement,
  RequirementsFile,
  Sample,
} from "../samples/index.js";
// Quantities as people write them
export {
  formatOnGauge,
  formatQuantity,
  KEPT_UNITS,
  type QuantityKind,
  type QuantityReading,
  tryParseQuantity,
} from "../units/index.js";
