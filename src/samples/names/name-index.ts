import { withoutKindWords } from "../kind-words.js";
import {
  keyOfName,
  keyOfParts,
  keyWith,
  MAX_PARTS_OF_A_NAME,
  type NamePart,
  partsOf,
  READINGS,
  type Reading,
  runsOf,
} from "./names.js";
import { NearNames } from "./near-names.js";

/** A known name where it is in a text, with what follows it there. */
export interface NameInText {
  readonly name: string;
  readonly reading: Reading;
  readonly followedBy: readonly NamePart[];
}

/**
 * Known names, for finding those that a written name may mean.
 *
 * Of a written name the nearest meaning counts:
 *
 * 1. A name that is written in the very same way is meant, and no other.
 * 2. Otherwise those that differ from it only in how they are written (see `couldBeConfused`) are meant: case, dashes,
 *    leading zeros, letters that look alike. A fleet with QB-01 to QB-14 has one such name for "QB 7".
 * 3. The same for what is left without words that say only what a thing is ("QB No. 1").
 * 4. Otherwise every name that it may mean: one that is in it as whole words ("Cart QB-01", "QB-01 (hangar 2)"), one
 *    that it is a word of ("QB", "01", "cart 1"), and those that are the fewest slips of the pen away from it or, where no name stands
 *    in it as it is, from some words of it; see {@link NearNames}.
 */
export class NameIndex {
  /** Every known name, once. */
  readonly names: readonly string[];
  readonly #names: ReadonlySet<string>;
  readonly #meant = new Map<string, readonly string[]>();
  /** Made when a name is met that is not one of these, letter for letter: most fleets have none. */
  #keys: NamesByKey | undefined;
  /** Made when a name is met that is not known. */
  #near: NearNames | undefined;
  #byPart: Map<string, string[]> | undefined;

  constructor(names: Iterable<string>) {
    this.#names = new Set(names);
    this.names = [...this.#names];
  }

  /** Whether a name is one of these, letter for letter. */
  has(name: string): boolean {
    return this.#names.has(name);
  }

  /** The names that differ from a written one only in how they are written; the very same name alone where it is known. */
  same(written: string): readonly string[] {
    if (this.#names.has(written)) return [written];
    for (const reading of READINGS) {
      const found = this.#byKey(reading).get(keyOfName(written, reading));
      if (found !== undefined) return found;
    }
    return [];
  }

  /** Every name that a written one could be taken for, itself among them. */
  alike(written: string): readonly string[] {
    return [
      ...new Set(READINGS.flatMap((reading) => this.#byKey(reading).get(keyOfName(written, reading)) ?? [])),
    ];
  }

  /** The names that a written one surely or possibly means; see {@link NameIndex}. */
  meant(written: string): readonly string[] {
    const known = this.#meant.get(written);
    if (known !== undefined) return known;
    const short = withoutKindWords(written);
    const same = [written, short].map((name) => this.same(name)).find((names) => names.length > 0);
    const meant = same ?? this.#mayMean(written, short);
    this.#meant.set(written, meant);
    return meant;
  }

  /** Every place where known names are in a text as whole words; the longest where one is in another. */
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
    if (!parts[start]?.opens) return undefined;
    const known = this.#byKey(reading);
    const longestKey = this.#known().longest;
    const last = Math.min(parts.length, start + MAX_PARTS_OF_A_NAME);
    let key = "";
    let longest: { readonly names: readonly string[]; readonly end: number } | undefined;
    for (let end = start + 1; end <= last && key.length <= longestKey; end += 1) {
      const part = parts[end - 1] as NamePart;
      key = keyWith(key, part, end - 1 > start ? parts[end - 2] : undefined);
      // A single O or l in a text is a letter.
      if (!part.closes || (reading === "looks" && key.length < 2)) continue;
      const names = known.get(key);
      if (names !== undefined) longest = { names, end };
    }
    return longest;
  }

  #byKey(reading: Reading): ReadonlyMap<string, readonly string[]> {
    return this.#known().byKey[reading];
  }

  #known(): NamesByKey {
    this.#keys ??= namesByKey(this.#names);
    return this.#keys;
  }

  #mayMean(written: string, short: string): string[] {
    this.#byPart ??= groupBy(this.#names, runsWithin);
    this.#near ??= new NearNames(this.names);
    const standing = this.standingIn(written).map(({ name }) => name);
    const containing = this.#byPart.get(keyOfName(short, "writing")) ?? [];
    return [...new Set([...standing, ...containing, ...this.#near.of(written, standing.length === 0)])];
  }
}

interface NamesByKey {
  readonly byKey: Readonly<Record<Reading, ReadonlyMap<string, readonly string[]>>>;
  /** Length of the longest key. */
  readonly longest: number;
}

function namesByKey(names: ReadonlySet<string>): NamesByKey {
  const byKey = byReading((reading) => groupBy(names, (name) => [keyOfName(name, reading)]));
  const keys = READINGS.flatMap((reading) => [...byKey[reading].keys()]);
  return { byKey, longest: keys.reduce((most, { length }) => Math.max(most, length), 0) };
}

/** The keys of the words within a name, but not of the whole. */
function runsWithin(name: string): string[] {
  const parts = partsOf(name, "writing");
  if (parts.length > MAX_PARTS_OF_A_NAME) return [];
  return runsOf(parts).flatMap((run) => (run.length < parts.length ? [keyOfParts(run)] : []));
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
