import { BookError, type Connection, readerOf, rowsOf } from "../storage/database.js";
import type { News } from "./news.js";

interface TheirVerdict {
  readonly id: number;
  readonly at: string;
  readonly judged_on: string;
  readonly cart: string;
  readonly circuit: string;
  readonly verdict: string;
  readonly document: string;
  readonly revision: string;
  readonly version: string;
  readonly inputs: string;
  readonly inputs_sha256: string;
  readonly result_sha256: string;
  readonly result: Buffer;
}

interface TheirDecision {
  readonly id: number;
  readonly cart: string;
  readonly circuit: string;
  readonly verdict_id: number | null;
  readonly at: string;
  readonly person: string;
  readonly second: string | null;
  readonly decision: string;
  readonly reason: string;
  readonly until: string | null;
}

/**
 * Puts the verdicts of the other book into ours, each with its inputs.
 *
 * @param keep - makes an entry of some of them: a pack of evidence shows the whole entry that its verdict is in
 * @returns how many are new here
 */
export function joinVerdicts(
  ours: Connection,
  theirs: Connection,
  news: News,
  keep: (what: string, insert: () => void) => void,
): number {
  const verdicts = new JoinedVerdicts(ours, theirs);
  const fresh = rowsOf<{ id: number }>(theirs, "SELECT id FROM verdict ORDER BY id").filter(({ id }) =>
    news.has("verdict", id),
  );
  for (let first = 0; first < fresh.length; first += KEPT_TOGETHER) {
    const some = fresh.slice(first, first + KEPT_TOGETHER);
    keep(`verdicts up to ${some.at(-1)?.id} of its numbers`, () => {
      for (const { id } of some) verdicts.numberOf(id);
    });
  }
  return verdicts.taken;
}

/** Judging keeps about as many together. */
const KEPT_TOGETHER = 64;

/**
 * Puts into ours what people decided about circuits in the other book. A decision that both have is one; it is lifted here
 * too when it was lifted there.
 *
 * @returns how many are new here
 */
export function joinDecisions(ours: Connection, theirs: Connection, news: News): number {
  const verdicts = new JoinedVerdicts(ours, theirs);
  const find = readerOf<{ id: number }>(
    ours,
    `SELECT id FROM override WHERE cart = ? AND circuit = ? AND at = ? AND person = ? AND decision = ? AND reason = ?`,
  );
  const insert = ours.prepare(
    `INSERT INTO override (cart, circuit, verdict_id, at, person, second, decision, reason, until)
     VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)`,
  );
  const lift = ours.prepare(
    "INSERT INTO lifting (override_id, at, person, reason) VALUES (?, ?, ?, ?) ON CONFLICT DO NOTHING",
  );
  const liftings = new Map(
    rowsOf<{ override_id: number; at: string; person: string; reason: string }>(
      theirs,
      "SELECT override_id, at, person, reason FROM lifting",
    ).map((lifting) => [lifting.override_id, lifting]),
  );
  const all = rowsOf<TheirDecision>(
    theirs,
    "SELECT id, cart, circuit, verdict_id, at, person, second, decision, reason, until FROM override ORDER BY id",
  );
  let decisions = 0;
  for (const { id, cart, circuit, verdict_id, at, person, second, decision, reason, until } of all) {
    if (!news.has("override", id) && !news.has("lifting", id)) continue;
    let number = find.first(cart, circuit, at, person, decision, reason)?.id;
    if (number === undefined) {
      const madeOn = verdict_id === null ? null : verdicts.numberOf(verdict_id);
      const values = [cart, circuit, madeOn, at, person, second, decision, reason, until];
      number = Number(insert.run(...values).lastInsertRowid);
      decisions += 1;
    }
    const lifting = liftings.get(id);
    if (lifting !== undefined) lift.run(number, lifting.at, lifting.person, lifting.reason);
  }
  return decisions;
}

/** Finds the verdicts of the other book in ours, and puts those that ours does not have into it. */
class JoinedVerdicts {
  readonly #find;
  readonly #select;
  readonly #input;
  readonly #insert;
  readonly #insertInput;
  readonly #known = new Set<string>();
  taken = 0;

  constructor(ours: Connection, theirs: Connection) {
    this.#find = readerOf<{ id: number }>(
      ours,
      "SELECT id FROM verdict WHERE inputs_sha256 = ? AND document = ? AND revision = ? AND version = ?",
    );
    this.#select = readerOf<TheirVerdict>(theirs, "SELECT * FROM verdict WHERE id = ?");
    this.#input = readerOf<{ body: Buffer }>(theirs, "SELECT body FROM judged_input WHERE sha256 = ?");
    this.#insertInput = ours.prepare(
      "INSERT INTO judged_input (sha256, body) VALUES (?, ?) ON CONFLICT DO NOTHING",
    );
    this.#insert = ours.prepare(
      `INSERT INTO verdict (at, judged_on, cart, circuit, verdict, document, revision, version, inputs, inputs_sha256,
         result_sha256, result)
       VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
    );
  }

  /** The number that a verdict of the other book has in ours. */
  numberOf(id: number): number {
    const row = this.#select.first(id);
    if (row === undefined) throw new BookError(`the other book has no verdict number ${id}`);
    const { at, judged_on, cart, circuit, verdict, document, revision, version, inputs } = row;
    const known = this.#find.first(row.inputs_sha256, document, revision, version);
    if (known !== undefined) return known.id;
    for (const { sha256 } of JSON.parse(inputs) as { readonly sha256: string }[]) this.#keepInput(sha256);
    this.taken += 1;
    const values = [at, judged_on, cart, circuit, verdict, document, revision, version, inputs];
    const hashes = [row.inputs_sha256, row.result_sha256];
    return Number(this.#insert.run(...values, ...hashes, row.result).lastInsertRowid);
  }

  #keepInput(sha256: string): void {
    if (this.#known.has(sha256)) return;
    this.#known.add(sha256);
    const input = this.#input.first(sha256);
    if (input === undefined)
      throw new BookError(`an input of a verdict of the other book is gone: ${sha256}`);
    this.#insertInput.run(sha256, input.body);
  }
}
