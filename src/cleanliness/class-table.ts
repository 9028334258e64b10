import {
  bringToVolume,
  type CountBasis,
  type CountReading,
  isWithin,
  leastDirect,
  subtractAsWritten,
} from "../counts/index.js";
import { type Assumption, frozen, type SourceKey } from "../provenance/index.js";
import { mostUsed, type ParticleLimit, shareOfLimit } from "./particle-limit.js";
import { readChannel, type TableCounts } from "./size-pairs.js";

/** Names of the classes that AS4059 and NAS 1638 share, cleanest first. */
export const CLASS_NAMES = frozen([
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
] as const);

/** A class printed in a table. */
export type ClassName = (typeof CLASS_NAMES)[number];

/** A class of a sample: printed, or more particles than the last class allows. */
export type SampleClass = ClassName | "beyond 12";

/** One size or size range of a table. */
export interface Channel<C extends string> {
  readonly name: C;
  /** Lower size in µm(c). */
  readonly fromUm: number;
  /** Upper size in µm(c); absent for all particles above `fromUm`. */
  readonly toUm?: number;
}

/** A printed table of classes: the most particles per `volumeMl`, a row for each class, cleanest first. */
export interface ClassTable<C extends string, N extends string = SampleClass> {
  readonly standard: string;
  /** Which of several printed tables it is. */
  readonly edition: string;
  readonly source: SourceKey;
  readonly volumeMl: number;
  readonly channels: readonly Channel<C>[];
  /** A limit that is not printed is undefined; no count is put into that class by that channel. */
  readonly rows: readonly (readonly [N, readonly (number | undefined)[]])[];
  /** What a sample is called that exceeds the last class. */
  readonly beyond: N;
}

/** One channel of a classified sample. */
export interface ClassifiedChannel<C extends string, N extends string = SampleClass> {
  readonly channel: C;
  readonly class: N;
  /** Particles as reported, in the volume of the count set. */
  readonly count: number;
  /** Whether the count was measured here, converted from another scale or estimated. */
  readonly basis: CountBasis;
  /** Limit of the next cleaner class, which the count exceeds, per the table's volume; absent in the cleanest class. */
  readonly moreThan?: number;
  /** Upper limit of the class, or of the last class when the sample is beyond it, per the table's volume. */
  readonly limit: number;
  /** Count divided by that limit, both per mL. */
  readonly share: number;
  /**
   * Particles, in the volume of the count set, that may be added before the next class begins. Below 0 when the sample
   * is beyond the last class: by so much the last limit is exceeded.
   */
  readonly margin: number;
}

/** A sample classified by one table. */
export interface ClassResult<C extends string, N extends string = SampleClass> {
  readonly standard: string;
  readonly edition: string;
  readonly source: SourceKey;
  /** The worst class of the channels that were counted. */
  readonly class: N;
  readonly channels: readonly ClassifiedChannel<C, N>[];
  /**
   * The channel that decides the class. Of several channels in the worst class it is the one that uses the
   * most of its limit, and of equal ones the smallest size.
   */
  readonly governing: C;
  /** Channels of the table that the counted sizes cannot serve. The class says nothing about them. */
  readonly missing: readonly C[];
  /** Volume in mL that the counts and margins stand for. */
  readonly countVolumeMl: number;
  /** Volume in mL that the limits stand for. */
  readonly limitVolumeMl: number;
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
 * @returns the class, or undefined when the text names no class
 */
export function readClassName(text: string): ClassName | undefined {
  return CLASS_NAMES.find((name) => name === text.trim());
}

/** The printed limits of one channel, cleanest class first, per the table's volume. */
export function limitsOfChannel<C extends string, N extends string>(
  table: ClassTable<C, N>,
  channel: number,
): readonly (number | undefined)[] {
  return limitsIn(table).byChannel[channel] ?? [];
}

/** The limits of a table, by channel and by class. */
interface TableLimits {
  readonly byChannel: readonly (readonly (number | undefined)[])[];
  readonly byClass: ReadonlyMap<string, readonly ParticleLimit[]>;
}

/** Of every table that was asked for: a fleet is judged by the same few classes. */
const LIMITS = new WeakMap<object, TableLimits>();

function limitsIn<C extends string, N extends string>(table: ClassTable<C, N>): TableLimits {
  const known = LIMITS.get(table);
  if (known !== undefined) return known;
  const { channels, rows, volumeMl } = table;
  const limits: TableLimits = {
    byChannel: channels.map((_, index) => rows.map(([, row]) => row[index])),
    byClass: new Map(
      rows.map(([name, row]) => [
        name,
        channels.flatMap(({ name: channel, ...sizes }, index) => {
          const limit = row[index];
          return limit === undefined ? [] : [Object.freeze({ channel, ...sizes, limit, volumeMl })];
        }),
      ]),
    ),
  };
  LIMITS.set(table, limits);
  return limits;
}

/**
 * The limits of one class in the given channels.
 *
 * @throws RangeError when the table has no such class
 */
export function limitsOfClass<C extends string, N extends string>(
  table: ClassTable<C, N>,
  className: N,
  channels?: readonly C[],
): ParticleLimit[] {
  const limits = limitsIn(table).byClass.get(className);
  if (limits === undefined) throw new RangeError(`${table.standard} has no class ${className}`);
  return limits.filter(({ channel }) => channels?.includes(channel as C) ?? true);
}

/**
 * The place of a count among the limits of a channel: the first class whose limit it does not exceed.
 *
 * @param limits - printed limits, cleanest first
 * @returns the index of the class; the number of limits when the count exceeds all of them
 */
export function classIndexOf(
  count: number,
  volumeMl: number,
  limits: readonly (number | undefined)[],
  limitVolumeMl: number,
): number {
  for (let index = 0; index < limits.length; index += 1) {
    const limit = limits[index];
    if (limit !== undefined && isWithin(count, volumeMl, limit, limitVolumeMl)) return index;
  }
  return limits.length;
}

/**
 * Classifies counts by a table, channel by channel; the class of the sample is the worst of them.
 *
 * @param table - a printed table
 * @param counts - counts on a scale that the table knows
 * @param nativeBasis - the most direct basis that counts on this scale can have in this table
 * @param assumptions - what the reading of the table rests on, besides the channels
 * @returns the result, or undefined when no channel of the table can be formed from the counted sizes
 */
export function classifyByTable<C extends string, N extends string>(
  table: ClassTable<C, N>,
  counts: TableCounts,
  nativeBasis: CountBasis = "measured",
  assumptions: readonly Assumption[] = [],
): ClassResult<C, N> | undefined {
  const placed: { index: number; share: number; channel: ClassifiedChannel<C, N> }[] = [];
  const missing: C[] = [];
  table.channels.forEach(({ name, fromUm, toUm }, place) => {
    const reading = readChannel(counts, fromUm, toUm);
    if (reading === undefined) {
      missing.push(name);
      return;
    }
    const limits = limitsOfChannel(table, place);
    const index = classIndexOf(reading.count, counts.volumeMl, limits, table.volumeMl);
    const channel = describe(table, name, limits, index, reading, counts.volumeMl, nativeBasis);
    placed.push({ index, share: channel.share, channel });
  });
  const worst = Math.max(...placed.map((entry) => entry.index));
  const governing = mostUsed(placed.filter((entry) => entry.index === worst))?.channel;
  if (governing === undefined) return undefined;
  return {
    standard: table.standard,
    edition: table.edition,
    source: table.source,
    class: governing.class,
    channels: placed.map((entry) => entry.channel),
    governing: governing.channel,
    missing,
    countVolumeMl: counts.volumeMl,
    limitVolumeMl: table.volumeMl,
    assumptions: missing.length === 0 ? assumptions : [...assumptions, partial(table, missing)],
  };
}

function describe<C extends string, N extends string>(
  table: ClassTable<C, N>,
  channel: C,
  limits: readonly (number | undefined)[],
  index: number,
  reading: CountReading,
  volumeMl: number,
  nativeBasis: CountBasis,
): ClassifiedChannel<C, N> {
  // Beyond the last class there is no row, and the count is shown against the last limit.
  const limit = limits[index] ?? (lastLimit(limits, limits.length) as number);
  const moreThan = lastLimit(limits, index);
  const { count } = reading;
  const name = table.rows[index]?.[0] ?? table.beyond;
  const basis = leastDirect(reading.basis, nativeBasis);
  const share = shareOfLimit(count, volumeMl, limit, table.volumeMl);
  const margin = subtractAsWritten(bringToVolume(limit, table.volumeMl, volumeMl), count);
  // Written out twice: putting one together from parts takes longer than all of the rest.
  return moreThan === undefined
    ? { channel, class: name, count, basis, limit, share, margin }
    : { channel, class: name, count, basis, moreThan, limit, share, margin };
}

/** The last limit that is printed before a place. */
function lastLimit(limits: readonly (number | undefined)[], end: number): number | undefined {
  let at = end - 1;
  while (at >= 0 && limits[at] === undefined) at -= 1;
  return limits[at];
}

function partial<C extends string, N extends string>(
  table: ClassTable<C, N>,
  missing: readonly C[],
): Assumption {
  const kind = table.channels.some((channel) => channel.toUm !== undefined) ? "ranges" : "sizes";
  return {
    code: "class-from-some-channels",
    message:
      `${table.standard}: the class rests on the ${kind} that were counted; ` +
      `${missing.join(", ")} could not be formed from the given sizes and may be worse`,
    source: table.source,
  };
}
