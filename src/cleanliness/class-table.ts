import { type CountSet, countBetween, isWithin } from "../counts/index.js";
import type { Assumption, SourceKey } from "../provenance/index.js";
import { mostUsed, type ParticleLimit, shareOfLimit } from "./particle-limit.js";

/** Names of the classes that AS4059 and NAS 1638 share, cleanest first. */
export const CLASS_NAMES = [
  "000",
  "00",
  "0",
  "1",
  "2",
  "3",
  "4",
  "5",
  "6",
  "7",
  "8",
  "9",
  "10",
  "11",
  "12",
] as const;

/** A class printed in a table. */
export type ClassName = (typeof CLASS_NAMES)[number];

/** A class of a sample: printed, or more particles than the last class allows. */
export type SampleClass = ClassName | "beyond 12";

/** One size or size range of a table. */
export interface Channel<C extends string> {
  readonly name: C;
  readonly fromUm: number;
  readonly toUm?: number;
}

/** A printed table of classes: the most particles per `volumeMl`, a row for each class, cleanest first. */
export interface ClassTable<C extends string> {
  readonly standard: string;
  readonly source: SourceKey;
  readonly volumeMl: number;
  readonly channels: readonly Channel<C>[];
  readonly rows: readonly (readonly [ClassName, readonly number[]])[];
}

/** One channel of a classified sample. */
export interface ClassifiedChannel<C extends string> {
  readonly channel: C;
  readonly class: SampleClass;
  /** Particles as reported, in the volume of the count set. */
  readonly count: number;
  /** Upper limit of the class, or of class 12 when the sample is beyond it, per the table's volume. */
  readonly limit: number;
  /** Count divided by that limit, both per mL. */
  readonly share: number;
}

/** A sample classified by one table. */
export interface ClassResult<C extends string> {
  readonly standard: string;
  readonly source: SourceKey;
  /** The worst class of the channels that were counted. */
  readonly class: SampleClass;
  readonly channels: readonly ClassifiedChannel<C>[];
  /**
   * The channel that decides the class. Of several channels in the worst class it is the one that uses the
   * most of its limit, and of equal ones the smallest size.
   */
  readonly governing: C;
  /** Channels of the table that the counted sizes cannot serve. The class says nothing about them. */
  readonly missing: readonly C[];
  readonly assumptions: readonly Assumption[];
}

/**
 * Orders classes from clean to dirty.
 *
 * @returns less than 0 when `a` is cleaner than `b`, 0 when they are the same, more than 0 when it is dirtier
 * @example
 * compareClasses("00", "12") < 0; // => true
 */
export function compareClasses(a: SampleClass, b: SampleClass): number {
  return rank(a) - rank(b);
}

function rank(name: SampleClass): number {
  return name === "beyond 12" ? CLASS_NAMES.length : CLASS_NAMES.indexOf(name);
}

/**
 * Reads a class name.
 *
 * @param text - "000" to "12"
 * @returns the class, or undefined when the text is none
 */
export function readClassName(text: string): ClassName | undefined {
  return CLASS_NAMES.find((name) => name === text.trim());
}

/**
 * The limits of one class in the given channels.
 *
 * @throws RangeError when the table has no such class
 */
export function limitsOfClass<C extends string>(
  table: ClassTable<C>,
  className: ClassName,
  channels: readonly C[] = table.channels.map((channel) => channel.name),
): ParticleLimit[] {
  const row = table.rows.find(([name]) => name === className);
  if (row === undefined) throw new RangeError(`${table.standard} has no class ${className}`);
  return table.channels.flatMap(({ name, ...sizes }, index) =>
    channels.includes(name)
      ? [{ channel: name, ...sizes, limit: row[1][index] as number, volumeMl: table.volumeMl }]
      : [],
  );
}

/**
 * Classifies counts by a table, channel by channel; the class of the sample is the worst of them.
 *
 * @param table - a printed table
 * @param counts - cumulative counts on the µm(c) scale
 * @returns the result, or undefined when no channel of the table can be formed from the counted sizes
 */
export function classifyByTable<C extends string>(
  table: ClassTable<C>,
  counts: CountSet,
): ClassResult<C> | undefined {
  const channels: ClassifiedChannel<C>[] = [];
  const missing: C[] = [];
  table.channels.forEach((channel, index) => {
    const count = countBetween(counts, channel.fromUm, channel.toUm);
    if (count === undefined) {
      missing.push(channel.name);
      return;
    }
    const limits = table.rows.map(([, row]) => row[index] as number);
    const row = limits.findIndex((limit) => isWithin(count, counts.volumeMl, limit, table.volumeMl));
    // Beyond the last class there is no row (-1), and the count is shown against the last limit.
    const limit = limits.at(row) as number;
    channels.push({
      channel: channel.name,
      class: table.rows[row]?.[0] ?? "beyond 12",
      count,
      limit,
      share: shareOfLimit(count, counts.volumeMl, limit, table.volumeMl),
    });
  });
  const worst = channels
    .map((channel) => channel.class)
    .sort(compareClasses)
    .at(-1);
  const governing = mostUsed(channels.filter((channel) => channel.class === worst));
  if (worst === undefined || governing === undefined) return undefined;
  return {
    standard: table.standard,
    source: table.source,
    class: worst,
    channels,
    governing: governing.channel,
    missing,
    assumptions: missing.length === 0 ? [] : [partial(table, missing)],
  };
}

function partial<C extends string>(table: ClassTable<C>, missing: readonly C[]): Assumption {
  const kind = table.channels.some((channel) => channel.toUm !== undefined) ? "ranges" : "sizes";
  return {
    code: "class-from-some-channels",
    message:
      `${table.standard}: the class rests on the ${kind} that were counted; ` +
      `${missing.join(", ")} could not be formed from the given sizes and may be worse`,
    source: table.source,
  };
}
