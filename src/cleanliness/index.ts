export { AS4059_CUMULATIVE, classifyAs4059Cumulative, type SizeCode } from "./as4059-cumulative.js";
export { AS4059_DIFFERENTIAL, classifyAs4059Differential, type SizeRange } from "./as4059-differential.js";
export {
  CLASS_NAMES,
  type ClassifiedChannel,
  type ClassName,
  type ClassResult,
  type ClassTable,
  compareClasses,
  limitsOfClass,
  readClassName,
  type SampleClass,
} from "./class-table.js";
export { type Classification, classify } from "./classify.js";
export {
  classifyIso4406,
  compareIso4406,
  formatIso4406,
  formatScaleNumber,
  ISO_4406_LAST,
  ISO_4406_SIZES_UM,
  ISO_4406_UPPER_PER_ML,
  type Iso4406Code,
  limitsOfIso4406,
  readIso4406,
  type ScaleNumber,
  scaleNumberOf,
} from "./iso-4406.js";
export { type ContinuousCode, continuousCode, countOfContinuousCode } from "./iso-4406-continuous.js";
export { classifyNas1638, NAS_1638 } from "./nas-1638.js";
export { type HeldLimit, holdAgainst, mostUsed, type ParticleLimit } from "./particle-limit.js";
export { type CleanlinessTarget, limitsOfTarget, readTarget, sayTarget, TARGET_STANDARDS } from "./target.js";
