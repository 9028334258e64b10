import { frozen } from "../../provenance/index.js";
import { type ClassResult, type ClassTable, classifyByTable, type SampleClass } from "../class-table.js";
import { readByPairs, type TableCounts } from "../size-pairs.js";

/** Size codes of AS4059: larger than 4, 6, 14, 21, 38 and 70 µm(c). */
export type SizeCode = "A" | "B" | "C" | "D" | "E" | "F";

const CHANNELS = [
  { name: "A", fromUm: 4 },
  { name: "B", fromUm: 6 },
  { name: "C", fromUm: 14 },
  { name: "D", fromUm: 21 },
  { name: "E", fromUm: 38 },
  { name: "F", fromUm: 70 },
] as const;

/**
 * AS4059 table 2, cumulative counts per 100 mL, with the unrounded limits of revision E.
 *
 * Earlier revisions print the same limits rounded to three figures. The unrounded ones are the running sums of
 * the NAS 1638 limits for sizes B to F.
 *
 * @source AS4059-CUMULATIVE
 */
export const AS4059_CUMULATIVE = frozen({
  standard: "AS4059 cumulative",
  edition: "table 2, unrounded limits of revision E",
  source: "AS4059-CUMULATIVE",
  volumeMl: 100,
  channels: CHANNELS,
  rows: [
    ["000", [195, 76, 14, 3, 1, 0]],
    ["00", [390, 152, 27, 5, 1, 0]],
    ["0", [780, 304, 54, 10, 2, 0]],
    ["1", [1560, 609, 109, 20, 4, 1]],
    ["2", [3120, 1217, 217, 39, 7, 1]],
    ["3", [6250, 2432, 432, 76, 13, 2]],
    ["4", [12_500, 4864, 864, 152, 26, 4]],
    ["5", [25_000, 9731, 1731, 306, 53, 8]],
    ["6", [50_000, 19_462, 3462, 612, 106, 16]],
    ["7", [100_000, 38_924, 6924, 1224, 212, 32]],
    ["8", [200_000, 77_849, 13_849, 2449, 424, 64]],
    ["9", [400_000, 155_698, 27_698, 4898, 848, 128]],
    ["10", [800_000, 311_396, 55_396, 9796, 1696, 256]],
    ["11", [1_600_000, 622_792, 110_792, 19_592, 3392, 512]],
    ["12", [3_200_000, 1_245_584, 221_584, 39_184, 6784, 1024]],
  ],
  beyond: "beyond 12",
} as const satisfies ClassTable<SizeCode>);

/**
 * AS4059 table 2 as earlier pages print it: the same limits, those above three figures rounded.
 *
 * A count between a rounded limit and the unrounded one falls in different classes by the two tables.
 *
 * @source AS4059-CUMULATIVE-ROUNDED
 */
export const AS4059_CUMULATIVE_ROUNDED = frozen({
  standard: "AS4059 cumulative",
  edition: "table 2, rounded limits as printed before revision E",
  source: "AS4059-CUMULATIVE-ROUNDED",
  volumeMl: 100,
  channels: CHANNELS,
  rows: [
    ["000", [195, 76, 14, 3, 1, 0]],
    ["00", [390, 152, 27, 5, 1, 0]],
    ["0", [780, 304, 54, 10, 2, 0]],
    ["1", [1560, 609, 109, 20, 4, 1]],
    ["2", [3120, 1220, 217, 39, 7, 1]],
    ["3", [6250, 2430, 432, 76, 13, 2]],
    ["4", [12_500, 4860, 864, 152, 26, 4]],
    ["5", [25_000, 9730, 1730, 306, 53, 8]],
    ["6", [50_000, 19_500, 3460, 612, 106, 16]],
    ["7", [100_000, 38_900, 6920, 1220, 212, 32]],
    ["8", [200_000, 77_900, 13_900, 2450, 424, 64]],
    ["9", [400_000, 156_000, 27_700, 4900, 848, 128]],
    ["10", [800_000, 311_000, 55_400, 9800, 1700, 256]],
    ["11", [1_600_000, 623_000, 111_000, 19_600, 3390, 512]],
    ["12", [3_200_000, 1_250_000, 222_000, 39_200, 6780, 1020]],
  ],
  beyond: "beyond 12",
} as const satisfies ClassTable<SizeCode>);

/** The two printed forms of AS4059 table 2. */
export const AS4059_CUMULATIVE_TABLES = frozen({
  unrounded: AS4059_CUMULATIVE,
  rounded: AS4059_CUMULATIVE_ROUNDED,
} as const);

/** Which printed form of AS4059 table 2. */
export type As4059Limits = keyof typeof AS4059_CUMULATIVE_TABLES;

/**
 * Classifies counts by AS4059 table 2. Serves whichever of the six sizes were counted.
 *
 * @param counts - counts in either form, on the µm(c) scale or one that AS4059 pairs with it
 * @param limits - which printed form of the table; the result names it
 * @returns class per size code and the worst of them, or undefined when none of the six sizes was counted
 * @source AS4059-CUMULATIVE
 * @example
 * classifyAs4059Cumulative(cumulativeCounts([{ sizeUm: 6, count: 19500 }], 100), "rounded").class; // => "6"
 */
export function classifyAs4059Cumulative(
  counts: TableCounts,
  limits: As4059Limits = "unrounded",
): ClassResult<SizeCode> | undefined {
  const table: ClassTable<SizeCode> = AS4059_CUMULATIVE_TABLES[limits];
  return classifyByTable<SizeCode, SampleClass>(table, counts, "measured", readByPairs(counts));
}
