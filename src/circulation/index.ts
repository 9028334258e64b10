export {
  answerCirculation,
  type CirculationAnswer,
  type CirculationQuestion,
} from "./answer/answer.js";
export type { BeforeCirculating } from "./answer/before-circulating.js";
export { describeNext } from "./answer/describe-next.js";
export {
  type ElementSettings,
  type HeatSettings,
  heatOfCirculation,
  type IndicatorSettings,
  indicatorOfCirculation,
  loadingOfCirculation,
  viscosityOf,
} from "./answer/equipment.js";
export type { InterimQuestion } from "./answer/interim-answer.js";
export type { NextAtCart } from "./answer/next-at-cart.js";
export {
  type FluidCarried,
  fluidCarried,
  getsThrough,
  type Hookup,
  type LevelCarried,
  levelCarried,
} from "./carry-over/carry-over.js";
export { levelsAfter, type TwoLevels, type TwoVolumes } from "./carry-over/two-volumes.js";
export { type BandPoint, type LevelBand, levelBands } from "./confidence/level-band.js";
export {
  type MinutesFor,
  type PlanConfidence,
  planConfidence,
  QUOTED_PROBABILITIES,
} from "./confidence/plan-confidence.js";
export {
  SHARED_FACTORS,
  TYPICAL_UNCERTAINTY,
  type Uncertainty,
  UP_TO,
  type VerifyingBottle,
} from "./confidence/uncertainty.js";
export type { SideStream, StreamElement } from "./equipment/elements.js";
export {
  describeFlowRegime,
  type FlowRegime,
  type FlowRegimeInput,
  flowRegime,
  reynoldsNumber,
} from "./equipment/flow-regime.js";
export { type HeatInput, type HeatPlan, heatOf, planHeat, temperatureAfter } from "./equipment/heat.js";
export {
  type DustMass,
  type DustReading,
  dustMass,
  type ElementLoading,
  elementLoading,
  type LoadingInput,
  QUARTZ_SPHERES,
  sphereMassUg,
  type WorkLeft,
} from "./equipment/loading.js";
export {
  assessIndicator,
  cleanDrop,
  formatCountFrom,
  type IndicatorInput,
  type IndicatorReading,
  type RatedDrop,
  WATCHED_FROM_C,
} from "./equipment/pressure-drop.js";
export { type FlowSettings, type StatedCirculation, statedCirculation } from "./go-by/circuit-of-cart.js";
export {
  CUSTOMARY_INGRESS_SHARE,
  CUSTOMARY_MIXING,
  type CustomaryCase,
  type RequiredConfidence,
  withCustomaryValues,
} from "./go-by/customary.js";
export { type LeastTime, leastTimes } from "./go-by/least-times.js";
export {
  describeMinutesDone,
  MINUTES_COUNTED,
  MINUTES_NOT_COUNTED,
  type MinutesDone,
} from "./go-by/minutes-done.js";
export {
  describeInstead,
  insteadOfTime,
  type Remedies,
  type Remedy,
  remediesFor,
} from "./go-by/remedies.js";
export {
  describeGoBy,
  describeGoByThenDraw,
  describeStatedTime,
  describeWhyThatTime,
  type FoundTime,
  type GoByInput,
  type InsteadOfTime,
  isOnlyBottleLeft,
  minutesSinceStart,
  type TimeToGoBy,
  timeToGoBy,
} from "./go-by/time-to-go-by.js";
export { countsOfClass } from "./interim/class-sample.js";
export { logLikelihood } from "./interim/count-likelihood.js";
export {
  type Decay,
  type DecayFit,
  type DecayPoint,
  type FittedValue,
  fitDecay,
} from "./interim/decay-fit.js";
export { type Diagnosis, readFall } from "./interim/fall.js";
export {
  assessInterim,
  type InterimAssessment,
  type InterimChannel,
  type InterimInput,
  type InterimSample,
} from "./interim/interim.js";
export { type InterimTimeInput, mostInformativeMinutes } from "./interim/interim-time.js";
export { isLonger, type RemainingTime, remainingTime, timeAfter } from "./interim/remaining.js";
export {
  type BracketEnd,
  bracketOf,
  type MixingBracket,
  type RuleOfThumb,
  rulesOfThumb,
} from "./model/bracket.js";
export type { CirculationInput } from "./model/circuit.js";
export {
  type CirculationFloor,
  circulationFloor,
  type ExpectedFluid,
  expectAfter,
  removedBetween,
} from "./model/expected.js";
export type { Contribution, FirstOrder } from "./model/first-order.js";
export { type Mixing, WELL_MIXED } from "./model/mixing.js";
export { floorOfModes, levelAfter, type Mode } from "./model/modes.js";
export { type BelowRated, type Removal, removalAt } from "./model/removal.js";
export { retainedAfter } from "./model/retained.js";
export { type CirculationStart, startOfClass, startOfCode } from "./model/start.js";
export { countsUpstream } from "./model/upstream.js";
export { upstreamTimes } from "./model/upstream-times.js";
export {
  concentrationAfter,
  floorOf,
  type MixedChannel,
  type PassesToLimit,
  passesToLimit,
} from "./model/well-mixed.js";
export {
  type DryingInput,
  type DryingNeed,
  EXCHANGE_STEPS,
  type ExchangeInput,
  type ExchangeNeed,
  type ExchangePlan,
  isWithinReach,
  needsFluid,
  planDrying,
  planExchange,
  WHOLE_CIRCUIT,
} from "./plan/exchange.js";
export { AIMED_BELOW, exchangeAim } from "./plan/exchange-aim.js";
export { formatMinutes, formatPasses, minutesDown, minutesUp } from "./plan/format-minutes.js";
export { flowNeeded, type Need } from "./plan/needs.js";
export {
  type CirculationPlan,
  channelLevel,
  type PlannedChannel,
  planCirculation,
  portLevel,
} from "./plan/plan.js";
export {
  type CirculationStep,
  circulationSteps,
  LET_AIR_SETTLE,
  reboundOf,
  type StepsInput,
} from "./plan/steps.js";
