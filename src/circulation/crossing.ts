import { levelOfMode, type ModeTable } from "./modes.js";

/**
 * The first moment from `from` on at which a level is not above its limit.
 *
 * The modes that fall make a sum that is log-convex above its own floor; those that rise only add to it. From any
 * moment the level can therefore not fall faster than the falling part goes down along its present logarithmic
 * slope while the rising part stays where it is. Stepping to where that bound meets the limit never passes the
 * first crossing, and lands on it in one step when there is a single exponential. The steps end when they no longer
 * move the moment, so the result is good to rounding and there is no tolerance.
 *
 * @param modes - the level
 * @param limit - particles per mL
 * @param from - passes, 0 or more
 * @returns passes; Infinity when the level is never inside again
 */
export function firstInside(modes: ModeTable, limit: number, from: number): number {
  let passes = from;
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
        const left = loss * Math.exp(-rate * passes);
        falling += left / rate;
        speed += left;
        fixed += inflow / rate;
      } else {
        fixed += levelOfMode(start, inflow, rate, passes);
      }
    }
    const headroom = limit - fixed;
    if (!(headroom > 0)) return falling === 0 && fixed <= limit ? passes : Number.POSITIVE_INFINITY;
    if (falling <= headroom) return passes;
    const next = passes + (Math.log(falling / headroom) * falling) / speed;
    if (!(next > passes)) return passes;
    passes = next;
  }
}

/**
 * The first moment from `from` on at which a level that is inside goes above its limit.
 *
 * First the moment is found from which the level rises: until then it cannot leave. The speed of the falling part
 * shrinks at most along its present logarithmic slope, and that of the rising part no slower than its slowest mode
 * allows, so the steps never pass that moment. From there the level is followed upwards along the speed of its
 * rising part, which only slows down.
 *
 * @param modes - the level, not above the limit at `from`
 * @param limit - particles per mL
 * @param from - passes, 0 or more
 * @returns passes; Infinity when it stays inside
 */
export function firstOutside(modes: ModeTable, limit: number, from: number): number {
  let passes = firstRise(modes, from);
  for (;;) {
    if (passes === Number.POSITIVE_INFINITY) return passes;
    let level = 0;
    let highest = 0;
    let speed = 0;
    for (let index = 0; index < modes.count; index += 1) {
      const start = modes.start[index] as number;
      const inflow = modes.inflow[index] as number;
      const rate = modes.rate[index] as number;
      const gain = inflow - rate * start;
      const now = levelOfMode(start, inflow, rate, passes);
      level += now;
      if (gain > 0) {
        speed += gain * Math.exp(-rate * passes);
        highest += rate === 0 ? Number.POSITIVE_INFINITY : inflow / rate;
      } else {
        highest += now;
      }
    }
    if (level > limit) return passes;
    if (highest <= limit || speed === 0) return Number.POSITIVE_INFINITY;
    const next = passes + (limit - level) / speed;
    if (!(next > passes)) return passes;
    passes = next;
  }
}

/** The first moment from `from` on at which the level does not fall; Infinity when it falls for ever. */
function firstRise(modes: ModeTable, from: number): number {
  let passes = from;
  for (;;) {
    let down = 0;
    let slope = 0;
    let up = 0;
    let slowest = Number.POSITIVE_INFINITY;
    for (let index = 0; index < modes.count; index += 1) {
      const rate = modes.rate[index] as number;
      const loss = rate * (modes.start[index] as number) - (modes.inflow[index] as number);
      const speed = loss * Math.exp(-rate * passes);
      if (loss > 0) {
        down += speed;
        slope += rate * speed;
      } else if (loss < 0) {
        up -= speed;
        slowest = Math.min(slowest, rate);
      }
    }
    if (down <= up) return passes;
    const excess = slope / down - slowest;
    if (!(up > 0 && excess > 0)) return Number.POSITIVE_INFINITY;
    const next = passes + Math.log(down / up) / excess;
    if (!(next > passes)) return passes;
    passes = next;
  }
}
