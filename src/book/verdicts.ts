import { createHash } from "node:crypto";
import { deflateRawSync, inflateRawSync } from "node:zlib";
import {
  canonicalJson,
  type RecordedInput,
  recompute,
  VERDICTS,
  type VerdictName,
  type VerdictRecord,
} from "../fitness/index.js";
import { BookError, type Connection, inTransaction, rowsOf } from "./database.js";

/** What a person decided against a verdict. */
export interface Override {
  readonly at: string;
  readonly person: string;
  readonly decision: VerdictName;
  readonly reason: string;
}

/** A verdict as it stands in the book. */
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
  readonly inputs: readonly { readonly role: RecordedInput["role"]; readonly sha256: string }[];
  readonly resultSha256: string;
  /** Oldest first. */
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

/** Which verdicts are asked for; all when nothing is named. */
export interface VerdictQuery {
  readonly cart?: string;
  readonly circuit?: string;
  /** The day it was judged for. */
  readonly on?: string;
}

/**
 * Keeps verdicts, all or none. A verdict on the same inputs by the same requirement and version is kept once.
 *
 * @returns the verdicts as they stand in the book, in the order given
 */
export function keepVerdicts(db: Connection, records: readonly VerdictRecord[], at: string): KeptVerdict[] {
  const ids = inTransaction(db, () => records.map((record) => keepOne(db, record, at)));
  return ids.map((id) => verdictsIn(db, {}, id)[0] as KeptVerdict);
}

function keepOne(db: Connection, { inputs, verdict, judgedBy, version }: VerdictRecord, at: string): number {
  const keepInput = db.prepare(
    "INSERT INTO judged_input (sha256, body) VALUES (?, ?) ON CONFLICT DO NOTHING",
  );
  const hashed = inputs.map(({ role, text }) => {
    const sha256 = hashOf(text);
    keepInput.run(sha256, deflateRawSync(text));
    return { role, sha256 };
  });
  const list = canonicalJson(hashed);
  const { on, cart, circuit, verdict: name } = JSON.parse(verdict);
  const key = [hashOf(list), judgedBy.document, judgedBy.revision, version];
  db.prepare(
    `INSERT INTO verdict (at, judged_on, cart, circuit, verdict, inputs, result_sha256, result,
       inputs_sha256, document, revision, version)
     VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?) ON CONFLICT DO NOTHING`,
  ).run(at, on, cart, circuit, name, list, hashOf(verdict), deflateRawSync(verdict), ...key);
  const row = db
    .prepare(
      "SELECT id FROM verdict WHERE inputs_sha256 = ? AND document = ? AND revision = ? AND version = ?",
    )
    .get(...key) as { id: number };
  return row.id;
}

interface VerdictRow {
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

/** Verdicts by the day they were judged for, oldest first. */
export function verdictsIn(db: Connection, query: VerdictQuery, id?: number): KeptVerdict[] {
  const wanted = Object.entries({ cart: query.cart, circuit: query.circuit, judged_on: query.on, id }).filter(
    (entry): entry is [string, string | number] => entry[1] !== undefined,
  );
  const where = wanted.length === 0 ? "" : ` WHERE ${wanted.map(([name]) => `${name} = ?`).join(" AND ")}`;
  return rowsOf<VerdictRow>(
    db,
    `SELECT * FROM verdict${where} ORDER BY judged_on, id`,
    ...wanted.map(([, value]) => value),
  ).map(
    ({
      id: own,
      judged_on,
      inputs,
      result_sha256,
      at,
      cart,
      circuit,
      verdict,
      document,
      revision,
      version,
    }) => ({
      id: own,
      at,
      on: judged_on,
      cart,
      circuit,
      verdict,
      document,
      revision,
      version,
      inputs: JSON.parse(inputs) as KeptVerdict["inputs"],
      resultSha256: result_sha256,
      overrides: rowsOf<Override>(
        db,
        "SELECT at, person, decision, reason FROM override WHERE verdict_id = ? ORDER BY id",
        own,
      ),
    }),
  );
}

/** The verdict of a circuit in the report before: of an earlier day, or of the same day on other inputs. */
export function verdictBefore(
  db: Connection,
  { id, cart, circuit, on }: KeptVerdict,
): KeptVerdict | undefined {
  const row = db
    .prepare(
      `SELECT id FROM verdict WHERE cart = ? AND circuit = ? AND id <> ? AND (judged_on < ? OR (judged_on = ? AND id < ?))
       ORDER BY judged_on DESC, id DESC LIMIT 1`,
    )
    .get(cart, circuit, id, on, on, id) as { id: number } | undefined;
  return row && verdictsIn(db, {}, row.id)[0];
}

/**
 * Keeps what a person decided against a verdict. The verdict stays as it was computed.
 *
 * @throws BookError when there is no such verdict, or person or reason are blank
 */
export function keepOverride(db: Connection, verdictId: number, override: Override): void {
  const { at, person, decision, reason } = override;
  if (person.trim() === "") throw new BookError("an override needs the name of the person");
  if (reason.trim() === "") throw new BookError("an override needs a reason");
  if (!VERDICTS.includes(decision)) {
    throw new BookError(`"${decision}" is no decision; expected ${VERDICTS.join(", ")}`);
  }
  const known = db.prepare("SELECT id FROM verdict WHERE id = ?").get(verdictId);
  if (known === undefined) throw new BookError(`the book has no verdict number ${verdictId}`);
  db.prepare("INSERT INTO override (verdict_id, at, person, decision, reason) VALUES (?, ?, ?, ?, ?)").run(
    verdictId,
    at,
    person,
    decision,
    reason,
  );
}

/**
 * Judges again from the record of a verdict.
 *
 * @returns whether the answer is the same to the last byte
 * @throws BookError when there is no such verdict, or when what it rests on was damaged
 */
export function recomputeVerdict(db: Connection, verdictId: number): Recomputed {
  const row = db
    .prepare("SELECT inputs, result, result_sha256, version FROM verdict WHERE id = ?")
    .get(verdictId) as { inputs: string; result: Buffer; result_sha256: string; version: string } | undefined;
  if (row === undefined) throw new BookError(`the book has no verdict number ${verdictId}`);
  const recorded = intact(inflateRawSync(row.result).toString("utf8"), row.result_sha256, "the verdict");
  const inputs = (JSON.parse(row.inputs) as KeptVerdict["inputs"]).map(({ role, sha256 }) => {
    const kept = db.prepare("SELECT body FROM judged_input WHERE sha256 = ?").get(sha256) as
      | { body: Buffer }
      | undefined;
    if (kept === undefined)
      throw new BookError(`an input of verdict ${verdictId} is gone: ${role} ${sha256}`);
    return { role, text: intact(inflateRawSync(kept.body).toString("utf8"), sha256, `the ${role}`) };
  });
  const recomputed = canonicalJson(recompute(inputs));
  return recomputed === recorded
    ? { kind: "same", text: recorded }
    : { kind: "differs", recorded, recomputed, version: row.version };
}

function intact(text: string, sha256: string, what: string): string {
  if (hashOf(text) !== sha256) throw new BookError(`${what} in the record was changed after it was kept`);
  return text;
}

function hashOf(text: string): string {
  return createHash("sha256").update(text).digest("hex");
}
