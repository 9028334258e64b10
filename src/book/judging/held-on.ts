import type { Cart, RequirementsFile } from "../../samples/index.js";
import { entriesIn, piecesIn } from "../chain/entry.js";
import { chainedTable } from "../chain/tables.js";
import { WrittenRows } from "../chain/written.js";
import type { Connection } from "../storage/database.js";
import { type CircuitBody, readCarts, readRequirements } from "./fleet.js";

/** Carts and requirements that a book held on a day. */
export interface HeldOn {
  /** None where it held none. */
  readonly carts: readonly Cart[];
  readonly otherCarts: readonly string[];
  readonly requirements?: RequirementsFile;
}

/** What the book held when a day ended, by the entries of its chain. */
export function heldOn(db: Connection, day: string): HeldOn {
  const last = Math.max(
    0,
    ...entriesIn(db, "TRUE").flatMap(({ number, at }) => (at.slice(0, 10) <= day ? number : [])),
  );
  const rows = <T extends readonly unknown[]>(name: string) =>
    new WrittenRows(db, chainedTable(name))
      .leftBy(last, piecesIn(db, "of_table = ?", name))
      .map((line) => JSON.parse(line) as T);
  const carts = new Map(
    rows<[id: number, cart: string, note: string | null]>("cart").map(([id, cart, note]) => [
      id,
      { cart, note },
    ]),
  );
  const circuits = rows<[id: number, cartId: number, circuit: string, body: string | null]>(
    "circuit",
  ).flatMap(([, cartId, circuit, body]): CircuitBody[] => {
    const cart = carts.get(cartId);
    return cart === undefined || body === null ? [] : [{ ...cart, circuit, body }];
  });
  const byCart = circuits.sort((a, b) => (a.cart === b.cart ? 0 : a.cart < b.cart ? -1 : 1));
  const requirements = rows<[...unknown[], body: string]>("requirements").at(-1)?.at(-1) as
    | string
    | undefined;
  return {
    carts: readCarts(byCart),
    otherCarts: rows<[string]>("other_cart").map(([cart]) => cart),
    ...(requirements !== undefined && { requirements: readRequirements(requirements) }),
  };
}
