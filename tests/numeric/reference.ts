import { readFileSync } from "node:fs";

/** Values made in 400 digits by tests/reference/make-numeric.py. */
export const MPMATH: {
  readonly normal: readonly (readonly [number, number])[];
  readonly normalQuantile: readonly (readonly [number, number])[];
  readonly gamma: readonly (readonly [number, number, number, number])[];
  readonly beta: readonly (readonly [number, number, number, number, number])[];
  readonly student: readonly (readonly [number, number, number])[];
} = read("numeric.json");

/** Values made by tests/reference/trend.py and make-levels.py. */
export const SCIPY: {
  readonly normal: readonly (readonly [number, number])[];
  readonly normalQuantile: readonly (readonly [number, number])[];
  readonly student: readonly (readonly [number, number, number])[];
  readonly studentQuantile: readonly (readonly [number, number, number])[];
  readonly tails: readonly { a: number; x: number; lower: number; upper: number }[];
  readonly quantiles: readonly { a: number; p: number; x: number }[];
} = { ...read("trend.json"), ...read("levels.json") };

function read(name: string) {
  return JSON.parse(readFileSync(new URL(`../reference/${name}`, import.meta.url), "utf8"));
}

/** Relative difference; values below 1e-250 are as good as nothing. */
export function relative(found: number, expected: number): number {
  return Math.abs(expected) < 1e-250 ? Math.abs(found) : Math.abs(found / expected - 1);
}

/** Half of the last digit of a number as it is printed. */
export function halfDigit(printed: string): number {
  return 0.5 * 10 ** -(printed.split(".")[1]?.length ?? 0);
}
