import {
  answerCirculation,
  type CirculationAnswer,
  type CirculationStart,
  statedCirculation,
} from "../../circulation/index.js";
import { limitsOfTarget, readChannel } from "../../cleanliness/index.js";
import { type CircuitCase, conditionsOf, judgeCase, type Verdict } from "../../fitness/index.js";
import { circulates, type Measured } from "../../samples/index.js";
import { attempt, type Reading, readAll, readMeasured, readPositive, refuse } from "./reading.js";
import { startOfCounts, TYPED_SAMPLE, type TypedSample } from "./typed-sample.js";

/** A sample that was drawn while circulating, as a person types it. */
export interface InterimFields {
  /** Minutes since the circulation started. */
  readonly minutes: string;
  /** Particles per mL larger than each size in µm(c). */
  readonly counts: Readonly<Record<number, string>>;
}

/** The sizes that an interim sample has to be counted at. */
export function interimSizes(input: CircuitCase): number[] {
  const start = startOf(input, undefined);
  return start === undefined ? [] : start.counts.counts.map(({ sizeUm }) => sizeUm);
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
  const start = startOf(input, typed);
  const { circuit, requirement } = input;
  if (start === undefined || requirement === undefined) {
    return refuse("Interim sample: there are no counts of the start, or no target");
  }
  if (!circulates(circuit)) return refuse("Interim sample: this circuit does not circulate by itself");
  const samples = readAll<Record<string, InterimSample>>(
    Object.fromEntries(fields.map((sample, index) => [index, readSample(sample)])),
  );
  if (samples.kind === "refused") return samples;
  const limits = requirement.cleanliness
    .flatMap(limitsOfTarget)
    .filter(({ fromUm, toUm }) => readChannel(start.counts, fromUm, toUm) !== undefined);
  return attempt("Interim sample", () =>
    answerCirculation({
      circuit: { ...statedCirculation(circuit).circuit, limits },
      start,
      // Whoever draws on the way draws from the port of the first bottle.
      port: start.downstream ? "downstream" : "upstream",
      ...conditionsOf(requirement, circuit, { start: start.counts, limits }, start.assessed),
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

/** The start of the bottle that shows the particles. */
function startOf(
  input: CircuitCase,
  typed: TypedSample | undefined,
): (CirculationStart & { readonly downstream: boolean; readonly assessed: Verdict["assessed"] }) | undefined {
  const { assessed, sample, otherSamples = [] } = judgeCase(input).verdict;
  const particles = assessed.find(({ quantity }) => quantity === "particles");
  const bottles = [...(sample === undefined ? [] : [sample]), ...otherSamples];
  const { counts, samplePoint } = bottles.find((bottle) => bottle.sample === particles?.sample) ?? {};
  if (counts === undefined) return undefined;
  const start = particles?.sample === TYPED_SAMPLE && typed?.start ? typed.start : startOfCounts(counts);
  return { ...start, downstream: samplePoint === "downstream-of-element", assessed };
}
