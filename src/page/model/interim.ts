import {
  answerCirculation,
  type CirculationAnswer,
  type CirculationQuestion,
  countsOfClass,
} from "../../circulation/index.js";
import { parseTarget } from "../../cleanliness/index.js";
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
  /** A class instead of counts, such as "19/16/13" or "NAS 8"; empty where counts were typed. */
  readonly class: string;
}

/** Whether a person has typed a sample: when it was drawn, and what it showed. */
export function isTypedInterim({ minutes, counts, class: reported }: InterimFields): boolean {
  return minutes.trim() !== "" && [reported, ...Object.values(counts)].some((text) => text.trim() !== "");
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
  const answer = attempt("Interim sample", () =>
    answerCirculation({
      ...found.question,
      ...(start && { start }),
      interim: { samples: Object.values(samples.value) },
    }),
  );
  return answer.kind === "refused" ? answer : { ...answer, assumptions: samples.assumptions };
}

type InterimSample = NonNullable<CirculationQuestion["interim"]>["samples"][number];

function readSample({ minutes, counts, class: reported }: InterimFields): Reading<InterimSample> {
  const typed = Object.entries(counts).filter(([, text]) => text.trim() !== "");
  return readAll<{ minutes: number; counts: InterimSample["counts"] }>({
    minutes: readPositive("Minutes", minutes),
    counts: reported.trim() === "" ? readCounts(typed) : readClass(reported, typed.length > 0),
  });
}

function readClass(text: string, hasCounts: boolean): Reading<InterimSample["counts"]> {
  if (hasCounts)
    return refuse("Class: expected the counts or the class of a sample, found both; clear one of them");
  const reading = attempt("Class", () => countsOfClass(parseTarget(text)));
  return reading.kind === "refused" ? reading : { kind: "read", ...reading.value };
}

function readCounts(
  typed: readonly (readonly [size: string, text: string])[],
): Reading<InterimSample["counts"]> {
  const reading = readAll<Record<string, Measured>>(
    Object.fromEntries(typed.map(([size, text]) => [size, readMeasured(`Count above ${size} µm(c)`, text)])),
  );
  if (reading.kind === "refused") return reading;
  const bySize = Object.entries(reading.value);
  return { ...reading, value: bySize.map(([size, perMl]) => ({ sizeUmC: Number(size), perMl })) };
}
