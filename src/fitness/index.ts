export { type SpeaksUntil, speaksUntil } from "./able-to-speak.js";
export type { Assessed, AssessedChannel, Outcome, Sureness } from "./assessed.js";
export { canonicalJson } from "./canonical-json.js";
export { cartsTogether, type JudgedCart, type Pairing } from "./cart.js";
export type { CircuitCase, UnreadResult } from "./case.js";
export {
  acceptanceLimits,
  conformanceProbability,
  type GlobalRisks,
  globalRisks,
  type Inspection,
  type MeasuredAgainst,
} from "./conformity.js";
export { dayAfter, daysBetween } from "./days.js";
export type { Exchange } from "./exchange-advice.js";
export {
  casesOf,
  type FleetCase,
  type JudgedCircuit,
  judgeCarts,
  judgeCase,
  unreadByCart,
  type VerdictOnCircuit,
} from "./fleet.js";
export { type FleetLevels, fleetLevels } from "./fleet-levels.js";
export { compareFleetRows, ELEMENT_NEAR_CAPACITY, type FleetRow, fleetRows } from "./fleet-rows.js";
export { judgeCircuit } from "./judge.js";
export { type LaboratoryScatter, scatterAt } from "./laboratory.js";
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
export type { NextStep } from "./next-step.js";
export type { Crossing, Outlook } from "./outlook.js";
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
export {
  historyTexts,
  type JudgedBy,
  type RecordedInput,
  recompute,
  recordOf,
  type VerdictRecord,
} from "./record.js";
export { SAMPLING_STEPS, type Step } from "./sampling-steps.js";
export { sayVerdict } from "./say.js";
export { sayForecast, sayNextSample, sayTrend } from "./say-trend.js";
export { type KnownOrFoundStep, type Segment, yearsBetween } from "./segments.js";
export { type Settlement, saySettlement } from "./settle.js";
export { sayPercent, sayPlain } from "./text.js";
export type { DatedForecast, MeasureTrend, SegmentTrend, TrendCase } from "./trend-case.js";
export { type CircuitTrends, trendsOf } from "./trends.js";
export { type DatedCounts, datedCounts, LOOK_BACK, sayUnusual, unusualCounts } from "./usual-counts.js";
export type { Verdict } from "./verdict.js";
export type { Change } from "./would-change.js";
