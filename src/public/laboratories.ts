// Whether laboratories and counters agree: bias and spread from the fluids that they both measured.

export {
  type Bias,
  type ComparedBase,
  type ComparedIn,
  type ComparedLaboratory,
  type ComparedQuantity,
  type ComparedSpread,
  type CompareOptions,
  compareLaboratories,
  type DescribedComparison,
  describeLaboratories,
  type LaboratoryComparison,
  type LaboratorySample,
  type MeasuredSpread,
  pooledSpread,
  type Spread,
} from "../laboratories/index.js";
export { type MeasuredBy, measuredBy } from "../samples/index.js";
