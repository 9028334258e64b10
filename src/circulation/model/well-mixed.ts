import { checkNumbers } from "../../numeric/index.js";
/**
 * One channel of a well-mixed circuit: dC/dn = −e·C + g, with n in passes.
 *
 * One pass is one circuit volume through the filter. `removal` e is the fraction one pass holds back;
 * `ingressPerMlPerPass` g is what enters per mL of circuit volume while one volume passes.
 *
 * @source MASS-BALANCE
 */
export interface MixedChannel {
  /** Particles per mL at the start. */
  readonly start: number;
  /** 0 to 1. */
  readonly removal: number;
  /** Particles per mL per pass, 0 or more. */
  readonly ingressPerMlPerPass: number;
}

/** Passes until a channel is at its limit, or why it never gets there. */
export type PassesToLimit =
  | { readonly kind: "reached"; readonly passes: number }
  | { readonly kind: "floor-above-limit" }
  | { readonly kind: "no-removal" };

/**
 * The level that circulation settles at, in particles per mL.
 *
 * @returns the level; the start itself when nothing is removed and nothing enters; undefined when nothing is
 *   removed and particles enter, because the level then rises without end
 * @example
 * floorOf({ start: 20000, removal: 0.5, ingressPerMlPerPass: 100 }); // => 200
 */
export function floorOf(channel: MixedChannel): number | undefined {
  if (channel.removal > 0) return channel.ingressPerMlPerPass / channel.removal;
  return channel.ingressPerMlPerPass === 0 ? channel.start : undefined;
}

/**
 * Particles per mL after a number of passes.
 *
 * @param passes - circuit volumes that have gone through the filter, 0 or more
 * @example
 * concentrationAfter({ start: 20000, removal: 1, ingressPerMlPerPass: 0 }, 1); // => 7357.59
 */
export function concentrationAfter(channel: MixedChannel, passes: number): number {
  const { start, removal, ingressPerMlPerPass } = channel;
  checkNumbers("notNegative", { start, removal, ingressPerMlPerPass, passes });
  if (removal === 0) return start + ingressPerMlPerPass * passes;
  const floor = ingressPerMlPerPass / removal;
  return floor + (start - floor) * Math.exp(-removal * passes);
}

/**
 * Passes until the channel is not above its limit: n = ln((C0 − C∞)/(Cn − C∞)) / e.
 *
 * A channel that is inside at the start needs 0 passes, whatever its floor.
 *
 * @param limit - particles per mL
 * @example
 * passesToLimit({ start: 20000, removal: 0.9, ingressPerMlPerPass: 0 }, 1300); // => { kind: "reached", passes: 3.04 }
 */
export function passesToLimit(channel: MixedChannel, limit: number): PassesToLimit {
  const { start, removal, ingressPerMlPerPass } = channel;
  checkNumbers("notNegative", { start, removal, ingressPerMlPerPass, limit });
  if (start <= limit) return { kind: "reached", passes: 0 };
  if (removal === 0) return { kind: "no-removal" };
  const floor = ingressPerMlPerPass / removal;
  if (!(floor < limit)) return { kind: "floor-above-limit" };
  return { kind: "reached", passes: Math.log((start - floor) / (limit - floor)) / removal };
}
