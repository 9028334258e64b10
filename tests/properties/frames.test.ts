import fc from "fast-check";
import { expect, test } from "vitest";
import { samplesFrame, samplesOfFrame } from "../../src/frames/index.js";
import { type Sample, sampleSchema } from "../../src/samples/index.js";

const SIZES_UM = [4, 6, 14, 21, 38, 38.5, 70];

/** Texts that a table could take for something else stand beside any other text. */
const text = fc.oneof(
  fc.constantFrom("NaN", "null", "undefined", "0", "1e3", "count4UmC", "a,b", '"', "<i>"),
  fc.string({ minLength: 1 }),
);

const measured = fc.record(
  {
    value: fc.oneof(fc.constantFrom(0, 0.1, 1e-9), fc.double({ min: 0, max: 1e9, noNaN: true })),
    limit: fc.constantFrom("below" as const, "above" as const),
  },
  { requiredKeys: ["value"] },
);

/** Counts at any of the sizes, falling with size as cumulative counts do. */
const counts = fc
  .record({
    volumeMl: fc.constantFrom(1, 100, 0.5),
    sizesUm: fc.subarray(SIZES_UM, { minLength: 1 }),
    numbers: fc.array(fc.oneof(fc.nat(), fc.double({ min: 0, max: 1e8, noNaN: true })), {
      minLength: SIZES_UM.length,
      maxLength: SIZES_UM.length,
    }),
  })
  .map(({ volumeMl, sizesUm, numbers }) => {
    // Adding 0 turns −0, which no laboratory reports, into 0.
    const falling = numbers.map((number) => number + 0).sort((a, b) => b - a);
    const entries = sizesUm.map((sizeUm, index) => ({ sizeUm, count: falling[index] as number }));
    return { scale: "um(c)" as const, form: "cumulative" as const, volumeMl, counts: entries };
  });

const sample: fc.Arbitrary<Sample> = fc.record(
  {
    sample: text,
    cart: text,
    circuit: text,
    drawnOn: fc
      .date({ min: new Date("1990-01-01"), max: new Date("2099-12-31"), noInvalidDate: true })
      .map((date) => date.toISOString().slice(0, 10)),
    drawnTime: fc.constantFrom("09:30", "23:59:59", "14:05+02:00"),
    fluid: text,
    counts,
    waterPpm: measured,
    acidMgKohPerG: measured,
    viscosity40Mm2PerS: measured,
    origin: fc.array(
      fc.record({ file: fc.string(), rows: fc.array(fc.integer({ min: 1, max: 1e6 }), { minLength: 1 }) }),
      { minLength: 1 },
    ),
  },
  { requiredKeys: ["sample", "cart", "circuit", "drawnOn", "origin"] },
);

test("samples come back from a data frame as they went in, whatever was left out", () => {
  const seen = { withCounts: 0, withoutCounts: 0, limits: 0, severalSizes: 0 };
  fc.assert(
    fc.property(fc.array(sample, { maxLength: 6 }), (samples) => {
      for (const { counts: set, waterPpm } of samples) {
        if (set === undefined) seen.withoutCounts++;
        else seen.withCounts++;
        if (waterPpm?.limit !== undefined) seen.limits++;
      }
      const sizes = samples.map((entry) => entry.counts?.counts.map(({ sizeUm }) => sizeUm).join());
      if (new Set(sizes).size > 1) seen.severalSizes++;
      expect(samples.map((entry) => sampleSchema.parse(entry))).toEqual(samples);
      expect(samplesOfFrame(samplesFrame(samples))).toEqual(samples);
    }),
  );
  // The cases that matter were among those tried.
  expect(Math.min(...Object.values(seen))).toBeGreaterThan(10);
});
