import type { OnlineMinute } from "./minute.js";

/** What else is to be known of a minute. */
export type OnlineRemark =
  | { readonly code: "cold"; readonly temperatureC: number }
  | { readonly code: "gap"; readonly minutes: number }
  | { readonly code: "no-flow" | "no-counts" | "stuck" | "counts-nothing" | "air" }
  | { readonly code: "breaks-off"; readonly sizeUmC: number }
  | { readonly code: "counts-break-a-rule"; readonly message: string }
  | { readonly code: "not-counted"; readonly channels: readonly string[] }
  | { readonly code: "risen"; readonly channel: string }
  | { readonly code: "flow-below-stated"; readonly flowLpm: number; readonly statedLpm: number }
  /**
   * Said when a circuit is called clean: without it all minutes were taken as warm, or the fluid as flowing; and a class that
   * stays shows nothing of whether the counter works.
   */
  | { readonly code: "no-temperature" | "flow-not-reported" | "classes-only" };

/** What is known after a minute. */
export interface OnlineAnswer {
  readonly minute: OnlineMinute;
  /**
   * clean: shown with the confidence asked for, at whatever minute one looks; inside-as-rated: the same of a circuit whose
   * elements retain just what they are rated for, which a counter downstream of them cannot show; inside-where-counted: the
   * same of the channels that are counted, and others are not; cannot-tell: this minute says nothing.
   */
  readonly state: "clean" | "inside-as-rated" | "inside-where-counted" | "not-yet" | "risen" | "cannot-tell";
  readonly remarks: readonly OnlineRemark[];
  readonly channels: readonly OnlineChannel[];
}

/** One channel of an answer. */
export interface OnlineChannel {
  readonly channel: string;
  /** What the circuit holds; absent where it was not counted in the last minutes. */
  readonly perMl?: number;
  /** Limit per mL, and the level below it that a counter with its bias has to show. */
  readonly limitPerMl: number;
  readonly aimPerMl: number;
  /** How much of the evidence that is needed there is; 1 and more is enough. */
  readonly shown: number;
}
