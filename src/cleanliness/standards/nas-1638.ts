import { type Assumption, frozen } from "../../provenance/index.js";
import { type ClassResult, type ClassTable, classifyByTable, type SampleClass } from "../class-table.js";
import type { TableCounts } from "../size-pairs.js";
import type { SizeRange } from "./as4059-differential.js";

/**
 * NAS 1638 table I, differential counts per 100 mL.
 *
 * The standard counts under the microscope in the ranges 5-15, 15-25, 25-50, 50-100 and over 100 µm. The
 * channels here are the µm(c) sizes that AS4059 pairs with those.
 *
 * @source NAS-1638
 */
export const NAS_1638 = frozen({
  standard: "NAS 1638",
  edition: "table I",
  source: "NAS-1638",
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
 * Classifies counts by NAS 1638.
 *
 * The standard requires counts by microscope. Counts on the older scale represent them, and counts in µm(c)
 * are read at paired sizes; the result says which.
 *
 * @param counts - counts in either form, on any scale that AS4059 pairs
 * @returns class per range and the worst of them; undefined when no range can be formed
 * @source NAS-1638
 */
export function classifyNas1638(counts: TableCounts): ClassResult<SizeRange> | undefined {
  const basis = counts.scale === "um(c)" ? "converted" : "measured";
  return classifyByTable<SizeRange, SampleClass>(NAS_1638, counts, basis, READ_BY_SCALE[counts.scale]);
}

/** What reading the table with counts on a scale rests on; it is written for the microscope. */
const READ_BY_SCALE: Record<TableCounts["scale"], readonly Assumption[]> = frozen({
  "um-microscope": [],
  "um(c)": [
    {
      code: "nas-1638-at-um-c",
      message:
        "NAS 1638: its microscope ranges 5-15, 15-25, 25-50, 50-100 and over 100 µm were read at the sizes " +
        "that AS4059 pairs with them, 6, 14, 21, 38 and 70 µm(c)",
      source: "AS4059-SIZE-PAIRS",
    },
  ],
  "um-older": [
    {
      code: "nas-1638-by-counter",
      message:
        "NAS 1638 is written for counts by microscope and is not meant for automatic counters; counts on the older " +
        "scale were read in its ranges as they stand",
      source: "NAS-1638",
    },
  ],
});
