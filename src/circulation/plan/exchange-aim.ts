import { type Assumption, frozen } from "../../provenance/index.js";

/** A result at its limit is out again with the next drop. Common practice, no source. */
const LASTING_SHARE = 0.8;

/** Said with every exchange that aims by {@link exchangeAim}. */
export const AIMED_BELOW: Assumption = frozen({
  code: "exchange-to-last",
  message:
    "an exchange aims a fifth below the limit, or as far below what is accepted as the circuit's own trend rises until the next sample is due (common practice, no source), but no further than halfway to the fresh fluid",
});

/** What an exchange is to reach. */
export interface ExchangeAim {
  readonly limit: number;
  /** Value of the fresh fluid, which bounds what is within reach. */
  readonly fresh: number;
  /** Where a result would be accepted; at the limit when absent. */
  readonly guarded?: number | undefined;
  /** By which the value rises until the next sample is due; 0 when absent. */
  readonly rise?: number;
}

/**
 * The value to bring a contaminant to: where a result would be accepted, and so far below the limit that it stays there.
 *
 * @example
 * exchangeAim({ limit: 500, fresh: 150 }); // => 400
 */
export function exchangeAim({ limit, fresh, guarded = limit, rise = 0 }: ExchangeAim): number {
  const accepted = guarded > fresh ? guarded : limit;
  const lasting = Math.max(Math.min(LASTING_SHARE * limit, accepted - rise), (limit + fresh) / 2);
  return Math.min(accepted, lasting);
}
