import { VERSION } from "../provenance/index.js";
import type { RequirementsFile } from "../samples/index.js";
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

/** One input of a verdict. */
export interface RecordedInput {
  readonly role: "case" | "circuit" | "requirement" | "sample" | "beside";
  readonly text: string;
}

/**
 * Writes a verdict with its inputs.
 *
 * Recomputing is {@link recompute}: it gives the same text, to the last byte, with the same version of the library.
 */
export function recordOf(input: CircuitCase, verdict: Verdict, judgedBy: JudgedBy): VerdictRecord {
  const { circuit, requirement, samples, beside = [], ...rest } = input;
  const part = (role: RecordedInput["role"], value: unknown) => ({ role, text: canonicalJson(value) });
  return {
    inputs: [
      part("case", rest),
      part("circuit", circuit),
      ...(requirement === undefined ? [] : [part("requirement", requirement)]),
      ...samples.map((sample) => part("sample", sample)),
      ...beside.map((other) => part("beside", other)),
    ],
    verdict: canonicalJson(verdict),
    judgedBy: { document: judgedBy.document, revision: judgedBy.revision },
    version: VERSION,
  };
}

/** Judges again from what was recorded. */
export function recompute(inputs: readonly RecordedInput[]): Verdict {
  const all = (role: RecordedInput["role"]) =>
    inputs.filter((input) => input.role === role).map(({ text }) => JSON.parse(text));
  const [rest] = all("case");
  const [circuit] = all("circuit");
  if (rest === undefined || circuit === undefined) {
    throw new RangeError("a record of a verdict needs a case and a circuit");
  }
  const [requirement] = all("requirement");
  const beside = all("beside");
  return judgeCircuit({
    ...rest,
    circuit,
    samples: all("sample"),
    ...(requirement !== undefined && { requirement }),
    ...(beside.length > 0 && { beside }),
  });
}

/**
 * Writes data as JSON with the names in order and without spaces, so that the same data are the same bytes.
 *
 * @throws RangeError for a number that JSON has no form for
 * @example
 * canonicalJson({ b: 1, a: [true, "x"] }); // => '{"a":[true,"x"],"b":1}'
 */
export function canonicalJson(value: unknown): string {
  return JSON.stringify(value, (_name, entry: unknown) => {
    if (typeof entry === "number" && !Number.isFinite(entry)) {
      throw new RangeError(`${entry} cannot be recorded`);
    }
    if (entry === null || typeof entry !== "object" || Array.isArray(entry)) return entry;
    return Object.fromEntries(Object.entries(entry).sort(([a], [b]) => (a < b ? -1 : a > b ? 1 : 0)));
  });
}
