import type { CirculationInput, CirculationPlan, CirculationStart } from "../circulation/index.js";
import type { LimitBasis } from "../cleanliness/index.js";
import type { Assumption } from "../provenance/index.js";
import type { LimitRange, Measured } from "../samples/index.js";
import type { Settlement } from "./confidence/settle.js";
import type { Quantity } from "./quantities.js";
import type { Reason } from "./reasons.js";

/** How sure it is that a quantity conforms, where that is known. */
export interface Conformance {
  /** Probability of conforming; for particles no less than this, for all channels together. */
  readonly probability: number;
  /** What the requirement asks for. */
  readonly required: number;
  /** Chance that the quantity is outside although it is accepted. */
  readonly consumerRisk: number;
  /** Chance that it is inside although it is turned away. */
  readonly producerRisk: number;
  /** Of the result, in the unit of the quantity; absent for particles, whose distribution is not normal. */
  readonly standardUncertainty?: number;
  /** Where a result would have to lie to be accepted. */
  readonly acceptance?: LimitRange;
  /** What would settle it; given where the result is inside and not sure enough. */
  readonly settlement?: Settlement;
}

/** How a result stands to its limits. */
export type Outcome = "inside" | "outside" | "not-known" | "not-measured";

/** One channel of a cleanliness target with its count. */
export interface AssessedChannel {
  readonly target: string;
  readonly channel: string;
  readonly limitPerMl: number;
  readonly outcome: Outcome;
  /** The count, or where `basis` names another one the most there can be. */
  readonly perMl?: number;
  /** What the channel was decided by where it was not counted itself. */
  readonly basis?: Exclude<LimitBasis, "counted">;
  /** Count divided by limit; 1 is exactly at the limit. */
  readonly share?: number;
  readonly probability?: number;
}

/** The bottle that shows a quantity; absent where none does. */
export interface ShownBy {
  /** Number of the sample. */
  readonly sample?: string;
  readonly drawnOn?: string;
}

/** One quantity of the requirement with its result, the bottle that shows it, and how far away its limit is. */
export type Assessed =
  | (ShownBy & {
      readonly quantity: "particles";
      readonly outcome: Outcome;
      readonly channels: readonly AssessedChannel[];
      readonly conformance?: Conformance;
    })
  | (ShownBy & {
      readonly quantity: Exclude<Quantity, "particles">;
      readonly unit: string;
      readonly outcome: Outcome;
      readonly limits: LimitRange;
      readonly measured?: Measured;
      /** From the result to the nearer limit, in the unit; negative when it is beyond. */
      readonly distance?: number;
      readonly conformance?: Conformance;
    });

/** What a circulation was planned from. */
export interface Planned {
  readonly input: CirculationInput;
  /** The counts as the bottle shows them, before they are brought to the port upstream of the element. */
  readonly drawn: CirculationStart;
  readonly port?: "downstream";
  /** Number of the sample. */
  readonly sample: string;
  readonly drawnOn: string;
  readonly drawnTime?: string;
}

/** What one check found. */
export interface Finding {
  readonly reasons: readonly Reason[];
  readonly assumptions?: readonly Assumption[];
  readonly circulation?: CirculationPlan;
  readonly planned?: Planned;
  readonly assessed?: readonly Assessed[];
}
