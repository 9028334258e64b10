/** A name as people mean it, whatever the letters' case and the hyphens and spaces. */
export function plainName(text: string): string {
  return text.toLowerCase().replace(/[\s_-]/g, "");
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
