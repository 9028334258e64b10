import { type ClassTable, classIndexOf, limitsOfChannel } from "./class-table.js";
import { AS4059_CUMULATIVE } from "./standards/as4059-cumulative.js";
import type { SizedClass } from "./standards/as4059-notation.js";
import type { AllowedCounts } from "./standards/iso-4406-compare.js";

/** The classes a channel can be in. */
export interface PossibleChannel<C extends string, N extends string> {
  readonly channel: C;
  readonly cleanest: N;
  readonly dirtiest: N;
  /** Whether the code itself speaks of every size of the channel. */
  readonly stated: boolean;
}

/** The classes that a fluid can have in one standard when only its code in another is known. */
export interface CrossReading<C extends string, N extends string> {
  readonly standard: string;
  readonly channels: readonly PossibleChannel<C, N>[];
  /** Over all channels of the table: no fluid of the code is cleaner or dirtier than this. */
  readonly cleanest: N;
  readonly dirtiest: N;
  /** Over the channels that the code speaks of; absent when it speaks of none. */
  readonly ofStated?: { readonly cleanest: N; readonly dirtiest: N };
}

/**
 * The classes that a fluid can have in a table, from what is known of its counts.
 *
 * There is no converting of classes. The code says between which counts the fluid lies, and every class those counts
 * allow is possible. Sizes the code does not speak of are bounded by the next smaller size alone, since fewer particles
 * are larger: they can be in very dirty classes.
 *
 * @param table - the table to read in
 * @param allowed - ranges of cumulative counts per mL, from {@link countsOfIso4406} or {@link countsOfAs4059}
 * @returns for each channel, and for the worst of them, the cleanest and the dirtiest class possible
 * @example
 * crossRead(AS4059_CUMULATIVE, countsOfIso4406(parseIso4406("18/16/13"))).ofStated; // => { cleanest: "8", dirtiest: "9" }
 */
export function crossRead<C extends string, N extends string>(
  table: ClassTable<C, N>,
  allowed: readonly AllowedCounts[],
): CrossReading<C, N> {
  const speaksOf = allowed.filter((range) => range.moreThan !== undefined || range.upTo !== undefined);
  const sizes = speaksOf.map((range) => range.sizeUm);
  const placed = table.channels.map(({ name, fromUm, toUm }, index) => {
    const limits = limitsOfChannel(table, index);
    const most = mostAt(allowed, fromUm) - (toUm === undefined ? 0 : leastAt(allowed, toUm));
    const few = leastAt(allowed, fromUm) - (toUm === undefined ? 0 : mostAt(allowed, toUm));
    return {
      name,
      cleanest: cleanestIndex(limits, few, table.volumeMl),
      dirtiest: classIndexOf(most, 1, limits, table.volumeMl),
      stated: sizes.includes(fromUm) && (toUm === undefined || sizes.includes(toUm)),
    };
  });
  const nameOf = (index: number) => table.rows[index]?.[0] ?? table.beyond;
  const worst = (of: typeof placed) => ({
    cleanest: nameOf(Math.max(...of.map((entry) => entry.cleanest))),
    dirtiest: nameOf(Math.max(...of.map((entry) => entry.dirtiest))),
  });
  const stated = placed.filter((entry) => entry.stated);
  return {
    standard: table.standard,
    channels: placed.map(({ name, cleanest, dirtiest, stated: own }) => ({
      channel: name,
      cleanest: nameOf(cleanest),
      dirtiest: nameOf(dirtiest),
      stated: own,
    })),
    ...worst(placed),
    ...(stated.length > 0 && { ofStated: worst(stated) }),
  };
}

/** The count at a size is more than this, per mL: no less than at any larger size. */
function leastAt(allowed: readonly AllowedCounts[], sizeUm: number): number {
  return Math.max(
    0,
    ...allowed.filter((range) => range.sizeUm >= sizeUm).map((range) => range.moreThan ?? 0),
  );
}

/** The count at a size is at most this, per mL: no more than at any smaller size. */
function mostAt(allowed: readonly AllowedCounts[], sizeUm: number): number {
  const bounds = allowed.filter((range) => range.sizeUm <= sizeUm).map((range) => range.upTo ?? Infinity);
  return Math.min(Number.POSITIVE_INFINITY, ...bounds);
}

/** The first class that some count above `moreThan` fits; a count of 0 is possible when nothing is known from below. */
function cleanestIndex(limits: readonly (number | undefined)[], moreThan: number, volumeMl: number): number {
  if (!(moreThan > 0)) return classIndexOf(0, 1, limits, volumeMl);
  const index = limits.findIndex((limit) => limit !== undefined && limit / volumeMl > moreThan);
  return index === -1 ? limits.length : index;
}

/**
 * The counts that AS4059 cumulative classes stand for: more than the limit of the next cleaner class, up to their own.
 *
 * @param bySize - classes by size code
 * @returns ranges of cumulative counts per mL
 * @source AS4059-CUMULATIVE
 * @example
 * countsOfAs4059([{ size: "B", class: "6" }])[0].upTo; // => 194.62
 */
export function countsOfAs4059(bySize: readonly SizedClass[]): AllowedCounts[] {
  return bySize.map(({ size, class: name }) => {
    const channel = AS4059_CUMULATIVE.channels.findIndex((entry) => entry.name === size);
    const row = AS4059_CUMULATIVE.rows.findIndex(([own]) => own === name);
    const limits = limitsOfChannel(AS4059_CUMULATIVE, channel);
    const cleaner = limits[row - 1];
    return {
      sizeUm: AS4059_CUMULATIVE.channels[channel]?.fromUm ?? Number.NaN,
      ...(cleaner !== undefined && { moreThan: cleaner / AS4059_CUMULATIVE.volumeMl }),
      upTo: (limits[row] ?? Number.NaN) / AS4059_CUMULATIVE.volumeMl,
    };
  });
}
