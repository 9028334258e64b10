import { CLEANLINESS } from "./bibliography/cleanliness.js";
import { FLUIDS } from "./bibliography/fluids.js";
import type { Source, SourceStanding } from "./bibliography/source.js";
import { STATISTICS } from "./bibliography/statistics.js";
import { frozen } from "./frozen.js";

/** The keyed bibliography. Doc comments, tables and tests refer to these keys. */
export const SOURCES = frozen({
  ...CLEANLINESS,
  ...FLUIDS,
  ...STATISTICS,
  PRACTICE: {
    title: "Common practice",
    edition: "no source",
    standing: "practice",
  },
} as const satisfies Record<string, Source>);

/** A key of {@link SOURCES}. */
export type SourceKey = keyof typeof SOURCES;

const STANDING_WORDS: Record<SourceStanding, string> = {
  confirmed: "confirmed by independent pages",
  "one-document": "one document",
  single: "one page",
  computed: "computed",
  inference: "inferred",
  practice: "common practice, no source",
  memory: "from memory",
};

/**
 * Says a source in one line, with its standing.
 *
 * @param key - key of the bibliography
 * @returns for example "Common practice, no source"
 * @example
 * describeSource("ISO-16889"); // => "ISO 16889, multi-pass method for evaluating the filtration performance of a filter element (2008 and 2022, definition of the filtration ratio; confirmed by independent pages)"
 */
export function describeSource(key: SourceKey): string {
  const source: Source = SOURCES[key];
  if (source.standing === "practice") return "Common practice, no source";
  const place = source.clause === undefined ? source.edition : `${source.edition}, ${source.clause}`;
  return `${source.title} (${place}; ${STANDING_WORDS[source.standing]})`;
}
