import fc from "fast-check";
import { expect, test } from "vitest";
import { CLASS_STANDARDS } from "../../src/cleanliness/index.js";
import { samplesFrame, samplesOfFrame } from "../../src/frames/index.js";
import {
  APPEARANCES,
  DESCRIBED,
  FILLED_FROM,
  METALS,
  PATCH_STANDARDS,
  type Sample,
  sampleSchema,
} from "../../src/samples/index.js";

const SIZES_UM = [4, 6, 14, 21, 38, 38.5, 70];

/** Texts that a table could take for something else are next to any other text. */
const text = fc.oneof(
  fc.constantFrom("NaN", "null", "undefined", "0", "1e3", "count4UmC", "a,b", '"', "<i>"),
  fc.string({ minLength: 1 }),
);

const limit = fc.constantFrom("below", "at-most", "at-least", "above");

const measured = fc.record(
  {
    value: fc.oneof(fc.constantFrom(0, 0.1, 1e-9), fc.double({ min: 0, max: 1e9, noNaN: true })),
    limit,
  },
  { requiredKeys: ["value"] },
);

/** So that a count and its blank, in the largest counted volume, are no more particles than can have been counted. */
const MOST = 1e7;

/** Counts at any of the sizes, falling with size as cumulative counts do. */
const counts = fc
  .record({
    volumeMl: fc.constantFrom(1, 100, 0.5),
    counting: fc.option(
      fc.record(
        { countedMl: fc.constantFrom(0.5, 25), dilution: fc.constantFrom(1, 10) },
        { requiredKeys: ["countedMl"] },
      ),
      { nil: undefined },
    ),
    sizesUm: fc.subarray(SIZES_UM, { minLength: 1 }),
    notes: fc.array(
      fc.record(
        { basis: fc.constantFrom("measured", "converted", "estimated"), blank: fc.nat(MOST) },
        { requiredKeys: [] },
      ),
      { minLength: SIZES_UM.length, maxLength: SIZES_UM.length },
    ),
    numbers: fc.array(fc.oneof(fc.nat(MOST), fc.double({ min: 0, max: MOST, noNaN: true })), {
      minLength: SIZES_UM.length,
      maxLength: SIZES_UM.length,
    }),
  })
  .map(({ volumeMl, counting, sizesUm, numbers, notes }) => {
    // Adding 0 turns −0, which no laboratory reports, into 0.
    const falling = numbers.map((number) => number + 0).sort((a, b) => b - a);
    const entries = sizesUm.map((sizeUm, index) => ({
      sizeUm,
      count: falling[index] as number,
      ...notes[index],
    }));
    const of = { volumeMl, ...(counting && { counting }), counts: entries };
    return { scale: "um(c)" as const, form: "cumulative" as const, ...of };
  });

const day = fc
  .date({ min: new Date("1990-01-01"), max: new Date("2099-12-31"), noInvalidDate: true })
  .map((date) => date.toISOString().slice(0, 10));

const some = <T>(entry: fc.Arbitrary<T>, minLength = 1) => fc.array(entry, { minLength, maxLength: 3 });
/** At most a thousand litres. */
const volume = fc.double({ min: 1e-3, max: 1e6, noNaN: true });
const number = fc.double({ min: 1e-9, max: 1e9, noNaN: true });

/** Every field that a sample can have: a new one that is not here is a type error. */
const fields = {
  sample: text,
  cart: text,
  circuit: text,
  drawnOn: day,
  drawnTime: fc.constantFrom("09:30", "23:59:59", "14:05+02:00"),
  receivedOn: day,
  reportedOn: day,
  calibrationDueOn: day,
  fluid: text,
  counts,
  replicates: some(counts, 2),
  blank: counts,
  limitedCounts: some(fc.record({ sizeUm: number, volumeMl: volume, count: number, limit })),
  otherScaleCounts: some(
    fc.record(
      {
        scale: fc.constantFrom("um-older", "um-microscope"),
        fromUm: number,
        toUm: number,
        volumeMl: volume,
        count: number,
        limit,
      },
      { requiredKeys: ["scale", "fromUm", "volumeMl", "count"] },
    ),
  ),
  wordedResults: some(
    fc.record({
      measurand: text,
      said: fc.constantFrom("not-detected", "trace", "too-many-to-count"),
    }),
  ),
  reportedClasses: some(fc.record({ standard: fc.constantFrom(...CLASS_STANDARDS), class: text })),
  countedVolumeMl: fc.constantFrom(5, 10),
  fluidTemperatureC: fc.constantFrom(-12.5, 0, 41),
  waterPpm: measured,
  acidMgKohPerG: measured,
  viscosity40Mm2PerS: measured,
  density15KgPerM3: measured,
  chlorinePpm: measured,
  metalsPpm: fc
    .uniqueArray(fc.tuple(fc.constantFrom(...METALS), measured), {
      minLength: 1,
      selector: ([metal]) => metal,
    })
    .map((entries) => Object.fromEntries(entries)),
  samplePoint: fc.constantFrom(...FILLED_FROM),
  flowing: fc.boolean(),
  counterRun: fc.record({
    isClean: fc.boolean(),
    minutes: fc.integer({ min: 1, max: 60 }),
    lowestTemperatureC: number,
    lowestFlowLpm: number,
    highestFlowLpm: number,
    confidence: fc.constantFrom(0.9, 0.95),
    repeatability: fc.constantFrom(0, 0.1),
    bias: fc.constantFrom(0.1, 0.2),
    limits: some(fc.record({ fromUm: fc.constantFrom(4, 6), perMl: volume })),
  }),
  appearance: some(fc.constantFrom(...APPEARANCES)),
  colour: text,
  patchTest: fc.record(
    {
      class: measured,
      standard: fc.constantFrom(...PATCH_STANDARDS),
      colour: text,
      stained: fc.boolean(),
      freeWater: fc.boolean(),
      volumeMl: fc.constantFrom(25, 100),
      poreUm: fc.constantFrom(0.8, 5),
    },
    { requiredKeys: ["stained"] },
  ),
  crackle: fc.constantFrom("none", "crackles"),
  smell: fc.constantFrom("normal", "unusual"),
  wordsNotUnderstood: some(fc.record({ about: fc.constantFrom(...DESCRIBED), text })),
  laboratorySays: some(fc.record({ column: text, text })),
  otherTexts: some(fc.record({ column: text, text })),
  acceptedChecks: some(text),
  origin: some(
    fc.record(
      { file: fc.string(), sheet: text, rows: some(fc.integer({ min: 1, max: 1e6 })) },
      { requiredKeys: ["file", "rows"] },
    ),
  ),
} satisfies Record<keyof Sample, fc.Arbitrary<unknown>>;

const sample: fc.Arbitrary<Sample> = fc.record(fields, {
  requiredKeys: ["sample", "cart", "circuit", "drawnOn", "origin"],
});
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
