export { dayAfter, daysBetween } from "./days.js";
export { type FleetCase, type JudgedCircuit, judgeCarts } from "./fleet.js";
export { type FleetLevels, fleetLevels } from "./fleet-levels.js";
export { type CircuitCase, judgeCircuit, type UnreadResult, type Verdict } from "./judge.js";
export { measureTrend } from "./measure-trend.js";
export {
  boundOf,
  MEASURE_KINDS,
  MEASURES,
  type Measure,
  type Reading,
  readingsOf,
  sideOf,
} from "./measures.js";
export { type PatternCase, type Suggestion, suggestFrom } from "./patterns.js";
export {
  compareVerdicts,
  decide,
  REASONS,
  type Reason,
  type ReasonCode,
  reason,
  VERDICTS,
  type VerdictName,
} from "./reasons.js";
export { sayVerdict } from "./say.js";
export { sayForecast, sayNextSample, sayTrend } from "./say-trend.js";
export { type KnownOrFoundStep, type Segment, yearsBetween } from "./segments.js";
export type { DatedForecast, MeasureTrend, SegmentTrend, TrendCase } from "./trend-case.js";
export { type CircuitTrends, trendsOf } from "./trends.js";
