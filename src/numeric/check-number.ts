import { shown } from "../provenance/index.js";

/** What a number may be. */
const RANGES = {
  /** Also NaN, where that is a value like any other. */
  number: { said: "a number", holds: () => true },
  finite: { said: "a finite number", holds: Number.isFinite },
  positive: { said: "more than 0", holds: (value: number) => value > 0 && Number.isFinite(value) },
  notNegative: { said: "0 or more", holds: (value: number) => value >= 0 && Number.isFinite(value) },
  share: { said: "a fraction from 0 to 1", holds: (value: number) => value >= 0 && value <= 1 },
} as const;

/** See {@link checkNumbers}. */
export type NumberRange = keyof typeof RANGES;

/**
 * Refuses numbers that are no numbers, or out of their range, where a caller without a compiler may give them.
 *
 * @param numbers - by the name of the argument; what is undefined was not given
 * @throws RangeError naming the argument, its range and the value
 */
export function checkNumbers(range: NumberRange, numbers: Readonly<Record<string, unknown>>): void {
  const { said, holds } = RANGES[range];
  for (const name in numbers) {
    const value = numbers[name];
    if (value === undefined || (typeof value === "number" && holds(value))) continue;
    throw new RangeError(
      `${name} must be ${said}, not ${shown(typeof value === "string" ? JSON.stringify(value) : String(value))}`,
    );
  }
}
