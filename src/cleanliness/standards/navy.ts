import { type Assumption, frozen } from "../../provenance/index.js";
import { type ClassResult, type ClassTable, classifyByTable } from "../class-table.js";
import { readByPairs, type TableCounts } from "../size-pairs.js";

/** Size ranges of the navy table by longest dimension in µm, as printed. */
export type NavyRange = "5-10" | "10-25" | "25-50" | "50-100" | ">100";

/** Contamination class of the Aviation Hydraulics Manual. */
export type NavyClass = "0" | "1" | "2" | "3" | "4" | "5" | "6" | "beyond 6";

/**
 * Contamination classes of the US Navy's Aviation Hydraulics Manual, counts between two sizes per 100 mL.
 *
 * The table is written for counts by microscope. In µm(c) its sizes are read at the pairs of AS4059, and 10 µm at the
 * 10 µm(c) that ASTM D6786 gives for it.
 *
 * @source NAVAIR-01-1A-17
 */
export const NAVY_CLASSES = frozen({
  standard: "NAVAIR 01-1A-17",
  edition: "contamination classes 0 to 6",
  source: "NAVAIR-01-1A-17",
  volumeMl: 100,
  channels: [
    { name: "5-10", fromUm: 6, toUm: 10 },
    { name: "10-25", fromUm: 10, toUm: 21 },
    { name: "25-50", fromUm: 21, toUm: 38 },
    { name: "50-100", fromUm: 38, toUm: 70 },
    { name: ">100", fromUm: 70 },
  ],
  rows: [
    ["0", [2700, 670, 93, 16, 1]],
    ["1", [4600, 1340, 210, 28, 3]],
    ["2", [9700, 2680, 380, 56, 5]],
    ["3", [24_000, 5360, 780, 110, 11]],
    ["4", [32_000, 10_700, 1510, 225, 21]],
    ["5", [87_000, 21_400, 3130, 430, 41]],
    ["6", [128_000, 42_000, 6500, 1000, 92]],
  ],
  beyond: "beyond 6",
} as const satisfies ClassTable<NavyRange, NavyClass>);

/**
 * The dirtiest navy classes that are acceptable. They are the Navy's; the limits of your aircraft's manual count.
 *
 * @source NAVEDTRA-14315
 */
export const NAVY_ACCEPTABLE = frozen({ aircraftSystem: "5", deliveredBySupportEquipment: "3" } as const);

/**
 * Classifies counts by the navy table: any range above a class puts the sample in the next.
 *
 * @param counts - counts in either form; by microscope as the table asks, or on a scale that is paired with it
 * @returns class per range and the worst of them; undefined when no range can be formed
 * @source NAVAIR-01-1A-17
 */
export function classifyNavy(counts: TableCounts): ClassResult<NavyRange, NavyClass> | undefined {
  const basis = counts.scale === "um-microscope" ? "measured" : "converted";
  const how: Assumption[] =
    counts.scale === "um(c)"
      ? [
          {
            code: "navy-at-um-c",
            message:
              "NAVAIR 01-1A-17: its microscope sizes 5, 10, 25, 50 and 100 µm were read at 6, 10, 21, 38 and 70 µm(c), " +
              "the sizes that AS4059 and ASTM D6786 put next to them",
            source: "ASTM-D6786",
          },
        ]
      : counts.scale === "um-microscope"
        ? []
        : readByPairs(counts);
  return classifyByTable<NavyRange, NavyClass>(NAVY_CLASSES, counts, basis, how);
}
