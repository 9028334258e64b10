import type { CirculationPlan } from "../circulation/index.js";
import type { Classification } from "../cleanliness/index.js";
import type { Assumption, Caution } from "../provenance/index.js";
import type { Circuit, Measured, Range, Requirement, Sample } from "../samples/index.js";
import type { NextStep } from "./next-step.js";
import type { Outlook } from "./outlook.js";
import type { Reason, VerdictName } from "./reasons.js";
import type { Settlement } from "./settle.js";
import type { Change } from "./would-change.js";

/** A row that could not be read and that may belong to a circuit. What is not known of it may be anything. */
export interface UnreadResult {
  readonly cart?: string;
  readonly circuit?: string;
  /** Absent when the day itself could not be read. */
  readonly drawnOn?: string;
  /** The file and row, for the message. */
  readonly where: string;
}

/** Everything a verdict on one circuit rests on. */
export interface CircuitCase {
  readonly cart: string;
  readonly circuit: Circuit;
  /** The requirement of the aircraft system that the circuit serves; absent when there is none by that name. */
  readonly requirement?: Requirement;
  /** Samples of this circuit, in any order. */
  readonly samples: readonly Sample[];
  readonly unread: readonly UnreadResult[];
  /** The other circuits of the same cart, whose fluid could get into this one. */
  readonly beside?: readonly { readonly circuit: Circuit; readonly samples: readonly Sample[] }[];
  /** The day of judging, as ISO 8601 calendar day. */
  readonly on: string;
}

/** How sure it is that a quantity conforms, where that can be told. */
export interface Sureness {
  /** Probability of conforming; for particles no less than this, for all channels together. */
  readonly probability: number;
  /** What the requirement asks for. */
  readonly asked: number;
  /** Chance that the quantity is outside although it is accepted. */
  readonly consumerRisk: number;
  /** Chance that it is inside although it is turned away. */
  readonly producerRisk: number;
  /** Of the result, in the unit of the quantity; for particles there is none, their law is not normal. */
  readonly standardUncertainty?: number;
  /** Where a result would have to lie to be accepted. */
  readonly acceptance?: Range;
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
  readonly perMl?: number;
  /** Count divided by limit; 1 is exactly at the limit. */
  readonly share?: number;
  readonly probability?: number;
}

/** One quantity of the requirement with its result and how far away its limit is. */
export type Assessed =
  | {
      readonly quantity: "particles";
      readonly outcome: Outcome;
      readonly channels: readonly AssessedChannel[];
      readonly sureness?: Sureness;
    }
  | {
      /** "water", "water of saturation", "acid number", "viscosity at 40 °C", "chlorine", or the name of a metal. */
      readonly quantity: string;
      readonly unit: string;
      readonly outcome: Outcome;
      readonly limits: Range;
      readonly measured?: Measured;
      /** From the result to the nearer limit, in the unit; negative when it is beyond. */
      readonly distance?: number;
      readonly sureness?: Sureness;
    };

/** What one check found. */
export interface Finding {
  readonly reasons: readonly Reason[];
  readonly assumptions?: readonly Assumption[];
  readonly circulation?: CirculationPlan;
  readonly assessed?: readonly Assessed[];
}

/** May this circuit be connected, and why. */
export interface Verdict {
  readonly cart: string;
  readonly circuit: string;
  readonly serves: string;
  readonly on: string;
  readonly verdict: VerdictName;
  /** Strictest first. */
  readonly reasons: readonly Reason[];
  /** The sample that was judged; absent when there is none. */
  readonly sample?: Sample;
  readonly classification?: Classification;
  /** Given where particles are outside a limit. */
  readonly circulation?: CirculationPlan;
  /** Every quantity of the requirement: result, limit, distance and how sure. */
  readonly assessed: readonly Assessed[];
  /** How sure it is that all quantities conform together; absent where no scatter is known. */
  readonly together?: Sureness;
  readonly next: NextStep;
  /** What would change the verdict. */
  readonly changes: readonly Change[];
  /** When the next sample is due, and limits that are expected to be crossed. */
  readonly outlook?: Outlook;
  readonly assumptions: readonly Assumption[];
  readonly cautions: readonly Caution[];
}
