import fc from "fast-check";
import { expect, test } from "vitest";
import { samplesAsCsv } from "../../src/book/index.js";
import { type CountSet, cumulativeCounts } from "../../src/counts/index.js";
import { readLabFile } from "../../src/intake/index.js";
import { type Sample, sampleSchema } from "../../src/samples/index.js";

/** An optional field. */
const maybe = <T>(field: string, value: fc.Arbitrary<T>) =>
  fc.option(value, { nil: undefined }).map((found) => (found === undefined ? {} : { [field]: found }));
const fields = (...parts: fc.Arbitrary<object>[]) =>
  fc.tuple(...parts).map((found): Partial<Sample> => Object.assign({}, ...found));

const tenths = (min: number, max: number) =>
  fc.integer({ min: Math.round(10 * min), max: Math.round(10 * max) }).map((value) => value / 10);
const measured = (value: fc.Arbitrary<number>) =>
  fc.record(
    {
      value,
      limit: fc.constantFrom("below" as const, "at-most" as const, "at-least" as const, "above" as const),
    },
    { requiredKeys: ["value"] },
  );

const SIZES = [4, 6, 14, 21] as const;
const counting = fc.record(
  { countedMl: fc.constantFrom(1, 5, 10, 25), dilution: fc.constantFrom(2, 10) },
  { requiredKeys: ["countedMl"] },
);

/** Falling counts, so that no check of the intake has anything to say. */
const countsIn = (volumeMl: number, most: number, how?: CountSet["counting"]) =>
  fc
    .tuple(
      ...SIZES.map(() => fc.double({ min: 0.3, max: 0.6, noNaN: true })),
      fc.integer({ min: 5000, max: most }),
    )
    .map((parts) => {
      let count = parts[SIZES.length] as number;
      const falling = SIZES.map((sizeUm, index) => {
        count = Math.round(count * (parts[index] as number));
        return { sizeUm, count };
      });
      return cumulativeCounts(falling, volumeMl, "um(c)", how);
    });

/** The counts of a bottle: of itself, of its runs, and of its blank. */
const countsOfBottle = fc
  .tuple(
    fc.constantFrom(1, 10, 100),
    fc.option(counting, { nil: undefined }),
    fc.constantFrom(0, 2, 3),
    fc.boolean(),
  )
  .chain(([volumeMl, how, runs, hasBlank]) =>
    fc.record({
      counts: countsIn(volumeMl, 20_000, how),
      ...(runs > 0 && {
        replicates: fc.array(countsIn(volumeMl, 20_000, how), { minLength: runs, maxLength: runs }),
      }),
      ...(hasBlank && { blank: countsIn(volumeMl, 6000) }),
    }),
  );

/** What a report gives in place of counts in µm(c). */
const otherThanCounts = fields(
  maybe(
    "otherScaleCounts",
    fc.constantFrom("um-older" as const, "um-microscope" as const).map((scale) => [
      { scale, fromUm: 5, toUm: 15, volumeMl: 100, count: 3400 },
      { scale, fromUm: 15, volumeMl: 100, count: 410 },
    ]),
  ),
  maybe("limitedCounts", fc.constant([{ sizeUm: 14, volumeMl: 1, count: 5, limit: "below" as const }])),
  maybe(
    "reportedClasses",
    fc.constantFrom(
      [{ standard: "ISO 4406", class: "17/15/12" }],
      [
        { standard: "ISO 4406", class: "17/15/12" },
        { standard: "NAS 1638", class: "6" },
      ],
      [{ standard: "AS4059", class: "7 (differential)", table: "differential" }],
      [
        { standard: "AS4059", class: "7 (cumulative)", table: "cumulative" },
        { standard: "GOST 17216", class: "9" },
      ],
      [
        { standard: "AS4059", class: "7B/6C/5D" },
        { standard: "NAVAIR 01-1A-17", class: "2" },
      ],
    ),
  ),
  maybe("countedVolumeMl", fc.constantFrom(10, 25)),
);

const inWords = fc
  .subarray([
    { measurand: "count above 38 µm(c)", said: "not-detected" as const },
    { measurand: "water", said: "trace" as const },
    { measurand: "lead", said: "not-detected" as const },
  ])
  .filter(({ length }) => length > 0);

const patch = fc
  .record(
    {
      class: measured(fc.integer({ min: 0, max: 5 })),
      code: fc.constantFrom("18/16/13", "-/16/13", "16/13"),
      colour: fc.constantFrom("light grey", "tan"),
      stained: fc.boolean(),
      freeWater: fc.boolean(),
      volumeMl: fc.constantFrom(25, 100),
      poreUm: fc.constantFrom(0.8, 5),
    },
    { requiredKeys: ["freeWater"] },
  )
  .map((found) => ({ ...found, ...("class" in found && { standard: "NAS 1638" as const }) }));

const described = fields(
  maybe("patchTest", patch),
  maybe("crackle", fc.constantFrom("none", "crackles")),
  maybe("smell", fc.constantFrom("normal", "unusual")),
  maybe("samplePoint", fc.constantFrom("reservoir", "main-flow-line", "upstream-of-element", "drain")),
  maybe("flowing", fc.boolean()),
  maybe("colour", fc.constantFrom("red", "purple")),
  maybe("appearance", fc.constantFrom(["clear"], ["cloudy", "particles-seen"])),
  maybe("laboratorySays", fc.constant([{ column: "Remarks", text: "=see the report; pump was warm" }])),
  maybe("acceptedChecks", fc.constantFrom(["factor-of-100"], ["factor-of-100", "class-differs-from-counts"])),
);

const results = fields(
  maybe("drawnTime", fc.constantFrom("08:40", "13:05:10", "06:15+02:00")),
  maybe("receivedOn", fc.constant("2026-03-12")),
  maybe("reportedOn", fc.constant("2026-03-16")),
  maybe("calibrationDueOn", fc.constantFrom("2026-06-30", "2026-01-15")),
  maybe("fluidTemperatureC", tenths(-20, 60)),
  maybe("acidMgKohPerG", measured(tenths(0.1, 2))),
  maybe("viscosity40Mm2PerS", measured(tenths(10, 16))),
  maybe("density15KgPerM3", measured(fc.integer({ min: 820, max: 1000 }))),
  maybe("chlorinePpm", measured(fc.integer({ min: 0, max: 300 }))),
);

const samples = fc
  .tuple(
    fc.array(
      fc.tuple(
        fc.oneof(countsOfBottle, otherThanCounts),
        results,
        described,
        fc.option(inWords, { nil: undefined }),
        measured(fc.integer({ min: 20, max: 900 })),
      ),
      { minLength: 1, maxLength: 5 },
    ),
  )
  .map(([rows]) =>
    rows.map(([counted, measuredPart, words, said, waterPpm], index): Sample => {
      // The colour of a patch is a statement of the laboratory as well.
      const colour = words.patchTest?.colour;
      const says = [
        ...(words.laboratorySays ?? []),
        ...(colour === undefined ? [] : [{ column: "patch colour", text: colour }]),
      ];
      const isDry = said?.some(({ measurand }) => measurand === "water");
      return sampleSchema.parse({
        ...{
          sample: `S-${index}`,
          cart: "C-1",
          circuit: "fore",
          drawnOn: "2026-03-10",
          fluid: "MIL-PRF-83282",
        },
        ...counted,
        ...measuredPart,
        ...words,
        ...(says.length > 0 && { laboratorySays: says }),
        ...(said && { wordedResults: said }),
        ...(!isDry && { waterPpm }),
        origin: [{ file: "a.csv", rows: [index + 2] }],
      });
    }),
  );

/** Without where it came from, and with statements in one order. */
const comparable = ({ origin: _origin, laboratorySays, ...sample }: Sample) => ({
  ...sample,
  laboratorySays: laboratorySays?.toSorted((a, b) => (a.column < b.column ? -1 : 1)),
});

test("the delimited text of samples comes in again as the same samples", async () => {
  await fc.assert(
    fc.asyncProperty(samples, async (written) => {
      const text = [...samplesAsCsv(() => written)].join("");
      const read = await readLabFile("export.csv", new TextEncoder().encode(text));
      expect(read.quarantine).toEqual([]);
      expect(read.samples.map(comparable)).toEqual(written.map(comparable));
    }),
    { numRuns: 120 },
  );
});
