import fc from "fast-check";
import type { ClassTable } from "../../src/cleanliness/index.js";
import {
  AS4059_CUMULATIVE,
  AS4059_CUMULATIVE_ROUNDED,
  AS4059_DIFFERENTIAL,
  GOST_17216,
  ISO_4406,
  NAS_1638,
  NAVY_CLASSES,
} from "../../src/cleanliness/index.js";

/** Every table of classes. */
export const TABLES = [
  ISO_4406,
  AS4059_CUMULATIVE,
  AS4059_CUMULATIVE_ROUNDED,
  AS4059_DIFFERENTIAL,
  NAS_1638,
  NAVY_CLASSES,
  GOST_17216,
] as unknown as readonly ClassTable<string, string>[];

/** All sizes of all tables in µm(c). */
export const SIZES_UM = [4, 6, 10, 14, 21, 38, 70] as const;

/** Printed limits of all tables that are whole particles per 100 mL, smallest first. */
export const LIMITS_PER_100_ML = [
  ...new Set(
    TABLES.flatMap((table) =>
      table.rows.flatMap(([, row]) =>
        row.flatMap((limit) => {
          const per100 = limit === undefined ? Number.NaN : (limit * 100) / table.volumeMl;
          return Number.isInteger(per100) ? [per100] : [];
        }),
      ),
    ),
  ),
].sort((a, b) => a - b);

/** A count per 100 mL on a printed limit, one particle to either side of it, or further away. */
export const nearLimit = fc
  .tuple(fc.constantFrom(...LIMITS_PER_100_ML), fc.constantFrom(0, 0, 1, -1, 2, 17))
  .map(([limit, away]) => Math.max(0, limit + away));

/** Particles between neighbouring sizes of {@link SIZES_UM}, per 100 mL; the last above the largest. */
export const particlesByRange = fc.array(nearLimit, {
  minLength: SIZES_UM.length,
  maxLength: SIZES_UM.length,
});

/** Cumulative counts at {@link SIZES_UM}, per 100 mL: near limits, put in falling order. */
export const fallingCounts = particlesByRange.map((counts) => [...counts].sort((a, b) => b - a));

/** A repeatable stream of numbers from 0 to 1 (mulberry32). */
export function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}
