import { createHash } from "node:crypto";
import { distance } from "fastest-levenshtein";
import * as z from "zod";
import { type Finding, IntakeError, readCartsFile, readRequirementsFile } from "../intake/index.js";
import {
  type Cart,
  cartSchema,
  confusedPairs,
  type RequirementsFile,
  requirementsFileSchema,
  type Sample,
  sayConfused,
} from "../samples/index.js";
import { type Connection, inTransaction, rowsOf } from "./database.js";

interface RawCart {
  readonly cart: string;
  readonly note?: string;
  readonly circuits: readonly { readonly circuit: string }[];
}

/**
 * Keeps the carts of a carts file in the book, within a transaction that somebody else opens and ends. A cart that is in the book already is brought up to date; one that the file
 * does not name stays as it is.
 *
 * @throws IntakeError when the file is not a carts file, or when a person could take one of its carts for another of the book
 */
export function keepCarts(db: Connection, file: string, text: string): void {
  readCartsFile(file, text);
  // The book keeps what was written and not what it was read into, so that a later siltbook can read more from it.
  const { carts } = JSON.parse(text) as { carts: RawCart[] };
  refuseConfused(
    file,
    new CircuitFinder(db).carts,
    carts.map(({ cart }) => cart),
  );
  for (const { cart, note, circuits } of carts) {
    const cartId = cartIdOf(db, cart);
    db.prepare("UPDATE cart SET note = ? WHERE id = ?").run(note ?? null, cartId);
    db.prepare("UPDATE circuit SET body = NULL WHERE cart_id = ?").run(cartId);
    for (const circuit of circuits) {
      db.prepare(
        "INSERT INTO circuit (cart_id, circuit, body) VALUES (?, ?, ?) ON CONFLICT DO UPDATE SET body = excluded.body",
      ).run(cartId, circuit.circuit, JSON.stringify(circuit));
    }
  }
}

function refuseConfused(file: string, inBook: readonly string[], inFile: readonly string[]): void {
  const added = inFile.filter((name) => !inBook.includes(name));
  const [pair] = confusedPairs([...inBook, ...added]).filter(([, name]) => added.includes(name));
  if (pair === undefined) return;
  throw new IntakeError(
    `${file}: ${sayConfused("carts", pair)}; the book knows "${pair[0]}" from an earlier carts file, and keeps it`,
  );
}

function cartIdOf(db: Connection, cart: string): number {
  db.prepare("INSERT INTO cart (cart) VALUES (?) ON CONFLICT DO NOTHING").run(cart);
  return (db.prepare("SELECT id FROM cart WHERE cart = ?").get(cart) as { id: number }).id;
}

/** The carts that a carts file has described, by name. */
export function cartsIn(db: Connection): Cart[] {
  const rows = rowsOf<{ cart: string; note: string | null; body: string }>(
    db,
    "SELECT cart, note, body FROM circuit JOIN cart ON cart.id = cart_id WHERE body IS NOT NULL ORDER BY cart, circuit.id",
  );
  if (rows.length === 0) return [];
  const carts = new Map<string, { cart: string; note?: string; circuits: unknown[] }>();
  for (const { cart, note, body } of rows) {
    const entry = carts.get(cart) ?? { cart, ...(note !== null && { note }), circuits: [] };
    entry.circuits.push(JSON.parse(body));
    carts.set(cart, entry);
  }
  const described = [...carts.values()];
  const read = z.array(cartSchema).safeParse(described);
  if (read.success) return read.data;
  // What an earlier siltbook took and this one does not is named with its cart and circuit, as in a file.
  return readCartsFile("carts of the book", JSON.stringify({ carts: described })).carts;
}

/**
 * Keeps a requirements file in the book. The one kept last is the one that is judged by; earlier ones stay.
 *
 * @throws IntakeError when the file is not a requirements file
 */
export function keepRequirements(db: Connection, file: string, text: string, at: string): void {
  const { document, revision } = readRequirementsFile(file, text);
  const sha256 = createHash("sha256").update(text).digest("hex");
  inTransaction(db, () => {
    db.prepare("DELETE FROM requirements WHERE sha256 = ?").run(sha256);
    db.prepare(
      "INSERT INTO requirements (sha256, document, revision, kept_at, body) VALUES (?, ?, ?, ?, ?)",
    ).run(sha256, document, revision, at, text);
  });
}

/** The requirements kept last; undefined when there are none. */
export function requirementsIn(db: Connection): RequirementsFile | undefined {
  const row = db.prepare("SELECT body FROM requirements ORDER BY id DESC LIMIT 1").get() as
    | { body: string }
    | undefined;
  return row && requirementsFileSchema.parse(JSON.parse(row.body));
}

/** Finds the circuits that samples name, and makes those that no carts file has described. */
export class CircuitFinder {
  readonly #ids = new Map<string, number>();
  readonly #described = new Map<string, Set<string>>();
  /** Whether the book knows carts, so that an unknown name is a mistake. */
  readonly knowsCarts: boolean;

  constructor(private readonly db: Connection) {
    const rows = rowsOf<{ id: number; cart: string; circuit: string; described: number }>(
      db,
      "SELECT circuit.id, cart, circuit, body IS NOT NULL AS described FROM circuit JOIN cart ON cart.id = cart_id",
    );
    for (const { id, cart, circuit, described } of rows) {
      this.#ids.set(keyOf(cart, circuit), id);
      if (described) this.#described.set(cart, (this.#described.get(cart) ?? new Set()).add(circuit));
    }
    this.knowsCarts = this.#described.size > 0;
  }

  isKnown(cart: string, circuit: string): boolean {
    return this.#described.get(cart)?.has(circuit) ?? false;
  }

  /** What is wrong with the names of a sample of a circuit that is not known. */
  whyUnknown({ cart, circuit }: Pick<Sample, "cart" | "circuit">): Finding {
    if (!this.#described.has(cart)) {
      const expected = `a cart of the book${sayNearest(cart, this.carts)}`;
      return { code: "circuit-not-known", holds: "cart", expected };
    }
    const expected = `a circuit of cart ${cart}${sayNearest(circuit, this.circuitsOf(cart))}`;
    return { code: "circuit-not-known", holds: "circuit", expected };
  }

  get carts(): readonly string[] {
    return [...this.#described.keys()];
  }

  circuitsOf(cart: string): readonly string[] {
    return [...(this.#described.get(cart) ?? [])];
  }

  idOf(cart: string, circuit: string): number {
    const key = keyOf(cart, circuit);
    const known = this.#ids.get(key);
    if (known !== undefined) return known;
    const { lastInsertRowid } = this.db
      .prepare("INSERT INTO circuit (cart_id, circuit) VALUES (?, ?)")
      .run(cartIdOf(this.db, cart), circuit);
    this.#ids.set(key, Number(lastInsertRowid));
    return Number(lastInsertRowid);
  }
}

function keyOf(cart: string, circuit: string): string {
  return `${cart}\n${circuit}`;
}

function sayNearest(name: string, known: readonly string[]): string {
  const nearest = [...known]
    .map((candidate) => ({ candidate, steps: distance(name.toLowerCase(), candidate.toLowerCase()) }))
    .sort((a, b) => a.steps - b.steps)
    .slice(0, 3)
    .map(({ candidate }) => candidate);
  return nearest.length === 0 ? "" : `, the nearest are ${nearest.join(", ")}`;
}
