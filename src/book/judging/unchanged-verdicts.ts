import { isDeepStrictEqual } from "node:util";
import {
  type CircuitCase,
  canonicalJson,
  inputsOf,
  type JudgedBy,
  type RecordedInput,
  type Verdict,
} from "../../fitness/index.js";
import { VERSION } from "../../provenance/index.js";
import { verdictEntries } from "../chain/trust.js";
import { type Connection, readerOf } from "../storage/database.js";
import { hashOf, type KeptInput, type PackedRecord, pack, tryUnpack } from "./pack-record.js";
import { judgedFrom } from "./verdicts.js";

/** A verdict that judging again would only repeat, and its record for the day. */
export interface UnchangedVerdict {
  readonly verdict: Verdict;
  readonly record: PackedRecord;
}

interface LastVerdict {
  readonly id: number;
  readonly on: string;
  readonly document: string;
  readonly revision: string;
  readonly version: string;
  readonly inputs: string;
  readonly result: Buffer;
  readonly result_sha256: string;
}

/**
 * Finds the verdicts of a cart that judging again would only repeat, without reading its samples.
 *
 * The last verdict of a circuit holds for another day where everything that it rests on is what it was:
 *
 * - circuit, requirement, the other circuits, and what could not be read: the hash of each is the recorded one;
 * - the samples: no entry of the chain has written one of the cart after those that the verdict was judged from;
 * - the version, and the document;
 * - the day: no answer about it has become another one since.
 *
 * What does not fit its entry, or was kept by another way than judging this book, is not gone by.
 */
export function unchangedVerdicts(
  db: Connection,
  { document, revision }: JudgedBy,
  on: string,
): (cases: readonly CircuitCase[], lastWritten: number) => UnchangedVerdict[] | undefined {
  const lastOf = readerOf<LastVerdict>(
    db,
    `SELECT id, judged_on AS "on", document, revision, version, inputs, result, result_sha256 FROM verdict
       WHERE cart = ? AND circuit = ? AND judged_on <= ? ORDER BY judged_on DESC, id DESC LIMIT 1`,
  );
  const entryOf = verdictEntries(db);
  const hashed = textHasher();
  const unchanged = (input: CircuitCase, lastWritten: number): UnchangedVerdict | undefined => {
    const { cart, circuit } = input;
    const last = lastOf.first(cart, circuit.circuit, on);
    if (last?.version !== VERSION || last.document !== document || last.revision !== revision)
      return undefined;
    const entry = entryOf(last.id);
    const from = entry && judgedFrom(entry);
    if (from === undefined || !(from >= lastWritten)) return undefined;
    const kept = JSON.parse(last.inputs) as KeptInput[];
    if (
      !isDeepStrictEqual(
        kept.filter(isNoSamples),
        inputsOf({ ...input, on: last.on }, NO_SAMPLES).map(hashed),
      )
    )
      return undefined;
    const text = tryUnpack(last.result, last.result_sha256);
    if (text === undefined) return undefined;
    const verdict = JSON.parse(text) as Verdict;
    const { mayChangeOn } = verdict;
    const isOfCase = verdict.cart === cart && verdict.circuit === circuit.circuit && verdict.on === last.on;
    if (!isOfCase || (mayChangeOn !== undefined && mayChangeOn <= on)) return undefined;
    return recordedFor({ ...verdict, on }, input, kept, { document, revision });
  };
  const recordedFor = (
    verdict: Verdict,
    input: CircuitCase,
    kept: readonly KeptInput[],
    judgedBy: JudgedBy,
  ): UnchangedVerdict => {
    const [text] = inputsOf(input, NO_SAMPLES).flatMap((own) => (own.role === "case" ? own.text : []));
    const own = { sha256: hashOf(text as string), body: pack(text as string) };
    const inputs = canonicalJson(
      kept.map(({ role, sha256 }) => ({ role, sha256: role === "case" ? own.sha256 : sha256 })),
    );
    // Its names come in the order of the record that it was read from.
    const result = JSON.stringify(verdict);
    return {
      verdict,
      record: {
        ...{ on, cart: verdict.cart, circuit: verdict.circuit, verdict: verdict.verdict },
        inputs,
        inputsSha256: hashOf(inputs),
        // The only input that is another one on every day. The others are in the book, with the last verdict.
        bodies: [own],
        result: pack(result),
        resultSha256: hashOf(result),
        document: judgedBy.document,
        revision: judgedBy.revision,
        version: VERSION,
      },
    };
  };
  return (cases, lastWritten) => {
    const found: UnchangedVerdict[] = [];
    for (const input of cases) {
      const one = unchanged(input, lastWritten);
      // The circuits of a cart are judged from the same samples, which are read for all of them or not at all.
      if (one === undefined) return undefined;
      found.push(one);
    }
    return found;
  };
}

const NO_SAMPLES = () => [];
const SAMPLES: readonly RecordedInput["role"][] = ["sample", "samples", "beside-samples"];

function isNoSamples({ role }: KeptInput): boolean {
  return !SAMPLES.includes(role);
}

/** Hashes texts; that of a requirement is the same for most circuits of a fleet. */
function textHasher(): (input: RecordedInput) => KeptInput {
  const known = new Map<string, string>();
  return ({ role, text }) => {
    const sha256 = known.get(text) ?? hashOf(text);
    if (role === "requirement") known.set(text, sha256);
    return { role, sha256 };
  };
}
