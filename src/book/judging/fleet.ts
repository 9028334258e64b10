import { createHash } from "node:crypto";
import { distance } from "fastest-levenshtein";
import * as z from "zod";
import {
  type Finding,
  IntakeError,
  localDay,
  parseCartsFile,
  parseRequirementsFile,
} from "../../intake/index.js";
import {
  type Cart,
  type CircuitEvent,
  cartChanges,
  cartSchema,
  confusedPairs,
  describeConfused,
  eventsAfter,
  type FleetChange,
  otherCartChanges,
  type RequirementsFile,
  requirementChanges,
  requirementsFileSchema,
  type Sample,
} from "../../samples/index.js";
import { inEntry } from "../chain/entry.js";
import { type Connection, firstOf, numberOf, rowsOf } from "../storage/database.js";
import { inserterInto } from "../storage/insert.js";

interface RawCircuit {
  readonly circuit: string;
  readonly fluid: string;
  readonly events?: readonly CircuitEvent[];
}

interface RawCart {
  readonly cart: string;
  readonly note?: string;
  readonly units?: string;
  readonly circuits: readonly RawCircuit[];
}

/** How a carts file takes the place of what the book has. */
export interface KeepCartsOptions {
  /** The day on which it does, as ISO 8601; today at the place where the program runs when absent. */
  readonly today?: string;
  /** Let events go that the file does not list; otherwise they stay. */
  readonly dropEvents?: boolean;
  /** Who brings the file in, for the record. */
  readonly by?: string;
}

/**
 * Keeps the carts of a carts file in the book, within a transaction that somebody else opens and ends. A cart that is in the
 * book already is brought up to date; one that the file does not name stays as it is. Events stay though the file does not
 * list them, unless they are to go.
 *
 * @returns what has changed against the carts that the book had
 * @throws IntakeError when the file is not a carts file, or when a person could take one of its carts for another of the book
 */
export function keepCarts(
  db: Connection,
  file: string,
  text: string,
  { today = localDay(), dropEvents = false }: KeepCartsOptions = {},
): FleetChange[] {
  const { carts: now, otherCarts } = parseCartsFile(file, text);
  // The book keeps what was written and not what it was read into, so that a later siltbook can read more from it.
  const { carts, units: ofFleet } = JSON.parse(text) as { carts: RawCart[]; units?: string };
  const names = carts.map(({ cart }) => cart);
  const othersBefore = otherCartsIn(db);
  const others = otherCarts ?? othersBefore.filter((cart) => !names.includes(cart));
  refuseConfused(file, new CircuitFinder(db).carts, [...names, ...others], others);
  const before = cartsBefore(db, now);
  for (const { cart, note, circuits, units = ofFleet } of carts) {
    const cartId = cartIdOf(db, cart);
    db.prepare("UPDATE cart SET note = ? WHERE id = ?").run(note ?? null, cartId);
    db.prepare("UPDATE circuit SET former = ifnull(body, former), body = NULL WHERE cart_id = ?").run(cartId);
    for (const written of circuits) {
      // Each circuit is kept by itself, so it takes along what was said of all of them.
      const circuit = units === undefined ? written : { units, ...written };
      const former = formerOf(db, cartId, circuit.circuit);
      const body =
        former === undefined
          ? circuit
          : withEvents(circuit, eventsAfter(former, happenedIn(circuit), today, dropEvents));
      db.prepare(
        `INSERT INTO circuit (cart_id, circuit, body) VALUES (?, ?, ?)
         ON CONFLICT DO UPDATE SET body = excluded.body, former = NULL`,
      ).run(cartId, circuit.circuit, JSON.stringify(body));
    }
  }
  db.exec("DELETE FROM other_cart");
  const listOther = db.prepare("INSERT INTO other_cart (cart) VALUES (?)");
  for (const cart of others) listOther.run(cart);
  return [...cartChanges(before, now, dropEvents), ...otherCartChanges(othersBefore, others)];
}

/** Names of the carts of other bases that the carts file kept last lists, or the last one that had such a list. */
export function otherCartsIn(db: Connection): string[] {
  return rowsOf<{ cart: string }>(db, "SELECT cart FROM other_cart ORDER BY cart").map(({ cart }) => cart);
}

function refuseConfused(
  file: string,
  inBook: readonly string[],
  inFile: readonly string[],
  others: readonly string[],
): void {
  const own = others.find((name) => inBook.includes(name));
  if (own !== undefined) {
    throw new IntakeError(
      `${file}: otherCarts: "${own}" is a cart of the book, from an earlier carts file, and its samples stay there; leave it out`,
    );
  }
  const added = inFile.filter((name) => !inBook.includes(name));
  const [pair] = confusedPairs([...inBook, ...added]).filter(([, name]) => added.includes(name));
  if (pair === undefined) return;
  throw new IntakeError(
    `${file}: ${describeConfused("carts", pair)}; the book knows "${pair[0]}" from an earlier carts file, and keeps it`,
  );
}

function happenedIn({ fluid, events = [] }: RawCircuit) {
  return { fluid, events };
}

function withEvents(circuit: RawCircuit, events: readonly object[]): object {
  return events.length === 0 ? circuit : { ...circuit, events };
}

function formerOf(db: Connection, cartId: number, circuit: string) {
  const row = firstOf<{ former: string | null }>(
    db,
    "SELECT former FROM circuit WHERE cart_id = ? AND circuit = ?",
    cartId,
    circuit,
  );
  return row?.former ? happenedIn(JSON.parse(row.former) as RawCircuit) : undefined;
}

/** The carts of the book, with circuits that had gone and that a file brings back. */
function cartsBefore(db: Connection, now: readonly Cart[]): Cart[] {
  const names = new Set(
    now.flatMap(({ cart, circuits }) => circuits.map(({ circuit }) => keyOf(cart, circuit))),
  );
  return readCarts(
    rowsOf<CircuitBody & { readonly is_there: number }>(
      db,
      `SELECT cart, note, circuit, body IS NOT NULL AS is_there, ifnull(body, former) AS body FROM circuit
       JOIN cart ON cart.id = cart_id WHERE ifnull(body, former) IS NOT NULL ORDER BY cart, circuit.id`,
    ).filter(({ cart, circuit, is_there }) => is_there || names.has(keyOf(cart, circuit))),
  );
}

function cartIdOf(db: Connection, cart: string): number {
  db.prepare("INSERT INTO cart (cart) VALUES (?) ON CONFLICT DO NOTHING").run(cart);
  return numberOf(db, "SELECT id FROM cart WHERE cart = ?", cart);
}

/** A circuit as the book has it, with its cart. */
export interface CircuitBody {
  readonly cart: string;
  readonly note: string | null;
  readonly circuit: string;
  readonly body: string;
}

/** The carts that a carts file has described, by name. */
export function cartsIn(db: Connection): Cart[] {
  return readCarts(
    rowsOf<CircuitBody>(
      db,
      `SELECT cart, note, circuit, body FROM circuit JOIN cart ON cart.id = cart_id
       WHERE body IS NOT NULL ORDER BY cart, circuit.id`,
    ),
  );
}

/** Every circuit that has samples or that a carts file has described, by name. */
export function circuitsIn(db: Connection): { readonly cart: string; readonly circuit: string }[] {
  return rowsOf(
    db,
    "SELECT cart, circuit FROM circuit JOIN cart ON cart.id = cart_id ORDER BY cart, circuit",
  );
}

/** Reads circuits in the order of their carts. */
export function readCarts(rows: readonly CircuitBody[]): Cart[] {
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
  return parseCartsFile("carts of the book", JSON.stringify({ carts: described })).carts;
}

/**
 * Keeps a requirements file in the book. The one kept last is the one that is judged by; earlier ones stay.
 *
 * @returns what has changed against the requirements that were judged by
 * @throws IntakeError when the file is not a requirements file
 */
export function keepRequirements(
  db: Connection,
  file: string,
  text: string,
  at: string,
  by?: string,
): FleetChange[] {
  const now = parseRequirementsFile(file, text);
  const { document, revision } = now;
  const sha256 = createHash("sha256").update(text).digest("hex");
  const subject = () => `"${document}", revision ${revision}, from ${file}`;
  return inEntry(db, { kind: "requirement", by, subject }, () => {
    const before = requirementsIn(db);
    db.prepare("DELETE FROM requirements WHERE sha256 = ?").run(sha256);
    inserterInto(db, "requirements")({ sha256, document, revision, kept_at: at, body: text });
    return before === undefined ? [] : requirementChanges(before, now);
  });
}

/** The requirements kept last; undefined when there are none. */
export function requirementsIn(db: Connection): RequirementsFile | undefined {
  const row = firstOf<{ body: string }>(db, "SELECT body FROM requirements ORDER BY id DESC LIMIT 1");
  return row && readRequirements(row.body);
}

/** Reads what the book has of a requirements file. */
export function readRequirements(body: string): RequirementsFile {
  return requirementsFileSchema.parse(JSON.parse(body));
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
      const expected = `a cart of the book${describeNearest(cart, this.carts)}`;
      return { code: "circuit-not-known", holds: "cart", expected };
    }
    const expected = `a circuit of cart ${cart}${describeNearest(circuit, this.circuitsOf(cart))}`;
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

function describeNearest(name: string, known: readonly string[]): string {
  const nearest = [...known]
    .map((candidate) => ({ candidate, steps: distance(name.toLowerCase(), candidate.toLowerCase()) }))
    .sort((a, b) => a.steps - b.steps)
    .slice(0, 3)
    .map(({ candidate }) => candidate);
  return nearest.length === 0 ? "" : `, the nearest are ${nearest.join(", ")}`;
}
