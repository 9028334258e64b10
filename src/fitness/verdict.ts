import type { CirculationPlan, TimeToGoBy } from "../circulation/index.js";
import type { Classification } from "../cleanliness/index.js";
import type { Assumption, Caution } from "../provenance/index.js";
import type { Sample } from "../samples/index.js";
import type { NextStep } from "./advice/next-step.js";
import type { Change } from "./advice/would-change.js";
import type { Assessed, Conformance } from "./assessed.js";
import type { Reason, VerdictName } from "./reasons.js";
import type { Outlook } from "./trends/outlook.js";

/** May this circuit be connected, and why. */
export interface Verdict {
  readonly cart: string;
  readonly circuit: string;
  readonly serves: string;
  readonly on: string;
  /**
   * The first later day on which the verdict may be another one, or say something else, although nothing was entered; absent
   * where the calendar changes nothing.
   */
  readonly mayChangeOn?: string;
  readonly verdict: VerdictName;
  /** Strictest first. */
  readonly reasons: readonly Reason[];
  /** The last sample; absent when no sample is of the fluid that is in the circuit now. */
  readonly sample?: Sample;
  /** Other samples that a quantity rests on, newest first; `assessed` says which. Absent where there are none. */
  readonly otherSamples?: readonly Sample[];
  readonly classification?: Classification;
  /** By the stated values alone; given where particles are outside a limit, or too close to it. */
  readonly circulation?: CirculationPlan;
  /** How long to circulate; given where the plan gets there. */
  readonly goBy?: TimeToGoBy;
  /** Every quantity of the requirement: result, limit, distance and how sure. */
  readonly assessed: readonly Assessed[];
  /** How sure it is that all quantities conform together; absent where no scatter is known. */
  readonly together?: Conformance;
  readonly next: NextStep;
  /** What would change the verdict. */
  readonly changes: readonly Change[];
  /** When the next sample is due, and limits that are expected to be crossed. */
  readonly outlook?: Outlook;
  readonly assumptions: readonly Assumption[];
  readonly cautions: readonly Caution[];
}
