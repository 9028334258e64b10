import { frozen, VERSION } from "../provenance/index.js";
import type { Circuit, RequirementsFile, Sample } from "../samples/index.js";
import { canonicalJson } from "./canonical-json.js";
import type { CircuitCase } from "./case.js";
import { judgeCircuit } from "./judge.js";
import type { Verdict } from "./verdict.js";

/** The document that a verdict was judged by. */
export type JudgedBy = Pick<RequirementsFile, "document" | "revision">;

/** One verdict with all that it rests on, as text that is the same for the same things. */
export interface VerdictRecord {
  /** Every input by itself, so that what many verdicts share is kept once. */
  readonly inputs: readonly RecordedInput[];
  /** The verdict. */
  readonly verdict: string;
  readonly judgedBy: JudgedBy;
  /** Version of the library that judged. */
  readonly version: string;
}

/** One input of a verdict. The samples of another circuit of the cart follow after it. */
export interface RecordedInput {
  /** "sample" is one sample by itself, as earlier records have them. */
  readonly role: "case" | "circuit" | "requirement" | "samples" | "sample" | "beside" | "beside-samples";
  readonly text: string;
}

/** A role that is left out does not compile. */
const ROLES: Readonly<Record<RecordedInput["role"], true>> = {
  case: true,
  circuit: true,
  requirement: true,
  samples: true,
  sample: true,
  beside: true,
  "beside-samples": true,
};
export const INPUT_ROLES = frozen(Object.keys(ROLES) as RecordedInput["role"][]);

/** Samples in one input. A history grows at its end, so all but the last of them stay the same from verdict to verdict. */
const SAMPLES_TOGETHER = 32;

/**
 * Writes a verdict with its inputs.
 *
 * Recomputing is {@link recompute}: it gives the same text, to the last byte, with the same version of the library.
 *
 * @param historyOf - {@link historyTexts}, or one that remembers what it wrote: the circuits of a cart share their samples
 */
export function recordOf(
  input: CircuitCase,
  verdict: Verdict,
  judgedBy: JudgedBy,
  historyOf: (samples: readonly Sample[]) => readonly string[] = historyTexts,
): VerdictRecord {
  return {
    inputs: inputsOf(input, historyOf),
    verdict: canonicalJson(verdict),
    judgedBy: { document: judgedBy.document, revision: judgedBy.revision },
    version: VERSION,
  };
}

/** What a verdict rests on, in the order of its record. */
export function inputsOf(
  { circuit, requirement, samples, neighbours = [], ...rest }: CircuitCase,
  historyOf: (samples: readonly Sample[]) => readonly string[],
): RecordedInput[] {
  const part = (role: RecordedInput["role"], value: unknown) => ({ role, text: canonicalJson(value) });
  const history = (role: RecordedInput["role"], all: readonly Sample[]) =>
    historyOf(all).map((text) => ({ role, text }));
  return [
    part("case", rest),
    part("circuit", circuit),
    ...(requirement === undefined ? [] : [part("requirement", requirement)]),
    ...history("samples", samples),
    ...neighbours.flatMap(({ samples: others, ...other }) => [
      part("beside", other),
      ...history("beside-samples", others),
    ]),
  ];
}

/** The samples of a circuit as they are recorded, some of them together. */
export function historyTexts(samples: readonly Sample[]): string[] {
  return Array.from({ length: Math.ceil(samples.length / SAMPLES_TOGETHER) }, (_, run) =>
    canonicalJson(samples.slice(run * SAMPLES_TOGETHER, (run + 1) * SAMPLES_TOGETHER)),
  );
}

/** Judges again from what was recorded. */
export function recompute(inputs: readonly RecordedInput[]): Verdict {
  return judgeCircuit(caseOf(inputs));
}

/**
 * What a verdict was judged from, as it was recorded.
 *
 * @throws RangeError when a case or a circuit is not among the inputs
 */
export function caseOf(inputs: readonly RecordedInput[]): CircuitCase {
  const all = (role: RecordedInput["role"]) =>
    inputs.filter((input) => input.role === role).map(({ text }) => JSON.parse(text));
  const [rest] = all("case");
  const [circuit] = all("circuit");
  if (rest === undefined || circuit === undefined) {
    throw new RangeError("a record of a verdict needs a case and a circuit");
  }
  const [requirement] = all("requirement");
  const neighbours = neighboursIn(inputs);
  return {
    ...rest,
    circuit,
    samples: [...all("sample"), ...all("samples").flat()],
    ...(requirement !== undefined && { requirement }),
    ...(neighbours.length > 0 && { neighbours }),
  };
}

/** Earlier records hold the samples of another circuit inside it. */
function neighboursIn(inputs: readonly RecordedInput[]): NonNullable<CircuitCase["neighbours"]> {
  const neighbours: { circuit: Circuit; samples: Sample[] }[] = [];
  for (const { role, text } of inputs) {
    if (role === "beside") neighbours.push({ samples: [], ...JSON.parse(text) });
    if (role === "beside-samples") neighbours.at(-1)?.samples.push(...JSON.parse(text));
  }
  return neighbours;
}
