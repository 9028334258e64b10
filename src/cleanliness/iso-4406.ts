import { type CountSet, countAt, isWithin } from "../counts/index.js";
import type { ParticleLimit } from "./particle-limit.js";

/** Sizes of the three-number code in µm(c). */
export const ISO_4406_SIZES_UM = [4, 6, 14] as const;

/**
 * Upper limit of each scale number in particles per mL; the index is the scale number. A count equal to the
 * limit has that number, one above it the next.
 *
 * @source ISO-4406
 */
export const ISO_4406_UPPER_PER_ML = [
  0.01, 0.02, 0.04, 0.08, 0.16, 0.32, 0.64, 1.3, 2.5, 5, 10, 20, 40, 80, 160, 320, 640, 1300, 2500, 5000,
  10_000, 20_000, 40_000, 80_000, 160_000, 320_000, 640_000, 1_300_000, 2_500_000,
] as const;

/** The last scale number; dirtier than it is ">28". */
export const ISO_4406_LAST = ISO_4406_UPPER_PER_ML.length - 1;

/** One place of a code. */
export type ScaleNumber =
  | { readonly kind: "number"; readonly scaleNumber: number; readonly atLeast: boolean }
  | { readonly kind: "beyond" }
  | { readonly kind: "not-counted" }
  | { readonly kind: "too-many" };

/** A three-number code for 4, 6 and 14 µm(c), in that order. */
export type Iso4406Code = readonly [ScaleNumber, ScaleNumber, ScaleNumber];

/**
 * The scale number of a count.
 *
 * @param count - particles in `volumeMl`
 * @param volumeMl - volume of the count in mL
 * @returns the number, or "beyond" for more than 2 500 000 particles per mL
 * @throws RangeError for a count that is negative or not a number
 * @source ISO-4406
 * @example
 * scaleNumberOf(15000, 1); // => { kind: "number", scaleNumber: 21, atLeast: false }
 */
export function scaleNumberOf(count: number, volumeMl: number): ScaleNumber {
  if (!(count >= 0)) throw new RangeError(`a count must be 0 or more, not ${count}`);
  const scaleNumber = ISO_4406_UPPER_PER_ML.findIndex((upper) => isWithin(count, volumeMl, upper, 1));
  return scaleNumber === -1 ? { kind: "beyond" } : { kind: "number", scaleNumber, atLeast: false };
}

/**
 * The code of a sample.
 *
 * @param counts - cumulative counts on the µm(c) scale
 * @returns the code, or undefined when 4, 6 and 14 µm(c) were not all counted
 * @source ISO-4406
 */
export function classifyIso4406(counts: CountSet): Iso4406Code | undefined {
  const [at4, at6, at14] = ISO_4406_SIZES_UM.map((sizeUm) => countAt(counts, sizeUm));
  if (at4 === undefined || at6 === undefined || at14 === undefined) return undefined;
  const number = (count: number) => scaleNumberOf(count, counts.volumeMl);
  return [number(at4), number(at6), number(at14)];
}

/**
 * Writes one place of a code.
 *
 * @returns "17", "≥7", ">28", "-" or "*"
 */
export function formatScaleNumber(place: ScaleNumber): string {
  switch (place.kind) {
    case "number":
      return place.atLeast ? `≥${place.scaleNumber}` : String(place.scaleNumber);
    case "beyond":
      return `>${ISO_4406_LAST}`;
    case "not-counted":
      return "-";
    case "too-many":
      return "*";
  }
}

/**
 * Writes a code.
 *
 * @returns for example "21/17/13"
 */
export function formatIso4406(code: Iso4406Code): string {
  return code.map(formatScaleNumber).join("/");
}

/**
 * Reads a three-number code.
 *
 * @param text - numbers for 4, 6 and 14 µm(c), such as "18/16/13", "18/16/≥7" or "-/16/13"
 * @returns the code
 * @throws RangeError naming the text and the rule it breaks
 * @source ISO-4406
 * @example
 * formatIso4406(readIso4406("18/16/13")); // => "18/16/13"
 */
export function readIso4406(text: string): Iso4406Code {
  const places = text.trim().split("/");
  if (places.length !== ISO_4406_SIZES_UM.length) {
    throw new RangeError(
      `"${text}" is not an ISO 4406 code: expected three scale numbers for 4, 6 and 14 µm(c), such as 18/16/13`,
    );
  }
  const [at4, at6, at14] = places.map((place) => readScaleNumber(place.trim(), text)) as [
    ScaleNumber,
    ScaleNumber,
    ScaleNumber,
  ];
  const numbers = [at4, at6, at14].map(lowestPossible).filter((lowest) => lowest !== undefined);
  if (numbers.some((lowest, index) => index > 0 && lowest > (numbers[index - 1] as number))) {
    throw new RangeError(`"${text}" is not an ISO 4406 code: scale numbers cannot rise with size`);
  }
  return [at4, at6, at14];
}

function readScaleNumber(place: string, code: string): ScaleNumber {
  if (place === "-") return { kind: "not-counted" };
  if (place === "*") return { kind: "too-many" };
  if (place === `>${ISO_4406_LAST}`) return { kind: "beyond" };
  const match = /^(≥|>=)?(\d{1,2})$/.exec(place);
  const scaleNumber = Number(match?.[2]);
  if (!(scaleNumber <= ISO_4406_LAST)) {
    throw new RangeError(
      `"${place}" in "${code}" is not a scale number: expected 0 to ${ISO_4406_LAST}, >${ISO_4406_LAST}, - or *`,
    );
  }
  return { kind: "number", scaleNumber, atLeast: match?.[1] !== undefined };
}

/** A scale number for comparing, "beyond" counting as one more than the last; undefined where nothing is known. */
function lowestPossible(place: ScaleNumber): number | undefined {
  if (place.kind === "number") return place.scaleNumber;
  return place.kind === "beyond" ? ISO_4406_LAST + 1 : undefined;
}

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
      throw new RangeError(`${formatScaleNumber(place)} has no upper limit and cannot be a target`);
    }
    const fromUm = ISO_4406_SIZES_UM[index] as number;
    const limit = ISO_4406_UPPER_PER_ML[place.scaleNumber] as number;
    return [{ channel: String(fromUm), fromUm, limit, volumeMl: 1 }];
  });
}

/**
 * Compares a code with a target, place by place.
 *
 * @param code - what was found
 * @param target - what is asked for; "-" asks for nothing
 * @returns "inside" when every place that is asked for is known and not above the target, "outside" when one is
 *   above it, otherwise "not-known"
 */
export function compareIso4406(code: Iso4406Code, target: Iso4406Code): "inside" | "outside" | "not-known" {
  const outcomes = target.flatMap((asked, index) => {
    if (asked.kind !== "number") return [];
    const found = code[index] as ScaleNumber;
    if (found.kind === "not-counted") return ["not-known"];
    const lowest = lowestPossible(found) ?? Number.POSITIVE_INFINITY;
    if (lowest > asked.scaleNumber) return ["outside"];
    return [found.kind === "number" && found.atLeast ? "not-known" : "inside"];
  });
  if (outcomes.includes("outside")) return "outside";
  return outcomes.includes("not-known") ? "not-known" : "inside";
}
