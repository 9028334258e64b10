// The schemas of samples, carts and requirements, for those who check data of their own.

export {
  cartSchema,
  cartsFileSchema,
  cartsJsonSchema,
  circuitEventSchema,
  circuitSchema,
  type FleetChange,
  type Hose,
  hoseSchema,
  type Ingress,
  ingressSchema,
  type Limit,
  type LimitRange,
  limitSchema,
  measuredSchema,
  type PatchTest,
  patchTestSchema,
  type RatedBeta,
  type ReportedClass,
  ratedBetaSchema,
  reportedClassSchema,
  requirementSchema,
  requirementsFileSchema,
  requirementsJsonSchema,
  type StatedQuantity,
  sampleSchema,
} from "../samples/index.js";

export type { ShownIn, ShownKind } from "../units/index.js";
