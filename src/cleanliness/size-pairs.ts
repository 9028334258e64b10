import type { AnyCountSet, CountReading } from "../counts/index.js";
import { CountError, readBetween } from "../counts/index.js";
import type { Assumption } from "../provenance/index.js";

/**
 * Sizes that standards put side by side: in µm(c), and by microscope or by counters on the older scale.
 *
 * AS4059 pairs 1, 5, 15, 25, 50 and 100 µm with 4, 6, 14, 21, 38 and 70 µm(c) in its own tables; ASTM D6786 adds 10 µm
 * and 10 µm(c). These pairs choose the column of a table. They do not say that one particle has both sizes: by the
 * conversion table a particle of 5.0 µm on the older scale has 6.4 µm(c).
 *
 * @source AS4059-SIZE-PAIRS
 * @source ASTM-D6786
 */
export const SIZE_PAIRS = [
  { umC: 4, olderUm: 1 },
  { umC: 6, olderUm: 5 },
  { umC: 10, olderUm: 10 },
  { umC: 14, olderUm: 15 },
  { umC: 21, olderUm: 25 },
  { umC: 38, olderUm: 50 },
  { umC: 70, olderUm: 100 },
] as const;

/** Counts that tables can be read with: µm(c), or one of the scales that the tables pair with it. */
export type TableCounts = AnyCountSet<"um(c)" | "um-older" | "um-microscope">;

/**
 * Reads one channel of a table, whose sizes are stated in µm(c), from counts on any scale the tables know.
 *
 * @param set - counts
 * @param fromUm - lower size in µm(c)
 * @param toUm - upper size in µm(c), or undefined for all particles above the lower size
 * @returns the reading, or undefined when the counted sizes cannot form the channel
 * @throws CountError for counts in µm(b), which no table knows
 */
export function readChannel(
  set: AnyCountSet,
  fromUm: number,
  toUm: number | undefined,
): CountReading | undefined {
  if (set.scale === "um(b)") {
    throw new CountError("sizes in µm(b) must be brought to µm(c) before a table can be read");
  }
  if (set.scale === "um(c)") return readBetween(set, fromUm, toUm);
  const from = pairedUm(fromUm);
  const to = toUm === undefined ? undefined : pairedUm(toUm);
  return from === undefined || (toUm !== undefined && to === undefined)
    ? undefined
    : readBetween(set, from, to);
}

/** The size by microscope or older counter that is paired with a µm(c) size. */
export function pairedUm(umC: number): number | undefined {
  return SIZE_PAIRS.find((pair) => pair.umC === umC)?.olderUm;
}

/** Writes a size with the scale of the counts. */
export function formatSize(set: Pick<AnyCountSet, "scale">, umC: number): string {
  if (set.scale === "um(c)") return `${umC} µm(c)`;
  return `${pairedUm(umC) ?? umC} µm`;
}

/** Writes two or more sizes as they stand on the scale of the counts: "4, 6 and 14 µm(c)". */
export function formatSizes(set: Pick<AnyCountSet, "scale">, umC: readonly number[]): string {
  const numbers = umC.map((size) => String(set.scale === "um(c)" ? size : (pairedUm(size) ?? size)));
  return `${numbers.slice(0, -1).join(", ")} and ${numbers.at(-1)} ${set.scale === "um(c)" ? "µm(c)" : "µm"}`;
}

/** What a table read with counts off the µm(c) scale rests on. */
export function readByPairs(set: Pick<AnyCountSet, "scale">): Assumption[] {
  if (set.scale === "um(c)" || set.scale === "um(b)") return [];
  const scale = set.scale === "um-older" ? "on the older scale (ISO 4402)" : "by microscope";
  return [
    {
      code: "table-column-of-older-sizes",
      message:
        `sizes ${scale} were read in the table columns that AS4059 pairs with µm(c): 1, 5, 15, 25, 50 and 100 µm for ` +
        "4, 6, 14, 21, 38 and 70 µm(c); they are not converted, and a µm(c) count of the same fluid will differ",
      source: "AS4059-SIZE-PAIRS",
    },
  ];
}
