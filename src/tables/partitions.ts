import type { Sample } from "../samples/index.js";
import { type KeptSample, type Table, tableOfSamples } from "./table.js";

/**
 * The name of a folder that holds one value of a column, as readers of partitioned tables expect it: `cart=TX-1`.
 *
 * Of the value only ASCII letters, figures, "-" and "_" stand for themselves; every other byte of its UTF-8 is %XX, so that no
 * name can leave its folder, and two names never share one.
 *
 * @example
 * partitionName("cart", "TX 1/2"); // => "cart=TX%201%2F2"
 */
export function partitionName(column: string, value: string): string {
  const encoded = Array.from(new TextEncoder().encode(value), (byte) => {
    const character = String.fromCharCode(byte);
    return /[A-Za-z0-9_-]/.test(character)
      ? character
      : `%${byte.toString(16).toUpperCase().padStart(2, "0")}`;
  });
  return `${column}=${encoded.join("")}`;
}

/** Some of the samples, which together have every column that all of them have. */
export function samplesOfAllColumns(samples: Iterable<Sample>): Sample[] {
  const found = new Map<string, Sample>();
  for (const sample of samples) {
    const sizes = sample.counts?.counts.map(({ sizeUm }) => sizeUm) ?? [];
    const key = [...sizes, ...Object.keys(sample.metalsPpm ?? {}).sort()].join(" ");
    if (!found.has(key)) found.set(key, sample);
  }
  return [...found.values()];
}

/**
 * The samples of one part of a table that is spread over many files. The names of the part are in its columns as well: a
 * reader that takes them from the folders alone may take "007" for a number.
 *
 * @param base - where the samples are kept
 * @param like - samples that say which columns there are, the same for every part; see {@link samplesOfAllColumns}
 */
export function partOfSamples(base: string, kept: readonly KeptSample[], like: readonly Sample[]): Table {
  const { name, columns, rows } = tableOfSamples(kept, like);
  return {
    name,
    columns: [{ name: "base", type: "string" }, ...columns],
    rows: rows.map((row) => [base, ...row]),
  };
}
