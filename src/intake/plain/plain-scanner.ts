import { LEAST_WATER_PPM, lastDay, MOST_WATER_PPM } from "../checks.js";
import type { ReadOptions } from "../fates.js";
import { HOLDS, type PlainPlan } from "./plan.js";
import { type FixedNames, PlainScanner } from "./scan.js";
import type { ColumnsToSplit } from "./split.js";
import type { Texts } from "./texts.js";

/** A scanner for the rows of a table, with the bounds and the decimal mark that hold before the file was looked at. */
export function plainScanner(
  plan: PlainPlan,
  texts: Texts,
  fixed: FixedNames,
  { map, today }: ReadOptions,
): PlainScanner {
  const slotOf = (field: string) => plan.measured.findIndex(({ place }) => place.field === field);
  const scanner = new PlainScanner(plan, texts, fixed, {
    lastDay: today === undefined ? Number.POSITIVE_INFINITY : Number(lastDay(today).replaceAll("-", "")),
    waterPpm: { least: LEAST_WATER_PPM, most: MOST_WATER_PPM },
    waterSlot: slotOf("waterPpm"),
    temperatureSlot: slotOf("fluidTemperatureC"),
  });
  scanner.number.rule = {
    point: map?.decimal !== ",",
    comma: map?.decimal !== ".",
    ...(map?.decimal !== undefined && { settled: map.decimal }),
  };
  return scanner;
}

/**
 * What a splitter has to know of the columns of a table.
 *
 * @param hasPoint - whether a point in a number may be decimal
 */
export function columnsToSplit({ holds }: PlainPlan, hasPoint: boolean): ColumnsToSplit {
  return {
    numberPlaces: placesOf(holds, [HOLDS.count, HOLDS.measured]),
    dayPlaces: placesOf(holds, [HOLDS.drawn, HOLDS.received, HOLDS.reported]),
    hasPoint,
  };
}

/** For each column its place among those that hold something of some kinds; −1 for the others. */
function placesOf(holds: Int8Array, kinds: readonly number[]): Int8Array {
  let found = 0;
  return holds.map((kind) => {
    if (!kinds.includes(kind)) return -1;
    found += 1;
    return found - 1;
  });
}
