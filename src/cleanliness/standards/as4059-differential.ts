import { frozen } from "../../provenance/index.js";
import { type ClassResult, type ClassTable, classifyByTable, type SampleClass } from "../class-table.js";
import { readByPairs, type TableCounts } from "../size-pairs.js";

/** Size ranges of AS4059 table 1 in µm(c). */
export type SizeRange = "6-14" | "14-21" | "21-38" | "38-70" | ">70";

/**
 * AS4059 table 1, differential counts per 100 mL. Its limits are those of NAS 1638.
 *
 * @source AS4059-DIFFERENTIAL
 */
export const AS4059_DIFFERENTIAL = frozen({
  standard: "AS4059 differential",
  edition: "table 1, revisions E and F",
  source: "AS4059-DIFFERENTIAL",
  volumeMl: 100,
  channels: [
    { name: "6-14", fromUm: 6, toUm: 14 },
    { name: "14-21", fromUm: 14, toUm: 21 },
    { name: "21-38", fromUm: 21, toUm: 38 },
    { name: "38-70", fromUm: 38, toUm: 70 },
    { name: ">70", fromUm: 70 },
  ],
  rows: [
    ["00", [125, 22, 4, 1, 0]],
    ["0", [250, 44, 8, 2, 0]],
    ["1", [500, 89, 16, 3, 1]],
    ["2", [1000, 178, 32, 6, 1]],
    ["3", [2000, 356, 63, 11, 2]],
    ["4", [4000, 712, 126, 22, 4]],
    ["5", [8000, 1425, 253, 45, 8]],
    ["6", [16_000, 2850, 506, 90, 16]],
    ["7", [32_000, 5700, 1012, 180, 32]],
    ["8", [64_000, 11_400, 2025, 360, 64]],
    ["9", [128_000, 22_800, 4050, 720, 128]],
    ["10", [256_000, 45_600, 8100, 1440, 256]],
    ["11", [512_000, 91_200, 16_200, 2880, 512]],
    ["12", [1_024_000, 182_400, 32_400, 5760, 1024]],
  ],
  beyond: "beyond 12",
} as const satisfies ClassTable<SizeRange>);

/**
 * Classifies counts by AS4059 table 1, from the ranges that the counted sizes enclose.
 *
 * @param counts - counts in either form, on the µm(c) scale or one that AS4059 pairs with it
 * @returns class per range and the worst of them, or undefined when no range can be formed
 * @source AS4059-DIFFERENTIAL
 */
export function classifyAs4059Differential(counts: TableCounts): ClassResult<SizeRange> | undefined {
  const table: ClassTable<SizeRange> = AS4059_DIFFERENTIAL;
  return classifyByTable<SizeRange, SampleClass>(table, counts, "measured", readByPairs(counts));
}
