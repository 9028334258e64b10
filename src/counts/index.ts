export {
  CountError,
  type CountForm,
  type CountSet,
  type CumulativeCount,
  countAt,
  countBetween,
  cumulativeCounts,
  type IntervalCount,
  isWithin,
  type SizeScale,
} from "./count-set.js";
