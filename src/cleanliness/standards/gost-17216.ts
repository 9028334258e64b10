import { type Assumption, frozen } from "../../provenance/index.js";
import { type ClassResult, type ClassTable, classifyByTable } from "../class-table.js";
import type { TableCounts } from "../size-pairs.js";

/** Size ranges of GOST 17216 in µm, as printed, from 5 µm up. */
export type GostRange = "5-10" | "10-25" | "25-50" | "50-100";

/** Grade of GOST 17216, as far as its rows were seen in print. */
export type GostClass = "00" | "0" | "1" | "2" | "3" | "4" | "5" | "6" | "7" | "8" | "beyond 8";

/**
 * GOST 17216, counts between two sizes per 100 cm³: the rows that were seen in print.
 *
 * Grades 9 to 17 exist and are known from memory only, so they are not here, and a sample dirtier than grade 8 is called
 * "beyond 8". Two limits of the range 50-100 were not seen either. Ranges below 5 µm are limited in the cleanest grades
 * only, and 100-200 µm counts fibres by a rule that was not seen; both are left out.
 *
 * @source GOST-17216
 */
export const GOST_17216 = frozen({
  standard: "GOST 17216",
  edition: "1971, grades 00 to 8",
  source: "GOST-17216",
  volumeMl: 100,
  channels: [
    { name: "5-10", fromUm: 6, toUm: 10 },
    { name: "10-25", fromUm: 10, toUm: 21 },
    { name: "25-50", fromUm: 21, toUm: 38 },
    { name: "50-100", fromUm: 38, toUm: 70 },
  ],
  rows: [
    ["00", [8, 4, 1, undefined]],
    ["0", [16, 8, 2, 0]],
    ["1", [32, 16, 3, undefined]],
    ["2", [63, 32, 4, 1]],
    ["3", [125, 63, 8, 2]],
    ["4", [250, 125, 12, 3]],
    ["5", [500, 250, 25, 4]],
    ["6", [1000, 500, 50, 6]],
    ["7", [2000, 1000, 100, 12]],
    ["8", [4000, 2000, 200, 25]],
  ],
  beyond: "beyond 8",
} as const satisfies ClassTable<GostRange, GostClass>);

/**
 * Classifies counts by GOST 17216.
 *
 * @param counts - counts in either form, in µm(c), by microscope or on the older scale
 * @returns grade per range and the worst of them; undefined when no range can be formed
 * @source GOST-17216
 */
export function classifyGost17216(counts: TableCounts): ClassResult<GostRange, GostClass> | undefined {
  const basis = counts.scale === "um-microscope" ? "measured" : "converted";
  const how: Assumption[] = [
    {
      code: "gost-17216-one-page",
      message:
        "GOST 17216: grades 00 to 8 stand on one page of the 1971 text; dirtier grades were not seen in print",
      source: "GOST-17216",
    },
  ];
  if (counts.scale !== "um-microscope") {
    how.push({
      code: "gost-17216-at-paired-sizes",
      message:
        "GOST 17216: its sizes 5, 10, 25, 50 and 100 µm were read at the sizes that AS4059 and ASTM D6786 put next to " +
        "them, 6, 10, 21, 38 and 70 µm(c)",
      source: "ASTM-D6786",
    });
  }
  return classifyByTable<GostRange, GostClass>(GOST_17216, counts, basis, how);
}
