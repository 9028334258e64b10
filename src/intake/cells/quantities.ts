import { isDeepStrictEqual } from "node:util";
import type { Assumption } from "../../provenance/index.js";
import type { Measured } from "../../samples/index.js";
import { KEPT_UNITS, type QuantityReading, tryParseQuantity } from "../../units/index.js";
import { plainUnit, QUANTITIES, type QuantityMeaning, type QuantityName } from "../layout/meaning.js";
import { ONCE, type RefusedResult, type ReportedResult, TAKEN_ONCE } from "../samples/entry.js";
import type { ResultCell } from "./cells.js";
import { type Kept, keep, keptPlace } from "./kept.js";

type CellNumber = Extract<ResultCell, { kind: "number" }>;

/** A number that was reported for a quantity, with the column it is in. */
export interface ReportedQuantity {
  readonly result: ReportedResult;
  readonly measurand: QuantityMeaning;
  readonly cell: CellNumber;
}

/** The quantities of one sample, in the units they are kept in. */
export interface GatheredQuantities {
  readonly results: Kept;
  /** The volume that went through the counter; it goes with the counts. */
  readonly countedMl?: number;
  readonly refused: readonly RefusedResult[];
  readonly assumptions: readonly Assumption[];
}

/**
 * Puts the quantities of one sample together. Of two different results for one quantity neither is taken, because it is
 * not known which is right.
 *
 * @param reported - in the order of the file
 */
export function gatherQuantities(reported: readonly ReportedQuantity[]): GatheredQuantities {
  const refused: RefusedResult[] = [];
  const assumptions: Assumption[] = [];
  const read = new Map<QuantityName, ReadQuantity>();
  for (const { result, measurand, cell } of reported) {
    const { holds, unit } = measurand;
    const quantity = readWithUnit(cell, holds, unit);
    if (quantity.kind === "refused" || (cell.limit !== undefined && NO_LIMITS.includes(holds))) {
      const expected =
        quantity.kind === "refused" ? quantity.expected : `a ${QUANTITIES[holds].says}, not a limit of one`;
      refused.push({ result, code: "cell-not-read", expected });
      continue;
    }
    if (quantity.kind === "assumed") assumptions.push(quantity.assumption);
    const measured = { value: quantity.value, ...(cell.limit && { limit: cell.limit }) };
    const before = read.get(holds);
    if (before === undefined) read.set(holds, { result, measured, again: [] });
    else before.again.push({ result, measured });
  }
  const results: Kept = {};
  let countedMl: number | undefined;
  for (const [name, first] of read) {
    const { again } = first;
    if (again.some(({ measured }) => !isDeepStrictEqual(measured, first.measured))) {
      for (const { result } of [first, ...again])
        refused.push({ result, code: "repeated-measurand", expected: ONCE });
      continue;
    }
    if (again.length > 0) assumptions.push(TAKEN_ONCE);
    if (name === "counted") countedMl = inMl(first.measured.value);
    else keep(results, keptPlace(name), first.measured);
  }
  return { results, ...(countedMl !== undefined && { countedMl }), refused, assumptions };
}

interface ReadQuantity {
  readonly result: ReportedResult;
  readonly measured: Measured;
  /** The same quantity as it was reported again. */
  readonly again: Omit<ReadQuantity, "again">[];
}

/** A limit of these says nothing that anything could be judged by. */
const NO_LIMITS: readonly QuantityName[] = ["temperature", "counted"];

/** Volumes are kept in litres, and 0.02835 L is 28.35 mL and not 28.349999999999998. */
function inMl(volumeL: number): number {
  return Number((volumeL * 1000).toPrecision(15));
}

function readWithUnit(cell: CellNumber, name: QuantityName, titleUnit: string | undefined): QuantityReading {
  const unit = cell.unit === "" ? titleUnit : cell.unit;
  const { quantity } = QUANTITIES[name];
  if (unit === undefined) {
    const reading = tryParseQuantity(String(cell.value), quantity);
    return reading.kind === "refused"
      ? { ...reading, expected: `${reading.expected}, in the title, in the cell or in a column map` }
      : reading;
  }
  if (titleUnit !== undefined && cell.unit !== "" && !isSameUnit(cell.unit, titleUnit, name)) {
    return { kind: "refused", expected: `a number in ${titleUnit}, as the title says, not in ${cell.unit}` };
  }
  const { scale, plain, assumption } = unitIn(unit, name);
  if (scale !== "kept") return tryParseQuantity(`${cell.value} ${plain}`, quantity);
  return assumption === undefined
    ? { kind: "read", value: cell.value, unit: KEPT_UNITS[quantity] }
    : { kind: "assumed", value: cell.value, unit: KEPT_UNITS[quantity], assumption };
}

/** Whether two units are one: µg/g is mg/kg. "ppm" alone may be by volume, and is the same as "ppm" only. */
function isSameUnit(one: string, other: string, name: QuantityName): boolean {
  if (plainUnit(one) === plainUnit(other)) return true;
  const [a, b] = [unitIn(one, name), unitIn(other, name)];
  return a.scale === "kept" && b.scale === "kept" && a.assumption === undefined && b.assumption === undefined;
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
  const [zero, one] = [0, 1].map((value) => tryParseQuantity(`${value} ${plain}`, QUANTITIES[name].quantity));
  const kept = zero?.kind !== "refused" && zero?.value === 0 && one?.kind !== "refused" && one?.value === 1;
  const known: KnownUnit = {
    plain,
    scale: kept ? "kept" : "other",
    ...(one?.kind === "assumed" && { assumption: one.assumption }),
  };
  if (UNITS_SEEN.size > MAX_UNITS) UNITS_SEEN.clear();
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
const MAX_UNITS = 1000;
