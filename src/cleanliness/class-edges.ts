import { type CountSet, cumulativeCounts, type IntervalCount, intervalCounts } from "../counts/index.js";
import { type ClassTable, limitsOfChannel } from "./class-table.js";
import { AS4059_CUMULATIVE } from "./standards/as4059-cumulative.js";
import { AS4059_DIFFERENTIAL } from "./standards/as4059-differential.js";
import { ISO_4406, RAW_PARTICLES_MIN } from "./standards/iso-4406.js";
import { NAS_1638 } from "./standards/nas-1638.js";
import { NAVY_CLASSES } from "./standards/navy.js";
import {
  as4059TableIn,
  BEYOND,
  isPlainlyStated,
  readStatedClass,
  type Stated,
  type StatedClass,
} from "./stated-class.js";
import { type CleanlinessTarget, isOfStandard } from "./target.js";

/** Counts on the µm(c) scale, in either form. */
export type UmCCounts = CountSet<"um(c)"> | CountSet<"um(c)", "interval">;

/**
 * A scale number written with ≥ was had from fewer than 20 particles. Even a single one leaves the fluid, in 95 cases of 100,
 * below 4.74 times what was counted (the upper limit of a Poisson mean), which is less than three scale numbers.
 */
const FEW_PARTICLES_SCALE_NUMBERS = 3;

/**
 * The most particles that a stated class allows, size by size, in the sizes of its own standard.
 *
 * Nothing is converted: only a class of the standard that the target is written in is read.
 *
 * @source ISO-4406-LOW-COUNT
 *
 * @returns undefined where the class is not plainly that of the sample, says nothing of the target's sizes, or has no upper
 *   limit
 */
export function countsAtMost(
  reported: StatedClass,
  target: Pick<CleanlinessTarget, "standard">,
): UmCCounts | undefined {
  const stated = isPlainlyStated(reported) ? readStatedClass(reported) : undefined;
  if (stated === undefined || !isOfStandard(reported.standard, target.standard)) return undefined;
  switch (target.standard) {
    case "ISO 4406":
      return ofIso4406(stated);
    case "NAS 1638":
      return "whole" in stated ? byRange(NAS_1638, stated.whole) : undefined;
    case "NAVAIR 01-1A-17":
      return "whole" in stated ? byRange(NAVY_CLASSES, stated.whole) : undefined;
    default:
      return ofAs4059(reported, stated);
  }
}

/**
 * The fewest particles above each of its sizes that an ISO 4406 code says, per mL: more than its next cleaner number allows.
 *
 * A number with ≥ comes from too few particles to say so.
 */
export function fewestAbove(reported: StatedClass): { readonly sizeUm: number; readonly perMl: number }[] {
  const stated = isPlainlyStated(reported) ? readStatedClass(reported) : undefined;
  if (reported.standard !== "ISO 4406" || stated === undefined || !("bySize" in stated)) return [];
  return ISO_4406.channels.flatMap(({ name, fromUm }, channel) => {
    const own = stated.bySize.get(name);
    if (own === undefined || stated.atLeast?.has(name)) return [];
    const limits = limitsOfChannel(ISO_4406, channel);
    const perMl = own === BEYOND ? limits.at(-1) : limits[Number(own) - 1];
    return perMl === undefined ? [] : [{ sizeUm: fromUm, perMl }];
  });
}

function ofAs4059(reported: StatedClass, stated: Stated): UmCCounts | undefined {
  if (!("whole" in stated)) return bySize(AS4059_CUMULATIVE, stated);
  // Without size codes a class is size B, the worst size or the ranges, by the revision.
  switch (reported.table ?? as4059TableIn(reported.class)) {
    case "cumulative": {
      const all = AS4059_CUMULATIVE.channels.map(({ name }): [string, string] => [name, stated.whole]);
      return bySize(AS4059_CUMULATIVE, { bySize: new Map(all) });
    }
    case "differential":
      return byRange(AS4059_DIFFERENTIAL, stated.whole);
    default:
      return undefined;
  }
}

function ofIso4406(stated: Stated): UmCCounts | undefined {
  const counts = bySize(ISO_4406, withFewParticles(stated));
  if (counts === undefined || !("bySize" in stated) || stated.atLeast !== undefined) return counts;
  // Without ≥ no fewer than 20 particles were counted at any size, so no less fluid than shows them at the upper edge.
  const fewest = Math.min(...counts.counts.map(({ count }) => count));
  return { ...counts, counting: { countedMl: (RAW_PARTICLES_MIN * counts.volumeMl) / fewest } };
}

function withFewParticles(stated: Stated): Stated {
  if (!("bySize" in stated) || stated.atLeast === undefined) return stated;
  const { atLeast } = stated;
  const sizes = [...stated.bySize].map(([size, name]): [string, string] => {
    if (!atLeast.has(size)) return [size, name];
    // No particle at all was seen in a volume that nobody states.
    return [size, name === "0" ? BEYOND : String(Number(name) + FEW_PARTICLES_SCALE_NUMBERS)];
  });
  return { bySize: new Map(sizes) };
}

function bySize(table: ClassTable<string, string>, stated: Stated): CountSet<"um(c)"> | undefined {
  if (!("bySize" in stated)) return undefined;
  const counts = table.channels.flatMap(({ name, fromUm }, index) => {
    const count = limitOf(table, index, stated.bySize.get(name));
    return count === undefined ? [] : [{ sizeUm: fromUm, count }];
  });
  // Fewer particles are larger, whatever dirtier class a larger size bears.
  let most = Number.POSITIVE_INFINITY;
  const falling = counts.map(({ sizeUm, count }) => {
    most = Math.min(most, count);
    return { sizeUm, count: most };
  });
  return falling.length === 0 ? undefined : cumulativeCounts(falling, table.volumeMl);
}

function byRange(table: ClassTable<string, string>, whole: string): UmCCounts | undefined {
  const ranges = table.channels.flatMap(({ fromUm, toUm }, index): IntervalCount[] => {
    const count = limitOf(table, index, whole);
    return count === undefined ? [] : [{ fromUm, ...(toUm !== undefined && { toUm }), count }];
  });
  return ranges.length === table.channels.length ? intervalCounts(ranges, table.volumeMl) : undefined;
}

function limitOf(
  table: ClassTable<string, string>,
  channel: number,
  name: string | undefined,
): number | undefined {
  const row = table.rows.findIndex(([own]) => own === name);
  return row === -1 ? undefined : limitsOfChannel(table, channel)[row];
}
