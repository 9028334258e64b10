import { classesIn } from "../../cleanliness/index.js";
import { type Assumption, frozen } from "../../provenance/index.js";
import {
  type Appearance,
  badStatement,
  fluidsSaidIn,
  isTitleOfVerdict,
  namesHourMeter,
  namesWho,
  type ReportText,
  type Sample,
  saysPlainly,
} from "../../samples/index.js";
import { isNotReported } from "../cells/cells.js";
import { visible } from "../checks/issue.js";
import { SAYS_TITLE } from "../layout/columns.js";
import { rememberingBy } from "../rows/remembering.js";
import { textOf } from "../rows/row.js";
import type { PlacedText } from "../samples/entry.js";
import { badLooksIn } from "./read-bottle-words.js";

/** What a report says of one sample in texts of its own. */
export interface GatheredTexts {
  readonly results: Pick<Sample, "laboratorySays" | "otherTexts">;
  /** What is wrong to the eye, by these texts. */
  readonly seen: readonly Appearance[];
  readonly assumptions: readonly Assumption[];
}

/** More texts of one sample are no remarks of a person. */
const MAX_TEXTS = 40;
const MAX_TEXT_LENGTH = 1000;
/** What comes later in a cell was not written by a person. */
const MAX_LOOKED_AT = 20_000;
/** A number that tells one fluid from another is shown although nothing reads it, and so is that of a counter. */
const ABOUT_IDENTITY =
  /densit|dicht|gravity|viscos|viskos|chlor|\bcl\b|phosph|\bna\b|sodium|natrium|\bp\b.*(?:ppm|mg)/i;
/** Digits, dates, signs: nothing that says anything in words. */
const NO_WORDS = /^[\d\s.,:;/+\-–<>=≤≥%()'"TZ]*$/;

/**
 * Gathers what the laboratory says of one sample, and the texts of columns that are not used.
 *
 * A text of any column that says plainly that something is wrong is taken for what the laboratory says. Long texts are cut
 * to {@link MAX_TEXT_LENGTH} characters, to those that say that something is wrong where there are any.
 *
 * @param blanks - texts that mean "not reported"
 */
export function gatherTexts(texts: readonly PlacedText[], blanks: readonly string[]): GatheredTexts {
  if (texts.length === 0) return NO_TEXTS;
  const says = new Map<string, ReportText>();
  const others = new Map<string, ReportText>();
  const seen = new Set<Appearance>();
  for (const placed of texts) {
    if (blanks.includes(textOf(placed.cell))) continue;
    const read = readRemembered(placed);
    if (read === undefined) continue;
    for (const look of read.looks) seen.add(look);
    (read.isSaid ? says : others).set(read.key, read.said);
  }
  const laboratorySays = [...says.values()];
  const otherTexts = [...others.values()];
  const isTooMany = laboratorySays.length > MAX_TEXTS || otherTexts.length > MAX_TEXTS;
  return {
    results: {
      ...(laboratorySays.length > 0 && { laboratorySays: worstFirst(laboratorySays).slice(0, MAX_TEXTS) }),
      ...(otherTexts.length > 0 && { otherTexts: otherTexts.slice(0, MAX_TEXTS) }),
    },
    seen: [...seen],
    assumptions: isTooMany ? [NOT_ALL_KEPT] : [],
  };
}

/** What one text says; nothing when it is no text. */
interface ReadText {
  readonly key: string;
  readonly said: ReportText;
  /** Whether it is what the laboratory says, and not only shown. */
  readonly isSaid: boolean;
  readonly looks: readonly Appearance[];
}

function readText({ cell, column: title, holds }: PlacedText): ReadText | undefined {
  const whole = textOf(cell);
  if (isNotReported(whole)) return undefined;
  const column = title.toLowerCase().startsWith(SAYS_TITLE) ? title.slice(SAYS_TITLE.length) : title;
  const statesClass = classesIn(column, whole).length > 0;
  const namesFluid = fluidsSaidIn(column, whole).length > 0;
  const isKept =
    statesClass ||
    namesFluid ||
    ABOUT_IDENTITY.test(column) ||
    namesWho(column) !== undefined ||
    namesHourMeter(column) ||
    saysMoreThanNumbers(column);
  if (holds === "text" && NO_WORDS.test(whole) && !isKept) return undefined;
  const text = visible(excerpt(column, whole.slice(0, MAX_LOOKED_AT).replace(/\s+/g, " ")));
  return {
    key: JSON.stringify([column, text]),
    said: { column, text },
    isSaid: holds === "remarks" || statesClass || namesFluid || saysPlainly(column, text),
    looks: holds === "remarks" ? badLooksIn(text, true) : badLooksIn(`${column} ${text}`, false),
  };
}

const saysMoreThanNumbers = rememberingBy(isTitleOfVerdict, (column) => column);

const readRemembered = rememberingBy(
  readText,
  ({ holds, column, cell }) => `${holds}\n${column}\n${textOf(cell)}`,
);

const NO_TEXTS: GatheredTexts = frozen({ results: {}, seen: [], assumptions: [] });

const NOT_ALL_KEPT: Assumption = frozen({
  code: "texts-not-kept",
  message: `a sample has more than ${MAX_TEXTS} texts with its results; the others were not kept with it`,
});

/** In the order of the report, unless there are too many: then those that say that something is wrong come first. */
function worstFirst(texts: readonly ReportText[]): readonly ReportText[] {
  if (texts.length <= MAX_TEXTS) return texts;
  const isBad = ({ column, text }: ReportText) => badStatement(column, text) !== undefined;
  return [...texts.filter(isBad), ...texts.filter((text) => !isBad(text))];
}

function excerpt(column: string, text: string): string {
  if (text.length <= MAX_TEXT_LENGTH) return text;
  for (let start = 0; start < text.length; start += MAX_TEXT_LENGTH / 2) {
    const piece = text.slice(start, start + MAX_TEXT_LENGTH);
    if (saysPlainly(column, piece)) return `${start > 0 ? "… " : ""}${piece} …`;
  }
  return `${text.slice(0, MAX_TEXT_LENGTH)} …`;
}
