import { countsOfIso4406, tryParseIso4406 } from "../cleanliness/index.js";
import { checkNumbers } from "../numeric/index.js";
import { tryParseQuantity } from "../units/index.js";
import type { OnlineReading } from "./minute.js";

/** What a line of JSON from an instrument is. */
export type SensorLine =
  | { readonly kind: "readings"; readonly readings: readonly OnlineReading[] }
  | { readonly kind: "not-read"; readonly expected: string; readonly found: string };

/** One value with its name, unit and moment, in whichever standard it came. */
interface Observed {
  readonly at: number;
  readonly name: string;
  readonly unit: string;
  readonly value: unknown;
}

const LINE =
  'an Observation of OGC SensorThings with its Datastream, or records of SenML (RFC 8428), such as {"n":"particles > 4 µm(c)","u":"1/mL","v":900,"t":1773500000}';
/** Moments below this are relative to now (RFC 8428, 4.5.3). */
const RELATIVE_BELOW_S = 2 ** 28;
const SHOWN = 60;
/** Milliseconds since 1970 that a calendar has, either way. */
const LATEST = 8.64e15;

/** Units of SenML and UCUM in the words of {@link tryParseQuantity}. */
const UNIT_WORDS: Readonly<Record<string, string>> = {
  Cel: "°C",
  "[degF]": "°F",
  bar: "bar",
  "[psi]": "psi",
  "[gal_us]/min": "US gal/min",
};
const PER_ML = new Set(["1/mL", "/mL", "1/ml", "/ml", "mL-1"]);
const PER_100_ML = new Set(["1/(100.mL)", "/(100.mL)", "1/100mL", "/100mL", "1/100 mL", "/100 mL"]);

/** Reads lines of JSON as instruments send them; it keeps the base fields that SenML states once for all lines after them. */
export class SensorLines {
  private base: {
    readonly name: string;
    readonly time: number;
    readonly unit: string;
    readonly value: number;
  } = {
    name: "",
    time: 0,
    unit: "",
    value: 0,
  };

  /**
   * Reads one line.
   *
   * @param line - JSON
   * @param now - milliseconds since 1970, for moments that are relative to it
   * @returns the readings, or what was expected instead; nothing is guessed, and no name that matters is passed over
   */
  read(line: string, now: number): SensorLine {
    checkNumbers("finite", { now });
    let document: unknown;
    try {
      document = JSON.parse(line);
    } catch {
      return notRead(LINE, line);
    }
    const records = Array.isArray(document) ? document : [document];
    const readings: OnlineReading[] = [];
    for (const record of records) {
      if (typeof record !== "object" || record === null) return notRead(LINE, line);
      const observed = "result" in record ? ofSensorThings(record) : this.ofSenml(record, now);
      if (observed === "none") continue;
      if (observed === undefined) return notRead(LINE, JSON.stringify(record));
      const reading = readingOf(observed);
      if ("expected" in reading) return { kind: "not-read", ...reading };
      readings.push(reading);
    }
    return { kind: "readings", readings };
  }

  private ofSenml(record: object, now: number): Observed | "none" | undefined {
    const { bn, bt, bu, bv, n, t, u, v, vs } = record as Record<string, unknown>;
    // A time or a name of another kind would be taken as the present one.
    if (![bt, bv, t].every(isNumberOrAbsent) || ![bn, bu, n, u].every(isTextOrAbsent)) return undefined;
    this.base = {
      name: typeof bn === "string" ? bn : this.base.name,
      time: typeof bt === "number" ? bt : this.base.time,
      unit: typeof bu === "string" ? bu : this.base.unit,
      value: typeof bv === "number" ? bv : this.base.value,
    };
    const value = typeof v === "number" ? this.base.value + v : (v ?? vs);
    if (value === undefined) return [bn, bt, bu, bv].some((base) => base !== undefined) ? "none" : undefined;
    const seconds = this.base.time + (typeof t === "number" ? t : 0);
    const at = seconds < RELATIVE_BELOW_S ? now + 1000 * seconds : 1000 * seconds;
    const unit = typeof u === "string" ? u : this.base.unit;
    return { at, name: `${this.base.name}${typeof n === "string" ? n : ""}`, unit, value };
  }
}

const isNumberOrAbsent = (value: unknown) => value === undefined || typeof value === "number";
const isTextOrAbsent = (value: unknown) => value === undefined || typeof value === "string";

function ofSensorThings(record: object): Observed | undefined {
  const { phenomenonTime, resultTime, result, Datastream } = record as Record<string, unknown>;
  if (typeof Datastream !== "object" || Datastream === null) return undefined;
  const { name, unitOfMeasurement } = Datastream as Record<string, unknown>;
  const symbol = (unitOfMeasurement as { symbol?: unknown } | undefined)?.symbol;
  // A time of a span is that of its end, when the count was complete.
  const when = [phenomenonTime, resultTime].find((time) => typeof time === "string") as string | undefined;
  const at = Date.parse(when?.split("/").at(-1) ?? "");
  if (typeof name !== "string" || Number.isNaN(at)) return undefined;
  return { at, name, unit: typeof symbol === "string" ? symbol : "", value: result };
}

function readingOf({ at, name, unit, value }: Observed): OnlineReading | { expected: string; found: string } {
  if (!(Math.abs(at) <= LATEST))
    return { expected: "a moment that a calendar has", found: name.slice(0, SHOWN) };
  const lower = name.toLowerCase();
  const said = `${name} ${String(value)} ${unit}`.slice(0, SHOWN);
  if (typeof value === "string") {
    if (!/iso.?4406/.test(lower))
      return { expected: "a number, or an ISO 4406 code under that name", found: said };
    return readingOfCode(at, name, value) ?? { expected: EXPECTED_CODE, found: said };
  }
  if (typeof value !== "number" || !Number.isFinite(value)) return { expected: "a number", found: said };
  const size = /(\d{1,3}(?:\.\d{1,2})?)\s{0,2}(?:µm|um|μm)(\(c\))?/.exec(lower);
  if (size !== null && /partic|count|>/.test(lower)) {
    if (NOT_ABOVE_A_SIZE.test(lower))
      return { expected: "particles above one size, with their volume in the unit", found: said };
    if (size[2] === undefined) return { expected: "a size in µm(c), such as > 4 µm(c)", found: said };
    const perMl = PER_ML.has(unit) ? value : PER_100_ML.has(unit) ? value / 100 : undefined;
    if (perMl === undefined)
      return { expected: 'the unit "1/mL" or "1/(100.mL)" for particles', found: said };
    if (perMl < 0) return { expected: "0 particles or more", found: said };
    return { at, name, counts: [{ sizeUmC: Number(size[1]), perMl }] };
  }
  if (/satur/.test(lower)) {
    const share =
      unit === "/" || unit === "1" ? value : unit === "%" || unit === "%RH" ? value / 100 : undefined;
    if (share === undefined || share < 0 || share > MAX_SATURATION)
      return { expected: EXPECTED_SATURATION, found: said };
    return { at, name, waterSaturation: share };
  }
  for (const [word, kind, field] of NAMED) {
    if (!word.test(lower) || isOfSurroundings(lower)) continue;
    const [number, word2] =
      unit === "l/s"
        ? [value * 60, "L/min"]
        : unit === "Pa"
          ? [value / 1000, "kPa"]
          : [value, UNIT_WORDS[unit] ?? unit];
    const quantity = tryParseQuantity(`${number} ${word2}`, kind);
    if (quantity.kind === "refused") return { expected: quantity.expected, found: said };
    return { at, name, [field]: quantity.value };
  }
  // What is not asked about is not used, and does no harm.
  return { at };
}

/** A range of sizes, particles below a size, or a volume in the name, which the unit may contradict. */
const NOT_ABOVE_A_SIZE =
  /\d\s{0,2}(?:µm|um|μm)?(?:\(c\))?\s{0,2}(?:-|–|to|\.{2,3})\s{0,2}\d|<|≤|\bper\b|\bbelow\b|\bunder\b/;
const NOT_OF_THE_FLUID = /\b(ambient|air|room|outdoor|outside|hangar)\b/;

/**
 * Whether a value is one of the surroundings, and not of the fluid.
 *
 * @param name - in lower case
 */
export function isOfSurroundings(name: string): boolean {
  return NOT_OF_THE_FLUID.test(name);
}

const NAMED = [
  [/temperature/, "temperature", "temperatureC"],
  [/flow/, "flow", "flowLpm"],
  [/pressure.?(drop|difference)|differential.?pressure/, "pressure", "pressureDropBar"],
] as const;

/** No sensor shows more than twice what a fluid dissolves. */
export const MAX_SATURATION = 2;
/** What is expected in the place of a saturation. */
export const EXPECTED_SATURATION = "a saturation in % or as a fraction";
/** What is expected in the place of a code. */
export const EXPECTED_CODE = 'an ISO 4406 code such as "19/17/14"';

/**
 * A code says that each count is within a class: its upper edge is taken, which nothing can be cleaner for.
 *
 * @returns undefined for what is no code
 */
export function readingOfCode(at: number, name: string, text: string): OnlineReading | undefined {
  const code = tryParseIso4406(text);
  if (code === undefined) return undefined;
  const counts = countsOfIso4406(code).flatMap(({ sizeUm, upTo }) =>
    upTo === undefined ? [] : [{ sizeUmC: sizeUm, perMl: upTo }],
  );
  return { at, name, isClass: true, counts };
}

function notRead(expected: string, found: string): SensorLine {
  return { kind: "not-read", expected, found: found.slice(0, SHOWN) };
}
