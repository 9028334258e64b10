import { NameIndex, type NameInText } from "../../samples/index.js";
import type { UnreadResult } from "../case.js";

/** A cart and its circuits by name. */
export interface NamedCart {
  readonly cart: string;
  readonly circuits: readonly { readonly circuit: string }[];
}

/** Which unread results may be of which circuit. */
export interface UnreadOfFleet {
  /** What may be a result of one circuit, in the order in which it was given. */
  readonly of: (cart: string, circuit: string) => readonly UnreadResult[];
  /** What cannot be given to any cart and nobody has decided about: it may be a result of every circuit, or of none. */
  readonly ofNoCart: readonly UnreadResult[];
}

/**
 * Gives results that could not be read to the circuits that they may belong to, by the names they bear.
 *
 * - The cart is the one that the name means, or every cart that it may mean (see {@link NameIndex}).
 * - Of the cart, the circuit is the one of that name, but for how it is written. A circuit that the cart does not have, and
 *   one that is not named, may be any of the cart.
 * - Where a row could not be split into cells, the carts whose names stand in its text are meant: of each the circuit whose
 *   name follows, or every one.
 * - Where a row was split and its cell of the cart is empty, the circuits of that name of every cart are meant.
 *
 * @param carts - carts with their circuits
 * @param known - names of all carts that are known, where these are some of them: what bears the very name of one of them is
 *   a result of no other
 */
export function unreadOfFleet(
  unread: readonly UnreadResult[],
  carts: readonly NamedCart[],
  known: readonly string[] = [],
): UnreadOfFleet {
  const finder = new CircuitFinder(carts, known);
  const order = new Map(unread.map((result, index) => [result, index]));
  // Many rows bear the same names: who is meant is found once for each.
  const groups = groupedBy(unread, ({ cart, circuit, text }) =>
    JSON.stringify([cart, circuit, cart === undefined ? text : undefined]),
  );
  const ofCircuit = new Map<string, UnreadResult[][]>();
  const ofNoCart: UnreadResult[][] = [];
  for (const group of groups) {
    const meant = finder.meantBy(group[0] as UnreadResult);
    if (meant === undefined) ofNoCart.push(group);
    for (const key of new Set(meant)) {
      const already = ofCircuit.get(key);
      if (already === undefined) ofCircuit.set(key, [group]);
      else already.push(group);
    }
  }
  const inOrder = (results: readonly UnreadResult[]) =>
    [...results].sort((a, b) => (order.get(a) as number) - (order.get(b) as number));
  return {
    of: (cart, circuit) => {
      const keys = [keyOf(cart, circuit), keyOf(undefined, circuit)];
      return inOrder(keys.flatMap((key) => ofCircuit.get(key) ?? []).flat());
    },
    ofNoCart: inOrder(ofNoCart.flat()).filter(({ decided }) => decided === undefined),
  };
}

function groupedBy<T>(all: readonly T[], keyOfOne: (one: T) => string): T[][] {
  const groups = new Map<string, T[]>();
  for (const one of all) {
    const key = keyOfOne(one);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [one]);
    else group.push(one);
  }
  return [...groups.values()];
}

/** A circuit of one cart, or of every cart that has one of the name. */
function keyOf(cart: string | undefined, circuit: string): string {
  return JSON.stringify([cart ?? null, circuit]);
}

class CircuitFinder {
  readonly #carts: NameIndex;
  readonly #circuitsOf: ReadonlyMap<string, NameIndex>;
  readonly #circuits: NameIndex;

  constructor(carts: readonly NamedCart[], known: readonly string[]) {
    this.#circuitsOf = new Map(
      carts.map(({ cart, circuits }) => [cart, new NameIndex(circuits.map(({ circuit }) => circuit))]),
    );
    const own = new NameIndex(this.#circuitsOf.keys());
    // A name that could be taken for that of a cart here keeps nothing away from it.
    const apart = known.filter((name) => own.alike(name).every((cart) => cart === name));
    this.#carts = new NameIndex([...this.#circuitsOf.keys(), ...apart]);
    this.#circuits = new NameIndex(carts.flatMap(({ circuits }) => circuits.map(({ circuit }) => circuit)));
  }

  /** The keys of the circuits that a result may be of; undefined where not even a cart is found. */
  meantBy({ cart, circuit, text }: UnreadResult): readonly string[] | undefined {
    if (cart !== undefined) {
      const meant = this.#carts.meant(cart);
      return meant.length === 0 ? undefined : meant.flatMap((name) => this.#ofCart(name, circuit));
    }
    if (text !== undefined) {
      const standing = this.#carts.standingIn(text);
      return standing.length === 0 ? undefined : standing.flatMap((place) => this.#ofPlace(place, circuit));
    }
    if (circuit !== undefined) {
      const alike = this.#circuits.alike(circuit);
      return alike.length === 0 ? undefined : alike.map((name) => keyOf(undefined, name));
    }
    return undefined;
  }

  /** One circuit of a cart, or all of them where it has none of the name. Another that is known has none here. */
  #ofCart(cart: string, circuit: string | undefined): string[] {
    const circuits = this.#circuitsOf.get(cart);
    if (circuits === undefined) return [];
    const same = circuit === undefined ? [] : circuits.same(circuit);
    return (same.length > 0 ? same : circuits.names).map((name) => keyOf(cart, name));
  }

  #ofPlace({ name: cart, reading, followedBy }: NameInText, circuit: string | undefined): string[] {
    if (circuit !== undefined) return this.#ofCart(cart, circuit);
    const circuits = this.#circuitsOf.get(cart);
    if (circuits === undefined) return [];
    const next = circuits.atStartOf(followedBy, reading);
    return (next.length > 0 ? next : circuits.names).map((name) => keyOf(cart, name));
  }
}
