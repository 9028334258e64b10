export { type Acceptance, type AcceptedBy, acceptedCounts, strictestLimits } from "./accepted-counts.js";
export {
  type AssessedLimit,
  assessTarget,
  type ClassesConfidence,
  confidenceOfClasses,
  type LikelyClasses,
  type TargetAssessment,
} from "./assess-counts.js";
export {
  type ChannelCertainty,
  classConfidence,
  type JointProbability,
  type ProbabilityRange,
  type TableCertainty,
} from "./certainty.js";
export { countsAtMost, fewestAbove, type UmCCounts } from "./class-edges.js";
export {
  type ClassFault,
  checkStatedClass,
  type DirtierThanCounts,
  dirtierThanCounts,
  isDirtierThanMost,
  isDirtierThanTarget,
} from "./class-of-report.js";
export {
  type Channel,
  CLASS_NAMES,
  type ClassifiedChannel,
  type ClassName,
  type ClassResult,
  type ClassTable,
  classIndexOf,
  classifyByTable,
  compareClasses,
  limitsOfChannel,
  limitsOfClass,
  readClassName,
  type SampleClass,
} from "./class-table.js";
export { type Classification, classify } from "./classify.js";
export { classifyAll, type FullClassification, type Unserved } from "./classify-all.js";
export { type CrossReading, countsOfAs4059, crossRead, type PossibleChannel } from "./cross-reading.js";
export {
  type CountLimit,
  type DecidedLimit,
  decideLimits,
  type LimitBasis,
  type LimitReading,
  type ParticleReport,
} from "./decide-limits.js";
export {
  betasOfRating,
  describeElementTaken,
  RATING_EXAMPLES,
  type RatedElement,
  unknownElement,
  withMeanBelow,
} from "./element-rating.js";
export { codeConfidence, type JointCertainty, limitsConfidence } from "./joint-certainty.js";
export { type ComparedLimit, compareWithLimits, mostUsed, type ParticleLimit } from "./particle-limit.js";
export { formatSize, pairedUm, readChannel, SIZE_PAIRS, type TableCounts } from "./size-pairs.js";
export {
  AS4059_CUMULATIVE,
  AS4059_CUMULATIVE_ROUNDED,
  AS4059_CUMULATIVE_TABLES,
  type As4059Limits,
  classifyAs4059Cumulative,
  type SizeCode,
} from "./standards/as4059-cumulative.js";
export {
  AS4059_DIFFERENTIAL,
  classifyAs4059Differential,
  type SizeRange,
} from "./standards/as4059-differential.js";
export {
  AS4059_REVISIONS,
  type As4059Code,
  type As4059Revision,
  formatAs4059,
  parseAs4059,
  type ReadAs4059,
  readSizedClasses,
  type SizedClass,
} from "./standards/as4059-notation.js";
export { classifyGost17216, GOST_17216, type GostClass, type GostRange } from "./standards/gost-17216.js";
export {
  classifyIso4406,
  formatIso4406,
  formatScaleNumber,
  ISO_4406,
  ISO_4406_LAST,
  ISO_4406_SIZES_UM,
  ISO_4406_UPPER_PER_ML,
  type Iso4406Channel,
  type Iso4406Code,
  iso4406Channels,
  parseIso4406,
  parseTwoNumberCode,
  RAW_PARTICLES_MIN,
  type ScaleNumber,
  scaleNumberOf,
} from "./standards/iso-4406.js";
export {
  type AllowedCounts,
  type ComparedPlace,
  compareIso4406,
  comparePlaces,
  countsOfIso4406,
  limitsOfIso4406,
} from "./standards/iso-4406-compare.js";
export {
  type ContinuousCode,
  continuousCode,
  countOfContinuousCode,
} from "./standards/iso-4406-continuous.js";
export { countOfLevel, type Level1246, type LevelChannel, levelOf1246 } from "./standards/mil-std-1246.js";
export { classifyNas1638, NAS_1638 } from "./standards/nas-1638.js";
export {
  classifyNavy,
  NAVY_ACCEPTABLE,
  NAVY_CLASSES,
  type NavyClass,
  type NavyRange,
} from "./standards/navy.js";
export {
  compareWithNewFluid,
  type HeldNewFluid,
  NEW_FLUID_LIMITS,
  type NewFluidLimits,
} from "./standards/new-fluid.js";
export {
  AS4059_TABLES,
  as4059TableIn,
  BEYOND,
  CLASS_STANDARDS,
  type ClassStandard,
  classesIn,
  NOT_OF_THE_SAMPLE,
  readStatedClass,
  type StatedClass,
} from "./stated-class.js";
export {
  type CleanlinessTarget,
  formatTarget,
  isOfStandard,
  limitsOfTarget,
  parseTarget,
  TARGET_STANDARDS,
  tryParseIso4406,
  tryParseTarget,
} from "./target.js";
