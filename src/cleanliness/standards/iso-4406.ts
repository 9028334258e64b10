import { sampleSeenMl } from "../../counts/index.js";
import { frozen, shown } from "../../provenance/index.js";
import { type ClassifiedChannel, type ClassTable, classIndexOf, classifyByTable } from "../class-table.js";
import { readChannel, type TableCounts } from "../size-pairs.js";

/** Sizes of the three-number code in µm(c). */
export const ISO_4406_SIZES_UM = frozen([4, 6, 14] as const);

/**
 * Upper limit of each scale number in particles per mL; the index is the scale number. A count equal to the
 * limit has that number, one above it the next.
 *
 * @source ISO-4406
 */
export const ISO_4406_UPPER_PER_ML = frozen([
  0.01, 0.02, 0.04, 0.08, 0.16, 0.32, 0.64, 1.3, 2.5, 5, 10, 20, 40, 80, 160, 320, 640, 1300, 2500, 5000,
  10_000, 20_000, 40_000, 80_000, 160_000, 320_000, 640_000, 1_300_000, 2_500_000,
] as const);

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

/** A channel of the code, named by its size in µm(c). */
export type Iso4406Channel = "4" | "6" | "14";

/**
 * The scale as a table of classes, one for each channel, so that it is read by the same rules as the others.
 *
 * @source ISO-4406
 */
export const ISO_4406: ClassTable<Iso4406Channel, string> = frozen({
  standard: "ISO 4406",
  edition: "1999, scale unchanged in 2017 and 2021",
  source: "ISO-4406",
  volumeMl: 1,
  channels: [
    { name: "4", fromUm: 4 },
    { name: "6", fromUm: 6 },
    { name: "14", fromUm: 14 },
  ],
  rows: ISO_4406_UPPER_PER_ML.map((upper, scaleNumber) => [String(scaleNumber), [upper, upper, upper]]),
  beyond: `>${ISO_4406_LAST}`,
});

/** A scale number for which fewer raw particles than this were counted is written with ≥. */
export const RAW_PARTICLES_MIN = 20;

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
  const scaleNumber = classIndexOf(count, volumeMl, ISO_4406_UPPER_PER_ML, 1);
  return scaleNumber > ISO_4406_LAST ? { kind: "beyond" } : { kind: "number", scaleNumber, atLeast: false };
}

/**
 * The code of a sample.
 *
 * Counts in µm(c) give three numbers. Counts by microscope or on the older scale give the two numbers for 5 and 15 µm,
 * with a dash in the first place. Where the counted volume is known and fewer than 20 particles were counted at a size,
 * its number is written with ≥.
 *
 * @param counts - counts in either form
 * @returns the code, or undefined when 4, 6 and 14 µm(c) (or 5 and 15 µm) were not all counted
 * @source ISO-4406
 * @source ISO-4406-LOW-COUNT
 */
export function classifyIso4406(counts: TableCounts): Iso4406Code | undefined {
  const [at4, at6, at14] = ISO_4406_SIZES_UM.map((sizeUm) => placeAt(counts, sizeUm));
  if (at6 === undefined || at14 === undefined) return undefined;
  if (counts.scale !== "um(c)") return [{ kind: "not-counted" }, at6, at14];
  return at4 && [at4, at6, at14];
}

function placeAt(counts: TableCounts, sizeUm: number): ScaleNumber | undefined {
  const reading = readChannel(counts, sizeUm, undefined);
  if (reading === undefined) return undefined;
  const place = scaleNumberOf(reading.count, counts.volumeMl);
  const seenMl = sampleSeenMl(counts);
  const few =
    seenMl !== undefined &&
    reading.basis !== "estimated" &&
    !((reading.count + reading.blank) / counts.volumeMl >= RAW_PARTICLES_MIN / seenMl);
  return few && place.kind === "number" ? { ...place, atLeast: true } : place;
}

/**
 * The channels of a code with their counts, limits and margins.
 *
 * @param counts - counts in either form
 * @returns the channels that were counted, smallest size first
 * @source ISO-4406
 */
export function iso4406Channels(counts: TableCounts): readonly ClassifiedChannel<Iso4406Channel, string>[] {
  const channels = classifyByTable(ISO_4406, counts)?.channels ?? [];
  // The microscope code has no place for 4 µm(c).
  return counts.scale === "um(c)" ? channels : channels.filter((entry) => entry.channel !== "4");
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
 * @example
 * formatIso4406(parseIso4406("21/17/-")); // => "21/17/-"
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
 * formatIso4406(parseIso4406("18/16/13")); // => "18/16/13"
 */
export function parseIso4406(text: string): Iso4406Code {
  const places = text.trim().split("/");
  if (places.length !== ISO_4406_SIZES_UM.length) {
    throw new RangeError(
      `"${shown(text)}" is not an ISO 4406 code: expected three scale numbers for 4, 6 and 14 µm(c), such as 18/16/13`,
    );
  }
  return readPlaces(places, text);
}

/**
 * Reads a two-number code, by microscope at 5 and 15 µm, or by the edition of 1987.
 *
 * It is kept apart from {@link parseIso4406}, because two numbers alone do not say which sizes they stand for.
 *
 * @param text - such as "16/13" or "-/16/13"
 * @returns the code with a dash in the first place
 * @throws RangeError naming the text and the rule it breaks
 * @source ISO-4406
 * @example
 * formatIso4406(parseTwoNumberCode("16/13")); // => "-/16/13"
 */
export function parseTwoNumberCode(text: string): Iso4406Code {
  const places = text.trim().replace(/^-\//, "").split("/");
  if (places.length !== 2) {
    throw new RangeError(
      `"${shown(text)}" is not a two-number ISO 4406 code: expected scale numbers for 5 and 15 µm, such as 16/13`,
    );
  }
  return readPlaces(["-", ...places], text);
}

function readPlaces(places: readonly string[], text: string): Iso4406Code {
  const [at4, at6, at14] = places.map((place) => readScaleNumber(place.trim(), text)) as [
    ScaleNumber,
    ScaleNumber,
    ScaleNumber,
  ];
  const numbers = [at4, at6, at14].map(lowestPossible).filter((lowest) => lowest !== undefined);
  if (numbers.some((lowest, index) => index > 0 && lowest > (numbers[index - 1] as number))) {
    throw new RangeError(`"${shown(text)}" is not an ISO 4406 code: scale numbers cannot rise with size`);
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
      `"${shown(place)}" in "${shown(code)}" is not a scale number: expected 0 to ${ISO_4406_LAST}, >${ISO_4406_LAST}, - or *`,
    );
  }
  return { kind: "number", scaleNumber, atLeast: match?.[1] !== undefined };
}

/** A scale number for comparing, "beyond" counting as one more than the last; undefined where nothing is known. */
export function lowestPossible(place: ScaleNumber): number | undefined {
  if (place.kind === "number") return place.scaleNumber;
  return place.kind === "beyond" ? ISO_4406_LAST + 1 : undefined;
}
