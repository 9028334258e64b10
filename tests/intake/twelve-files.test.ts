import { describe, expect, test } from "vitest";
import { readLabFile } from "../../src/intake/index.js";
import { resultsOf, sampleSchema } from "../../src/samples/index.js";
import { plainSamples, twelveFiles } from "../support/forty-samples.js";

const plain = plainSamples(40);
const files = await twelveFiles(plain);

/** What the samples are, from the numbers that the files were written from. */
const expected = plain.map((sample) => ({
  sample: sample.sample,
  cart: sample.cart,
  circuit: sample.circuit,
  drawnOn: `2026-${String(sample.month).padStart(2, "0")}-${String(sample.day).padStart(2, "0")}`,
  fluid: sample.fluid,
  fluidTemperatureC: sample.temperatureC,
  waterPpm: sample.waterBelow ? { value: sample.waterPpm, limit: "below" } : { value: sample.waterPpm },
  acidMgKohPerG: { value: sample.acid },
  viscosity40Mm2PerS: { value: sample.viscosity },
  counts: {
    scale: "um(c)",
    form: "cumulative",
    perMl: sample.countsPer100Ml.map((count, index) => ({
      sizeUm: [4, 6, 14, 21, 38, 70][index],
      perMl: count / 100,
    })),
  },
}));

describe("the same 40 samples in 12 different files are identical samples", () => {
  test.each(files)("$file: $title", async ({ file, bytes, notSamples }) => {
    const read = await readLabFile(file, bytes);
    expect(read.quarantine).toEqual([]);
    const byNumber = [...read.samples].sort((a, b) => Number(a.sample.slice(2)) - Number(b.sample.slice(2)));
    const withoutRemarks = byNumber.map(({ laboratorySays: _, ...sample }) => resultsOf(sample));
    expect(withoutRemarks).toEqual(expected);
    // One of the files has a column of remarks, in two lines.
    const remarks = byNumber.flatMap(({ laboratorySays = [] }) => laboratorySays);
    expect(remarks).toEqual(
      file === "05.csv" ? plain.map(() => ({ column: "Remark", text: "two lines" })) : [],
    );
    expect(read.notSamples).toHaveLength(notSamples);
    for (const sample of read.samples) expect(sampleSchema.parse(sample)).toEqual(sample);
  });

  test("a value that one file writes otherwise is not passed over", async () => {
    const [first] = files as [(typeof files)[number]];
    const text = new TextDecoder().decode(first.bytes);
    const read = await readLabFile("changed.csv", new TextEncoder().encode(text.replace(",0.", ",1.")));
    expect(read.samples.map(resultsOf)).not.toEqual(expected);
  });
});
