import { cumulativeCounts } from "../../src/counts/index.js";
import { dayAfter, measureTrend, type TrendCase } from "../../src/fitness/index.js";
import type { Circuit, Sample } from "../../src/samples/index.js";

/** A hydrocarbon circuit of 100 L to hang samples on. */
export const CIRCUIT: Circuit = {
  circuit: "1",
  serves: "main system",
  fluid: "MIL-PRF-83282",
  volumeL: 100,
  flowLpm: 45,
  element: { position: "pressure", betas: [{ sizeUmC: 4, beta: 20 }] },
  events: [],
};

/** The day of the first sample. */
export const FIRST = "2025-01-01";

/** Results of one sample; "<50" is written as a text. */
export interface Results {
  readonly day: number;
  readonly water?: number | string;
  readonly acid?: number;
  readonly viscosity?: number;
  /** Particles per mL above 4, 6 and 14 µm(c). */
  readonly counts?: readonly [number, number, number];
}

/** A sample drawn some days after {@link FIRST}. */
export function sampleOf({ day, water, acid, viscosity, counts }: Results): Sample {
  const limit = typeof water === "string" ? { limit: "below" as const } : {};
  return {
    sample: `S-${day}`,
    cart: "C-1",
    circuit: "1",
    drawnOn: dayAfter(FIRST, day),
    ...(water !== undefined && { waterPpm: { value: Number(String(water).replace("<", "")), ...limit } }),
    ...(acid !== undefined && { acidMgKohPerG: { value: acid } }),
    ...(viscosity !== undefined && { viscosity40Mm2PerS: { value: viscosity } }),
    ...(counts && {
      counts: cumulativeCounts(
        counts.map((count, index) => ({ sizeUm: [4, 6, 14][index] as number, count })),
        1,
      ),
    }),
    origin: [{ file: "a.csv", rows: [2] }],
  };
}

/** A trend of water towards 200 ppm, a year ahead, of samples every 30 days; each part can be changed. */
export function trendOf(samples: readonly Sample[], changes: Partial<TrendCase> = {}) {
  const last =
    samples
      .map((sample) => sample.drawnOn)
      .sort()
      .at(-1) ?? FIRST;
  return measureTrend({
    circuit: CIRCUIT,
    samples,
    measure: "water",
    bounds: [{ limit: 200, towards: "above" }],
    on: dayAfter(last, 5),
    horizonDays: 365,
    longestDays: 45,
    risk: 0.05,
    ...changes,
  });
}

/** Small scatter that repeats, so that cases stay the same without a generator. */
export const SCATTER = [
  1.2, -0.7, 0.3, -1.4, 0.9, 0.1, -0.5, 1.6, -1.1, 0.4, -0.2, 0.8, -0.9, 0.6, -1.3,
] as const;

/** Water that rises by so much a month from a start, with scatter. */
export function rising(start: number, perMonth: number, months: number, fromMonth = 0): Results[] {
  return Array.from({ length: months }, (_, month) => ({
    day: 30 * (fromMonth + month),
    water: start + perMonth * month + (SCATTER[month % SCATTER.length] as number),
  }));
}
