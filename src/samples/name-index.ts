import { keyOfName, keyOfParts, type NamePart, partsOf, READINGS, type Reading } from "./names.js";
import { NearKeys } from "./near-keys.js";

/** A known name where it stands in a text, with what follows it there. */
export interface NameInText {
  readonly name: string;
  readonly reading: Reading;
  readonly followedBy: readonly NamePart[];
}

const MAX_SLIPS = 2;

/** A name is looked for word by word in so many words; a longer text is no name. */
const MAX_PARTS_OF_A_NAME = 12;

/**
 * Known names, for finding those that a written name may mean.
 *
 * Of a written name the nearest meaning counts:
 *
 * 1. A name that is written in the very same way is meant, and no other.
 * 2. Otherwise those that differ from it only in how they are written (see `couldBeConfused`) are meant: case, dashes,
 *    leading zeros, letters that look alike. A fleet with QB-01 to QB-14 has one such name for "QB 7".
 * 3. Otherwise every name that it may mean: one that stands in it as whole words ("Cart QB-01", "QB-01 (hangar 2)"), one
 *    that it is a word of ("QB", "01"), and one that is a few slips of the pen away from it or, where no name stands in it
 *    as it is, from some words of it.
 *
 * Slips are letters or figures put in, left out, replaced or swapped. One slip is allowed in a name of two letters and
 * figures or more, a second in one of six or more or where each run of letters and figures keeps half of itself. So "QB-15"
 * may mean QB-01 and QB-14 where no cart is called QB-15, because one wrong figure makes one of the other, and "TX-44" or
 * "TX-01" may not. The lengths are common practice, no source.
 */
export class NameIndex {
  readonly #names: ReadonlySet<string>;
  readonly #byKey: Readonly<Record<Reading, Map<string, string[]>>>;
  readonly #meant = new Map<string, readonly string[]>();
  /** Made when a name is met that is not known. */
  #near: Readonly<Record<Reading, NearKeys>> | undefined;
  #byPart: Map<string, string[]> | undefined;
  #patterns: Set<string> | undefined;
  #readings: readonly Reading[] | undefined;

  constructor(names: Iterable<string>) {
    this.#names = new Set(names);
    this.#byKey = byReading((reading) => groupBy(this.#names, (name) => [keyOfName(name, reading)]));
  }

  /** Every known name. */
  get names(): readonly string[] {
    return [...this.#names];
  }

  /** The names that differ from a written one only in how they are written; the very same name alone where it is known. */
  same(written: string): readonly string[] {
    if (this.#names.has(written)) return [written];
    for (const reading of READINGS) {
      const found = this.#byKey[reading].get(keyOfName(written, reading));
      if (found !== undefined) return found;
    }
    return [];
  }

  /** Every name that a written one could be taken for, itself among them. */
  alike(written: string): readonly string[] {
    return [
      ...new Set(READINGS.flatMap((reading) => this.#byKey[reading].get(keyOfName(written, reading)) ?? [])),
    ];
  }

  /** The names that a written one surely or possibly means; see {@link NameIndex}. */
  meant(written: string): readonly string[] {
    const known = this.#meant.get(written);
    if (known !== undefined) return known;
    const same = this.same(written);
    const meant = same.length > 0 ? same : this.#mayMean(written);
    this.#meant.set(written, meant);
    return meant;
  }

  /** Every place where known names stand in a text as whole words; the longest where one stands in another. */
  standingIn(text: string): NameInText[] {
    for (const reading of READINGS) {
      const found = this.#standingIn(partsOf(text, reading), reading);
      if (found.length > 0) return found;
    }
    return [];
  }

  /** The names that parts of a text begin with: those of the most parts. */
  atStartOf(parts: readonly NamePart[], reading: Reading): readonly string[] {
    return this.#longestAt(parts, 0, reading)?.names ?? [];
  }

  #standingIn(parts: readonly NamePart[], reading: Reading): NameInText[] {
    const found: NameInText[] = [];
    for (let at = 0; at < parts.length; ) {
      const longest = this.#longestAt(parts, at, reading);
      if (longest === undefined) {
        at += 1;
        continue;
      }
      const followedBy = parts.slice(longest.end, longest.end + MAX_PARTS_OF_A_NAME);
      found.push(...longest.names.map((name) => ({ name, reading, followedBy })));
      at = longest.end;
    }
    return found;
  }

  #longestAt(parts: readonly NamePart[], start: number, reading: Reading) {
    const last = Math.min(parts.length, start + MAX_PARTS_OF_A_NAME);
    for (let end = last; end > start; end -= 1) {
      const key = keyOfParts(parts.slice(start, end));
      // A single O or l in a text is a letter.
      if (reading === "looks" && key.length < 2) continue;
      const names = this.#byKey[reading].get(key);
      if (names !== undefined) return { names, end };
    }
    return undefined;
  }

  #mayMean(written: string): string[] {
    this.#byPart ??= groupBy(this.#names, runsWithin);
    const standing = this.standingIn(written).map(({ name }) => name);
    const containing = this.#byPart.get(keyOfName(written, "writing")) ?? [];
    // Where no letter looks like a figure, on neither side, both readings find the same.
    this.#readings ??= [...this.#names].every(readsAlike) ? ["writing"] : READINGS;
    const readings = readsAlike(written) ? this.#readings : READINGS;
    const slips = readings.flatMap((reading) => this.#afterSlips(written, reading, standing.length === 0));
    return [...new Set([...standing, ...containing, ...slips])];
  }

  /** Names that the whole of a written name may be after slips of the pen, or some words of it. */
  #afterSlips(written: string, reading: Reading, alsoWords: boolean): string[] {
    const parts = partsOf(written, reading);
    if (parts.length > MAX_PARTS_OF_A_NAME) return [];
    this.#near ??= byReading((each) => new NearKeys(this.#byKey[each].keys()));
    const near = this.#near[reading];
    return this.#runsToTry(parts, alsoWords).flatMap((run) =>
      near.within(keyOfParts(run), MAX_SLIPS).flatMap(([key, slips]) =>
        (this.#byKey[reading].get(key) ?? []).filter((name) => {
          const known = partsOf(name, reading);
          const isAlike = run.length === parts.length || patternOf(known) === patternOf(run);
          return isAlike && areSlips(slips, run, known);
        }),
      ),
    );
  }

  /** Some words of a name are tried where they are words and numbers in the order of a known name. */
  #runsToTry(parts: readonly NamePart[], alsoWords: boolean): readonly (readonly NamePart[])[] {
    if (!alsoWords) return [parts];
    this.#patterns ??= new Set(
      [...this.#names].flatMap((name) => READINGS.map((reading) => patternOf(partsOf(name, reading)))),
    );
    const patterns = this.#patterns;
    return runsOf(parts).filter((run) => run.length === parts.length || patterns.has(patternOf(run)));
  }
}

function areSlips(slips: number, written: readonly NamePart[], known: readonly NamePart[]): boolean {
  const length = Math.max(keyOfParts(written).length, keyOfParts(known).length);
  if (length < 2) return false;
  if (slips < 2 || length >= 6) return true;
  return (
    written.length === known.length &&
    written.every((part, index) => {
      const { text } = known[index] as NamePart;
      const [found] = new NearKeys([text]).within(part.text, MAX_SLIPS);
      return found !== undefined && found[1] <= Math.max(text.length, part.text.length) / 2;
    })
  );
}

function readsAlike(name: string): boolean {
  return keyOfName(name, "writing") === keyOfName(name, "looks");
}

/** Runs of neighbouring parts, the whole among them. */
function runsOf(parts: readonly NamePart[]): NamePart[][] {
  return parts.flatMap((_, start) =>
    parts.slice(start).map((_part, length) => parts.slice(start, start + length + 1)),
  );
}

/** The keys of the words within a name, but not of the whole. */
function runsWithin(name: string): string[] {
  const parts = partsOf(name, "writing");
  if (parts.length > MAX_PARTS_OF_A_NAME) return [];
  return runsOf(parts).flatMap((run) => (run.length < parts.length ? [keyOfParts(run)] : []));
}

function patternOf(parts: readonly NamePart[]): string {
  return parts.map(({ isNumber }) => (isNumber ? "1" : "a")).join("");
}

function byReading<T>(make: (reading: Reading) => T): Record<Reading, T> {
  return { writing: make("writing"), looks: make("looks") };
}

function groupBy(
  names: Iterable<string>,
  keysOf: (name: string) => readonly string[],
): Map<string, string[]> {
  const groups = new Map<string, string[]>();
  for (const name of names) {
    for (const key of new Set(keysOf(name))) {
      const group = groups.get(key);
      if (group === undefined) groups.set(key, [name]);
      else group.push(name);
    }
  }
  return groups;
}
