import { answerCirculation, type CirculationAnswer } from "../../circulation/index.js";
import { type CircuitCase, circulationOfCircuit } from "../../fitness/index.js";
import type { Measured } from "../../samples/index.js";
import { attempt, type Reading, readAll, readMeasured, readPositive, refuse } from "./reading.js";
import { TYPED_SAMPLE, type TypedSample } from "./typed-sample.js";

/** A sample that was drawn while circulating, as a person types it. */
export interface InterimFields {
  /** Minutes since the circulation started. */
  readonly minutes: string;
  /** Particles per mL larger than each size in µm(c). */
  readonly counts: Readonly<Record<number, string>>;
}

/** The sizes that an interim sample has to be counted at. */
export function interimSizes(input: CircuitCase): number[] {
  const found = circulationOfCircuit(input);
  return found.kind === "none" ? [] : found.question.start.counts.counts.map(({ sizeUm }) => sizeUm);
}

/**
 * Says whether a circulation works, from samples drawn on the way.
 *
 * @param input - the circuit, with what a person changed and the bottle that the circulation started from
 * @param typed - the bottle, where it was typed: of a code only the upper end is known
 */
export function readInterim(
  fields: readonly InterimFields[],
  input: CircuitCase,
  typed: TypedSample | undefined,
): Reading<CirculationAnswer> {
  const found = circulationOfCircuit(input);
  if (found.kind === "none") return refuse(`Interim sample: ${found.why}`);
  const samples = readAll<Record<string, InterimSample>>(
    Object.fromEntries(fields.map((sample, index) => [index, readSample(sample)])),
  );
  if (samples.kind === "refused") return samples;
  const start = found.from.sample === TYPED_SAMPLE ? typed?.start : undefined;
  return attempt("Interim sample", () =>
    answerCirculation({
      ...found.question,
      ...(start && { start }),
      interim: { samples: Object.values(samples.value) },
    }),
  );
}

interface InterimSample {
  readonly minutes: number;
  readonly counts: readonly { readonly sizeUmC: number; readonly perMl: Measured }[];
}

function readSample({ minutes, counts }: InterimFields): Reading<InterimSample> {
  const typed = Object.entries(counts).filter(([, text]) => text.trim() !== "");
  const reading = readAll({
    minutes: readPositive("Minutes", minutes),
    counts: readAll<Record<string, Measured>>(
      Object.fromEntries(
        typed.map(([size, text]) => [size, readMeasured(`Count above ${size} µm(c)`, text)]),
      ),
    ),
  });
  if (reading.kind === "refused") return reading;
  const bySize = Object.entries(reading.value.counts);
  return {
    ...reading,
    value: {
      minutes: reading.value.minutes,
      counts: bySize.map(([size, perMl]) => ({ sizeUmC: Number(size), perMl })),
    },
  };
}
