// The schemas of samples, carts and requirements, for those who check data of their own.

export {
  cartSchema,
  cartsFileSchema,
  cartsJsonSchema,
  circuitEventSchema,
  circuitSchema,
  type FleetChange,
  type Ingress,
  ingressSchema,
  type Limit,
  type LimitRange,
  limitSchema,
  measuredSchema,
  type RatedBeta,
  type ReportedClass,
  ratedBetaSchema,
  reportedClassSchema,
  requirementSchema,
  requirementsFileSchema,
  requirementsJsonSchema,
  sampleSchema,
} from "../samples/index.js";
