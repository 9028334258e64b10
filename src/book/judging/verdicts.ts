import {
  canonicalJson,
  type RecordedInput,
  recompute,
  type VerdictName,
  type VerdictRecord,
} from "../../fitness/index.js";
import { type ChainEntry, inEntry } from "../chain/entry.js";
import { verdictChecker } from "../chain/trust.js";
import { BookError, type Connection, firstOf, readerOf, rowsOf } from "../storage/database.js";
import { inserterInto } from "../storage/insert.js";
import { type Override, overridesOf } from "./decisions.js";
import {
  faultOfListing,
  type KeptInput,
  type Listing,
  type PackedRecord,
  packRecords,
  unpack,
} from "./pack-record.js";

/** A verdict as it is in the book. */
export interface KeptVerdict {
  readonly id: number;
  /** When it was kept, as ISO 8601. */
  readonly at: string;
  /** The day it was judged for. */
  readonly on: string;
  readonly cart: string;
  readonly circuit: string;
  /** As it was computed; no override changes it. */
  readonly verdict: VerdictName;
  readonly document: string;
  readonly revision: string;
  /** Version of the library that judged. */
  readonly version: string;
  /** Hash of every input, in order. */
  readonly inputs: readonly KeptInput[];
  readonly resultSha256: string;
  /** What people decided against it, oldest first. */
  readonly overrides: readonly Override[];
}

/** What judging again from the record gave. */
export type Recomputed =
  | { readonly kind: "same"; readonly text: string }
  | {
      readonly kind: "differs";
      readonly recorded: string;
      readonly recomputed: string;
      readonly version: string;
    };

/** Which verdicts are wanted; all when nothing is named. */
export interface VerdictQuery {
  readonly cart?: string;
  readonly circuit?: string;
  /** The day it was judged for. */
  readonly on?: string;
  /** The number of one verdict. */
  readonly number?: number;
}

/**
 * Keeps verdicts, all or none. A verdict on the same inputs by the same requirement and version is kept once.
 *
 * @returns the verdicts as they are in the book, in the order given
 */
export function keepVerdicts(db: Connection, records: readonly VerdictRecord[], at: string): KeptVerdict[] {
  return keepPacked(
    db,
    packRecords(records, (hashes) => inputsIn(db, hashes)),
    at,
  );
}

/** Those of some inputs, by their hashes, that the book has. */
export function inputsIn(db: Connection, hashes: readonly string[]): Set<string> {
  const found = rowsOf<{ sha256: string }>(
    db,
    "SELECT sha256 FROM judged_input WHERE sha256 IN (SELECT value FROM json_each(?))",
    JSON.stringify(hashes),
  );
  return new Set(found.map(({ sha256 }) => sha256));
}

/** Finds the number that a verdict has in the book: the one on the same inputs by the same requirement and version. */
export function numbersOf(db: Connection): (record: PackedRecord) => number | undefined {
  const select = readerOf<{ id: number }>(
    db,
    "SELECT id FROM verdict WHERE inputs_sha256 = ? AND document = ? AND revision = ? AND version = ?",
  );
  return ({ inputsSha256, document, revision, version }) =>
    select.first(inputsSha256, document, revision, version)?.id;
}

/**
 * The same as {@link keepVerdicts} for records that are ready.
 *
 * @param judgedFrom - number of the last entry before they were judged from this book; absent where they come from elsewhere
 */
export function keepPacked(
  db: Connection,
  records: readonly PackedRecord[],
  at: string,
  judgedFrom?: number,
): KeptVerdict[] {
  const keepInput = inserterInto(db, "judged_input", "ON CONFLICT DO NOTHING");
  const keep = inserterInto(db, "verdict", "ON CONFLICT DO NOTHING");
  const numberOfRecord = numbersOf(db);
  const keepOne = (record: PackedRecord): { readonly id: number; readonly own?: KeptVerdict } => {
    const { on, bodies, inputs, inputsSha256, result, resultSha256, ...others } = record;
    for (const { sha256, body } of bodies) keepInput({ sha256, body: asBlob(body) });
    const hashes = { inputs_sha256: inputsSha256, result_sha256: resultSha256 };
    const kept = keep({ ...others, at, judged_on: on, inputs, ...hashes, result: asBlob(result) });
    if (kept.changes === 0) return { id: numberOfRecord(record) as number };
    const { id } = kept;
    return {
      id,
      own: { id, ...asVerdict({ ...others, at, judged_on: on, inputs, ...hashes }), overrides: [] },
    };
  };
  const from = judgedFrom === undefined ? "" : `${JUDGED_FROM}${judgedFrom}: `;
  const subject = (kept: readonly { readonly id: number }[]) =>
    `${from}${describeKept(
      records,
      kept.map(({ id }) => id),
    )}`;
  // One that was there is compared with its own entry when it is read, so not before this one is written.
  return inEntry(db, { kind: "verdicts", subject }, () => records.map(keepOne)).map(
    ({ id, own }) => own ?? (verdictsIn(db, { number: id })[0] as KeptVerdict),
  );
}

/** What the subject of an entry begins with where its verdicts were judged from this book. */
const JUDGED_FROM = "judged from entry ";

/** The last entry that the verdicts of an entry were judged from; undefined where they may be from anywhere. */
export function judgedFrom({ kind, subject }: ChainEntry): number | undefined {
  if (kind !== "verdicts" || !subject.startsWith(JUDGED_FROM)) return undefined;
  return Number.parseInt(subject.slice(JUDGED_FROM.length), 10);
}

function describeKept(records: readonly PackedRecord[], ids: readonly number[]): string {
  const days = [...new Set(records.map(({ on }) => on))].join(", ");
  const [first, last] = [records[0], records.at(-1)] as [PackedRecord, PackedRecord];
  const carts = first.cart === last.cart ? `cart ${first.cart}` : `carts ${first.cart} to ${last.cart}`;
  return `verdicts up to ${Math.max(...ids)}, judged for ${days}, ${carts}`;
}

/** The driver takes a Buffer for bytes. Bytes from another thread are not a Buffer. */
function asBlob(bytes: Uint8Array): Buffer {
  return Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength);
}

/** Columns of a verdict. */
export interface VerdictRow {
  readonly id: number;
  readonly at: string;
  readonly judged_on: string;
  readonly cart: string;
  readonly circuit: string;
  readonly verdict: VerdictName;
  readonly document: string;
  readonly revision: string;
  readonly version: string;
  readonly inputs: string;
  readonly result_sha256: string;
}

/**
 * Verdicts by the day they were judged for, oldest first.
 *
 * @throws BookError when one is not as it was written
 */
export function verdictsIn(db: Connection, query: VerdictQuery): KeptVerdict[] {
  const { cart: ofCart, circuit: ofCircuit, on, number } = query;
  const wanted = Object.entries({ cart: ofCart, circuit: ofCircuit, judged_on: on, id: number }).filter(
    (entry): entry is [string, string | number] => entry[1] !== undefined,
  );
  const where = wanted.length === 0 ? "" : ` WHERE ${wanted.map(([name]) => `${name} = ?`).join(" AND ")}`;
  const rows = rowsOf<VerdictRow>(
    db,
    `SELECT ${ROW_COLUMNS} FROM verdict${where} ORDER BY judged_on, id`,
    ...wanted.map(([, value]) => value),
  );
  return checkedVerdicts(db, rows);
}

const ROW_COLUMNS =
  "id, at, judged_on, cart, circuit, verdict, document, revision, version, inputs, result_sha256";

function checkedVerdicts(db: Connection, rows: readonly VerdictRow[]): KeptVerdict[] {
  const check = verdictChecker(db);
  for (const row of rows) check(row.id);
  return rows.map((row) => ({ id: row.id, ...asVerdict(row), overrides: overridesOf(db, row.id) }));
}

/** A verdict as its row has it. */
export function asVerdict(row: Omit<VerdictRow, "id">): Omit<KeptVerdict, "id" | "overrides"> {
  const { at, judged_on, cart, circuit, verdict, document, revision, version, inputs, result_sha256 } = row;
  return {
    ...{ at, on: judged_on, cart, circuit, verdict, document, revision, version },
    inputs: JSON.parse(inputs) as KeptVerdict["inputs"],
    resultSha256: result_sha256,
  };
}

/** A verdict that is not kept comes after all that are. */
const NOT_KEPT = Number.MAX_SAFE_INTEGER;

/** As much of a verdict as tells which earlier one it is compared with; without a number it is not kept. */
export type ComparedVerdict = Pick<KeptVerdict, "cart" | "circuit" | "on" | "inputs"> &
  Partial<Pick<KeptVerdict, "id">>;

/**
 * The verdict of a circuit in the report before: of an earlier day, or of the same day on other inputs. Only verdicts by the
 * same requirement are compared: where the limits changed, a changed verdict would say nothing of the fluid.
 *
 * @param since - a day: the last verdict that was judged for it or an earlier day
 */
export function verdictBefore(
  db: Connection,
  { id = NOT_KEPT, cart, circuit, on, inputs }: ComparedVerdict,
  since?: string,
): KeptVerdict | undefined {
  const requirement = inputs.find(({ role }) => role === "requirement")?.sha256 ?? null;
  const rows = rowsOf<VerdictRow>(
    db,
    `SELECT ${ROW_COLUMNS} FROM verdict
       WHERE cart = ? AND circuit = ? AND id <> ? AND (judged_on < ? OR (judged_on = ? AND id < ?))
         AND judged_on <= ?
         AND (SELECT value ->> '$.sha256' FROM json_each(inputs) WHERE value ->> '$.role' = 'requirement') IS ?
       ORDER BY judged_on DESC, id DESC LIMIT 1`,
    ...[cart, circuit, id, on, on, id, since ?? on, requirement],
  );
  return checkedVerdicts(db, rows)[0];
}

/**
 * Judges again from the record of a verdict.
 *
 * @returns whether the answer is the same to the last byte
 * @throws BookError when there is no such verdict, or when what it rests on was damaged
 */
export function recomputeVerdict(db: Connection, verdictId: number): Recomputed {
  const { inputs, recorded, version } = recordedVerdict(db, verdictId);
  const recomputed = canonicalJson(recompute(inputs));
  return recomputed === recorded
    ? { kind: "same", text: recorded }
    : { kind: "differs", recorded, recomputed, version };
}

/**
 * A verdict with what it rests on, each as it was recorded.
 *
 * @throws BookError when there is no such verdict, or when what it rests on was damaged
 */
export function recordedVerdict(
  db: Connection,
  verdictId: number,
): { readonly inputs: RecordedInput[]; readonly recorded: string; readonly version: string } {
  const row = firstOf<Listing & { inputs: string; result: Buffer; result_sha256: string; version: string }>(
    db,
    'SELECT judged_on AS "on", cart, circuit, verdict, inputs, result, result_sha256, version FROM verdict WHERE id = ?',
    verdictId,
  );
  if (row === undefined) throw new BookError(`the book has no verdict number ${verdictId}`);
  const recorded = unpack(row.result, row.result_sha256, "the verdict");
  const fault = faultOfListing(row, recorded);
  if (fault !== undefined) throw new BookError(`verdict ${verdictId} ${fault}`);
  const inputs = (JSON.parse(row.inputs) as KeptVerdict["inputs"]).map(({ role, sha256 }) => {
    const kept = firstOf<{ body: Buffer }>(db, "SELECT body FROM judged_input WHERE sha256 = ?", sha256);
    if (kept === undefined)
      throw new BookError(`an input of verdict ${verdictId} is gone: ${role} ${sha256}`);
    return { role, text: unpack(kept.body, sha256, `the ${role}`) };
  });
  return { inputs, recorded, version: row.version };
}
