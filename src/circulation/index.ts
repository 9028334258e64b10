export {
  type BracketEnd,
  bracketOf,
  type MixingBracket,
  type RuleOfThumb,
  rulesOfThumb,
} from "./bracket.js";
export type { CirculationInput } from "./circuit.js";
export { type DecayFit, type DecayPoint, fitDecay, type Interval } from "./decay-fit.js";
export type { SideStream, StreamElement } from "./elements.js";
export {
  type DryingInput,
  type DryingNeed,
  type ExchangeInput,
  type ExchangeNeed,
  type ExchangePlan,
  planDrying,
  planExchange,
} from "./exchange.js";
export {
  type CirculationFloor,
  circulationFloor,
  type ExpectedFluid,
  expectAfter,
  removedBetween,
} from "./expected.js";
export type { Contribution, FirstOrder } from "./first-order.js";
export { type HeatInput, type HeatPlan, heatOf, planHeat, temperatureAfter } from "./heat.js";
export { heldAfter } from "./held.js";
export { type HowSure, howSure, type MinutesFor, QUOTED_PROBABILITIES } from "./how-sure.js";
export {
  type AssessedChannel,
  assessInterim,
  type Diagnosis,
  type InterimAssessment,
  type InterimInput,
  type InterimSample,
} from "./interim.js";
export { type InterimTimeInput, mostTellingMinutes } from "./interim-time.js";
export { type BandPoint, type LevelBand, levelBands } from "./level-band.js";
export {
  type DustMass,
  dustMass,
  type ElementLoading,
  elementLoading,
  type LoadingInput,
  QUARTZ_SPHERES,
  sphereMassUg,
  type WorkLeft,
} from "./loading.js";
export { type Mixing, WELL_MIXED } from "./mixing.js";
export { floorOfModes, levelAfter, type Mode } from "./modes.js";
export { flowNeeded, type Need, type Remedies, remediesFor } from "./needs.js";
export {
  type CirculationPlan,
  channelLevel,
  type PlannedChannel,
  planCirculation,
  portLevel,
} from "./plan.js";
export {
  cleanDrop,
  type IndicatorInput,
  type IndicatorReading,
  type RatedDrop,
  readIndicator,
} from "./pressure-drop.js";
export type { RemainingTime } from "./remaining.js";
export { type BelowRated, type Removal, removalAt } from "./removal.js";
export { minutesUp, sayMinutes } from "./say-minutes.js";
export { type CirculationStep, circulationSteps, reboundOf, type StepsInput } from "./steps.js";
export { TYPICAL_UNCERTAINTY, type Uncertainty } from "./uncertainty.js";
export {
  concentrationAfter,
  floorOf,
  type MixedChannel,
  type PassesToLimit,
  passesToLimit,
} from "./well-mixed.js";
