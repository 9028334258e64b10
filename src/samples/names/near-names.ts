import { MAX_PARTS_OF_A_NAME, type NamePart, partsOf, READINGS, type Reading, runsOf } from "./names.js";
import { NearKeys } from "./near-keys.js";

const MAX_SLIPS = 2;
/** So many letters and figures make a name long enough for two slips in it to leave it known. */
const LONG_NAME = 6;

interface Near {
  readonly keys: NearKeys;
  readonly names: ReadonlyMap<string, readonly KnownName[]>;
}

interface KnownName {
  readonly name: string;
  readonly parts: readonly NamePart[];
}

/**
 * Known names, for finding those that are a few slips of the pen away from a written one.
 *
 * Slips are letters or figures put in, left out, replaced or swapped. One is allowed in a name of two letters and figures or
 * more. Two are allowed where each word and each number keeps half of itself; in a name of six or more one of a single
 * letter or figure may be another. So "QB-15" may mean QB-01 and QB-14 where no cart is called QB-15, because one wrong figure
 * makes one of the other. "TX-01" and "QB-27" may not mean QB-01: a word or a number is wholly another, as in the names of
 * the carts of another base. The lengths are common practice, no source.
 */
export class NearNames {
  readonly #names: readonly string[];
  readonly #near = new Map<Reading, Near>();
  /** Words and numbers in the order in which known names have them. */
  readonly #patterns: ReadonlySet<string>;
  readonly #readings: readonly Reading[];

  constructor(names: readonly string[]) {
    this.#names = names;
    this.#patterns = new Set(
      names.flatMap((name) => READINGS.map((reading) => patternOf(partsOf(name, reading)))),
    );
    // Where no letter looks like a figure, on neither side, both readings find the same.
    this.#readings = names.every(readsAlike) ? ["writing"] : READINGS;
  }

  /**
   * The names that are the fewest slips away.
   *
   * @param alsoWords - whether a name may be some words of what is written
   */
  of(written: string, alsoWords: boolean): string[] {
    const readings = readsAlike(written) ? this.#readings : READINGS;
    // Many names are two slips away, so they are looked for where no name is nearer.
    for (let most = 0; most <= MAX_SLIPS; most += 1) {
      const found = readings.flatMap((reading) => this.#slipsTo(written, reading, alsoWords, most));
      if (found.length > 0) return found;
    }
    return [];
  }

  /** The names that are no more than some slips away. */
  #slipsTo(written: string, reading: Reading, alsoWords: boolean, most: number): string[] {
    const parts = partsOf(written, reading);
    if (parts.length > MAX_PARTS_OF_A_NAME) return [];
    const { keys, names } = this.#nearFor(reading);
    return this.#runsToTry(parts, alsoWords).flatMap((run) =>
      keys.within(compact(run), most).flatMap(([key, slips]) =>
        (names.get(key) ?? []).flatMap(({ name, parts: known }) => {
          const isAlike = run.length === parts.length || patternOf(known) === patternOf(run);
          return isAlike && areSlips(slips, run, known) ? [name] : [];
        }),
      ),
    );
  }

  #nearFor(reading: Reading): Near {
    const made = this.#near.get(reading);
    if (made !== undefined) return made;
    const names = new Map<string, KnownName[]>();
    for (const name of this.#names) {
      const parts = partsOf(name, reading);
      const same = names.get(compact(parts));
      if (same === undefined) names.set(compact(parts), [{ name, parts }]);
      else same.push({ name, parts });
    }
    const near = { names, keys: new NearKeys(names.keys()) };
    this.#near.set(reading, near);
    return near;
  }

  /** Some words of what is written are tried where they are words and numbers in the order of a known name. */
  #runsToTry(parts: readonly NamePart[], alsoWords: boolean): readonly (readonly NamePart[])[] {
    if (!alsoWords) return [parts];
    return runsOf(parts).filter((run) => run.length === parts.length || this.#patterns.has(patternOf(run)));
  }
}

function areSlips(slips: number, written: readonly NamePart[], known: readonly NamePart[]): boolean {
  const length = Math.max(compact(written).length, compact(known).length);
  if (length < 2) return false;
  if (slips < 2) return true;
  const isLong = length >= LONG_NAME;
  if (written.length !== known.length) return isLong;
  return written.every((part, index) => {
    const [one, other] = [part.withZeros, (known[index] as NamePart).withZeros];
    const [found] = new NearKeys([other]).within(one, MAX_SLIPS);
    const half = Math.max(one.length, other.length) / 2;
    return found !== undefined && found[1] <= Math.max(half, isLong ? 1 : 0);
  });
}

/** Words and numbers without what stands between them: a dash too many or too few is no slip. */
function compact(parts: readonly NamePart[]): string {
  return parts.map(({ text }) => text).join("");
}

function readsAlike(name: string): boolean {
  return compact(partsOf(name, "writing")) === compact(partsOf(name, "looks"));
}

function patternOf(parts: readonly NamePart[]): string {
  return parts.map(({ isNumber }) => (isNumber ? "1" : "a")).join("");
}
