import { answerCirculation, type CirculationAnswer } from "../../circulation/index.js";
import { limitsOfTarget, readChannel } from "../../cleanliness/index.js";
import type { CountSet } from "../../counts/index.js";
import { type CircuitCase, judgeCase } from "../../fitness/index.js";
import type { Measured } from "../../samples/index.js";
import { attempt, type Reading, readAll, readMeasured, readPositive, refuse } from "./reading.js";

/** A sample that was drawn while circulating, as a person types it. */
export interface InterimFields {
  /** Minutes since the circulation started. */
  readonly minutes: string;
  /** Particles per mL larger than each size in µm(c). */
  readonly counts: Readonly<Record<number, string>>;
}

/** The sizes that an interim sample has to be counted at. */
export function interimSizes(input: CircuitCase): number[] {
  const start = startOf(input);
  return start === undefined ? [] : start.counts.map(({ sizeUm }) => sizeUm);
}

/**
 * Says whether a circulation works, from samples drawn on the way.
 *
 * @param input - the circuit, with what a person changed and the bottle that the circulation started from
 */
export function readInterim(
  fields: readonly InterimFields[],
  input: CircuitCase,
): Reading<CirculationAnswer> {
  const start = startOf(input);
  if (start === undefined || input.requirement === undefined) {
    return refuse("Interim sample: there are no counts of the start, or no target");
  }
  const samples = readAll<Record<string, InterimSample>>(
    Object.fromEntries(fields.map((sample, index) => [index, readSample(sample)])),
  );
  if (samples.kind === "refused") return samples;
  const { volumeL, flowLpm, element, ingress } = input.circuit;
  const limits = input.requirement.cleanliness
    .flatMap(limitsOfTarget)
    .filter(({ fromUm, toUm }) => readChannel(start, fromUm, toUm) !== undefined);
  return attempt("Interim sample", () =>
    answerCirculation({
      circuit: { volumeL, flowLpm, betas: element.betas, limits, ...(ingress && { ingress }) },
      start: { counts: start, assumptions: [] },
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

/** The counts of the bottle that shows the particles. */
function startOf(input: CircuitCase): CountSet | undefined {
  const { assessed, sample, otherSamples = [] } = judgeCase(input).verdict;
  const particles = assessed.find(({ quantity }) => quantity === "particles");
  const bottles = [...(sample === undefined ? [] : [sample]), ...otherSamples];
  return bottles.find((bottle) => bottle.sample === particles?.sample)?.counts;
}
