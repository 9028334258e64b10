import { classesIn } from "../../cleanliness/index.js";
import {
  asksForAnother,
  badStatement,
  doubtsSamples,
  explains,
  meansAll,
  saysPlainly,
} from "../../samples/index.js";
import { MIN_WORDS_OF_SENTENCE } from "../layout/across.js";
import { holdsOf } from "../layout/meaning.js";
import { namer } from "../layout/namer.js";
import { FOOTER } from "../layout/title-patterns.js";
import { type RawRow, textOf } from "../rows/row.js";
import { badLooksIn } from "../words/read-bottle-words.js";

/** Dates and times, by which a report says when it was printed. */
const WHEN = /\d{1,4}[./-]\d{1,2}[./-]\d{1,4}|\d{1,2}:\d{2}(?::\d{2})?/g;
/** Standards, and numbers of reports, orders and telephones. */
const WHICH =
  /\b(?:iso(?:\/iec)?|din|en|astm|ip|sae|nas|arp|as|gost)[ -]?(?:iso[ -]?|en[ -]?)?[a-z]{0,2}[ -]?\d[\d.:/-]*[a-z]?\b|(?:tel|fon|phone|fax|report|bericht|rapport|informe|order|auftrag)\b[^\p{L}]*/giu;
/** What tells one thing from others of its kind: letters and figures in one word, as "S-1", "QB-01", "12a". */
const NAME = /\p{L}[-–_./#]?\d|\d[-–_./#]?\p{L}/u;
const RESULT = /\d\s*(?:ppm|mg|[uµμ]g|%|[uµμ]m\b|c?st\b|mm²|mm2|kg|(?:per|\/) ?\d*\s*ml)/iu;
/** Words about numbers that are no results of a sample. */
const NO_RESULT =
  /limit|max|grenz|target|alarm|warn|allow|require|detect|lod\b|loq\b|nachweis|uncertain|precision|unsicher/iu;
/** "1/2", "- 2 -", or signs alone. */
const PAGE = /^(?:\d{1,4}\/\d{1,4}|[-–—]\d{1,4}[-–—]|[^\p{L}\p{N}]*)$/u;
/** A line of text has at most this many numbers: of its page, its year, its samples. */
const MAX_NUMBERS = 2;
/** An unquoted sentence may be cut into cells at its commas; then it has no figure and at least this many words. */
export const MAX_LINE_LENGTH = 2000;
const MAX_SHAPES = 1000;
/** No pattern is made for longer names: it would be too large for the language. */
const MAX_PATTERN_LENGTH = 50;

/**
 * Tells lines of text among and below the rows of a table, in any language, from rows of samples that were cut short.
 *
 * A line of text has words, in one or two cells, and nothing that may be a result or the name of a sample: no word with
 * figures in it, no number with a unit, no more than two numbers, and not the form of the names that the samples before it
 * have ("Probe 7" below "Probe 1" to "Probe 6"). Common practice, no source.
 */
export class TextLines {
  readonly #shapes = new Set<string>();
  /** Names of the form that was seen last: most samples of a table are named alike. */
  #likeTheLast = /(?!)/;

  /** Looks at the name of a sample of the table. */
  see(sample: string): void {
    if (this.#shapes.size >= MAX_SHAPES || this.#likeTheLast.test(sample)) return;
    const shape = shapeOf(sample);
    this.#shapes.add(shape);
    if (shape.length <= MAX_PATTERN_LENGTH) this.#likeTheLast = patternOf(shape);
  }

  #isNamedLikeASample(name: string): boolean {
    return this.#likeTheLast.test(name) || this.#shapes.has(shapeOf(name));
  }

  isText(row: RawRow): boolean {
    const first = textOf(row.cells.find((cell) => textOf(cell) !== ""));
    if (this.#isNamedLikeASample(first)) return false;
    const cells = row.cells.map(textOf).filter((text) => text !== "");
    const line = cells.join(" ");
    if (line.length > MAX_LINE_LENGTH) return false;
    if (PAGE.test(line.replaceAll(" ", ""))) return cells.length === 1;
    if (!/\p{L}/u.test(first)) return FOOTER.test(line) && cells.length <= 2;
    const rest = line.replace(WHEN, " ").replace(WHICH, " ");
    if (cells.length > 2 && (/\d/.test(rest) || line.split(/\s+/).length < MIN_WORDS_OF_SENTENCE))
      return false;
    if (NAME.test(rest) || (RESULT.test(rest) && !NO_RESULT.test(rest))) return false;
    const numbers = rest.match(/\d+(?:[.,]\d+)*/g) ?? [];
    return /\p{L}{2}/u.test(line) && (numbers.length <= MAX_NUMBERS || NO_RESULT.test(rest));
  }
}

/** Whether a line of text says that something is wrong with samples: a sentence, or a label with what it says. */
export function saysSomethingIsWrong({ cells, text: whole }: RawRow): boolean {
  const text = whole.slice(0, MAX_LINE_LENGTH);
  if (!HAS_A_WORD.test(text)) return false;
  const written = cells.flatMap((cell) => {
    const one = textOf(cell).slice(0, MAX_LINE_LENGTH);
    return one === "" ? [] : [one];
  });
  const [label = "", value = ""] = written;
  if (written.length === 2 && YES_OR_NO.test(value))
    return saysPlainly(label, value) || isLabelledBad(`${label}: ${value}`);
  const line =
    written.length === 0
      ? (/[^\s,;|"](?:.*[^\s,;|"])?/s.exec(text)?.[0] ?? "")
      : written.length === 2 && !label.endsWith(":")
        ? `${label}: ${value}`
        : written.join(" ").slice(0, MAX_LINE_LENGTH);
  return (
    doubtsSamples(line) ||
    asksForAnother(line) ||
    (!explains(line) && ((meansAll(line) && statesClass(line)) || isLabelledBad(line)))
  );
}

/** "Water: visible", "Remarks: metal chips in all bottles": what a column of that title would say of each sample. */
function isLabelledBad(line: string): boolean {
  const [, label = "", value = ""] = LABELLED.exec(line) ?? [];
  if (label === "") return false;
  if (badLooksIn(`${label} ${value}`, false).length > 0) return true;
  if (holdsOf(titled(label)) !== "remarks") return false;
  return badStatement(label, value) !== undefined || badLooksIn(value, true).length > 0;
}

const LABELLED = /^\W*([^:=]{2,40}):\s*(\S.*)$/su;
const titled = namer(undefined);

/** Most short rows hold names and numbers alone. */
const HAS_A_WORD = /[a-z]{3}|[^\0-\x7F]/i;
const YES_OR_NO = /^(?:yes|no|true|false|ja|nein|oui|non|s[ií]|nee|sim|n[aã]o)$/i;

/** Whether a line says which class samples have: no title contradicts it. */
function statesClass(line: string): boolean {
  return classesIn("", line).length > 0 && !NO_RESULT.test(line);
}

/** The form of a name: "S-12" and "T-7" have one, "Probe 7" another. */
export function shapeOf(name: string): string {
  return name
    .replace(/\p{L}+/gu, "a")
    .replace(/\p{N}+/gu, "9")
    .replace(/\s+/g, " ");
}

/** A pattern for the names of one form. */
function patternOf(shape: string): RegExp {
  const parts = [...shape].map((part) =>
    part === "a" ? "\\p{L}+" : part === "9" ? "\\p{N}+" : part === " " ? "\\s+" : escaped(part),
  );
  return new RegExp(`^${parts.join("")}$`, "u");
}

function escaped(character: string): string {
  return `\\u{${character.codePointAt(0)?.toString(16)}}`;
}
