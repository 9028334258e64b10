import { keyOfName } from "../../samples/index.js";

/** A name as people mean it, however it is written: what a carts file refuses as one name for two carts is one name here. */
export function plainName(text: string): string {
  return keyOfName(text, "writing");
}

/** What is named by its cart and circuit. */
export interface NamedCircuit {
  readonly cart: string;
  readonly circuit: string;
}

/** Cart and circuit as people mean them: two names that mean one circuit give the same text. */
export function plainCircuit({ cart, circuit }: NamedCircuit): string {
  return JSON.stringify([plainName(cart), plainName(circuit)]);
}
