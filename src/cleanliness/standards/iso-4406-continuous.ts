import { checkNumbers } from "../../numeric/index.js";
import { ISO_4406_LAST, ISO_4406_UPPER_PER_ML } from "./iso-4406.js";

/** A scale number with the part between two of them, for trends and margins. */
export type ContinuousCode =
  | { readonly kind: "code"; readonly value: number }
  /** Cleaner than the upper limit of scale number 0, where the scale has no second point. */
  | { readonly kind: "below-scale" }
  | { readonly kind: "beyond-scale" };

/**
 * A real number that equals the scale number at each printed upper limit, and runs evenly in the logarithm of the count
 * between two limits.
 *
 * It is not part of ISO 4406. Rounded up it is the scale number of the count.
 *
 * @param count - particles in `volumeMl`
 * @param volumeMl - volume of the count in mL
 * @returns the number from 0 to 28, or on which side of the scale the count lies
 * @throws RangeError for a count that is negative or not a number
 * @source ISO-4406
 * @example
 * continuousCode(1800, 1); // => { kind: "code", value: 17.4976 }
 */
export function continuousCode(count: number, volumeMl: number): ContinuousCode {
  checkNumbers("notNegative", { "a count": count });
  checkNumbers("positive", { volumeMl });
  const perMl = count / volumeMl;
  // The engine finds things in a frozen list four times as slowly, and every count of every trend comes through here.
  let upperIndex = 0;
  while (upperIndex <= ISO_4406_LAST && !(perMl <= (ISO_4406_UPPER_PER_ML[upperIndex] as number)))
    upperIndex += 1;
  const upper = ISO_4406_UPPER_PER_ML[upperIndex];
  if (upper === undefined) return { kind: "beyond-scale" };
  if (perMl === upper) return { kind: "code", value: upperIndex };
  const lower = ISO_4406_UPPER_PER_ML[upperIndex - 1];
  if (lower === undefined) return { kind: "below-scale" };
  return { kind: "code", value: upperIndex - 1 + Math.log(perMl / lower) / Math.log(upper / lower) };
}

/**
 * The count that a continuous code stands for.
 *
 * @param value - 0 to 28
 * @returns particles per mL
 * @throws RangeError for a value off the scale
 * @source ISO-4406
 * @example
 * countOfContinuousCode(18); // => 2500
 */
export function countOfContinuousCode(value: number): number {
  checkNumbers("number", { value });
  const lower = ISO_4406_UPPER_PER_ML[Math.floor(value)];
  const upper = ISO_4406_UPPER_PER_ML[Math.ceil(value)];
  if (lower === undefined || upper === undefined) {
    throw new RangeError(`a continuous code lies between 0 and 28, not ${value}`);
  }
  return lower * (upper / lower) ** (value - Math.floor(value));
}
