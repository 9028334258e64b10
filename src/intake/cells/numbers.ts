import type { Assumption } from "../../provenance/index.js";

/** The mark between whole number and fraction. */
export type DecimalMark = "." | ",";

/** What a file or a column map says of its decimal mark. */
export type DecimalConvention = DecimalMark | "not-shown" | "contradicting";

/** The same of a file, which says it when a number needs it: all numbers with one reading agree with what the file shows. */
export type ShownDecimal = () => DecimalConvention;

/** The readings of a number as text: with a decimal point, with a decimal comma; equal when there is no mark. */
interface Readings {
  readonly point?: number;
  readonly comma?: number;
}

const ZERO = 0x30;
const NINE = 0x39;
const POINT = 0x2e;
const COMMA = 0x2c;

/**
 * Where the decimal mark of a plain number stands: figures, at most one mark, figures. By far the most numbers are plain, and
 * a pattern would take longer to say so.
 *
 * @returns the length of the text where there is no mark; -1 when the text is no plain number
 */
export function markOf(text: string): number {
  let mark = text.length;
  for (let at = 0; at < text.length; at += 1) {
    const code = text.charCodeAt(at);
    if (code >= ZERO && code <= NINE) continue;
    if ((code !== POINT && code !== COMMA) || mark < text.length || at === text.length - 1) return -1;
    mark = at;
  }
  return text === "" ? -1 : mark;
}
const GROUP_SPACE = String.raw`[ '’\u00a0\u202f]`;
const EXPONENT = String.raw`(?:[eE][+-]?\d{1,3})?`;
// Groups of three never start with a zero, so "0.500" has one reading.
const groups = (mark: string) => String.raw`[1-9]\d{0,2}(?:${mark}\d{3})+`;
const WITH_POINT = new RegExp(
  `^(?:(?:\\d*|${groups(",")}|${groups(GROUP_SPACE)})\\.\\d+${EXPONENT}|\\d+[eE][+-]?\\d{1,3}|${groups(",")}|${groups(GROUP_SPACE)})$`,
);
const WITH_COMMA = new RegExp(
  `^(?:(?:\\d*|${groups("\\.")}|${groups(GROUP_SPACE)}),\\d+${EXPONENT}|\\d+[eE][+-]?\\d{1,3}|${groups("\\.")}|${groups(GROUP_SPACE)})$`,
);

/** @param mark - see {@link markOf} */
function readingsOf(text: string, mark: number): Readings {
  const isMarked = mark >= 0 && mark < text.length;
  // Three figures after one to three that do not begin with a zero may be thousands.
  if (isMarked && (text.length - mark !== 4 || mark > 3 || mark === 0 || text[0] === "0")) {
    return text[mark] === "." ? { point: Number(text) } : { comma: Number(text.replace(",", ".")) };
  }
  return {
    ...(WITH_POINT.test(text) && { point: Number(text.replace(/[^\d.eE+-]/g, "")) }),
    ...(WITH_COMMA.test(text) && { comma: Number(text.replace(/[^\d,eE+-]/g, "").replace(",", ".")) }),
  };
}

/** What became of a text that should be a number. */
export type NumberReading =
  | {
      readonly kind: "read";
      readonly value: number;
      /** The text has two readings, and the convention decided between them. */
      readonly byConvention?: true;
    }
  | { readonly kind: "ambiguous"; readonly expected: string }
  /** What was expected, where more can be said than that it is a number. */
  | { readonly kind: "refused"; readonly expected?: string };

/**
 * Reads a number of zero or more, with decimal point or comma and with thousands separators.
 *
 * "1.5" and "1.234,5" have one reading each. "1.500" has two, fifteen hundred and one and a half; the convention of the
 * file decides, and without one the number is ambiguous.
 *
 * @param text - the number without blanks around it
 * @param given - what a column map says, or how the file is asked what it shows
 */
export function readNumber(text: string, given: DecimalConvention | ShownDecimal): NumberReading {
  const mark = markOf(text);
  if (mark === text.length) return kept(Number(text), text);
  const { point, comma } = readingsOf(text, mark);
  const hasTwo = point !== undefined && comma !== undefined && point !== comma;
  if (typeof given === "function" && !hasTwo) return kept(point ?? comma, text);
  const convention = typeof given === "function" ? given() : given;
  if (convention === "." || convention === ",") {
    const reading = kept(convention === "." ? point : comma, text);
    return hasTwo && reading.kind === "read" ? { ...reading, byConvention: true } : reading;
  }
  if (hasTwo) {
    const why =
      convention === "contradicting"
        ? "uses both marks elsewhere"
        : "does not show whether its decimal mark is a point or a comma";
    return {
      kind: "ambiguous",
      expected: `a number with one reading, because the file ${why} (${point} or ${comma}?); a column map can say`,
    };
  }
  return kept(point ?? comma, text);
}

/** Smaller numbers become 0 when they are read, or when they are brought to another unit or volume. */
const MIN_KEPT = 1e-300;

/** What is expected in the place of a number that would become 0 or infinite. */
export const NUMBERS_KEPT = {
  small: "0 or a number of at least 1e-300: a smaller one becomes 0 when it is read",
  large: "a number of 0 or more and below 1.8e308",
} as const;

function kept(value: number | undefined, text: string): NumberReading {
  if (value === undefined || Number.isNaN(value)) return { kind: "refused" };
  if (value === Number.POSITIVE_INFINITY) return { kind: "refused", expected: NUMBERS_KEPT.large };
  if (isTooSmall(value) || (value === 0 && hasFigure(text)))
    return { kind: "refused", expected: NUMBERS_KEPT.small };
  return { kind: "read", value };
}

/** Whether a number is so small that what is made of it may be 0. */
export function isTooSmall(value: number): boolean {
  return value !== 0 && Math.abs(value) < MIN_KEPT;
}

/** Whether a number is written with a figure other than 0 before its exponent. */
export function hasFigure(text: string): boolean {
  return /^[^eE]*[1-9]/.test(text);
}

/** What numbers such as "1.500" rest on where other numbers of the file show which mark is decimal. */
export function markOfFile(mark: DecimalMark): Assumption {
  const [such, name] = mark === "." ? ["1.500", "point"] : ["1,500", "comma"];
  return {
    code: "decimal-mark-of-file",
    message: `numbers such as ${such} were read with a decimal ${name}, because other numbers of the file can only be read so`,
  };
}

/** No number with its unit and note is written in more characters. */
const MAX_NUMBER_LENGTH = 200;

const NUMBER_IN = /\d[\d.,'’ \u00a0\u202f]*(?:[eE][+-]?\d+)?|[.,]\d+/;

/** A letter that may stand for a figure, as in "14.8OO": such a number may be longer than it looks and shows no decimal mark. */
const LETTER_FOR_FIGURE = /[\d.,][OoIlSBZ]|[OoIlSBZ][\d.,]/;

/** Gathers what the numbers of a file show of its decimal mark. */
export class DecimalEvidence {
  #point = false;
  #comma = false;
  #hasTwoReadings = false;

  /** Looks at one cell: signs, units and notes around the number do not matter. */
  see(text: string): void {
    if (text.length > MAX_NUMBER_LENGTH || (!text.includes(".") && !text.includes(","))) return;
    if (LETTER_FOR_FIGURE.test(text)) return;
    const isPlain = markOf(text) >= 0;
    const number = isPlain ? text : NUMBER_IN.exec(text)?.[0].trim();
    if (number === undefined) return;
    const { point, comma } = readingsOf(number, markOf(number));
    if (point !== undefined && comma !== undefined && point !== comma) this.#hasTwoReadings = true;
    if (point !== undefined && comma === undefined) this.#point = true;
    if (comma !== undefined && point === undefined) this.#comma = true;
  }

  /** Whether numbers have two readings and no other number of the file shows which is meant. */
  get isOpen(): boolean {
    return this.#hasTwoReadings && this.#point === this.#comma;
  }

  /** The mark that all numbers with one reading agree on. */
  get convention(): DecimalConvention {
    if (this.#point && this.#comma) return "contradicting";
    if (this.#point) return ".";
    return this.#comma ? "," : "not-shown";
  }
}
