import type { Mode } from "./modes.js";

/**
 * Rate per pass at which the flow stirs up what lies settled: a twentieth of it is left after one pass. Common practice, no
 * source; it rests on the rule to circulate one volume before anything is drawn.
 */
export const STIRRED_PER_PASS = 3;

/** Passes before which no level counts where dirt lies settled: the flow still stirs it up. */
export const STIRRED_AFTER_PASSES = 1;

/**
 * The most that is taken to lie settled where nobody says, for reading samples drawn while circulating: as much again as they
 * show at the most. Common practice, no source.
 */
export const CUSTOMARY_SETTLED = 1;

/** Closer than this to the rate of stirring, a rate is moved away: the two exponentials would cancel. */
const APART = 1e-6;

/** The rate of a mode as it is used where dirt lies settled. */
export function apartFromStirring(rate: number): number {
  return Math.abs(rate - STIRRED_PER_PASS) < APART * STIRRED_PER_PASS ? (1 - APART) * STIRRED_PER_PASS : rate;
}

/**
 * How much of each settled particle a mode carries once all is stirred up, as if it had been there from the start:
 * k/(k − rate). The mode is e^(−rate·n) times as much, less the same times e^(−k·n).
 *
 * @source MASS-BALANCE
 */
export function stirredShare(rate: number): number {
  return STIRRED_PER_PASS / (STIRRED_PER_PASS - rate);
}

/** The modes that are left once all is stirred up: those of the fluid, with what was settled in them from the start. */
export function afterStirring(modes: readonly Mode[]): Mode[] {
  return modes.filter(({ rate }) => rate !== STIRRED_PER_PASS);
}

/** Part of what lay settled that is stirred up after some passes. */
export function stirredUp(passes: number): number {
  return -Math.expm1(-STIRRED_PER_PASS * passes);
}
