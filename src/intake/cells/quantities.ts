import { isDeepStrictEqual } from "node:util";
import type { Assumption } from "../../provenance/index.js";
import type { Measured, Metal, Sample } from "../../samples/index.js";
import { KEPT_UNITS, type QuantityReading, tryParseQuantity } from "../../units/index.js";
import { plainUnit, QUANTITIES, type QuantityMeaning, type QuantityName } from "../layout/meaning.js";
import { remembering } from "../rows/remembering.js";
import { ONCE, type RefusedResult, type ReportedResult, TAKEN_ONCE } from "../samples/entry.js";
import type { ResultCell } from "./cells.js";

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
  const read: ReadQuantity[] = [];
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
    const { value } = quantity;
    const measured: Measured = cell.limit === undefined ? { value } : { value, limit: cell.limit };
    const first = read.find((one) => one.holds === holds);
    if (first === undefined) read.push({ holds, results: [result], measured, isOneResult: true });
    else {
      first.results.push(result);
      first.isOneResult &&= isDeepStrictEqual(measured, first.measured);
    }
  }
  const kept: Kept = {};
  let countedMl: number | undefined;
  for (const { holds, results, measured, isOneResult } of read) {
    if (!isOneResult) {
      for (const result of results) refused.push({ result, code: "repeated-measurand", expected: ONCE });
      continue;
    }
    if (results.length > 1) assumptions.push(TAKEN_ONCE);
    if (holds === "counted") countedMl = inMl(measured.value);
    else keep(kept, holds, measured);
  }
  return { results: kept, ...(countedMl !== undefined && { countedMl }), refused, assumptions };
}

interface ReadQuantity {
  readonly holds: QuantityName;
  /** Where it is reported, first and again. */
  readonly results: ReportedResult[];
  readonly measured: Measured;
  isOneResult: boolean;
}

/** Where the quantities are kept in a sample that have a field of their own there; the others are metals. */
const FIELDS = {
  water: "waterPpm",
  acid: "acidMgKohPerG",
  viscosity40: "viscosity40Mm2PerS",
  temperature: "fluidTemperatureC",
  density15: "density15KgPerM3",
  chlorine: "chlorinePpm",
} as const satisfies Record<Exclude<QuantityName, Metal | "counted">, keyof Sample>;

/** The measured part of a sample while it is put together. */
type Kept = {
  -readonly [K in (typeof FIELDS)[keyof typeof FIELDS] | "metalsPpm"]?: Sample[K];
};

/** Keeps a result at its place. A temperature has no limit. */
function keep(kept: Kept, name: Exclude<QuantityName, "counted">, measured: Measured): void {
  if (!(name in FIELDS)) kept.metalsPpm = { ...kept.metalsPpm, [name]: measured };
  else if (name === "temperature") kept.fluidTemperatureC = measured.value;
  else kept[FIELDS[name as Exclude<keyof typeof FIELDS, "temperature">]] = measured;
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
  const { scale, plain, assumption } = UNITS[name](unit);
  if (scale !== "kept") return tryParseQuantity(`${cell.value} ${plain}`, quantity);
  return assumption === undefined
    ? { kind: "read", value: cell.value, unit: KEPT_UNITS[quantity] }
    : { kind: "assumed", value: cell.value, unit: KEPT_UNITS[quantity], assumption };
}

/** Whether two units are one: µg/g is mg/kg, and so is "ppm" by the assumption that is made of it alone. */
function isSameUnit(one: string, other: string, name: QuantityName): boolean {
  if (plainUnit(one) === plainUnit(other)) return true;
  return [one, other].every((unit) => UNITS[name](unit).scale === "kept");
}

interface KnownUnit {
  readonly plain: string;
  /** "kept" when the unit is the one siltbook keeps, so that there is nothing to convert. */
  readonly scale: "kept" | "other";
  readonly assumption?: Assumption;
}

function readUnit(unit: string, name: QuantityName): KnownUnit {
  const plain = plainUnit(unit);
  const [zero, one] = [0, 1].map((value) => tryParseQuantity(`${value} ${plain}`, QUANTITIES[name].quantity));
  const kept = zero?.kind !== "refused" && zero?.value === 0 && one?.kind !== "refused" && one?.value === 1;
  return {
    plain,
    scale: kept ? "kept" : "other",
    ...(one?.kind === "assumed" && { assumption: one.assumption }),
  };
}

/** What a unit of each quantity means. A file has few units and many cells. */
const UNITS = Object.fromEntries(
  (Object.keys(QUANTITIES) as QuantityName[]).map((name) => [
    name,
    remembering((unit) => readUnit(unit, name)),
  ]),
) as Record<QuantityName, (unit: string) => KnownUnit>;
