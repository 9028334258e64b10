/** A letter of some keys and what may follow it. */
interface Branch {
  readonly next: Map<string, Branch>;
  isKey: boolean;
}

/**
 * Keys by their letters, so that those near a given one are found without a look at each.
 *
 * The distance counts letters put in, left out or replaced, and a swap of two neighbours as one (optimal string alignment).
 */
export class NearKeys {
  readonly #root: Branch = { next: new Map(), isKey: false };

  constructor(keys: Iterable<string>) {
    for (const key of keys) {
      let branch = this.#root;
      for (const letter of key) {
        const following = branch.next.get(letter) ?? { next: new Map(), isKey: false };
        branch.next.set(letter, following);
        branch = following;
      }
      branch.isKey = true;
    }
  }

  /** The keys within a distance, each with its own. */
  within(text: string, most: number): [key: string, distance: number][] {
    const letters = [...text];
    const found: [string, number][] = [];
    const goDown = (branch: Branch, key: string, row: Row, before: Row | undefined) => {
      const distance = row.distances[letters.length] as number;
      if (branch.isKey && distance <= most) found.push([key, distance]);
      for (const [letter, following] of branch.next) {
        const next = rowAfter(letters, letter, row, before);
        // A swap goes on from the row before, at the cost of one.
        if (next.least <= most || row.least < most) goDown(following, key + letter, next, row);
      }
    };
    goDown(
      this.#root,
      "",
      { letter: "", distances: letters.map((_, at) => at).concat(letters.length), least: 0 },
      undefined,
    );
    return found;
  }
}

/** The distances of the letters gone down so far from each beginning of the text, and the least of them. */
interface Row {
  readonly letter: string;
  readonly distances: readonly number[];
  readonly least: number;
}

function rowAfter(letters: readonly string[], letter: string, row: Row, before: Row | undefined): Row {
  let own = (row.distances[0] as number) + 1;
  let least = own;
  const distances = [own];
  for (let at = 1; at <= letters.length; at += 1) {
    const isSame = letters[at - 1] === letter;
    const replaced = (row.distances[at - 1] as number) + (isSame ? 0 : 1);
    own = Math.min(own + 1, (row.distances[at] as number) + 1, replaced);
    if (before !== undefined && letters[at - 1] === row.letter && letters[at - 2] === letter) {
      own = Math.min(own, (before.distances[at - 2] as number) + 1);
    }
    distances.push(own);
    if (own < least) least = own;
  }
  return { letter, distances, least };
}
