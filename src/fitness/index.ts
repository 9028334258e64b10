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
export {
  type CircuitDecision,
  type Decision,
  isHold,
  isLasting,
  type Lifting,
  lastDayOf,
} from "./decision.js";
export {
  type DecisionEntry,
  decisionToLift,
  faultOfDecision,
  faultOfLifting,
  isText,
  type LiftingEntry,
} from "./enter-decision.js";
export type { Exchange } from "./exchange-advice.js";
export {
  casesOf,
  casesOfCart,
  type FleetCase,
  type JudgedCircuit,
  judgeCarts,
  judgeCase,
  type VerdictOnCircuit,
} from "./fleet.js";
export { type FleetLevels, fleetLevels } from "./fleet-levels.js";
export { compareFleetRows, ELEMENT_NEAR_CAPACITY, type FleetRow, fleetRows } from "./fleet-rows.js";
export { judgeCircuit } from "./judge.js";
export { type LaboratoryScatter, scatterAt } from "./laboratory.js";
export { sayOtherTexts } from "./laboratory-says.js";
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
export { nextUnder } from "./next-under.js";
export type { Crossing, Outlook } from "./outlook.js";
export { type PatternCase, type Suggestion, suggestFrom } from "./patterns.js";
export { type NamedCircuit, plainCircuit } from "./plain-name.js";
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
export {
  sayAllDecisions,
  sayAllHolds,
  sayDecision,
  sayDecisions,
  sayHeldCircuit,
  sayHolds,
  sayOtherDecisions,
  sayStands,
} from "./say-decision.js";
export { sayForecast, sayNextSample, sayTrend } from "./say-trend.js";
export { sayBesideFit, sayOfNoCart } from "./say-unread.js";
export { type KnownOrFoundStep, type Segment, yearsBetween } from "./segments.js";
export { type Settlement, saySettlement } from "./settle.js";
export {
  type DecisionEffect,
  holdsElsewhere,
  isHeld,
  type Judged,
  type Standing,
  standingAdder,
  standingOf,
  standsAs,
} from "./standing.js";
export { sayPercent, sayPlain } from "./text.js";
export type { DatedForecast, MeasureTrend, SegmentTrend, TrendCase } from "./trend-case.js";
export { type CircuitTrends, trendsOf } from "./trends.js";
export { type NamedCart, type UnreadOfFleet, unreadOfFleet } from "./unread.js";
export { type DatedCounts, datedCounts, LOOK_BACK, sayUnusual, unusualCounts } from "./usual-counts.js";
export type { Verdict } from "./verdict.js";
export type { Change } from "./would-change.js";
