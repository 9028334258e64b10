import { as4059TableIn, checkStatedClass, dirtierThanCounts } from "../../cleanliness/index.js";
import { MAX_VOLUME_ML } from "../../counts/index.js";
import { type Assumption, frozen } from "../../provenance/index.js";
import { badStatement, type ReportedClass, type Sample, type WordedResult } from "../../samples/index.js";
import { tryParseQuantity } from "../../units/index.js";
import type { IssueCode } from "../checks/issue.js";
import { WHICH_VOLUME } from "../layout/count-titles.js";
import {
  describeMeasurand,
  isDescribed,
  isTest,
  type Measurand,
  plainUnit,
  QUANTITIES,
  type QuantityName,
  saysHowCounted,
} from "../layout/meaning.js";
import { textOf } from "../rows/row.js";
import {
  type PlacedCell,
  type PlacedText,
  type RefusedResult,
  type ReportedResult,
  TAKEN_ONCE,
} from "../samples/entry.js";
import { gatherDescriptions, type ReportedDescription } from "../words/described.js";
import type { SettledWord } from "../words/read-bottle-words.js";
import { isNotReported, type ResultWord, readResultCell } from "./cells.js";
import { gatherCounts, NUMBERS_OF_A_RUN, type ReportedCount } from "./counts.js";
import {
  type DecimalConvention,
  type DecimalMark,
  markOfFile,
  readNumber,
  type ShownDecimal,
} from "./numbers.js";
import { gatherQuantities, type ReportedQuantity } from "./quantities.js";
import { countedRows } from "./runs.js";
import { joinScaleNumbers, type StatedInCell } from "./scale-numbers.js";

/** The measured part of a sample. */
export type Results = Omit<
  Sample,
  "sample" | "cart" | "circuit" | "drawnOn" | "drawnTime" | "receivedOn" | "reportedOn" | "fluid" | "origin"
>;

/** The results of one sample and what became of those that could not be taken. */
export interface GatheredResults {
  readonly results: Results;
  /** Cells whose note says that something is wrong: "220 (alarm)". */
  readonly flagged: readonly PlacedText[];
  readonly refused: readonly RefusedResult[];
  readonly assumptions: readonly Assumption[];
}

/** How the numbers of a file are written. */
export interface NumberConventions {
  readonly decimal: DecimalConvention;
  /** Whether a person gave the decimal mark, so that nothing had to be concluded. */
  readonly decimalIsGiven: boolean;
  /** Texts that mean "not measured". */
  readonly blanks: readonly string[];
  /** What words in the place of a number mean, by a column map. */
  readonly resultWords?: ReadonlyMap<string, ResultWord>;
  /** What words about a bottle mean, by a column map. */
  readonly words: ReadonlyMap<string, SettledWord>;
}

/**
 * Turns the reported results of one sample into its measured part.
 *
 * A result that cannot be read is refused by itself. When the counts together break a rule, all of them are refused,
 * because it is not known which of them is wrong.
 *
 * @param entries - results of the rows or blocks of one sample, in the order of the file
 * @param conventions - how the numbers of the file are written, and which texts mean "not measured"
 */
export function gatherResults(
  entries: readonly (readonly ReportedResult[])[],
  conventions: NumberConventions,
): GatheredResults {
  const { decimalIsGiven, blanks, words: settled } = conventions;
  const decimal = decimalIsGiven ? conventions.decimal : () => conventions.decimal;
  const rows = countedRows(entries, decimal);
  const refused: RefusedResult[] = [...rows.refused];
  const assumptions: Assumption[] = [...rows.assumptions];
  const results: { -readonly [K in keyof Results]: Results[K] } = {};
  const words: WordedResult[] = [];
  const classes: StatedInCell[] = [];
  const flagged: PlacedText[] = [];
  const described: ReportedDescription[] = [];
  const counts: ReportedCount[] = [];
  const quantities: ReportedQuantity[] = [];
  const refuse = (result: ReportedResult, code: IssueCode, expected: string) => {
    refused.push({ result, code, expected });
  };

  const all = withoutRepeats(rows.reported);
  for (const result of all.once) {
    const { measurand } = result;
    if (saysHowCounted(measurand)) continue;
    if (measurand.holds === "class") {
      const text = textOf(result.cell);
      if (!blanks.includes(text) && !isNotReported(text)) {
        const { standard } = measurand;
        const table = measurand.table ?? as4059TableIn(`${result.column} ${text}`);
        const stated = {
          standard,
          class: text,
          ...(standard === "AS4059" && table !== undefined && { table }),
        };
        classes.push({ stated, run: result.run, sizeUmC: measurand.sizeUmC });
      }
      continue;
    }
    if (isDescribed(measurand) || isTest(measurand)) {
      described.push({ result, meaning: measurand });
      // What a colour of the patch means is a statement like that of a remark.
      if (measurand.holds === "patch-colour") flagged.push({ ...result, holds: "remarks" });
      continue;
    }
    const cell = readResultCell(result.cell, decimal, CELL_OPTIONS[measurand.holds], conventions);
    if (cell.kind === "blank") continue;
    if (
      measurand.holds === "counted" &&
      measurand.unit === undefined &&
      !("unit" in cell && cell.unit !== "")
    ) {
      // A requirement that asks for it finds it not stated.
      assumptions.push(VOLUME_WITHOUT_UNIT);
      continue;
    }
    if (cell.kind === "refused") {
      refuse(result, cell.code, cell.expected);
      continue;
    }
    if (cell.kind === "words") {
      // What one run could not show, the others cannot show for it.
      if (measurand.holds === "count" && measurand.run !== undefined)
        refuse(result, "counts-break-a-rule", NUMBERS_OF_A_RUN);
      else words.push({ measurand: describeMeasurand(measurand), said: cell.said });
      continue;
    }
    if (cell.note !== undefined) {
      if (badStatement(result.column, cell.note) === undefined) assumptions.push(noteSetAside(cell.note));
      else flagged.push({ ...result, holds: "remarks" });
    }
    if (cell.byConvention && !decimalIsGiven)
      assumptions.push(markOfFile(conventions.decimal as DecimalMark));
    if (measurand.holds === "count") {
      const volumeMl = volumeOfCount(result, measurand.volumeMl, cell.unit, decimal);
      if (typeof volumeMl !== "number") {
        refused.push({ result, ...volumeMl });
        continue;
      }
      const number = result.times === undefined ? cell.value : multiplied(cell.value, result.times);
      const count = { result, measurand, volumeMl, count: number };
      counts.push(cell.limit === undefined ? count : { ...count, limit: cell.limit });
      continue;
    }
    quantities.push({ result, measurand, cell });
  }
  const measured = gatherQuantities(quantities);
  const inWords = gatherDescriptions(described, blanks, settled);
  const counted = gatherCounts(counts, measured.countedMl, rows.dilution);
  Object.assign(results, measured.results, inWords.results, counted.results);
  if (words.length > 0) results.wordedResults = words;
  const stated = classesOf(joinScaleNumbers(classes), counted.results.replicates);
  if (stated.length > 0) results.reportedClasses = stated;
  for (const part of [measured, inWords, counted]) refused.push(...part.refused);
  const notTaken = new Set(refused.map(({ result }) => result));
  if ([...all.repeats.keys()].some((first) => !notTaken.has(first))) assumptions.push(TAKEN_ONCE);
  for (const part of [measured, inWords, counted]) assumptions.push(...part.assumptions);
  return {
    results,
    flagged,
    refused: withRepeats(refused, all).map((one) => ({ ...one, result: one.result.asGiven ?? one.result })),
    assumptions,
  };
}

/** The classes that a report states, each once; that of a single run says no more than the counts of the run that show it. */
function classesOf(classes: readonly StatedInCell[], runs: Sample["replicates"]): ReportedClass[] {
  const kept = classes.flatMap(({ stated, run }) => {
    const counts = run === undefined ? undefined : runs?.[run - 1];
    const isShown =
      counts !== undefined &&
      checkStatedClass(stated, counts) === undefined &&
      dirtierThanCounts(stated, counts) === undefined;
    return isShown ? [] : [stated];
  });
  const said = new Set<string>();
  return kept.filter(
    ({ standard, table, class: named }) =>
      said.size < said.add(JSON.stringify([standard, table, named])).size,
  );
}

/** Results of a sample, those that are in several rows in the same words once; and by each of them its repeats. */
interface WithoutRepeats {
  readonly once: readonly ReportedResult[];
  readonly repeats: ReadonlyMap<ReportedResult, readonly ReportedResult[]>;
}

/** A page of a report that was exported twice gives every result twice. */
function withoutRepeats(reported: readonly ReportedResult[]): WithoutRepeats {
  // Equal titles have one meaning between them, so most samples need no more than this look.
  if (!hasTwice(reported)) return { once: reported, repeats: NO_REPEATS };
  const byMeasurand = new Map<Measurand, Map<string, ReportedResult>>();
  const repeats = new Map<ReportedResult, ReportedResult[]>();
  const once = reported.filter((result) => {
    if (textOf(result.cell) === "") return true;
    const known = byMeasurand.get(result.measurand) ?? new Map<string, ReportedResult>();
    byMeasurand.set(result.measurand, known);
    const text = textOf(result.cell);
    const first = known.get(text);
    if (first === undefined) known.set(text, result);
    else {
      const again = repeats.get(first);
      if (again === undefined) repeats.set(first, [result]);
      else again.push(result);
    }
    return first === undefined;
  });
  return { once, repeats };
}

function hasTwice(reported: readonly ReportedResult[]): boolean {
  if (reported.length > MAX_COMPARED)
    return new Set(reported.map(({ measurand }) => measurand)).size < reported.length;
  for (let at = 1; at < reported.length; at += 1) {
    for (let before = 0; before < at; before += 1)
      if (reported[at]?.measurand === reported[before]?.measurand) return true;
  }
  return false;
}

/** A set of so few would take longer than to compare them one by one. */
const MAX_COMPARED = 20;

const NO_REPEATS: WithoutRepeats["repeats"] = new Map();

/** A result that is refused is refused wherever it stands. */
function withRepeats(
  refused: readonly RefusedResult[],
  { repeats }: WithoutRepeats,
): readonly RefusedResult[] {
  if (repeats.size === 0) return refused;
  return refused.flatMap((one) => [
    one,
    ...(repeats.get(one.result) ?? []).map((result) => ({ ...one, result })),
  ]);
}

/** Which text after a number is a unit, for each measurand. */
const CELL_OPTIONS: Record<"count" | QuantityName, Parameters<typeof readResultCell>[2]> = {
  count: { isUnit: (text: string) => VOLUME.test(text.replace(/\s+/g, " ")) },
  ...(Object.fromEntries(
    (Object.keys(QUANTITIES) as QuantityName[]).map((name) => [name, { isUnit: unitOf(name) }]),
  ) as Record<QuantityName, { isUnit: (text: string) => boolean }>),
  temperature: { isUnit: unitOf("temperature"), signed: true },
};

function unitOf(name: QuantityName): (text: string) => boolean {
  return (text) => tryParseQuantity(`1 ${plainUnit(text)}`, QUANTITIES[name].quantity).kind !== "refused";
}

/** Which volume a count stands for, by its title, its own cell and a column of volumes; all that say one must agree. */
function volumeOfCount(
  { countsPer }: ReportedResult,
  ofTitle: number | undefined,
  unit: string,
  decimal: DecimalConvention | ShownDecimal,
): number | { readonly code: IssueCode; readonly expected: string; readonly at?: PlacedCell } {
  if (countsPer === undefined && unit === "" && ofTitle !== undefined) return ofTitle;
  const inCell = unit === "" ? undefined : volumeIn(unit, decimal);
  if (inCell !== undefined && !isVolume(inCell)) return { code: "cell-not-read", expected: A_VOLUME };
  const ofColumn =
    countsPer === undefined
      ? undefined
      : volumeIn(`per ${textOf(countsPer.cell).replace(/^(?:per|\/)/i, "")}`, decimal);
  if (countsPer !== undefined && !isVolume(ofColumn)) {
    const isBlank = textOf(countsPer.cell) === "";
    if (!isBlank || (ofTitle ?? inCell) === undefined)
      return {
        code: "cell-not-read",
        expected: A_VOLUME,
        at: countsPer,
      };
  }
  const says = [
    ["the title", ofTitle],
    ["the cell", inCell],
    [`column "${countsPer?.column}"`, Number.isNaN(ofColumn) ? undefined : ofColumn],
  ] as const;
  const [first, ...others] = says.filter(([, volumeMl]) => volumeMl !== undefined);
  if (first?.[1] === undefined)
    return { code: "measurand-not-known", expected: `a column map that settles: ${WHICH_VOLUME}` };
  const other = others.find(([, volumeMl]) => volumeMl !== first[1]);
  if (other === undefined) return first[1];
  return {
    code: "cell-not-read",
    expected: `a count per ${first[1]} mL, as ${first[0]} says, and not per ${other[1]} mL, as ${other[0]} says`,
  };
}

const A_VOLUME = "the volume that the counts stand for, such as 1 mL";
const VOLUME = /^(?:(?:particles?|p|#|1) ?)?(?:\/|per) ?(\d+(?:[.,]\d+)?)? ?(?:mls?|cm3|cm³|cc)$/i;

function isVolume(volumeMl = Number.NaN): boolean {
  return volumeMl > 0 && volumeMl <= MAX_VOLUME_ML;
}

/** The volume in mL after a count, such as "/mL" or "per 100 mL"; NaN when it is not a volume, or one with two readings. */
function volumeIn(text: string, decimal: DecimalConvention | ShownDecimal): number {
  const match = VOLUME.exec(text.replace(/\s+/g, " "));
  const volume = match === null ? undefined : readNumber(match[1] ?? "1", decimal);
  return volume?.kind === "read" ? volume.value : Number.NaN;
}

/** Fifteen digits, so that ten times 0.7 is the 7 a person gets on paper. */
function multiplied(count: number, times: number): number {
  return Number((count * times).toPrecision(15));
}

const VOLUME_WITHOUT_UNIT: Assumption = frozen({
  code: "counted-volume-without-unit",
  message: "a counted volume whose unit is neither in its title nor in its cell was not used",
});

function noteSetAside(note: string): Assumption {
  return {
    code: "note-with-number",
    message: `the note "${note}" next to a number was set aside and the number taken`,
  };
}
