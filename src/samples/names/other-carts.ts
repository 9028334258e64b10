import type { Assumption } from "../../provenance/index.js";
import type { FleetChange } from "../changes/fleet-changes.js";

/** What changes in the list of the carts of other bases. */
export function otherCartChanges(before: readonly string[], now: readonly string[]): FleetChange[] {
  return [
    ...now
      .filter((cart) => !before.includes(cart))
      .map((cart): FleetChange => {
        return {
          kind: "other-cart-new",
          cart,
          message: `cart ${cart} is of another base; its rows are not used`,
        };
      }),
    ...before
      .filter((cart) => !now.includes(cart))
      .map((cart): FleetChange => {
        const message = `cart ${cart} is of another base no more; its rows wait in quarantine again`;
        return { kind: "other-cart-gone", cart, message };
      }),
  ];
}

/** Says that rows of a file are of carts of other bases; nothing where there are none. */
export function ofOtherBases(rows: number): Assumption[] {
  if (rows === 0) return [];
  const those = rows === 1 ? "1 row is" : `${rows} rows are`;
  const message = `${those} of carts that the carts file lists under otherCarts, and not used`;
  return [{ code: "rows-of-other-carts", message }];
}
