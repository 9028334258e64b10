export { type CompareOptions, compareLaboratories, type LaboratoryComparison } from "./compare.js";
export {
  type DescribedComparison,
  describeLaboratories,
  hasComparison,
  hasDifference,
} from "./describe.js";
export {
  type Bias,
  type ComparedLaboratory,
  type ComparedQuantity,
  MEAN_OF_ALL,
  MIN_MATERIALS,
} from "./quantity.js";
export type { ComparedBase, ComparedIn, LaboratorySample } from "./results.js";
export { type MeasuredSpread, MIN_DIFFERENCES, pooledSpread, type Spread } from "./spread.js";
export type { ComparedSpread } from "./spreads.js";
export { type Cell, type LaboratoryEffect, type TwoWayLayout, twoWayLayout } from "./two-way.js";
