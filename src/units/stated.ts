import { type QuantityKind, type QuantityReading, tryParseQuantity } from "./quantities.js";
import { describeTwoReadings } from "./two-readings.js";

/** Nothing on a cart is smaller or larger, and what is computed from it stays a number. */
const MIN_SIZE = 1e-12;
const MAX_SIZE = 1e12;

/**
 * Reads a quantity that a person states of a cart, in a file or an option.
 *
 * Like {@link tryParseQuantity}, but a volume or flow that may show thousands and a number that nothing on a cart can have
 * are refused as well. Other quantities, such as a density of 1.013 g/cm³, never show thousands.
 */
export function tryParseStatedQuantity(text: string, kind: QuantityKind): QuantityReading {
  const reading = tryParseQuantity(text, kind);
  if (reading.kind === "refused") return reading;
  const readings = kind === "volume" || kind === "flow" ? describeTwoReadings(text.trim()) : undefined;
  if (readings !== undefined) return { kind: "refused", expected: `a number with one reading: ${readings}` };
  const size = Math.abs(reading.value);
  if (size !== 0 && !(size >= MIN_SIZE && size <= MAX_SIZE))
    return { kind: "refused", expected: `a value of ${MIN_SIZE} to ${MAX_SIZE} ${reading.unit}` };
  return reading;
}
