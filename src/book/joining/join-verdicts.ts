import { BookError, type Connection, readerOf, rowsOf } from "../storage/database.js";
import { inserterInto, type RowOf } from "../storage/insert.js";
import type { News } from "./news.js";

type TheirVerdict = RowOf<"verdict"> & { readonly inputs: string };
type TheirDecision = RowOf<"override"> & {
  readonly id: number;
  readonly verdict_id: number | null;
};
type Lifting = RowOf<"lifting"> & { readonly override_id: number };

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

/** Verdicts in one entry; judging puts about as many into one. */
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
  const insert = inserterInto(ours, "override");
  const lift = inserterInto(ours, "lifting", "ON CONFLICT DO NOTHING");
  const liftings = new Map(
    rowsOf<Lifting>(theirs, "SELECT * FROM lifting").map((lifting) => [lifting.override_id, lifting]),
  );
  let decisions = 0;
  for (const row of rowsOf<TheirDecision>(theirs, "SELECT * FROM override ORDER BY id")) {
    const { id, cart, circuit, verdict_id, at, person, decision, reason } = row;
    if (!news.has("override", id) && !news.has("lifting", id)) continue;
    let override_id = find.first(cart, circuit, at, person, decision, reason)?.id;
    if (override_id === undefined) {
      const madeOn = verdict_id === null ? null : verdicts.numberOf(verdict_id);
      override_id = insert({ ...row, verdict_id: madeOn }).id;
      decisions += 1;
    }
    const lifting = liftings.get(id);
    if (lifting !== undefined) lift({ ...lifting, override_id });
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
    this.#insertInput = inserterInto(ours, "judged_input", "ON CONFLICT DO NOTHING");
    this.#insert = inserterInto(ours, "verdict");
  }

  /** The number that a verdict of the other book has in ours. */
  numberOf(id: number): number {
    const row = this.#select.first(id);
    if (row === undefined) throw new BookError(`the other book has no verdict number ${id}`);
    const known = this.#find.first(row.inputs_sha256, row.document, row.revision, row.version);
    if (known !== undefined) return known.id;
    for (const { sha256 } of JSON.parse(row.inputs) as { readonly sha256: string }[]) this.#keepInput(sha256);
    this.taken += 1;
    return this.#insert(row).id;
  }

  #keepInput(sha256: string): void {
    if (this.#known.has(sha256)) return;
    this.#known.add(sha256);
    const input = this.#input.first(sha256);
    if (input === undefined)
      throw new BookError(`an input of a verdict of the other book is gone: ${sha256}`);
    this.#insertInput({ sha256, body: input.body });
  }
}
