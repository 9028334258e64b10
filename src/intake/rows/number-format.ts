import { shiftDecimal } from "../../units/index.js";

/** Says what a cell shows instead of its number; undefined when the number says it all. */
export type NumberFormat = (value: number) => string | undefined;

/** A piece of a format: a text, or a place for a figure: "0" is filled up with a zero. */
type Piece = { readonly text: string } | { readonly figure: string };

/** One of the formats that are used for different numbers. */
interface Section {
  readonly pieces: readonly Piece[];
  readonly isMeant?: (value: number) => boolean;
  /** Whether the number is shown as it is written, and not figure by figure: with a fraction or an exponent. */
  readonly hasFraction: boolean;
  readonly perCents: number;
  /** Commas after the figures, each of which shows thousands of the number. */
  readonly thousands: number;
  /** Whether it shows a day or a time. */
  readonly isDate: boolean;
}

/** Workbooks allow some hundreds of characters. */
const MAX_FORMAT_LENGTH = 1000;

/**
 * Reads the format of a cell's numbers, such as `"<"0.00`, `0.0" ppm"`, `"S-"0000`, `0%` or `[<0.5]"below 0.5";0.0`.
 *
 * A person reads what such a cell shows, so that is what has to be taken: "<0.5" and not 0.5. Colours, widths and rounding
 * change nothing: the number keeps all its figures. Brackets, signs and blanks alone change nothing either, and a format
 * that hides a number does not take it away.
 *
 * @param code - as the styles of a workbook write it
 * @returns undefined when the number says it all, whatever it is
 * @throws RangeError for a format of more than 1,000 characters
 */
export function readNumberFormat(code: string): NumberFormat | undefined {
  if (code.length > MAX_FORMAT_LENGTH) {
    throw new RangeError(
      `the number format "${code.slice(0, 20)}" in it has more than ${MAX_FORMAT_LENGTH} characters`,
    );
  }
  const sections = sectionsOf(code).map(readSection);
  // What stands for texts comes fourth.
  const ofNumbers = sections.slice(0, 3);
  if (!ofNumbers.some(changes)) return undefined;
  return (value) => {
    const section = sectionFor(ofNumbers, value);
    return section === undefined || !changes(section) ? undefined : show(section, value);
  };
}

/** The formats for different numbers, which stand apart by semicolons. */
function sectionsOf(code: string): string[] {
  const marks = /"[^"]*"?|\\.?|\[[^\]]*\]?|;|[^"\\[;]+/gs;
  const sections = [""];
  for (const [mark] of code.matchAll(marks)) {
    if (mark === ";") sections.push("");
    else sections[sections.length - 1] += mark;
  }
  return sections;
}

const TOKENS = /"([^"]*)"?|\\(.?)|([_*]).?|\[([^\]]*)\]?|(General)|(E[+-][0#?]+)|(,+(?![0#?,.]))|(.)/gisu;
const CONDITION = /^(<=|>=|<>|<|>|=)\s*(-?\d+(?:\.\d+)?)$/;
const HOLDS: Record<string, (value: number, than: number) => boolean> = {
  "<": (value, than) => value < than,
  "<=": (value, than) => value <= than,
  ">": (value, than) => value > than,
  ">=": (value, than) => value >= than,
  "=": (value, than) => value === than,
  "<>": (value, than) => value !== than,
};

function readSection(section: string): Section {
  const pieces: Piece[] = [];
  let isMeant: Section["isMeant"];
  let [hasFraction, isDate] = [false, false];
  let [perCents, thousands] = [0, 0];
  for (const [, quoted, escaped, width, bracket, general, exponent, commas, mark] of section.matchAll(
    TOKENS,
  )) {
    if (width !== undefined) continue;
    if (bracket !== undefined) {
      const [, sign, than] = CONDITION.exec(bracket.trim()) ?? [];
      if (sign !== undefined) isMeant = (value) => HOLDS[sign]?.(value, Number(than)) ?? false;
      else if (bracket.startsWith("$")) pieces.push({ text: bracket.slice(1).split("-")[0] ?? "" });
      else if (/^[hms]+$/i.test(bracket)) isDate = true;
    } else if (general !== undefined || exponent !== undefined) {
      hasFraction = true;
      if (general !== undefined) pieces.push({ figure: "#" });
    } else if (commas !== undefined) {
      if (pieces.some((piece) => "figure" in piece)) thousands += commas.length;
    } else if (quoted !== undefined || escaped !== undefined) pieces.push({ text: quoted ?? escaped ?? "" });
    else if (mark === "." || mark === "/") hasFraction = true;
    else if (mark !== undefined && /[0#?]/.test(mark)) pieces.push({ figure: mark });
    else if (mark !== undefined && /[ymdhsgeb]/i.test(mark)) isDate = true;
    else if (mark !== "," && mark !== "@") {
      if (mark === "%") perCents += 1;
      pieces.push({ text: mark ?? "" });
    }
  }
  return { pieces, hasFraction, perCents, thousands, isDate, ...(isMeant && { isMeant }) };
}

/** Signs that change nothing: a number in brackets is one below zero, and a dash stands for a zero. */
const SAYS_NOTHING = /^[\s()+\-–—]*$/u;

/** Whether a format shows something else than the number. */
function changes({ pieces, thousands, isDate, hasFraction }: Section): boolean {
  if (isDate) return false;
  const figures = pieces.filter((piece) => "figure" in piece);
  const text = pieces.map((piece) => ("text" in piece ? piece.text : "")).join("");
  return (
    thousands > 0 ||
    !SAYS_NOTHING.test(text) ||
    (!hasFraction && figures[1]?.figure === "0" && figures[0]?.figure === "0")
  );
}

/** The format for a number: the first that is meant for it, or the one for its sign. */
function sectionFor(sections: readonly Section[], value: number): Section | undefined {
  if (sections.some(({ isMeant }) => isMeant !== undefined))
    return sections.find(({ isMeant }) => isMeant === undefined || isMeant(value));
  if (sections.length === 1 || value > 0) return sections[0];
  if (value < 0) return sections[1];
  return sections[2] ?? sections[0];
}

function show({ pieces, hasFraction, perCents, thousands }: Section, value: number): string {
  const number = shiftDecimal(Math.abs(value), 2 * perCents);
  const sign = value < 0 ? "-" : "";
  const places = pieces.filter((piece) => "figure" in piece).length;
  if (places === 0) return pieces.map((piece) => ("text" in piece ? piece.text : "")).join("");
  const note = thousands > 0 ? " (shown in thousands)" : "";
  // A number with a fraction keeps all its figures, at the first place; a whole one is spread over the places.
  const isWhole = !hasFraction && Number.isSafeInteger(number);
  const figures = isWhole ? String(number).padStart(places) : String(number);
  const first = isWhole ? figures.length - places + 1 : figures.length;
  let place = 0;
  let shown = "";
  for (const piece of pieces) {
    if ("text" in piece) shown += piece.text;
    else {
      const own = place === 0 ? figures.slice(0, first) : isWhole ? figures[first + place - 1] : "";
      shown += own === " " ? fill(piece.figure) : own;
      place += 1;
    }
  }
  return sign + shown.trim() + note;
}

/** What stands at a place for which the number has no figure. */
function fill(figure: string): string {
  return figure === "0" ? "0" : "";
}
