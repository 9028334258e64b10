export type { CirculationInput } from "./circuit.js";
export type { SideStream, StreamElement } from "./elements.js";
export { type Mixing, WELL_MIXED } from "./mixing.js";
export { floorOfModes, levelAfter, type Mode } from "./modes.js";
export {
  type CirculationPlan,
  channelLevel,
  type PlannedChannel,
  planCirculation,
  portLevel,
} from "./plan.js";
export { type BelowRated, type Removal, removalAt } from "./removal.js";
export {
  concentrationAfter,
  floorOf,
  type MixedChannel,
  type PassesToLimit,
  passesToLimit,
} from "./well-mixed.js";
