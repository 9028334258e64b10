// More about counts: sizes that were not counted, other volumes and forms, older size scales, counting scatter.

export {
  type AnyCountSet,
  type CountBasis,
  type CountDetail,
  type CountForm,
  type CountObservation,
  countBetween,
  type EstimatedCount,
  estimateAt,
  inVolume,
  levelOf,
  type SameScale,
  type Scatter,
  toCumulative,
  toIntervals,
  toOlder,
  withEstimates,
} from "../counts/index.js";

export { type Interval, poissonInterval } from "../numeric/index.js";
