import type { Assumption } from "../../provenance/index.js";
import type { Measured } from "../../samples/index.js";
import { describeTwoReadings, type QuantityKind, tryParseStatedQuantity } from "../../units/index.js";

/** Something that a person typed: read, with what was assumed; or refused, with what was expected. */
export type Reading<T> =
  | { readonly kind: "read"; readonly value: T; readonly assumptions: readonly Assumption[] }
  | { readonly kind: "refused"; readonly problems: readonly string[] };

/** Nothing was assumed. */
export function read<T>(value: T): Reading<T> {
  return { kind: "read", value, assumptions: [] };
}

/** Refuses a field, saying what was expected and what was typed. */
export function refuse(problem: string): Extract<Reading<never>, { kind: "refused" }> {
  return { kind: "refused", problems: [problem] };
}

/** Takes the values out of several readings; all problems together where one of them was refused. */
export function readAll<T extends Readonly<Record<string, unknown>>>(
  readings: {
    readonly [K in keyof T]: Reading<T[K]>;
  },
): Reading<T> {
  const entries = Object.entries(readings) as [string, Reading<unknown>][];
  const problems = entries.flatMap(([, reading]) => (reading.kind === "refused" ? reading.problems : []));
  if (problems.length > 0) return { kind: "refused", problems };
  const taken = entries.flatMap(([name, reading]) => (reading.kind === "read" ? [{ name, reading }] : []));
  return {
    kind: "read",
    value: Object.fromEntries(taken.map(({ name, reading }) => [name, reading.value])) as T,
    assumptions: taken.flatMap(({ reading }) => reading.assumptions),
  };
}

const LIMITS = { "<": "below", "≤": "at-most", "≥": "at-least", ">": "above" } as const;
const NUMBER = /^([<≤≥>]?)\s*(\d+(?:\s\d{3})*(?:[.,]\d+)?)$/;

/** Reads a count or a result, such as "1200", "1 200", "0.15", "0,15" or "< 5". */
export function readMeasured(name: string, text: string): Reading<Measured> {
  const trimmed = text.trim();
  const [, sign = "", figures] = NUMBER.exec(trimmed) ?? [];
  if (figures === undefined) return refuse(`${name}: expected a number such as 1200, found "${trimmed}"`);
  const number = figures.replace(/\s/g, "").replace(",", ".");
  const twoReadings = describeTwoReadings(number);
  if (twoReadings !== undefined) return refuse(`${name}: ${twoReadings}`);
  const limit = LIMITS[sign as keyof typeof LIMITS];
  return read({ value: Number(number), ...(limit && { limit }) });
}

/** Reads a number above 0 that is no limit value. */
export function readPositive(name: string, text: string): Reading<number> {
  const measured = readMeasured(name, text);
  if (measured.kind === "refused") return measured;
  const { value, limit } = measured.value;
  return value > 0 && limit === undefined
    ? read(value)
    : refuse(`${name}: expected a number above 0, found "${text.trim()}"`);
}

/** Reads a quantity with its unit, above 0, such as "12 gpm". */
export function readQuantity(name: string, text: string, kind: QuantityKind): Reading<number> {
  const reading = tryParseStatedQuantity(text, kind);
  if (reading.kind === "refused")
    return refuse(`${name}: expected ${reading.expected}, found "${text.trim()}"`);
  if (!(reading.value > 0)) return refuse(`${name}: expected more than 0, found "${text.trim()}"`);
  return {
    kind: "read",
    value: reading.value,
    assumptions: reading.kind === "assumed" ? [reading.assumption] : [],
  };
}

/** Runs what may refuse a value with an error of the library, which says what was expected. */
export function attempt<T>(name: string, make: () => T): Reading<T> {
  try {
    return read(make());
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    return refuse(`${name}: ${error.message}`);
  }
}
