import { bisect, halfway } from "../../numeric/index.js";
import { levelOfMode, type ModeTable } from "./modes.js";

/**
 * The first moment from `from` on at which a level is not above its limit.
 *
 * The level is followed through its falling and rising stretches, so the first crossing is found whatever rises and
 * falls. The steps end when no number lies between.
 *
 * @param modes - the level
 * @param limit - particles per mL
 * @param from - passes, 0 or more
 * @returns passes; Infinity when the level is never inside again
 */
export function firstInside(modes: ModeTable, limit: number, from: number): number {
  if (!modes.rises) {
    // Every mode falls or stays: one stretch, without a turn to look for.
    if (modes.floor < limit) return fall(modes, limit - modes.floor, from);
    return modes.levelAfter(from) <= limit ? from : Number.POSITIVE_INFINITY;
  }
  if (modes.levelAfter(from) <= limit) return from;
  for (let passes = from; ; ) {
    const moving = movesFrom(modes, passes);
    if (moving === Number.POSITIVE_INFINITY) return moving;
    const falls = isFalling(modes, moving);
    const turn = firstTurn(modes, moving, falls ? "rises" : "falls");
    if (falls && reachesDown(modes, limit, turn)) return descend(modes, limit, passes, turn);
    if (turn === Number.POSITIVE_INFINITY) return turn;
    passes = Math.max(turn, moving + ulp(moving));
  }
}

/** Whether a stretch that falls until `bottom` gets to the limit; a level that only approaches it does not. */
function reachesDown(modes: ModeTable, limit: number, bottom: number): boolean {
  const level = modes.levelAfter(bottom);
  return bottom === Number.POSITIVE_INFINITY ? level < limit : level <= limit;
}

/**
 * The first moment from `from` on at which a level that is inside goes above its limit.
 *
 * @param modes - the level, not above the limit at `from`
 * @param limit - particles per mL
 * @param from - passes, 0 or more
 * @returns passes; Infinity when it stays inside
 */
export function firstOutside(modes: ModeTable, limit: number, from: number): number {
  if (!modes.rises) return Number.POSITIVE_INFINITY;
  for (let passes = from; ; ) {
    const moving = movesFrom(modes, passes);
    if (moving === Number.POSITIVE_INFINITY) return moving;
    const falls = isFalling(modes, moving);
    const turn = firstTurn(modes, moving, falls ? "rises" : "falls");
    if (!falls && modes.levelAfter(turn) > limit) return climb(modes, limit, passes, turn);
    if (turn === Number.POSITIVE_INFINITY) return turn;
    passes = Math.max(turn, moving + ulp(moving));
  }
}

/** Third central moment of values within a width of 1, at most, over 3!. */
const MAX_SKEW = 1 / (36 * Math.sqrt(3));

/**
 * Finds where modes of which none rises are no further above the level they settle at than `headroom`.
 *
 * Until its slowest mode alone is down there, the level is not. From then on its logarithm is followed: the slope is the
 * mean of the rates of what is left, the bend their variance, and what comes third is no more than their range allows.
 * A step along the parabola, shortened by that, never passes the crossing, and neither does one along the slope, for
 * the logarithm of such a sum is convex. The same three tell when less than rounding is left to go.
 */
function fall({ count, rate, loss, above, left }: ModeTable, headroom: number, from: number): number {
  let slowest = 0;
  let fastest = rate[0] as number;
  for (let index = 1; index < count; index += 1) {
    const own = rate[index] as number;
    if (!(own >= (rate[slowest] as number))) slowest = index;
    if (own > fastest) fastest = own;
  }
  const lowest = rate[slowest] as number;
  const range = fastest - lowest;
  const third = MAX_SKEW * range * range * range;
  const alone = Math.log((above[slowest] as number) / headroom) / lowest;
  for (let low = alone > from && alone < Number.POSITIVE_INFINITY ? alone : from; ; ) {
    let before = Number.NaN;
    let decay = 1;
    for (let index = 0; index < count; index += 1) {
      const own = rate[index] as number;
      // Bins with the same filtration have the same rate, one after the other.
      if (own !== before) decay = Math.exp(-own * low);
      before = own;
      left[index] = decay;
    }
    // In a loop of its own: sums that are held over a call of the exponential are put away and fetched again for each.
    let falling = 0;
    let speed = 0;
    let bending = 0;
    for (let index = 0; index < count; index += 1) {
      const decayed = left[index] as number;
      const lost = (loss[index] as number) * decayed;
      falling += (above[index] as number) * decayed;
      speed += lost;
      bending += (rate[index] as number) * lost;
    }
    if (falling <= headroom) return low;
    const slope = speed / falling;
    const perSlope = falling / speed;
    const bend = bending / falling - slope * slope;
    const straight = Math.log(falling / headroom) * perSlope;
    const byBend = (bend / 2) * straight * straight * perSlope;
    const curved = straight + byBend;
    const further = byBend - third * curved * curved * curved * perSlope;
    const step = further > 0 ? straight + further : straight;
    const next = low + step;
    if (!(next > low)) return low;
    const toGo = (bend / 2 + third * step) * step * step - slope * (step - straight);
    if (toGo < next * lowest * (Number.EPSILON / 2)) return next;
    low = next;
  }
}

/**
 * Finds the limit on a falling stretch, by halving and by a bound together, for some mode rises here.
 *
 * The modes that fall make a sum that is log-convex above its own floor; those that rise only add to it. From any
 * moment the level can therefore not fall faster than the falling part goes down along its present logarithmic slope
 * while the rising part stays where it is. A step to where that bound meets the limit never passes the crossing. It spares
 * most of the halving.
 */
function descend(modes: ModeTable, limit: number, from: number, to: number): number {
  let [low, high] = [from, to];
  for (;;) {
    let falling = 0;
    let speed = 0;
    let fixed = 0;
    for (let index = 0; index < modes.count; index += 1) {
      const start = modes.start[index] as number;
      const inflow = modes.inflow[index] as number;
      const rate = modes.rate[index] as number;
      const loss = rate * start - inflow;
      if (loss > 0) {
        const left = loss * Math.exp(-rate * low);
        falling += left / rate;
        speed += left;
        fixed += inflow / rate;
      } else {
        fixed += levelOfMode(start, inflow, rate, low);
      }
    }
    const headroom = limit - fixed;
    if (falling <= headroom) return low;
    if (headroom > 0) {
      const next = low + (Math.log(falling / headroom) * falling) / speed;
      if (!(next > low)) return low;
      low = Math.min(next, high);
    }
    const middle = halfway(low, high);
    if (!(middle > low && middle < high)) return high;
    if (modes.levelAfter(middle) <= limit) high = middle;
    else low = middle;
  }
}

/** Finds the limit on a rising stretch. */
function climb(modes: ModeTable, limit: number, from: number, to: number): number {
  return bisect((passes) => !(modes.levelAfter(passes) > limit), from, to).fails;
}

/**
 * The first moment from `from` on at which the level rises, or falls; Infinity when it never does.
 *
 * The speed of the part that goes the other way shrinks at most along its present logarithmic slope, and that of the
 * part that goes this way no slower than its slowest mode allows, so the steps never pass the turn.
 */
function firstTurn(modes: ModeTable, from: number, until: "rises" | "falls"): number {
  const sign = until === "rises" ? 1 : -1;
  let passes = from;
  for (;;) {
    let against = 0;
    let slope = 0;
    let along = 0;
    let slowest = Number.POSITIVE_INFINITY;
    for (let index = 0; index < modes.count; index += 1) {
      const rate = modes.rate[index] as number;
      const loss = sign * (rate * (modes.start[index] as number) - (modes.inflow[index] as number));
      const speed = loss * Math.exp(-rate * passes);
      if (loss > 0) {
        against += speed;
        slope += rate * speed;
      } else if (loss < 0) {
        along -= speed;
        slowest = Math.min(slowest, rate);
      }
    }
    if (against <= along) return passes;
    const excess = slope / against - slowest;
    if (!(along > 0 && excess > 0)) return Number.POSITIVE_INFINITY;
    const next = passes + Math.log(against / along) / excess;
    if (!(next > passes)) return passes;
    passes = next;
  }
}

/** Below this part of the speeds of a sum, the difference between rising and falling is rounding. */
const ROUNDING = 16 * Number.EPSILON;

/** The first moment from `from` on, as finely as numbers go, at which the level clearly rises or falls. */
function movesFrom(modes: ModeTable, from: number): number {
  let step = 0;
  for (;;) {
    const passes = from + step;
    let [down, up] = [0, 0];
    for (let index = 0; index < modes.count; index += 1) {
      const speed = speedOf(modes, index, passes);
      if (speed > 0) down += speed;
      else up -= speed;
    }
    if (Math.abs(down - up) > ROUNDING * (down + up)) return passes;
    if (down + up === 0 || passes === Number.POSITIVE_INFINITY) return Number.POSITIVE_INFINITY;
    step = step === 0 ? ulp(from) : 2 * step;
  }
}

/** The smallest step that moves a number of passes. */
function ulp(passes: number): number {
  return Number.EPSILON * Math.max(1, passes);
}

function isFalling(modes: ModeTable, passes: number): boolean {
  let speed = 0;
  for (let index = 0; index < modes.count; index += 1) speed += speedOf(modes, index, passes);
  return speed > 0;
}

/** How fast one mode falls, in particles per mL and pass; negative when it rises. */
function speedOf(modes: ModeTable, index: number, passes: number): number {
  const rate = modes.rate[index] as number;
  const loss = rate * (modes.start[index] as number) - (modes.inflow[index] as number);
  return loss === 0 ? 0 : loss * Math.exp(-rate * passes);
}
