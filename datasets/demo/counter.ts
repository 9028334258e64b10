import type { Draws } from "./random.js";

/** The limits of ISO 4406 17/15/12: size in µm(c), particles per mL. */
const LIMITS = [
  [4, 1300],
  [6, 320],
  [14, 40],
] as const;
const FIRST_S = Date.UTC(2026, 10, 20, 7, 30) / 1000;
const MINUTES = 40;

/**
 * Lines of an invented counter in the line, a value each, as records of SenML: a circuit that starts at fifteen times its
 * limits, falls by a tenth each minute, and warms up from 20 °C.
 */
export function writeCounter(draws: Draws): string {
  const lines = Array.from({ length: MINUTES }, (_, minute) => {
    const at = { t: FIRST_S + 60 * minute };
    const scatter = draws.lognormal(0.08);
    return [
      { n: "fluid temperature", u: "Cel", v: Math.min(45, 20 + 1.5 * minute), ...at },
      { n: "flow", u: "L/min", v: 75, ...at },
      ...LIMITS.map(([size, limit]) => ({
        n: `particles > ${size} µm(c)`,
        u: "1/mL",
        v: Math.round(limit * 15 * 0.9 ** minute * scatter * draws.lognormal(0.02) * 10) / 10,
        ...at,
      })),
    ];
  });
  return `${lines
    .flat()
    .map((line) => JSON.stringify(line))
    .join("\n")}\n`;
}
