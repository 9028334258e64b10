import { frozen } from "../../provenance/index.js";

/**
 * How the fluid of a circuit mixes while it circulates.
 *
 * - `well-mixed`: every particle is equally likely to be the next one at the element
 * - `two-zone`: a swept zone that feeds the element, and a slow zone that only trades fluid with it
 * - `plug`: all fluid passes the element in turn, nothing mixes; no circuit can be faster
 */
export type Mixing =
  | { readonly kind: "well-mixed" }
  | {
      readonly kind: "two-zone";
      /** Fraction of the circuit volume in the slow zone, 0 to less than 1. */
      readonly slowFraction: number;
      /** Volume that the zones trade during one pass, as a fraction of the circuit volume, 0 or more. */
      readonly exchangePerPass: number;
    }
  | { readonly kind: "plug" };

/** The fluid is taken as well mixed unless something else is known. */
export const WELL_MIXED: Mixing = frozen({ kind: "well-mixed" });

/** How the particles of one bin fall under one way of mixing: one or two modes. Filled in place by {@link splitBin}. */
export interface BinSplit {
  /** Fraction of the bin that one pass holds back, side stream included; more than 1 is possible with one. */
  removal: number;
  /** Fraction of the bin that gets through the elements of the main stream. */
  letThrough: number;
  count: 1 | 2;
  /** Share of the bin's particles, and of its inflow, in each mode, for the average of the circuit. */
  readonly share: Float64Array;
  /** The same for what a sampling port in the flow sees. */
  readonly portShare: Float64Array;
  /** Per pass. */
  readonly rate: Float64Array;
  /** Factor on the inflow: 1 except for plug flow, where a particle that enters is still on its way to the element. */
  inflowFactor: number;
}

/** An empty split to be filled. */
export function newSplit(): BinSplit {
  return {
    removal: 0,
    letThrough: 1,
    count: 1,
    share: Float64Array.of(1, 0),
    portShare: Float64Array.of(1, 0),
    rate: new Float64Array(2),
    inflowFactor: 1,
  };
}

/** e^(−746) is 0: a mode with this rate is gone after one pass. */
const GONE_IN_ONE_PASS = 746;

/**
 * Works out the modes of one bin.
 *
 * @param mixing - how the fluid mixes
 * @param main - fraction of the bin that one pass of the main stream holds back, 0 to 1
 * @param side - the same for the side stream; 0 without one
 * @param sidePerMain - flow of the side stream divided by that of the main stream
 * @param split - where to write the result
 * @source MASS-BALANCE
 */
export function splitBin(
  mixing: Mixing,
  main: number,
  side: number,
  sidePerMain: number,
  split: BinSplit,
): void {
  const removal = main + sidePerMain * side;
  split.removal = removal;
  split.letThrough = 1 - main;
  split.count = 1;
  split.share[0] = 1;
  split.portShare[0] = 1;
  split.rate[0] = removal;
  split.inflowFactor = 1;
  if (mixing.kind === "plug") splitPlug(main, side, sidePerMain, split);
  if (mixing.kind === "two-zone" && mixing.slowFraction > 0) {
    splitTwoZone(removal, mixing.slowFraction, mixing.exchangePerPass, split);
  }
}

/**
 * Plug flow: after each whole pass the average A of the circuit obeys A → T·A + g·(1 + T)/2, where T is what one
 * pass lets through and g what enters per mL and pass, spread evenly along the circuit. At whole passes that is a
 * mode with rate −ln T. The side stream is credited in the same way, which keeps this the fastest case.
 */
function splitPlug(main: number, side: number, sidePerMain: number, split: BinSplit): void {
  const logLetThrough = Math.log1p(-main) + (side === 0 ? 0 : sidePerMain * Math.log1p(-side));
  const rate = Math.min(-logLetThrough, GONE_IN_ONE_PASS);
  split.rate[0] = rate;
  split.inflowFactor = plugInflowFactor(rate);
}

/** What a mode's inflow is multiplied by so that after whole passes it gives what enters a plug: (1 + T)/2 · rate/(1 − T). */
export function plugInflowFactor(rate: number): number {
  if (rate === 0) return 1;
  const heldBack = -Math.expm1(-rate);
  return ((2 - heldBack) / 2) * (rate / heldBack);
}

/**
 * Two zones: with a = √(1 − s)·A and b = √s·B the two balances have a symmetric matrix, so its eigenvectors are
 * orthogonal and the average of the circuit is a sum of two modes with shares that are not negative and add to 1.
 */
function splitTwoZone(removal: number, slow: number, exchange: number, split: BinSplit): void {
  const swept = 1 - slow;
  const p = (removal + exchange) / swept;
  const q = exchange / slow;
  const coupling = exchange / Math.sqrt(slow * swept);
  const half = Math.hypot((p - q) / 2, coupling);
  const fast = (p + q) / 2 + half;
  const slowRate = fast === 0 ? 0 : (removal * exchange) / (slow * swept) / fast;
  // Eigenvector of the slow mode, from the row of the matrix that does not cancel.
  let x = p >= q ? coupling : (q - p) / 2 + half;
  let y = p >= q ? (p - q) / 2 + half : coupling;
  const length = Math.hypot(x, y);
  x = length === 0 ? Math.sqrt(swept) : x / length;
  y = length === 0 ? Math.sqrt(slow) : y / length;
  const alongSlow = x * Math.sqrt(swept) + y * Math.sqrt(slow);
  const alongFast = y * Math.sqrt(swept) - x * Math.sqrt(slow);
  split.count = 2;
  split.rate[0] = slowRate;
  split.rate[1] = fast;
  split.share[0] = alongSlow * alongSlow;
  split.share[1] = alongFast * alongFast;
  split.portShare[0] = (alongSlow * x) / Math.sqrt(swept);
  split.portShare[1] = (alongFast * y) / Math.sqrt(swept);
}

/**
 * Refuses a slow zone that cannot be.
 *
 * @throws RangeError naming the value and its range
 */
export function checkMixing(mixing: Mixing): void {
  if (mixing.kind !== "two-zone") return;
  const { slowFraction, exchangePerPass } = mixing;
  if (!(slowFraction >= 0 && slowFraction < 1)) {
    throw new RangeError(`slowFraction must be from 0 to less than 1, not ${slowFraction}`);
  }
  if (!(exchangePerPass >= 0 && Number.isFinite(exchangePerPass))) {
    throw new RangeError(`exchangePerPass must be 0 or more, not ${exchangePerPass}`);
  }
}

/**
 * A level after any number of passes. With plug flow the modes hold after whole passes, and the average of the circuit goes in a
 * straight line from one to the next, as more and more of the fluid has passed.
 *
 * @param passes - 0 or more
 * @param levelAt - the level by the modes
 */
export function levelOver(mixing: Mixing, passes: number, levelAt: (passes: number) => number): number {
  const whole = Math.floor(passes);
  if (mixing.kind !== "plug" || whole === passes) return levelAt(passes);
  const part = passes - whole;
  return (1 - part) * levelAt(whole) + part * levelAt(whole + 1);
}
