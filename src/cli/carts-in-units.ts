import { type Cart, inUnits } from "../samples/index.js";
import type { UnitSystem } from "../units/index.js";

/** Carts that are answered in these units. */
export function cartsInUnits(carts: readonly Cart[], units: UnitSystem | undefined): readonly Cart[] {
  if (units === undefined) return carts;
  return carts.map((cart) => ({
    ...cart,
    circuits: cart.circuits.map((circuit) => inUnits(circuit, units)),
  }));
}
