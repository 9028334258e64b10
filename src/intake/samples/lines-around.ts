import { badStatement, readStatement, saysPlainly } from "../../samples/index.js";
import type { NotSampleRow } from "../checks/issue.js";
import { saysMultiplied } from "../layout/columns.js";
import { holdsOf } from "../layout/meaning.js";
import type { TitledColumn } from "../layout/namer.js";
import { isWritten, type RawRow, textOf } from "../rows/row.js";
import { faultOfRow, type RowFault } from "./entry.js";
import { NAME, saysSomethingIsWrong } from "./text-lines.js";

/**
 * What is wrong with a line around a table that a person has to read: by it something is wrong with samples, or the titles above
 * it do not hold.
 *
 * Where it is about all samples of the table, or names none of them, the whole table is in doubt. A line that explains how
 * results are marked, or what is done in general, says nothing of these samples.
 *
 * @param against - the row of a line that contradicts the titles
 */
export function faultAround(
  row: RawRow,
  why: NotSampleRow["why"] | undefined,
  against: number | undefined,
): RowFault | undefined {
  const isFooter = why === "footer";
  const isLine =
    why === "above the table" || (row.broken === undefined && why === undefined && !hasThreeCells(row));
  if ((isFooter && row.row === against) || ((isFooter || isLine) && saysDiluted(row))) {
    return faultOfRow(row, AS_THE_TITLES, "table-in-doubt");
  }
  const isWrong = isFooter
    ? saysSomethingIsWrong(row)
    : isLine && (saysSamplesFailed(row) || (reports(row) && saysSomethingIsWrong(row)));
  return isWrong
    ? faultOfRow(row, WHICH_FAILED, isOfWholeTable(row) ? "table-in-doubt" : "row-of-wrong-length")
    : undefined;
}

/**
 * What is wrong with a row of a sheet without results: it names a sample or a cart, and says that it failed. Names have a
 * figure; a first text without one, such as "FAIL" before its meaning, is a legend.
 *
 * @param columns - of the sheet, where it holds a table: a register of bottles may have a column of remarks
 */
export function faultOutsideTables(row: RawRow, columns: readonly TitledColumn[] = []): RowFault | undefined {
  const first = row.cells.map(textOf).find((text) => text !== "") ?? "";
  const isRemarked = columns.some(
    (column, index) =>
      holdsOf(column) === "remarks" && badStatement(column.title, textOf(row.cells[index])) !== undefined,
  );
  return /\p{N}/u.test(first) && (isRemarked || saysSamplesFailed(row))
    ? faultOfRow(row, WHICH_FAILED)
    : undefined;
}

/** Counts of a diluted bottle are too low until they are multiplied; "dilution applied" says that they were. */
function saysDiluted({ text }: RawRow): boolean {
  return (
    DILUTED.test(text) &&
    !NOT_DILUTED.test(text) &&
    !saysMultiplied(text.toLowerCase()) &&
    (NOT_YET.test(text) || !EXPLAINS.test(text)) &&
    readStatement("", text) === "doubts"
  );
}

const DILUTED = /\bdil(?:ut|ui|ué)|verd(?:ü|u)nn|\bverdund/i;
const NOT_YET = /\b(?:must|should|shall|to) be (?:multiplied|corrected|applied)/i;
const NOT_DILUTED = /\bfactor\D{0,5}1(?![\d.,])|\b1 ?: ?1(?!\d)/i;

function saysSamplesFailed(row: RawRow): boolean {
  // "F = fail" says what a sign means.
  if (row.text.includes("=")) return false;
  if (CALIBRATION.test(row.text)) return saysPlainly("", row.text);
  return CONDEMNED.test(row.text) && readStatement("", row.text) === "rejects";
}

const CALIBRATION = /\bcalibra(?:tion|ci[óo]n|zione|ção)|kalibr(?:ier|at)|[ée]talonnage|\btaratura\b/i;
const CONDEMNED = /\b(?:fail|fails|failed|rejected|condemned)\b/i;

/** Whether a line by which something is wrong says it of these samples, and names none of them. */
function isOfWholeTable({ text }: RawRow): boolean {
  return (OF_THESE.test(text) || OF_ALL_RESULTS.test(text)) && !EXPLAINS.test(text) && !NAME.test(text);
}

/** Whether a line above a table says what was found, and is no title: "Contamination report, all carts" is one. */
function reports({ text }: RawRow): boolean {
  return (FOUND.test(text) || OF_ALL_RESULTS.test(text)) && !EXPLAINS.test(text);
}

const ALL =
  "all|every|each|both|some|several|most|alle[rn]?|sämtliche[rn]?|beide|einige|tou(?:te)?s|tod[oa]s|tutt[ei]";
const WERE = "was|were|has|have|had|wurden?|waren|sont|fueron|están|sono|zijn|foram|estão";
const EXPIRED = "expired|overdue|lapsed|abgelaufen|expirée?|périmée?|vencida|caducada|scaduta|verlopen";
const FOUND = new RegExp(`^\\W*(?:${ALL})(?!\\p{L})|(?<!\\p{L})(?:${WERE})(?!\\p{L})`, "iu");
/** "All samples failed", "the bottles were contaminated", "calibration expired". */
const OF_THESE = new RegExp(`(?<!\\p{L})(?:${ALL}|${WERE}|${EXPIRED})(?!\\p{L})`, "iu");
/** "Results invalid", "report was withdrawn", "do not use": of everything in the table. */
const OF_ALL_RESULTS =
  /\b(?:results?|reports?|counts?|data|ergebnisse?|bericht|résultats?|rapport|resultados?|informe|risultati|resultaten)\b(?: (?:is|are|was|were|(?:has|have) been|ist|sind|sont|son|sono|zijn))* (?:invalid|void|not valid|cancell?ed|withdrawn|superseded|ungültig|storniert|non valides?|invalides?|annulés?|inválidos?|anulados?)|\bdo not use\b|\bout of calibration\W*$/i;

/** How results are marked, and what is done in general or on a condition. */
const EXPLAINS =
  /^\s*[*†‡#]|\b(?:mark(?:ed|s)?|highlight\p{L}*|print(?:ed)?|bold|italics?|asterisk|flag(?:ged|s)?|denote[ds]?|indicated (?:by|with|in)|shaded|underlined|colou?r\p{L}*|in red|fett|kursiv|gekennzeichnet|markiert|criteri\p{L}*|if|when|whether|in case|shall|should|must|(?<!\b(?:in|of|since|on|\d) )may(?! \d)|will|unless|without (?:a |the )?(?:signature|stamp|written)|wenn|falls|werden|sollte[nr]?|si)\b/iu;

const WHICH_FAILED = "a row of results; this line says that samples failed, and a person has to say which";
const AS_THE_TITLES =
  "a line that agrees with the titles above it; a person has to say which of them holds for the results";

function hasThreeCells({ cells }: RawRow): boolean {
  let written = 0;
  for (let index = 0; index < cells.length && written < 3; index += 1)
    if (isWritten(cells[index])) written += 1;
  return written === 3;
}
