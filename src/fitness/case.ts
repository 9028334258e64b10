import type { Circuit, Requirement, Sample } from "../samples/index.js";

/** A row that could not be read and that may belong to a circuit. What is not known of it may be anything. */
export interface UnreadResult {
  readonly cart?: string;
  readonly circuit?: string;
  /** Absent when the day itself could not be read. */
  readonly drawnOn?: string;
  /** The file and row, for the message. */
  readonly where: string;
  /** What a person decided about the row, who and why; then it stands in the way no more, and the verdict says so. */
  readonly decided?: string;
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
