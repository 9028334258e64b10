// The pure rooms: nothing here touches a file, a clock or a database.

// Circulation: how long, how sure, did it work
export {
  assessInterim,
  bracketOf,
  type CirculationInput,
  type CirculationPlan,
  type CirculationStep,
  channelLevel,
  circulationFloor,
  circulationSteps,
  cleanDrop,
  concentrationAfter,
  dustMass,
  elementLoading,
  expectAfter,
  flowNeeded,
  type HowSure,
  heldAfter,
  howSure,
  type InterimAssessment,
  type InterimSample,
  type LevelBand,
  levelBands,
  type Mixing,
  mostTellingMinutes,
  passesToLimit,
  planCirculation,
  planDrying,
  planExchange,
  planHeat,
  portLevel,
  type RandomSource,
  readIndicator,
  remediesFor,
  removalAt,
  rulesOfThumb,
  seededRandom,
  TYPICAL_UNCERTAINTY,
  type Uncertainty,
} from "./circulation/index.js";
export {
  type Classification,
  type ClassResult,
  type CleanlinessTarget,
  classify,
  classifyAs4059Cumulative,
  classifyAs4059Differential,
  classifyIso4406,
  classifyNas1638,
  compareClasses,
  compareIso4406,
  formatIso4406,
  holdAgainst,
  type Iso4406Code,
  limitsOfTarget,
  type ParticleLimit,
  readIso4406,
  readTarget,
  type SampleClass,
  sayTarget,
} from "./cleanliness/index.js";

// Counts and cleanliness
export {
  CountError,
  type CountSet,
  type CumulativeCount,
  countAt,
  countBetween,
  cumulativeCounts,
} from "./counts/index.js";
// Fitness
export {
  type JudgedCircuit,
  judgeCarts,
  judgeCircuit,
  type Reason,
  type Verdict,
  type VerdictName,
} from "./fitness/index.js";

// Fluids, samples and carts
export {
  FLUID_DATA,
  FLUID_SPECIFICATIONS,
  type FluidSpecification,
  mayMeet,
  readFluidSpecification,
  temperatureAt,
  type ViscosityLine,
  viscosityAt,
  viscosityLine,
} from "./fluids/index.js";
// Provenance and units
export {
  type Assumption,
  CART_CAUTIONS,
  type Caution,
  SOURCES,
  type SourceKey,
  saySource,
} from "./provenance/index.js";
export {
  type Cart,
  type Circuit,
  cartsFileSchema,
  type Measured,
  type Requirement,
  requirementsFileSchema,
  type Sample,
  sampleSchema,
} from "./samples/index.js";
export { type RobustSlope, theilSen } from "./trend/index.js";
export { KEPT_UNITS, type QuantityKind, type QuantityReading, readQuantity } from "./units/index.js";
