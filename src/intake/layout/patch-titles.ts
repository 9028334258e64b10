import { PATCH_LIMIT_STANDARDS } from "../../samples/index.js";
import type { Meaning } from "./meaning.js";

const PATCH = "(?:(?:membrane|filter|test) )?patch(?: test)?(?: membrane)?";
const ON_PATCH = "on (?:the )?(?:patch|membrane)";
/** The name of a standard, or of what a class is of, before or instead of the word "class". */
const NAMED = "(?:nas ?-?1638|nas|navair 01-1a-17|navair|navy|iso ?-?4406|iso)";
const OF = `(?: (?:contamination|cleanliness|${NAMED}))*`;
const CLASS = "(?:class|rating|code)";
/** Titles over what is seen of a patch, in lower case, and what follows them: a unit or a standard. */
const TITLES = [
  [
    "patch-class",
    `${PATCH}${OF} ${CLASS}|${PATCH}(?: results?)?,? \\(?(?:by |in )?${NAMED}\\)?|(?:${NAMED} )?${CLASS} (?:by|of|from) (?:the )?${PATCH}`,
  ],
  ["patch-colour", `${PATCH} colou?r|colou?r of (?:the )?patch`],
  ["patch-stain", `${PATCH} stain(?:s|ing|ed)?|stain(?:s|ing)? ${ON_PATCH}`],
  ["patch-free-water", `${PATCH} (?:free )?water|(?:free )?water ${ON_PATCH}`],
  ["patch-volume", `${PATCH} volume|volume filtered|filtered volume|filtration volume`],
  ["patch-pore", `(?:membrane|${PATCH}) pore(?: size)?|pore size(?: of (?:the )?(?:membrane|patch))?`],
] as const;
const PATTERNS = TITLES.map(
  ([holds, words]) => [holds, new RegExp(`^(?:${words})(?![\\p{L}\\p{N}])(.*)$`, "u")] as const,
);

const VOLUME = /(?<![\p{L}\p{N}])(?:mls?|cm3|cm³|cc)(?![\p{L}\p{N}])/u;
const PORE = /(?<![\p{L}\p{N}])(?:um|µm|micro(?:n|met(?:re|er))s?)(?![\p{L}\p{N}])/u;

/**
 * What a title says of a patch test, if it does.
 *
 * @param plain - the title in lower case, without the marks that laboratories put in or leave out
 * @param unit - from a column or row of units
 */
export function patchTitle(plain: string, unit: string): Meaning | undefined {
  for (const [holds, pattern] of PATTERNS) {
    const [title, after = ""] = pattern.exec(plain) ?? [];
    if (title === undefined || LIMIT.test(after)) continue;
    const more = `${after} ${unit.toLowerCase()}`;
    if (holds === "patch-class") {
      const standard = PATCH_LIMIT_STANDARDS.find((name) => STANDARD[name].test(`${title} ${unit}`));
      return { holds, ...(standard && { standard }) };
    }
    if (holds === "patch-volume") return { holds, ...(VOLUME.test(more) && { unit: "mL" as const }) };
    if (holds === "patch-pore") return { holds, ...(PORE.test(more) && { unit: "µm" as const }) };
    return { holds };
  }
  return undefined;
}

const LIMIT = /\b(?:limit|max|maximum|target|allowed|required)\b/;

/** How each standard is named in a title or a cell. */
export const STANDARD: Readonly<Record<(typeof PATCH_LIMIT_STANDARDS)[number], RegExp>> = {
  "NAVAIR 01-1A-17": /\b(?:navair|navy|01-1a-17)\b/i,
  "NAS 1638": /\bnas(?![a-z])/i,
  "ISO 4406": /\biso(?![a-z])|\b4406\b/i,
};
