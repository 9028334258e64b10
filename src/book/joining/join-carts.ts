import { IntakeError } from "../../intake/index.js";
import { carryEvents, type FleetChange, isSame } from "../../samples/index.js";
import { CircuitFinder, keepCarts, otherCartsIn } from "../judging/fleet.js";
import { type Connection, rowsOf } from "../storage/database.js";
import type { CircuitTexts } from "./news.js";

/** A circuit as a carts file wrote it. */
interface Written {
  readonly events?: readonly { readonly on: string; readonly kind: "hookup" }[];
}

/** A cart of a book: its note, and its circuits in order. */
interface CartTexts {
  readonly note: string | null;
  readonly circuits: ReadonlyMap<string, { readonly body: string | null; readonly former: string | null }>;
}

/** What is needed to put the carts of two books together. */
export interface JoinCartsOptions {
  /** Name of the other book. */
  readonly name: string;
  /** The carts of the other book as ours knew them. */
  readonly known: CircuitTexts;
  /** Carts that are the same in both books because a person says so. */
  readonly sameCarts: readonly string[] | "all";
  readonly today: string;
}

/**
 * Puts the carts of another book into ours.
 *
 * The same name in two books does not prove that it is one cart: it is only where one book has the cart from the other, or a
 * person says so. Of its circuits, a change that only one of the books has made since counts; where both have changed one, they
 * have to agree except in its events, all of which are kept.
 *
 * @returns what changes in our book
 * @throws IntakeError naming the carts that cannot be put together
 */
export function joinCarts(ours: Connection, theirs: Connection, options: JoinCartsOptions): FleetChange[] {
  const { name, known, sameCarts, today } = options;
  const [own, other] = [cartsOf(ours), cartsOf(theirs)];
  const inBoth = [...other.keys()].filter((cart) => own.has(cart));
  const same = sameCarts === "all" ? inBoth : sameCarts;
  const notInBoth = same.find((cart) => !inBoth.includes(cart));
  if (notInBoth !== undefined) {
    throw new IntakeError(
      `${name}: "${notInBoth}" is not a cart of both books, so it cannot be the same in them`,
    );
  }
  const unproved = inBoth.filter((cart) => !known.has(cart) && !same.includes(cart));
  if (unproved.length > 0) {
    throw new IntakeError(
      `${name}: both books have ${unproved.length === 1 ? "a cart" : "carts"} named ${list(unproved)}. Where a name means the same cart ` +
        "in both, say so with --same-cart, or with --one-fleet for all; two carts need two names before their books are brought together",
    );
  }
  const joined = [...other].map(([cart, { note, circuits }]) => {
    const mine = own.get(cart);
    const names = new Set([...(mine?.circuits.keys() ?? []), ...circuits.keys()]);
    const bodies = [...names].flatMap((circuit) => {
      const body = joinCircuit(`cart ${cart}, circuit ${circuit}`, name, {
        ours: mine?.circuits.get(circuit)?.body ?? null,
        theirs: circuits.get(circuit)?.body ?? null,
        known: known.get(cart)?.get(circuit),
        isNew: mine === undefined || !mine.circuits.has(circuit),
      });
      return body === null ? [] : [JSON.parse(body) as unknown];
    });
    return { cart, note: mine === undefined ? note : mine.note, circuits: bodies };
  });
  const described = joined.flatMap(({ note, ...cart }) =>
    cart.circuits.length === 0 ? [] : [{ ...cart, ...(note !== null && { note }) }],
  );
  const changes =
    described.length === 0 ? [] : keepCarts(ours, name, fileOf(ours, theirs, described), { today });
  keepFormer(ours, other);
  return changes;
}

function fileOf(ours: Connection, theirs: Connection, carts: readonly { readonly cart: string }[]): string {
  const own = new Set([...new CircuitFinder(ours).carts, ...carts.map(({ cart }) => cart)]);
  const others = new Set([...otherCartsIn(ours), ...otherCartsIn(theirs)]);
  return JSON.stringify({ carts, otherCarts: [...others].filter((cart) => !own.has(cart)).sort() });
}

interface CircuitVersions {
  readonly ours: string | null;
  readonly theirs: string | null;
  /** Undefined where our book did not know it. */
  readonly known: string | null | undefined;
  /** Whether our book has no such circuit. */
  readonly isNew: boolean;
}

function joinCircuit(
  what: string,
  name: string,
  { ours, theirs, known, isNew }: CircuitVersions,
): string | null {
  if (theirs === null) return ours;
  if (isNew || (ours === null && known === undefined)) return theirs;
  if (known !== undefined && isSameText(known, theirs)) return ours;
  if (ours === null || (known !== undefined && isSameText(known, ours))) return theirs;
  const [mine, other] = [JSON.parse(ours), JSON.parse(theirs)] as [Written, Written];
  const differing = [...new Set([...Object.keys(mine), ...Object.keys(other)])].filter(
    (field) => field !== "events" && !isSame(Reflect.get(mine, field), Reflect.get(other, field)),
  );
  if (differing.length > 0) {
    throw new IntakeError(
      `${name}: ${what} is described otherwise than in this book (${differing.join(", ")}); import one carts file into both ` +
        "books first",
    );
  }
  const { events } = carryEvents(other.events ?? [], mine.events ?? []);
  return JSON.stringify(events.length === 0 ? mine : { ...mine, events });
}

function isSameText(one: string | null, other: string | null): boolean {
  return one === other || (one !== null && other !== null && isSame(JSON.parse(one), JSON.parse(other)));
}

function cartsOf(db: Connection): Map<string, CartTexts> {
  const rows = rowsOf<{
    cart: string;
    note: string | null;
    circuit: string | null;
    body: string | null;
    former: string | null;
  }>(
    db,
    `SELECT cart, note, circuit, body, former FROM cart LEFT JOIN circuit ON cart_id = cart.id ORDER BY cart.id, circuit.id`,
  );
  const carts = new Map<
    string,
    { note: string | null; circuits: Map<string, { body: string | null; former: string | null }> }
  >();
  for (const { cart, note, circuit, body, former } of rows) {
    const entry = carts.get(cart) ?? { note, circuits: new Map() };
    if (circuit !== null) entry.circuits.set(circuit, { body, former });
    carts.set(cart, entry);
  }
  return carts;
}

/** Keeps the description and events of circuits that their carts file leaves out now, for when they come back. */
function keepFormer(ours: Connection, other: ReadonlyMap<string, CartTexts>): void {
  const finder = new CircuitFinder(ours);
  const keep = ours.prepare("UPDATE circuit SET former = ? WHERE id = ? AND body IS NULL AND former IS NULL");
  for (const [cart, { circuits }] of other) {
    for (const [circuit, { body, former }] of circuits) {
      if (body === null && former !== null) keep.run(former, finder.idOf(cart, circuit));
    }
  }
}

function list(names: readonly string[]): string {
  return names.map((name) => `"${name}"`).join(", ");
}
