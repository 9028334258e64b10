import type { CountSet } from "../counts/index.js";
import { type ClassResult, type ClassTable, classifyByTable } from "./class-table.js";

/** Size codes of AS4059: larger than 4, 6, 14, 21, 38 and 70 µm(c). */
export type SizeCode = "A" | "B" | "C" | "D" | "E" | "F";

/**
 * AS4059 table 2, cumulative counts per 100 mL, with the unrounded limits of revision E.
 *
 * Earlier revisions print the same limits rounded to three figures. The unrounded ones are the running sums of
 * the NAS 1638 limits for sizes B to F.
 *
 * @source AS4059-CUMULATIVE
 */
export const AS4059_CUMULATIVE = {
  standard: "AS4059 cumulative",
  source: "AS4059-CUMULATIVE",
  volumeMl: 100,
  channels: [
    { name: "A", fromUm: 4 },
    { name: "B", fromUm: 6 },
    { name: "C", fromUm: 14 },
    { name: "D", fromUm: 21 },
    { name: "E", fromUm: 38 },
    { name: "F", fromUm: 70 },
  ],
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
} as const satisfies ClassTable<SizeCode>;

/**
 * Classifies cumulative counts by AS4059 table 2. Serves whichever of the six sizes were counted.
 *
 * @param counts - cumulative counts on the µm(c) scale
 * @returns class per size code and the worst of them, or undefined when none of the six sizes was counted
 * @source AS4059-CUMULATIVE
 */
export function classifyAs4059Cumulative(counts: CountSet): ClassResult<SizeCode> | undefined {
  return classifyByTable<SizeCode>(AS4059_CUMULATIVE, counts);
}
