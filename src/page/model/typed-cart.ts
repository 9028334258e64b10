import { type CircuitCase, casesOf } from "../../fitness/index.js";
import {
  type Cart,
  cartsFileSchema,
  couldBeConfused,
  describeProblem,
  type RatedBeta,
} from "../../samples/index.js";
import type { PageData } from "./page-data.js";
import { type Reading, read, readAll, readPositive, refuse } from "./reading.js";

/** What a person types about a cart that is not in the data. */
export interface CartFields {
  readonly cart: string;
  readonly circuit: string;
  readonly serves: string;
  readonly fluid: string;
  /** With its unit, such as "60 L" or "16 US gal". */
  readonly volume: string;
  readonly flow: string;
  readonly betas: BetaFields;
}

/** Filtration ratios by size in µm(c); an empty text is a size without a rating. */
export type BetaFields = Readonly<Record<number, string>>;

/** Reads the ratings of an element; at least one is needed. */
export function readBetas(fields: BetaFields): Reading<RatedBeta[]> {
  const typed = Object.entries(fields).filter(([, text]) => text.trim() !== "");
  if (typed.length === 0)
    return refuse("Element: expected its filtration ratio at one size or more, by ISO 16889");
  const reading = readAll<Record<string, number>>(
    Object.fromEntries(typed.map(([size, text]) => [size, readPositive(`β at ${size} µm(c)`, text)])),
  );
  if (reading.kind === "refused") return reading;
  const betas = Object.entries(reading.value).map(([size, beta]) => ({ sizeUmC: Number(size), beta }));
  const low = betas.find(({ beta }) => !(beta >= 1));
  return low === undefined
    ? read(betas)
    : refuse(`β at ${low.sizeUmC} µm(c): expected 1 or more, found ${low.beta}`);
}

/** Reads a cart that a person typed, by the rules of a carts file. */
export function readTypedCart(fields: CartFields, data: PageData): Reading<Cart> {
  const betas = readBetas(fields.betas);
  if (betas.kind === "refused") return betas;
  const known = [...data.carts.map(({ cart }) => cart), ...(data.knownCarts ?? [])];
  const name = fields.cart.trim();
  const same = known.find((other) => other === name || couldBeConfused(other, name));
  if (same !== undefined) return refuse(`Cart: "${same}" is in the data; pick it from the list`);
  const { circuit, serves, fluid, volume, flow } = fields;
  const written = {
    cart: name,
    circuits: [
      {
        ...{ circuit: circuit.trim(), serves, fluid: fluid.trim(), volume: volume.trim(), flow: flow.trim() },
        element: { position: "filter", betas: betas.value },
      },
    ],
  };
  const parsed = cartsFileSchema.safeParse({ carts: [written] });
  if (parsed.success) return read(parsed.data.carts[0] as Cart);
  return {
    kind: "refused",
    problems: parsed.error.issues.map((issue) => {
      const field = String(issue.path.at(-1));
      const problem = describeProblem(issue, () => JSON.stringify(fields[field as keyof CartFields] ?? ""));
      return `${field.charAt(0).toUpperCase()}${field.slice(1)}: ${problem}`;
    }),
  };
}

/** What the verdict on a typed cart rests on: nothing is known of what was done to it. */
export function caseOfTypedCart(cart: Cart, data: PageData, deviceOn: string): CircuitCase {
  const known = data.knownCarts ?? data.carts.map((other) => other.cart);
  const fleet = { ...data, carts: [cart], knownCarts: [...known, cart.cart], on: deviceOn };
  return casesOf(fleet)[0] as CircuitCase;
}
