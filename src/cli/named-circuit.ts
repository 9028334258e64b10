import type { Book } from "../book/index.js";
import { findNamed } from "../samples/index.js";

/** A cart and circuit as the book writes their names, where a person may have written them in other letters. */
export function asInBook<O extends { readonly cart?: string; readonly circuit?: string }>(
  book: Book,
  options: O,
): O {
  const circuits = book.circuits();
  const found = (names: readonly string[], name: string | undefined) =>
    name === undefined ? undefined : findNamed([...new Set(names)], (one) => one, name);
  const cart = found(
    circuits.map((entry) => entry.cart),
    options.cart,
  );
  const ofCart = circuits.filter((entry) => cart === undefined || entry.cart === cart);
  const circuit = found(
    ofCart.map((entry) => entry.circuit),
    options.circuit,
  );
  return { ...options, ...(cart !== undefined && { cart }), ...(circuit !== undefined && { circuit }) };
}
