import { isDeepStrictEqual } from "node:util";
import type { Assumption } from "../provenance/index.js";
import type { Sample, WordedResult } from "../samples/index.js";
import { KEPT_UNITS, type QuantityReading, readQuantity } from "../units/index.js";
import { type ResultCell, readResultCell } from "./cells.js";
import { gatherCounts, type ReportedCount } from "./counts.js";
import { gatherDescriptions, type ReportedDescription } from "./described.js";
import type { RefusedResult, ReportedResult } from "./entry.js";
import type { IssueCode } from "./issue.js";
import { drop, keep, keptAt, keptPlace } from "./kept.js";
import { isDescribed, plainUnit, QUANTITIES, type QuantityName, sayMeasurand } from "./meaning.js";
import { type DecimalConvention, type DecimalMark, markOfFile } from "./numbers.js";
import { textOf } from "./readers/row.js";

/** The measured part of a sample. */
export type Results = Omit<
  Sample,
  "sample" | "cart" | "circuit" | "drawnOn" | "drawnTime" | "receivedOn" | "reportedOn" | "fluid" | "origin"
>;

/** The results of one sample and what became of those that could not be taken. */
export interface GatheredResults {
  readonly results: Results;
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
}

/**
 * Turns the reported results of one sample into its measured part.
 *
 * A result that cannot be read is refused by itself. When the counts together break a rule, all of them are refused,
 * because it is not known which of them is wrong.
 *
 * @param reported - results of one sample, in the order of the file
 * @param conventions - how the numbers of the file are written, and which texts mean "not measured"
 */
export function gatherResults(
  reported: readonly ReportedResult[],
  { decimal, decimalIsGiven, blanks }: NumberConventions,
): GatheredResults {
  const refused: RefusedResult[] = [];
  const assumptions: Assumption[] = [];
  const results: { -readonly [K in keyof Results]: Results[K] } = {};
  const words: WordedResult[] = [];
  const described: ReportedDescription[] = [];
  const counts: ReportedCount[] = [];
  const first = new Map<QuantityName, ReportedResult>();
  const refuse = (result: ReportedResult, code: IssueCode, expected: string) => {
    refused.push({ result, code, expected });
  };

  for (const result of reported) {
    const { measurand } = result;
    if (measurand.holds === "class") {
      const text = textOf(result.cell);
      if (text !== "" && text !== "-") {
        results.reportedClasses = [
          ...(results.reportedClasses ?? []),
          { standard: measurand.standard, class: text },
        ];
      }
      continue;
    }
    if (isDescribed(measurand)) {
      described.push({ result, description: measurand.holds });
      continue;
    }
    const cell = readResultCell(
      result.cell,
      decimal,
      blanks.length === 0 ? CELL_OPTIONS[measurand.holds] : { ...CELL_OPTIONS[measurand.holds], blanks },
    );
    if (cell.kind === "blank") continue;
    if (cell.kind === "refused") {
      refuse(result, cell.code, cell.expected);
      continue;
    }
    if (cell.kind === "words") {
      words.push({ measurand: sayMeasurand(measurand), said: cell.said });
      continue;
    }
    if (cell.note !== undefined) assumptions.push(noteSetAside(cell.note));
    if (cell.byConvention && !decimalIsGiven) assumptions.push(markOfFile(decimal as DecimalMark));
    if (measurand.holds === "count") {
      const volumeMl = cell.unit === "" ? measurand.volumeMl : volumeIn(cell.unit);
      if (volumeMl !== measurand.volumeMl) {
        refuse(result, "cell-not-read", `a count per ${measurand.volumeMl} mL, as the title says`);
        continue;
      }
      counts.push({
        result,
        measurand,
        volumeMl,
        count: cell.value,
        ...(cell.limit && { limit: cell.limit }),
      });
      continue;
    }
    const quantity = readWithUnit(cell, measurand.holds, measurand.unit);
    if (quantity.kind === "refused") {
      refuse(result, "cell-not-read", quantity.expected);
      continue;
    }
    if (measurand.holds === "temperature" && cell.limit !== undefined) {
      refuse(result, "cell-not-read", "a temperature, not a limit of one");
      continue;
    }
    if (quantity.kind === "assumed") assumptions.push(quantity.assumption);
    const before = first.get(measurand.holds);
    const place = keptPlace(measurand.holds);
    const measured = { value: quantity.value, ...(cell.limit && { limit: cell.limit }) };
    if (before === undefined) {
      first.set(measurand.holds, result);
      keep(results, place, measured);
      continue;
    }
    refuse(result, "repeated-measurand", ONCE);
    const kept = keptAt(results, place);
    if (kept === undefined || isDeepStrictEqual(kept, measured)) continue;
    // Which of two results is right is not known, so neither is taken.
    refuse(before, "repeated-measurand", ONCE);
    drop(results, place);
  }
  const descriptions = gatherDescriptions(described, blanks);
  for (const result of descriptions.refused) refuse(result, "repeated-measurand", ONCE);
  Object.assign(results, descriptions.described);
  assumptions.push(...descriptions.assumptions);
  const gathered = gatherCounts(counts);
  Object.assign(results, gathered.results);
  if (words.length > 0) results.wordedResults = words;
  return {
    results,
    refused: [...refused, ...gathered.refused],
    assumptions: [...assumptions, ...gathered.assumptions],
  };
}

type CellNumber = Extract<ResultCell, { kind: "number" }>;

/** Which text behind a number is a unit, for each measurand. */
const CELL_OPTIONS: Record<"count" | QuantityName, Parameters<typeof readResultCell>[2]> = {
  count: { isUnit: (text: string) => volumeIn(text) > 0 },
  ...(Object.fromEntries(
    (Object.keys(QUANTITIES) as QuantityName[]).map((name) => [name, { isUnit: unitOf(name) }]),
  ) as Record<QuantityName, { isUnit: (text: string) => boolean }>),
  temperature: { isUnit: unitOf("temperature"), signed: true },
};

function unitOf(name: QuantityName): (text: string) => boolean {
  return (text) => readQuantity(`1 ${plainUnit(text)}`, QUANTITIES[name].quantity).kind !== "refused";
}

/** The volume in mL behind a count, such as "/mL" or "per 100 mL"; NaN when it is none. */
function volumeIn(text: string): number {
  const match = /^(?:particles? ?|p ?)?(?:\/|per) ?(\d+(?:\.\d+)?)? ?(?:ml|cm3|cm³|cc)$/i.exec(text);
  return match === null ? Number.NaN : Number(match[1] ?? 1);
}

function readWithUnit(cell: CellNumber, name: QuantityName, titleUnit: string | undefined): QuantityReading {
  const unit = cell.unit === "" ? titleUnit : cell.unit;
  const { quantity } = QUANTITIES[name];
  if (unit === undefined) {
    const reading = readQuantity(String(cell.value), quantity);
    return reading.kind === "refused"
      ? { ...reading, expected: `${reading.expected}, in the title, in the cell or in a column map` }
      : reading;
  }
  if (titleUnit !== undefined && cell.unit !== "" && plainUnit(cell.unit) !== plainUnit(titleUnit)) {
    return { kind: "refused", expected: `a number in ${titleUnit}, as the title says, not in ${cell.unit}` };
  }
  const { scale, plain, assumption } = unitIn(unit, name);
  if (scale !== "kept") return readQuantity(`${cell.value} ${plain}`, quantity);
  return assumption === undefined
    ? { kind: "read", value: cell.value, unit: KEPT_UNITS[quantity] }
    : { kind: "assumed", value: cell.value, unit: KEPT_UNITS[quantity], assumption };
}

interface KnownUnit {
  readonly plain: string;
  /** "kept" when the unit is the one siltbook keeps, so that there is nothing to convert. */
  readonly scale: "kept" | "other";
  readonly assumption?: Assumption;
}

const UNITS_SEEN = new Map<string, KnownUnit>();

/** What a unit means. A file has few units and many cells, so each is looked up once. */
function unitIn(unit: string, name: QuantityName): KnownUnit {
  const key = `${name} ${unit}`;
  const before = UNITS_SEEN.get(key);
  if (before !== undefined) return before;
  const plain = plainUnit(unit);
  const [zero, one] = [0, 1].map((value) => readQuantity(`${value} ${plain}`, QUANTITIES[name].quantity));
  const kept = zero?.kind !== "refused" && zero?.value === 0 && one?.kind !== "refused" && one?.value === 1;
  const known: KnownUnit = {
    plain,
    scale: kept ? "kept" : "other",
    ...(one?.kind === "assumed" && { assumption: one.assumption }),
  };
  if (UNITS_SEEN.size > MOST_UNITS) UNITS_SEEN.clear();
  UNITS_SEEN.set(key, known);
  return known;
}

/**
 * Whether numbers with this unit are taken as they stand.
 *
 * @returns what the unit leaves open; undefined when the numbers have to be converted
 */
export function keptUnit(unit: string, name: QuantityName): Pick<KnownUnit, "assumption"> | undefined {
  const { scale, assumption } = unitIn(unit, name);
  if (scale !== "kept") return undefined;
  return assumption === undefined ? {} : { assumption };
}

/** Units come from files, so their number is bounded. */
const MOST_UNITS = 1000;

const ONCE = "each measurand once in a sample";

function noteSetAside(note: string): Assumption {
  return {
    code: "note-beside-number",
    message: `the note "${note}" beside a number was set aside and the number taken`,
  };
}
