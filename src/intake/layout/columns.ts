import { grouped } from "../../numeric/index.js";
import { type CountBasis, recogniseCount } from "./count-titles.js";
import { holdsAsAWhole, QUANTITY_WORDS, UNSURE_WORDS, WORDS_ONLY_WITH_UNIT } from "./dictionary.js";
import type { Meaning, QuantityName, Recognition } from "./meaning.js";
import { patchTitle } from "./patch-titles.js";
import { type NamedQuantity, recogniseQuantity } from "./quantity-titles.js";
import {
  COUNTS_PER_TITLE,
  classTitle,
  DILUTION_TITLE,
  METHOD,
  NOT_A_COUNT,
  REMARKS_TITLE,
  RUN_TITLE,
} from "./title-patterns.js";
import { notHarmless } from "./title-words.js";

/** The columns that siltbook writes into a quarantine file or an export. They say nothing about a sample. */
const OWN_COLUMNS: Readonly<Record<string, Meaning>> = {
  "quarantine reason": { holds: "nothing" },
  "quarantine place": { holds: "place" },
  "quarantine accepted": { holds: "accepted" },
  "apostrophe before formulas": { holds: "nothing" },
};

/** How the title of a column begins that an export writes for what a laboratory says. */
export const SAYS_TITLE = "laboratory says: ";

/**
 * Says what a column holds, from its title.
 *
 * A count needs its size, its scale and its volume: "4 µm(c) per mL". A title that names a count or a quantity but leaves
 * out which unit it is in is unsure, not guessed.
 *
 * @param title - as the file writes it, with the titles above it where the header has several rows
 * @param unit - from a column or row of units, "" where there is none
 * @param basis - what a column map says of all counts
 * @param group - the title above this one and above others, "" where there is none
 * @example
 * recognise("> 4 µm(c) / 100 mL", "", {}); // => { kind: "known", meaning: { holds: "count", fromUm: 4, scale: "um(c)", volumeMl: 100 } }
 */
export function recognise(title: string, unit: string, basis: CountBasis, group = ""): Recognition {
  const plain = plainTitle(title);
  const own = Object.hasOwn(OWN_COLUMNS, plain) ? OWN_COLUMNS[plain] : undefined;
  if (own !== undefined) return { kind: "known", meaning: own };
  if (plain.startsWith(plainTitle(SAYS_TITLE))) return { kind: "known", meaning: { holds: "remarks" } };
  const whole = holdsAsAWhole(plain);
  if (whole !== undefined) return { kind: "known", meaning: { holds: whole } as Meaning };
  const ofPatch = patchTitle(plain, unit);
  if (ofPatch !== undefined) return { kind: "known", meaning: ofPatch };
  if (RUN_TITLE.test(plain)) return { kind: "known", meaning: { holds: "run" } };
  const dilution = DILUTION_TITLE.exec(plain);
  if (dilution !== null) return { kind: "known", meaning: dilutionMeaning(dilution[1] ?? "") };
  if (COUNTS_PER_TITLE.test(plain)) {
    const unit = /\bml\b/.test(plain) ? ({ unit: "mL" } as const) : {};
    return { kind: "known", meaning: { holds: "counts-per", ...unit } };
  }
  const ofClass = classTitle(plain, group);
  if (ofClass !== undefined) return { kind: "known", meaning: ofClass };
  const count = NOT_A_COUNT.test(plain) ? undefined : recogniseCount(`${title} ${unit}`, group, basis);
  if (count !== undefined) return count;
  const named = namedQuantity(plain);
  const quantity = named && recogniseQuantity(named, unit.toLowerCase().replace(METHOD, " "), group);
  if (quantity !== undefined && quantity.kind !== "unknown") return quantity;
  if (REMARKS_TITLE.test(plain)) return { kind: "known", meaning: { holds: "remarks" } };
  const bare = withoutUnit(plain);
  const ambiguous = UNSURE_WORDS.find(({ words }) => words.includes(bare));
  return ambiguous === undefined ? { kind: "unknown" } : { kind: "unsure", question: ambiguous.question };
}

const IS_MULTIPLIED =
  /applied|corrected|included|multiplied|accounted|considered|berücksichtigt|eingerechnet|korrigiert/;
const IS_DENIED = /\b(?:not|un|be|nicht|non|no)\b|uncorrected|unapplied/;

/** Whether a text about a dilution says that the counts are multiplied by it, and does not deny it. */
export function saysMultiplied(text: string): boolean {
  return IS_MULTIPLIED.test(text) && !IS_DENIED.test(text);
}

/** Whether the counts are multiplied by the dilution, where its title says so: "dilution (applied)". */
function dilutionMeaning(rest: string): Meaning {
  if (!IS_MULTIPLIED.test(rest)) return { holds: "dilution" };
  return { holds: "dilution", counts: saysMultiplied(rest) ? "multiplied" : "as-counted" };
}

/** Letters, figures and signs of which no mark is left out. */
const WITHOUT_MARKS = /^[ !"$-)+-\-/0-9;->@A-^`-~]*$/;

/** A title in lower case, without the marks that laboratories put in or leave out. */
export function plainTitle(title: string): string {
  if (WITHOUT_MARKS.test(title)) return title.toLowerCase().replace(/ +/g, " ").trim();
  return title
    .replaceAll("º", "°")
    .normalize("NFKC")
    .toLowerCase()
    .replace(/[µμ]/g, "u")
    .replace(/(?<=\d ?)[°ø?\ufffd](?=[cf]\b)/g, " ")
    .replaceAll("°", " ")
    .replace(/[._:#*?\u00a0]/g, " ")
    .replace(/\s+/g, " ")
    .trim();
}

/** The names of the quantities by their first letter, the longest first: "iron (fe)" begins with "iron". */
const NAMES_LONGEST_FIRST = grouped(
  (Object.entries(QUANTITY_WORDS) as [QuantityName, readonly string[]][])
    .flatMap(([holds, words]) => words.map((word) => ({ holds, word })))
    .sort((a, b) => b.word.length - a.word.length),
  ({ word }) => word.charAt(0),
);

function namedQuantity(plain: string): NamedQuantity | undefined {
  const simple = /\d ?[cf]\b|@|['’´`]/.test(plain)
    ? plain
        .replace(/(\d+) ?(c|f)\b/g, "$1 $2")
        .replace(/@ ?(?=\d)/, "@ ")
        .replace(/['’´`]/g, " ")
    : plain;
  const named = NAMES_LONGEST_FIRST.get(simple.charAt(0))?.find(
    ({ word }) => simple.startsWith(word) && /^(?![\p{L}\p{N}])/u.test(simple.slice(word.length)),
  );
  if (named === undefined) {
    // "results water" is the water of an object "results" in JSON.
    const [first = "", ...others] = simple.split(" ");
    return others.length > 0 && notHarmless(first).length === 0 ? namedQuantity(others.join(" ")) : undefined;
  }
  const { holds, word } = named;
  const rest = simple.slice(word.length).replace(METHOD, " ");
  return { holds, rest, onlyWithUnit: WORDS_ONLY_WITH_UNIT.includes(word) };
}

function withoutUnit(plain: string): string {
  return plain.replace(/[([,].*$/, "").trim();
}
