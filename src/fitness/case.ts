import type { Circuit, Requirement, Sample } from "../samples/index.js";
import type { JudgingDay } from "./judging-day.js";

/** A row that could not be read and that may belong to a circuit. What is not known of it may be anything. */
export interface UnreadResult {
  /** The names as they are written in the row, which need not be those of any cart or circuit. */
  readonly cart?: string;
  readonly circuit?: string;
  /** Absent when the day itself could not be read. */
  readonly drawnOn?: string;
  /** The file and row, for the message. */
  readonly where: string;
  /** The whole row: names are looked for in it where its cells tell no cart. */
  readonly text?: string;
  /** The circuits of the samples whose numbers are in a row that names no cart. */
  readonly ofSamples?: readonly { readonly cart: string; readonly circuit: string }[];
  /** The row is a line of text that puts a whole table in doubt; the day is that of the circuit's last sample in the table. */
  readonly ofTable?: true;
  /** The row could not be split into cells. */
  readonly notSplit?: true;
  /** The number of a sample that could be read and that a book keeps under names of no circuit. */
  readonly sample?: string;
  /** The file of the sample was taken back, and this settles it. */
  readonly withdrawn?: string;
  /** What a person decided about the row, who and why; it then no longer blocks the circuit, and the verdict says so. */
  readonly decided?: string;
}

/** Everything a verdict on one circuit rests on. */
export interface CircuitCase {
  readonly cart: string;
  readonly circuit: Circuit;
  /** The requirement of the aircraft system that the circuit serves; absent when no requirement has that name. */
  readonly requirement?: Requirement;
  /** Samples of this circuit, in any order. */
  readonly samples: readonly Sample[];
  /** What may be a result of this circuit. */
  readonly unread: readonly UnreadResult[];
  /** The other circuits of the same cart, whose fluid could get into this one. */
  readonly neighbours?: readonly { readonly circuit: Circuit; readonly samples: readonly Sample[] }[];
  /** The day of judging, as ISO 8601 calendar day. */
  readonly on: string;
}

/** A case while it is judged: the day is an object that notes what it was asked, and is compared with nowhere else. */
export interface CaseOnDay extends Omit<CircuitCase, "on"> {
  readonly day: JudgingDay;
}
