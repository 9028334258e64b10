import type { Assumption } from "../provenance/index.js";
import type { Measured } from "../samples/index.js";
import { type QuantityKind, readQuantity } from "../units/index.js";
import type { DecimalMark } from "./decimal-mark.js";

/** What became of a cell. */
export type Cell<T> =
  | { readonly kind: "read"; readonly value: T }
  | { readonly kind: "assumed"; readonly value: T; readonly assumption: Assumption }
  | { readonly kind: "blank" }
  | { readonly kind: "refused"; readonly expected: string };

/** A day, with the time of day where the cell gives one. */
export interface Drawn {
  readonly drawnOn: string;
  readonly drawnTime?: string;
}

/**
 * Reads a whole or decimal number.
 *
 * @param text - the cell
 * @param mark - decimal mark of the file; with "unclear" only whole numbers are read
 * @returns the number, zero or more
 */
export function readNumber(text: string, mark: DecimalMark | "unclear"): Cell<number> {
  if (text === "") return { kind: "blank" };
  if (/^\d+$/.test(text)) return { kind: "read", value: Number(text) };
  if (mark === "unclear") {
    const expected =
      "a whole number, because the file does not show whether its decimal mark is a point or a comma";
    return { kind: "refused", expected };
  }
  const plain = mark === "," ? /^\d+,\d+$/ : /^\d+\.\d+$/;
  if (!plain.test(text)) {
    return { kind: "refused", expected: `a number of 0 or more with "${mark}" as decimal mark` };
  }
  return { kind: "read", value: Number(text.replace(",", ".")) };
}

/**
 * Reads a measured value or a limit value, and brings it to the unit siltbook keeps.
 *
 * @param text - the cell, such as "120", "0,35" or "< 50"
 * @param unit - the unit as written in the header or the unit column
 * @param kind - which quantity it is
 */
export function readMeasured(
  text: string,
  unit: string,
  kind: QuantityKind,
  mark: DecimalMark | "unclear",
): Cell<Measured> {
  const [, sign = "", rest = ""] = /^([<>]?)\s*(.*)$/.exec(text) ?? [];
  const number = readNumber(rest, mark);
  if (number.kind === "refused") return number;
  if (number.kind !== "read")
    return sign === "" ? { kind: "blank" } : { kind: "refused", expected: "a number after the sign" };
  const quantity = readQuantity(`${number.value} ${unit}`, kind);
  if (quantity.kind === "refused") return quantity;
  const value: Measured = {
    value: quantity.value,
    ...(sign !== "" && { limit: sign === "<" ? ("below" as const) : ("above" as const) }),
  };
  return quantity.kind === "read"
    ? { kind: "read", value }
    : { kind: "assumed", value, assumption: quantity.assumption };
}

const ISO_DAY = /^(\d{4})-(\d{2})-(\d{2})(?:[T ](\d{2}:\d{2}(?::\d{2})?(?:Z|[+-]\d{2}:\d{2})?))?$/;
const DOTTED_DAY = /^(\d{1,2})\.(\d{1,2})\.(\d{4})(?: (\d{2}:\d{2}(?::\d{2})?))?$/;

/**
 * Reads the day a sample was drawn.
 *
 * Days with dots are day first. Days with slashes are refused: day and month cannot be told apart.
 *
 * @param text - "2026-03-14", "2026-03-14 09:30" or "14.3.2026"
 */
export function readDrawn(text: string): Cell<Drawn> {
  if (text === "") return { kind: "blank" };
  const iso = ISO_DAY.exec(text);
  const dotted = DOTTED_DAY.exec(text);
  const [year, month, day, time] = iso
    ? [iso[1], iso[2], iso[3], iso[4]]
    : [dotted?.[3], dotted?.[2]?.padStart(2, "0"), dotted?.[1]?.padStart(2, "0"), dotted?.[4]];
  const drawnOn = `${year}-${month}-${day}`;
  const instant = new Date(`${drawnOn}T00:00:00Z`);
  // A day such as 31 February rolls over to another date and is caught by writing the date out again.
  if (Number.isNaN(instant.getTime()) || instant.toISOString().slice(0, 10) !== drawnOn) {
    return { kind: "refused", expected: "a day written as 2026-03-14 or 14.03.2026" };
  }
  return { kind: "read", value: { drawnOn, ...(time !== undefined && { drawnTime: time }) } };
}
