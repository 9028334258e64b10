import { grouped } from "../../numeric/index.js";
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
 * - Where a row could not be split into cells, or its cell of the cart tells none, the carts whose names are in its text
 *   are meant: of each the circuit whose name follows, or every one. In a row that was split, a name is one of letters and
 *   figures: a mere number is found in any row.
 * - A row that names no cart and has the number of a known sample in it means the circuit of that sample too.
 * - Where no cart and no known sample is named anywhere in the row, the circuits of the name it bears are meant, of every cart.
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
  // A row is kept without its text: by then the text has shown which circuits it may belong to.
  const places = new Map(unread.map((result, index) => [result, index]));
  const ofCircuit = new Map<string, number[][]>();
  const ofNoCart: number[] = [];
  const give = (group: readonly UnreadResult[], meant: readonly string[] | undefined) => {
    const own = group.map((result) => places.get(result) as number);
    if (meant === undefined) ofNoCart.push(...own);
    for (const key of new Set(meant)) {
      const known = ofCircuit.get(key);
      if (known === undefined) ofCircuit.set(key, [own]);
      else known.push(own);
    }
  };
  // Many rows bear the same names: who is meant is found once for each.
  const byNames = grouped(unread, ({ cart, circuit }) => JSON.stringify([cart, circuit]));
  for (const group of byNames.values()) {
    const meant = finder.meantByCart(group[0]);
    if (meant !== undefined) give(group, meant);
    else for (const row of group) give([row], finder.meantByRow(row));
  }
  const results = unread.map(
    ({ text: _text, notSplit: _notSplit, ...result }): UnreadResult => Object.freeze(result),
  );
  // What is said of a list that cannot change is found once, however many circuits it may concern.
  const inOrder = (some: readonly number[]): readonly UnreadResult[] =>
    Object.freeze(Array.from(Float64Array.from(some).sort(), (place) => results[place] as UnreadResult));
  // Rows without a cart may be of as many circuits as there are carts.
  const ofNameAlone = new Map<string, readonly UnreadResult[]>();
  return {
    of: (cart, circuit) => {
      const named = ofCircuit.get(keyOf(undefined, circuit)) ?? [];
      const own = ofCircuit.get(keyOf(cart, circuit));
      if (own !== undefined) return inOrder([...own, ...named].flat());
      const known = ofNameAlone.get(circuit) ?? inOrder(named.flat());
      ofNameAlone.set(circuit, known);
      return known;
    },
    ofNoCart: inOrder(ofNoCart.filter((place) => unread[place]?.decided === undefined)),
  };
}

/** A circuit of one cart, or of every cart that has one of the name. */
function keyOf(cart: string | undefined, circuit: string): string {
  return JSON.stringify([cart ?? null, circuit]);
}

function hasLettersAndFigures(name: string): boolean {
  return /\p{L}/u.test(name) && /\p{N}/u.test(name);
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
    const apart = known.filter((name) => !own.has(name) && own.alike(name).length === 0);
    this.#carts = new NameIndex([...this.#circuitsOf.keys(), ...apart]);
    this.#circuits = new NameIndex(carts.flatMap(({ circuits }) => circuits.map(({ circuit }) => circuit)));
  }

  /** The keys of the circuits of the carts that a result may name; undefined where it names none. */
  meantByCart({ cart, circuit }: UnreadResult): readonly string[] | undefined {
    const meant = cart === undefined ? [] : this.#carts.meant(cart);
    return meant.length === 0 ? undefined : meant.flatMap((name) => this.#ofCart(name, circuit));
  }

  /** The same for what stands anywhere in a row whose cell of the cart tells none. */
  meantByRow(row: UnreadResult): readonly string[] | undefined {
    const bySamples = (row.ofSamples ?? [])
      .filter(({ cart, circuit }) => this.#circuitsOf.get(cart)?.has(circuit))
      .map(({ cart, circuit }) => keyOf(cart, circuit));
    const meant = [...(this.#meantByText(row) ?? []), ...bySamples];
    return meant.length > 0 ? meant : this.#meantByCircuit(row);
  }

  #meantByText({ text, notSplit, circuit }: UnreadResult): readonly string[] | undefined {
    const standing = text === undefined ? [] : this.#carts.standingIn(text);
    const telling = notSplit ? standing : standing.filter(({ name }) => hasLettersAndFigures(name));
    return telling.length === 0 ? undefined : telling.flatMap((place) => this.#ofPlace(place, circuit));
  }

  /** The same for the circuits of its name of every cart, where its cell of the cart is empty. */
  #meantByCircuit({ cart, circuit }: UnreadResult): readonly string[] | undefined {
    const alike = cart !== undefined || circuit === undefined ? [] : this.#circuits.alike(circuit);
    return alike.length === 0 ? undefined : alike.map((name) => keyOf(undefined, name));
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
