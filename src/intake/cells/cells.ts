import type { Limit, WordedResult } from "../../samples/index.js";
import type { RawCell } from "../rows/row.js";
import {
  type DecimalConvention,
  isTooSmall,
  markOf,
  NUMBERS_KEPT,
  readNumber,
  type ShownDecimal,
} from "./numbers.js";

/** What became of the cell of a result. */
export type ResultCell =
  | {
      readonly kind: "number";
      readonly value: number;
      readonly limit?: Limit;
      /** The unit written with the number, "" when there is none. */
      readonly unit: string;
      /** The number has two readings, and the decimal mark of the file decided between them. */
      readonly byConvention?: true;
      /** A mark or word with the number that does not change it. */
      readonly note?: string;
    }
  | { readonly kind: "words"; readonly said: WordedResult["said"] }
  | { readonly kind: "blank" }
  | {
      readonly kind: "refused";
      readonly code: "cell-not-read" | "cell-ambiguous";
      readonly expected: string;
    };

/** A word in the place of a number. */
export type ResultWord = WordedResult["said"];

const BLANK_CELL: ResultCell = { kind: "blank" };
// Words in German, French, Spanish, Italian, Dutch and Portuguese: common practice, no source.
const BLANK =
  /^(|-+|–|—|not measured|not tested|not analysed|not analyzed|nicht (gemessen|bestimmt|geprüft)|non mesur[ée]e?|no medid[oa]|non misurat[oa]|niet (gemeten|bepaald)|n[ãa]o medid[oa])$/i;
/** May stand for not applicable, not available or not analysed, and sometimes for a result that was thrown away. */
const MAYBE_BLANK = /^(n\/?a|n\.a\.|n\.?t\.?)$/i;
const WORDS: readonly (readonly [RegExp, WordedResult["said"]])[] = [
  [/^(tntc|too (many|numerous) to count|saturated|over ?range|counter saturated)$/i, "too-many-to-count"],
  [
    /^(n\.?d\.?|not detected|none detected|below detection( limit)?|bdl|< ?(dl|lod|loq|det\.? ?limit))$/i,
    "not-detected",
  ],
  [
    /^(nicht (nachweisbar|nachgewiesen)|unter (der )?(nachweis|bestimmungs)grenze|< ?[nb]g|non d[ée]tect([ée]e?|able)|no detectad[oa]|non rilevat[oa]|niet (aantoonbaar|gedetecteerd)|n[ãa]o detectad[oa])$/i,
    "not-detected",
  ],
  [/^(traces?|tr\.?|spuren|trazas|tracce|sporen|traços)$/i, "trace"],
];
const LIMITS: readonly (readonly [RegExp, Limit])[] = [
  [/^(<=|=<|≤|at most|not more than|max\.?)(?!\p{L})\s*/iu, "at-most"],
  [/^(>=|=>|≥|at least|not less than|min\.?)(?!\p{L})\s*/iu, "at-least"],
  [
    /^(<|less than|below|under|kleiner(?: als)?|weniger als|unter|inf[ée]rieure? [àa]|moins de|menor (?:de|que)|menos de|inferiore? a|minore di|meno di|kleiner dan|minder dan)(?!\p{L})\s*/iu,
    "below",
  ],
  [
    /^(>|more than|greater than|above|over|größer(?: als)?|mehr als|über|sup[ée]rieure? [àa]|plus de|mayor (?:de|que)|más de|superiore? a|maggiore di|groter dan|meer dan|maior (?:de|que)|mais de)(?!\p{L})\s*/iu,
    "above",
  ],
];
/** Marks and words that laboratories put next to a number without changing it. */
const NOTE =
  /^(?:[*†‡#!]+|[([]?(?:h|l|hi|lo|high|low|alarm|ok|mean|avg|average|checked|verified|confirmed|repeat|rerun|re-run|repeated)[)\]]?\.?)$/i;
/** How far the laboratory takes a result to scatter; what a requirement says of it counts. */
const SPREAD = /[([]?(?:±|\+\/[-−])\s*\d+(?:[.,]\d+)?\s*%?\s*[)\]]?/;
const LEADING_NUMBER = /^([+-]?[\d.,][\d.,'’ \u00a0\u202f]*(?:[eE][+-]?\d{1,3})?)\s*(.*)$/s;
/** No result is written in more characters, and the patterns above need not be tried on more. */
const MAX_RESULT_LENGTH = 200;

/**
 * Reads the cell of a result: a number with a limit sign, a unit or a note, or one of the words that stand for a result.
 *
 * @param cell - text, or a number where the format knows numbers
 * @param convention - decimal mark of the file
 * @param options - `signed`: below zero is possible, as for a temperature; `isUnit`: whether a text is a unit here
 * @param settled - what a column map says of texts in the place of a number: which of them mean "not measured", and which
 *   stand for which word
 */
export function readResultCell(
  cell: RawCell,
  convention: DecimalConvention | ShownDecimal,
  options: {
    readonly signed?: boolean;
    readonly isUnit: (text: string) => boolean;
  },
  settled: {
    readonly blanks?: readonly string[];
    readonly resultWords?: ReadonlyMap<string, ResultWord>;
  } = {},
): ResultCell {
  if (typeof cell === "number") return numberCell(cell, options.signed ?? false);
  const text = cell.trim();
  // What a map says first: its texts may look like numbers, such as "9999".
  if (settled.blanks?.includes(text)) return BLANK_CELL;
  const word = settled.resultWords?.size ? settled.resultWords.get(text) : undefined;
  if (word !== undefined) return { kind: "words", said: word };
  if (text === "") return BLANK_CELL;
  if (text.length > MAX_RESULT_LENGTH) {
    return { kind: "refused", code: "cell-not-read", expected: describeExpected(convention) };
  }
  // Most cells are a plain number; they need none of the patterns below.
  const isPlain = markOf(text) >= 0;
  if (!isPlain && isNotMeasured(text)) return BLANK_CELL;
  const words = isPlain ? undefined : WORDS.find(([pattern]) => pattern.test(text));
  if (words !== undefined) return { kind: "words", said: words[1] };
  const limit = isPlain ? undefined : LIMITS.find(([pattern]) => pattern.test(text));
  const rest = limit === undefined ? text : text.replace(limit[0], "");
  const [, digits = "", after = ""] = isPlain ? [text, text] : (LEADING_NUMBER.exec(rest) ?? []);
  const sign = options.signed && /^[+-]/.test(digits) ? digits[0] : "";
  const number = readNumber(digits.slice(sign?.length ?? 0).trim(), convention);
  if (number.kind === "ambiguous")
    return { kind: "refused", code: "cell-ambiguous", expected: number.expected };
  if (number.kind === "refused") {
    if (MAYBE_BLANK.test(text)) {
      const expected = `a number of 0 or more; a column map can say that "${text}" is not measured`;
      return { kind: "refused", code: "cell-not-read", expected };
    }
    const expected =
      number.expected ?? (limit === undefined ? describeExpected(convention) : "a number after the sign");
    return { kind: "refused", code: "cell-not-read", expected };
  }
  if (isPlain && !number.byConvention) return { kind: "number", value: number.value, unit: "" };
  const following = readFollowing(after.trim(), options.isUnit);
  if (following === undefined) {
    const expected = "a number (a unit or a known note may follow)";
    return { kind: "refused", code: "cell-not-read", expected };
  }
  return {
    kind: "number",
    value: sign === "-" && number.value !== 0 ? -number.value : number.value,
    ...(limit && { limit: limit[1] }),
    ...(number.byConvention && { byConvention: true }),
    ...following,
  };
}

/** Words that say that nothing is said; of a number some of them could also mean that a result was thrown away. */
const NOT_REPORTED =
  /^(?:[-–—._/\\\s]*|n\/?a\.?|n\.a\.?|n\/?r\.?|n\.r\.?|n\/?s|nil|none (?:given|stated|reported|recorded)|unknown|unspecified|no (?:data|info|information|entry|comments?|remarks?|notes?)|not? (?:been )?(?:reported|stated|recorded|given|noted|available|applicable|checked|examined|known|specified|assessed|tested|determined|inspected|entered|provided|done|performed|measured|looked at))\.?$/i;

/** Whether a cell in words says nothing. */
export function isNotReported(text: string): boolean {
  return isNotMeasured(text) || NOT_REPORTED.test(text);
}

/** Whether a cell is blank, or says that there is nothing to say. */
export function isNotMeasured(text: string): boolean {
  return BLANK.test(text);
}

function numberCell(value: number, signed: boolean): ResultCell {
  if (isTooSmall(value)) return { kind: "refused", code: "cell-not-read", expected: NUMBERS_KEPT.small };
  // A zero below zero is a zero.
  if (Number.isFinite(value) && (signed || value >= 0)) {
    return { kind: "number", value: value === 0 ? 0 : value, unit: "" };
  }
  return { kind: "refused", code: "cell-not-read", expected: "a number of 0 or more" };
}

function describeExpected(given: DecimalConvention | ShownDecimal): string {
  const convention = typeof given === "function" ? given() : given;
  const mark = convention === "." || convention === "," ? ` with "${convention}" as decimal mark` : "";
  return `a number of 0 or more${mark}`;
}

/** What follows a number: a unit, a note, or both. */
function readFollowing(
  text: string,
  isUnit: (text: string) => boolean,
): { unit: string; note?: string } | undefined {
  if (text === "") return { unit: "" };
  if (isUnit(text)) return { unit: text };
  if (NOTE.test(text)) return { unit: "", note: text };
  const spread = SPREAD.exec(text);
  if (spread !== null) {
    const unit = text
      .replace(SPREAD, " ")
      .trim()
      .replace(/^(\S+)\s+\1$/, "$1");
    // Of "± 5 %" nobody knows whether the number is in per cent too.
    const isOpen = unit === "" && spread[0].includes("%") && isUnit("%");
    return !isOpen && (unit === "" || isUnit(unit)) ? { unit, note: spread[0].trim() } : undefined;
  }
  const split = /^(.*?)\s*([*†‡#!]+|\s[([]?[\p{L}-]+[)\]]?\.?)$/u.exec(text);
  const [, unit = "", note = ""] = split ?? [];
  return isUnit(unit.trim()) && NOTE.test(note.trim()) ? { unit: unit.trim(), note: note.trim() } : undefined;
}
