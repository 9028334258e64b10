export {
  type DryingInput,
  type DryingNeed,
  type ExchangeInput,
  type ExchangeNeed,
  type ExchangePlan,
  planDrying,
  planExchange,
} from "./exchange.js";
export { type CirculationInput, type CirculationPlan, type PlannedChannel, planCirculation } from "./plan.js";
export { type Removal, removalAt } from "./removal.js";
export { sayMinutes } from "./say-minutes.js";
export {
  concentrationAfter,
  floorOf,
  type MixedChannel,
  type PassesToLimit,
  passesToLimit,
} from "./well-mixed.js";
