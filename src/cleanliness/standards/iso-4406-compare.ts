import type { ParticleLimit } from "../particle-limit.js";
import {
  formatIso4406,
  formatScaleNumber,
  ISO_4406_SIZES_UM,
  ISO_4406_UPPER_PER_ML,
  type Iso4406Code,
  lowestPossible,
  type ScaleNumber,
} from "./iso-4406.js";

/**
 * The most particles a code allows, for each place that asks for something.
 *
 * @param code - a target; "-" asks for nothing
 * @returns upper limits per mL
 * @throws RangeError when a place has no upper limit (">28" or "*")
 * @source ISO-4406
 */
export function limitsOfIso4406(code: Iso4406Code): ParticleLimit[] {
  return code.flatMap((place, index) => {
    if (place.kind === "not-counted") return [];
    if (place.kind !== "number") {
      throw new RangeError(
        `"${formatIso4406(code)}": ${formatScaleNumber(place)} has no upper limit and cannot be a target`,
      );
    }
    const fromUm = ISO_4406_SIZES_UM[index] as number;
    const limit = ISO_4406_UPPER_PER_ML[place.scaleNumber] as number;
    return [{ channel: String(fromUm), fromUm, limit, volumeMl: 1 }];
  });
}

/** One place of a code compared with a target. */
export interface ComparedPlace {
  /** Size in µm(c). */
  readonly sizeUm: number;
  readonly found: ScaleNumber;
  readonly required: ScaleNumber;
  readonly outcome: "inside" | "outside" | "not-known" | "no-limit";
  /** Scale numbers above (more than 0) or below the target, where both places have a number. */
  readonly steps?: number;
}

/**
 * Holds a code against a target, place by place.
 *
 * A place found with ≥ is never "inside": fewer than 20 particles do not show how low the number is.
 *
 * @param code - what was found
 * @param target - the required code; "-" is no requirement
 * @returns one entry for each place
 * @source ISO-4406
 * @example
 * comparePlaces(parseIso4406("18/15/13"), parseIso4406("17/15/12"))[0].steps; // => 1
 */
export function comparePlaces(code: Iso4406Code, target: Iso4406Code): ComparedPlace[] {
  return target.map((required, index) => {
    const found = code[index] as ScaleNumber;
    const place = { sizeUm: ISO_4406_SIZES_UM[index] as number, found, required };
    if (required.kind !== "number") return { ...place, outcome: "no-limit" };
    const steps = found.kind === "number" ? { steps: found.scaleNumber - required.scaleNumber } : {};
    if (found.kind === "not-counted") return { ...place, outcome: "not-known" };
    const lowest = lowestPossible(found) ?? Number.POSITIVE_INFINITY;
    if (lowest > required.scaleNumber) return { ...place, outcome: "outside", ...steps };
    const low = found.kind === "number" && found.atLeast;
    return { ...place, outcome: low ? "not-known" : "inside", ...steps };
  });
}

/**
 * Compares a code with a target.
 *
 * @param code - what was found
 * @param target - the required code; "-" is no requirement
 * @returns "inside" when every required place is known and not above the target, "outside" when one is
 *   above it, otherwise "not-known"
 */
export function compareIso4406(code: Iso4406Code, target: Iso4406Code): "inside" | "outside" | "not-known" {
  const outcomes = comparePlaces(code, target).map((place) => place.outcome);
  if (outcomes.includes("outside")) return "outside";
  return outcomes.includes("not-known") ? "not-known" : "inside";
}

/** The particles one place of a code stands for, in particles per mL. */
export interface AllowedCounts {
  /** Size in µm(c). */
  readonly sizeUm: number;
  /** The count is more than this; absent where a count of 0 is possible. */
  readonly moreThan?: number;
  /** The count is at most this; absent where nothing bounds it. */
  readonly upTo?: number;
}

/**
 * The counts that a code stands for.
 *
 * The lowest scale number is printed as "more than 0"; here it also holds a count of 0, for which the scale has no other
 * place. A place with ≥ is given the range of its number, as the standard's own example does. "-" and "*" say nothing
 * of the count and bound nothing.
 *
 * @param code - a code
 * @returns one range for each size
 * @source ISO-4406
 * @example
 * countsOfIso4406(parseIso4406("18/16/13"))[2]; // => { sizeUm: 14, moreThan: 40, upTo: 80 }
 */
export function countsOfIso4406(code: Iso4406Code): AllowedCounts[] {
  return code.map((place, index) => {
    const sizeUm = ISO_4406_SIZES_UM[index] as number;
    if (place.kind === "beyond") return { sizeUm, moreThan: ISO_4406_UPPER_PER_ML.at(-1) as number };
    if (place.kind !== "number") return { sizeUm };
    const moreThan = ISO_4406_UPPER_PER_ML[place.scaleNumber - 1];
    const upTo = ISO_4406_UPPER_PER_ML[place.scaleNumber] as number;
    return { sizeUm, ...(moreThan !== undefined && { moreThan }), upTo };
  });
}
