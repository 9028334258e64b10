/** The upper 32 bits of a Float64Array's number stand in this one of its two words. */
const UPPER_WORD = new Uint8Array(Uint16Array.of(1).buffer)[0] === 1 ? 1 : 0;

/** Bits of the upper word that are left out: what remains is the exponent and four bits, a sixteenth of an octave. */
const LEFT_OUT = 16;
const SIXTEENTHS = 1 << 15;

/** As many numbers are looked up together; they stay in the processor's nearest memory. */
export const TOGETHER = 2048;

/** Numbers that are looked up together, and the same numbers as words. */
export class LookedUp {
  readonly values = new Float64Array(TOGETHER);
  readonly words = new Uint32Array(this.values.buffer);
}

/**
 * Finds the first of some rising limits that a number does not exceed, without searching.
 *
 * Class limits double or so from class to class, so the exponent of a number and its next four bits name a place among them
 * that is right fifteen times in sixteen and otherwise one off; comparing with the limits themselves decides. The answer is
 * that of comparing with one limit after the other, to the last digit.
 */
export class LimitLookup {
  /** Limits that never fall, and one at the end that nothing exceeds. */
  private readonly limits: Float64Array;
  /** How many limits lie below each sixteenth of an octave. */
  private readonly below = new Uint8Array(SIXTEENTHS);

  /** @param limits - fewer than 256; one lower than a limit before it can never be the first, and is passed over */
  constructor(limits: Float64Array) {
    this.limits = new Float64Array(limits.length + 1).fill(Number.POSITIVE_INFINITY);
    const number = new LookedUp();
    let highest = Number.NEGATIVE_INFINITY;
    let filled = 0;
    for (let place = 0; place < limits.length; place += 1) {
      highest = Math.max(highest, limits[place] as number);
      this.limits[place] = highest;
      // A limit below 0 is exceeded by every count.
      if (highest < 0) continue;
      number.values[0] = highest;
      const above = ((number.words[UPPER_WORD] as number) >>> LEFT_OUT) + 1;
      this.below.fill(place, filled, above);
      filled = above;
    }
    this.below.fill(limits.length, filled);
  }

  /**
   * Writes the place of the first limit that each number does not exceed; as many as there are limits when it exceeds all.
   *
   * @param numbers - 0 or more; what is written for any other has no meaning
   * @param count - how many of them
   * @param places - where to write, from `start` on
   */
  find({ values, words }: LookedUp, count: number, places: Int8Array, start: number): void {
    const { limits, below } = this;
    for (let index = 0; index < count; index += 1) {
      const word = words[2 * index + UPPER_WORD] as number;
      let place = below[(word >>> LEFT_OUT) & (SIXTEENTHS - 1)] as number;
      const value = values[index] as number;
      while (value > (limits[place] as number)) place += 1;
      places[start + index] = place;
    }
  }
}
