import type { PlainPlan } from "./plan.js";

/** What the scanner found in the rows it could read, one place for each. The columns are cut to their length later. */
export interface Scanned {
  readonly row: Int32Array;
  readonly start: Int32Array;
  readonly end: Int32Array;
  readonly numberStart: Int32Array;
  readonly numberEnd: Int32Array;
  readonly cart: Int32Array;
  readonly circuit: Int32Array;
  readonly fluid: Int32Array;
  readonly time: Int32Array;
  /** Drawn, received, reported; 0 is none. */
  readonly days: readonly [Int32Array, Int32Array, Int32Array];
  readonly counts: readonly Float64Array[];
  readonly values: readonly Float64Array[];
  readonly limits: readonly Uint8Array[];
  readonly classes: readonly Int32Array[];
  readonly capacity: number;
}

/** Empty columns for so many rows. */
export function emptyScanned({ counts, measured, classes }: PlainPlan, capacity: number): Scanned {
  const numbers = () => new Int32Array(capacity);
  return {
    row: numbers(),
    start: numbers(),
    end: numbers(),
    numberStart: numbers(),
    numberEnd: numbers(),
    cart: numbers(),
    circuit: numbers(),
    fluid: numbers(),
    time: numbers(),
    days: [numbers(), numbers(), numbers()],
    counts: counts.map(() => new Float64Array(capacity)),
    values: measured.map(() => new Float64Array(capacity)),
    limits: measured.map(() => new Uint8Array(capacity)),
    classes: classes.map(() => numbers()),
    capacity,
  };
}
