import { dayAfter } from "./days.js";
import type { Draws } from "./random.js";

const SIZES_UM = [4, 6, 14] as const;
/** Particles above each size, as a share of those above 4 µm(c). */
const SHARES = [1, 0.25, 0.026] as const;

interface Laboratory {
  readonly name: string;
  readonly counter: string;
  /** What it counts, as a multiple of what is there. */
  readonly counts: number;
  /** What it adds to water, in ppm. */
  readonly waterPpm: number;
  readonly bottles: number;
  readonly countedMl: number;
}

/** North and South are sent bottles of every round; the base counts with its own counter and measures no water. */
const LABORATORIES: readonly Laboratory[] = [
  { name: "North", counter: "N-1", counts: 1, waterPpm: 0, bottles: 2, countedMl: 30 },
  { name: "South", counter: "S-7", counts: 1.4, waterPpm: 2, bottles: 2, countedMl: 30 },
  { name: "Base", counter: "portable", counts: 1.05, waterPpm: Number.NaN, bottles: 1, countedMl: 10 },
];

/** Their aft circuits hold the same fluid. */
const CARTS = ["QB-01", "QB-02", "QB-05"] as const;

const HEAD = [
  "Sample no.,Cart,Circuit,Drawn on,Sampling time,Fluid,Laboratory,Particle counter",
  ...SIZES_UM.map((size) => `${size} µm(c) per mL`),
  "Counted volume (mL),Water (mg/kg)",
].join(",");

/**
 * Rounds of an invented comparison: a circuit each, with all bottles filled one after another from the same valve, and two
 * or three laboratories. Counts scatter by 6 % from bottle to bottle and as few particles do, water by 4 ppm.
 */
export function writeRoundRobin(draws: Draws): string {
  const rows: string[] = [];
  for (let round = 0; round < 12; round += 1) {
    const drawnOn = dayAfter("2025-12-09", 28 * round);
    const above4 = 380 * draws.lognormal(0.7);
    const water = 70 + 60 * Math.abs(draws.normal());
    for (const { name, counter, counts, waterPpm, bottles, countedMl } of LABORATORIES) {
      // The base's counter was away for calibration in every third round.
      if (name === "Base" && round % 3 === 2) continue;
      for (let bottle = 1; bottle <= bottles; bottle += 1) {
        const factor = counts * draws.lognormal(0.06);
        const perMl = SHARES.map((share) => {
          const expected = above4 * share * factor;
          return Math.max(0, expected + Math.sqrt(expected / countedMl) * draws.normal());
        });
        const found = water + waterPpm + 4 * draws.normal();
        rows.push(
          [
            `R${round + 1}-${name.charAt(0)}${bottle}`,
            CARTS[round % CARTS.length] as string,
            "aft",
            drawnOn,
            "09:30",
            "MIL-PRF-83282",
            name,
            counter,
            ...perMl.map((level) => level.toFixed(1)),
            countedMl,
            Number.isNaN(found) ? "" : Math.round(found),
          ].join(","),
        );
      }
    }
  }
  return `${[HEAD, ...rows].join("\n")}\n`;
}
