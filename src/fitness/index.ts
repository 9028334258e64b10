export { ACTORS, type Actor } from "./actors.js";
export { circulationLines } from "./advice/circulate-lines.js";
export {
  type CirculationChanges,
  type CirculationOfCircuit,
  circulationOfCircuit,
  notPutRight,
  whyNoCirculation,
} from "./advice/circulation-question.js";
export { type FollowingOfCircuit, followingOfCircuit } from "./advice/counter-question.js";
export type { Exchange } from "./advice/exchange-advice.js";
export { eventsAsRun } from "./advice/minutes-done.js";
export { exchangeLines, type NextStep } from "./advice/next-step.js";
export { nextUnder } from "./advice/next-under.js";
export { type SamplingStep, samplingSteps } from "./advice/sampling-steps.js";
export { type DescribedVerdict, describeVerdict } from "./advice/say.js";
export { stepsOf } from "./advice/steps.js";
export { type VerdictWithRun, verdictWithRun } from "./advice/verdict-with-run.js";
export { type Change, describeClearing } from "./advice/would-change.js";
export type { Assessed, AssessedChannel, Conformance, Outcome, ShownBy } from "./assessed.js";
export { canonicalJson } from "./canonical-json.js";
export type { CircuitCase, UnreadResult } from "./case.js";
export { type ValidUntil, validUntil } from "./checks/able-to-speak.js";
export { describeOtherTexts } from "./checks/laboratory-says.js";
export { describeTargets } from "./checks/patch.js";
export {
  type DatedCounts,
  datedCounts,
  describeUnusual,
  LOOK_BACK,
  unusualCounts,
} from "./checks/usual-counts.js";
export {
  acceptanceLimits,
  conformanceProbability,
  type MeasuredAgainst,
} from "./confidence/conformity.js";
export { type LaboratoryScatter, scatterAt } from "./confidence/laboratory.js";
export { describeSpreadUsed, withMeasuredSpread } from "./confidence/measured-spread.js";
export { describeSettlement, type Settlement } from "./confidence/settle.js";
export { dayAfter, daysBetween } from "./days.js";
export {
  type CircuitDecision,
  type Decision,
  isHold,
  isLasting,
  type Lifting,
  lastDayOf,
} from "./decisions/decision.js";
export {
  describeAllDecisions,
  describeAllHolds,
  describeDecision,
  describeDecisions,
  describeHeldCircuit,
  describeHolds,
  describeOtherDecisions,
  describeStands,
} from "./decisions/describe-decision.js";
export {
  type DecisionEntry,
  decisionToLift,
  faultOfDecision,
  faultOfLifting,
  isText,
  type LiftingEntry,
} from "./decisions/enter-decision.js";
export { type NamedCircuit, plainCircuit } from "./decisions/plain-name.js";
export { SIGN_SHAPES, type SignShape } from "./decisions/sign-shapes.js";
export {
  type DecisionEffect,
  holdsElsewhere,
  isAllFit,
  isHeld,
  type Judged,
  type Standing,
  separateFit,
  standingAdder,
  standingOf,
  standsAs,
} from "./decisions/standing.js";
export { type Brief, briefOf } from "./fleet/brief.js";
export { cartsTogether, type JudgedCart, type Pairing } from "./fleet/cart.js";
export { describeBesideFit, describeOfNoCart } from "./fleet/describe-unread.js";
export { type DueSample, dueSamples } from "./fleet/due-list.js";
export {
  casesOf,
  casesOfCart,
  type FleetCase,
  type JudgedCircuit,
  judgeCarts,
  judgeCase,
  onCircuit,
  type VerdictOnCircuit,
  withHistory,
} from "./fleet/fleet.js";
export { FLEET_COLUMNS, type FleetColumn } from "./fleet/fleet-columns.js";
export { type FleetLevels, fleetLevels } from "./fleet/fleet-levels.js";
export {
  compareFleetRows,
  ELEMENT_NEAR_CAPACITY,
  type FleetRow,
  fleetRows,
  isChanged,
} from "./fleet/fleet-rows.js";
export { nextSampleBy, validUntilOf } from "./fleet/next-sample.js";
export { type NamedCart, type UnreadOfFleet, unreadOfFleet } from "./fleet/unread.js";
export {
  VERDICT_COLUMNS,
  type VerdictColumn,
  type VerdictColumnName,
  verdictColumns,
} from "./fleet/verdict-columns.js";
export { mustNeverMeet } from "./identity/identity.js";
export { judgeCircuit } from "./judge.js";
export { QUANTITIES, type Quantity } from "./quantities.js";
export {
  compareVerdicts,
  decide,
  REASONS,
  type Reason,
  type ReasonCode,
  reason,
  VERDICT_WORDS,
  VERDICTS,
  type VerdictName,
} from "./reasons.js";
export {
  caseOf,
  historyTexts,
  INPUT_ROLES,
  inputsOf,
  type JudgedBy,
  type RecordedInput,
  recompute,
  recordOf,
  type VerdictRecord,
} from "./record.js";
export { describeOtherBottles, formatResult, resultOf } from "./shown-results.js";
export { aircraftOf } from "./trace/aircraft.js";
export type { CarriedAmount, CarryOver } from "./trace/carried.js";
export {
  type DescribedHookup,
  describeAircraftHookups,
  describeAircraftTrace,
  describeAircraftUnknown,
  describeCircuitTrace,
  describeOnward,
  type TraceGroup,
} from "./trace/describe-trace.js";
export type { LoggedHookup, TraceCase } from "./trace/logged.js";
export { TRACED, type Traced } from "./trace/shows.js";
export {
  type AircraftHookup,
  type AircraftTrace,
  type BadThen,
  traceAircraft,
} from "./trace/trace-aircraft.js";
export { type CartTrace, type CircuitOfCart, type Onward, traceCart } from "./trace/trace-cart.js";
export type {
  CircuitTrace,
  QuantityTrace,
  SampleRef,
  TracedHookup,
  TracedSample,
  TracedSpan,
} from "./trace/trace-circuit.js";
export {
  describeCrossing,
  describeCrossings,
  describeForecast,
  describeNextSample,
  describeOverHours,
  describeTrend,
} from "./trends/describe-trend.js";
export { measureTrend } from "./trends/measure-trend.js";
export {
  boundsOf,
  limitsNotFollowed,
  MEASURE_KINDS,
  MEASURES,
  type Measure,
  PARTICLE_MEASURES,
  type Reading,
  readingsOf,
  sideOf,
} from "./trends/measures.js";
export type { Crossing, Outlook, Overdue, Rise } from "./trends/outlook.js";
export { type PatternCase, type Suggestion, suggestFrom } from "./trends/patterns.js";
export { type KnownOrFoundStep, type Segment, yearsBetween } from "./trends/segments.js";
export type {
  DatedForecast,
  Heading,
  HoursForecast,
  MeasureTrend,
  OverHours,
  SegmentTrend,
  TrendCase,
} from "./trends/trend-case.js";
export {
  governingTrend,
  isOrWillBeBeyond,
  type TrendQuestion,
  type TrendReport,
  trendReport,
} from "./trends/trend-report.js";
export { type CircuitTrends, trendsOf } from "./trends/trends.js";
export type { Verdict } from "./verdict.js";
