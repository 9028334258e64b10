export { BLANK_SHARE_MAX, type BlankedSample, subtractBlank } from "./blank.js";
export { sizeOfBreakOff } from "./break-off.js";
export {
  type AnyCountSet,
  type CountBasis,
  type CountDetail,
  CountError,
  type CountForm,
  type Counting,
  type CountSet,
  type CumulativeCount,
  cumulativeCounts,
  formatRange,
  type IntervalCount,
  intervalCounts,
  MAX_COUNTED,
  MAX_SIZE_UM,
  MAX_VOLUME_ML,
  type SameScale,
  type SizeScale,
} from "./count-set.js";
export { bringToVolume, subtractAsWritten } from "./decimal.js";
export { type EstimatedCount, estimateAt, withEstimates } from "./estimate.js";
export { inVolume, toCumulative, toIntervals } from "./forms.js";
export { type CountObservation, levelOf, logSdOf, type Reproducibility } from "./level.js";
export {
  type CountReading,
  countAt,
  countBetween,
  highestWithin,
  isWithin,
  leastDirect,
  rawParticles,
  readBetween,
  sampleSeenMl,
  USUAL_COUNTED_ML,
} from "./reading.js";
export { type PooledCounts, poolReplicates, type Scatter } from "./replicates.js";
export { averageOverLaboratory, type BoundedObservation } from "./shared-laboratory.js";
export { type ConvertedCounts, OLDER_TO_UM_C, toOlder, toUmC } from "./size-scales.js";
