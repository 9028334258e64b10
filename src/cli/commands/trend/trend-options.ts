import { ISO_4406_SIZES_UM, parseIso4406 } from "../../../cleanliness/index.js";
import { MEASURES, type Measure, PARTICLE_MEASURES } from "../../../fitness/index.js";
import type { Assumption } from "../../../provenance/index.js";
import { MAX_DAYS } from "../../../samples/index.js";
import type { Bound } from "../../../trend/index.js";
import { KEPT_UNITS, type QuantityKind, tryParseQuantity } from "../../../units/index.js";
import { UsageError } from "../../io.js";

/** Options of `siltbook trend`. */
export interface TrendOptions {
  readonly book?: string;
  readonly carts?: string;
  readonly requirement?: string;
  readonly cart: string;
  readonly circuit: string;
  readonly measure: string;
  readonly limit?: string;
  readonly lowerLimit?: string;
  readonly newFluid?: string;
  readonly on?: string;
  readonly horizon?: string;
  readonly longest?: string;
  readonly risk?: string;
  readonly json?: boolean;
  /** All there is to say, not only where it is heading. */
  readonly explain?: boolean;
}

/**
 * Reads the measures that an option names.
 *
 * @throws UsageError naming what is expected
 */
export function readMeasures(text: string): readonly Measure[] {
  if (text === "particles") return PARTICLE_MEASURES;
  const measure = MEASURES.find((name) => name === text);
  if (measure === undefined) {
    throw new UsageError(`--measure: expected ${MEASURES.join(", ")} or particles, found "${text}"`);
  }
  return [measure];
}

/**
 * Reads a number above 0.
 *
 * @throws UsageError naming the option
 */
export function readPositive(option: string, text: string, expected: string): number {
  // As it is written by people: "0x10" is a number to the language alone.
  const value = /^\s*\d+(?:\.\d+)?(?:e\d+)?\s*$/i.test(text) ? Number(text) : Number.NaN;
  if (!(value > 0 && Number.isFinite(value))) {
    throw new UsageError(`${option}: expected ${expected}, found "${text}"`);
  }
  return value;
}

/**
 * Reads a number of days.
 *
 * @param such - an example
 * @throws UsageError naming the option, also for more than a hundred years
 */
export function readDays(option: string, text: string, such: number): number {
  const expected = `days, such as ${such}, and at most ${MAX_DAYS}`;
  const days = readPositive(option, text, expected);
  if (days > MAX_DAYS) throw new UsageError(`${option}: expected ${expected}, found "${text}"`);
  return days;
}

/** A value of a measure with what was assumed when reading it. */
export interface MeasureValue {
  readonly value: number;
  readonly assumptions: readonly Assumption[];
}

const QUANTITIES: Partial<Record<Measure, QuantityKind>> = {
  water: "waterContent",
  acid: "acidNumber",
  viscosity: "viscosity",
};

/**
 * Reads a value of a measure: a quantity with its unit, a bare number in the unit of the measure, or an ISO 4406 code.
 *
 * @throws UsageError naming the option and what is expected
 */
export function readMeasureValue(option: string, text: string, measure: Measure): MeasureValue {
  const kind = QUANTITIES[measure];
  if (kind === undefined) return { value: readCode(option, text, measure), assumptions: [] };
  if (/^\s*\d+(\.\d+)?\s*$/.test(text) && Number.isFinite(Number(text))) {
    const message = `${option} ${text.trim()} was read in ${KEPT_UNITS[kind]}`;
    return { value: Number(text), assumptions: [{ code: "unit-of-option", message }] };
  }
  const reading = tryParseQuantity(text, kind);
  if (reading.kind === "refused")
    throw new UsageError(`${option}: expected ${reading.expected}, found "${text}"`);
  return { value: reading.value, assumptions: reading.kind === "assumed" ? [reading.assumption] : [] };
}

/** The scale number of the measure's size in an ISO 4406 code, or a bare one. */
function readCode(option: string, text: string, measure: Measure): number {
  if (!text.includes("/"))
    return readPositive(option, text, 'an ISO 4406 code such as "18/16/13" or a scale number');
  const index = ISO_4406_SIZES_UM.findIndex((sizeUm) => measure === `particles-${sizeUm}`);
  const place = parseIso4406(text)[index];
  if (place?.kind !== "number") {
    throw new UsageError(`${option}: the code "${text}" has no scale number for ${measure}`);
  }
  return place.scaleNumber;
}

/** What the options say of one measure. */
interface MeasureOptions {
  readonly bounds?: readonly Bound[];
  readonly newFluid?: number;
  readonly assumptions: readonly Assumption[];
}

/**
 * Reads the limits and the value of new fluid, in the unit of a measure.
 *
 * @throws UsageError when an option cannot be read
 */
export function readMeasureOptions(options: TrendOptions, measure: Measure): MeasureOptions {
  const read = (option: string, text: string | undefined) =>
    text === undefined ? undefined : readMeasureValue(option, text, measure);
  const upper = read("--limit", options.limit);
  const lower = read("--lower-limit", options.lowerLimit);
  const newFluid = read("--new-fluid", options.newFluid);
  const bounds: Bound[] = [
    ...(upper === undefined ? [] : [{ limit: upper.value, towards: "above" as const }]),
    ...(lower === undefined ? [] : [{ limit: lower.value, towards: "below" as const }]),
  ];
  return {
    ...(bounds.length > 0 && { bounds }),
    ...(newFluid && { newFluid: newFluid.value }),
    assumptions: [upper, lower, newFluid].flatMap((value) => value?.assumptions ?? []),
  };
}

/** Reads a chance in per cent. */
export function readRisk(text: string): number {
  const risk = readPositive("--risk", text, "a chance in per cent, above 0 and below 100") / 100;
  if (!(risk < 1)) throw new UsageError(`--risk: expected a chance in per cent below 100, found "${text}"`);
  return risk;
}
