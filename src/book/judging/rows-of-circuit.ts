import { unreadOfFleet } from "../../fitness/index.js";
import { isTableInDoubt, unreadResults } from "../../intake/index.js";
import { describeOrigin } from "../../provenance/index.js";
import type { Connection } from "../storage/database.js";
import type { KeptQuarantinedRow } from "../taking-in/open-rows.js";
import { cartsIn } from "./fleet.js";
import { namedSamples } from "./named-samples.js";

/** Whose rows are looked for. */
export interface RowsQuery {
  readonly cart?: string;
  readonly circuit?: string;
}

/**
 * The rows that may concern a cart or a circuit: those whose names may mean it, as in the verdicts, and those that name no
 * cart.
 *
 * @returns all of them where no circuit is named
 */
export function rowsThatMayConcern<R extends KeptQuarantinedRow>(
  db: Connection,
  rows: readonly R[],
  { cart, circuit }: RowsQuery,
): readonly R[] {
  if (cart === undefined && circuit === undefined) return rows;
  const carts = cartsIn(db);
  const unreadOf = unreadOfFleet(unreadResults(rows, namedSamples(db, rows)), carts);
  const ofCarts = carts.flatMap((entry) =>
    entry.circuits.flatMap((own) => {
      const isAsked = (cart ?? entry.cart) === entry.cart && (circuit ?? own.circuit) === own.circuit;
      return isAsked ? [{ cart: entry.cart, circuit: own.circuit }] : [];
    }),
  );
  const concerned = ofCarts.flatMap((own) => unreadOf.of(own.cart, own.circuit));
  const nameless = unreadOf.ofNoCart.filter((row) => row.cart === undefined);
  const places = new Set([...concerned, ...nameless].map(({ where }) => where));
  return rows.filter(
    (row) =>
      places.has(describeOrigin({ ...row, rows: [row.row] })) ||
      isTableInDoubt(row) ||
      (row.cart === cart && (circuit === undefined || row.circuit === circuit)),
  );
}
