import { type CountSet, sampleSeenMl, USUAL_COUNTED_ML } from "../counts/index.js";
import { type ClassTable, classIndexOf, compareClasses, limitsOfChannel } from "./class-table.js";
import { readChannel } from "./size-pairs.js";
import { AS4059_CUMULATIVE, AS4059_CUMULATIVE_ROUNDED } from "./standards/as4059-cumulative.js";
import { AS4059_DIFFERENTIAL } from "./standards/as4059-differential.js";
import { GOST_17216 } from "./standards/gost-17216.js";
import { ISO_4406, ISO_4406_SIZES_UM } from "./standards/iso-4406.js";
import { NAS_1638 } from "./standards/nas-1638.js";
import { NAVY_CLASSES } from "./standards/navy.js";
import {
  BEYOND,
  type ClassStandard,
  EXPECTED,
  readStatedClass,
  type Stated,
  type StatedClass,
} from "./stated-class.js";
import { type CleanlinessTarget, isOfStandard } from "./target.js";

/** What is wrong with a class that a report states. */
export type ClassFault =
  | { readonly code: "class-differs-from-counts"; readonly computed: string }
  | {
      readonly code: "class-cannot-be";
      readonly expected: string;
      /** The class of the counts, where there are any. */
      readonly computed?: string;
    };

/**
 * Holds a stated class against the counts of its own report.
 *
 * A class is contradicted when no reading of it can be had from the counts as they are printed, the last figure rounded. Of
 * sizes that are not given nothing is known: they can make a class dirtier, never cleaner.
 *
 * @returns undefined when the class may be that of the counts, or when nothing can be said
 */
export function checkStatedClass(
  reported: StatedClass,
  counts: CountSet | undefined,
): ClassFault | undefined {
  const { standard } = reported;
  const stated = readStatedClass(reported);
  const readings = counts === undefined ? [] : readingsOf(standard, counts);
  const alike = readings.filter(({ form }) => stated === undefined || form in stated);
  const computed = [...new Set(alike.flatMap(({ computed }) => computed ?? []))].join(" or ");
  if (stated === undefined) {
    return {
      code: "class-cannot-be",
      expected: EXPECTED[standard],
      ...(computed !== "" && { computed }),
    };
  }
  if (computed === "" || alike.some(({ allows }) => allows(stated))) return undefined;
  return { code: "class-differs-from-counts", computed };
}

/** A stated class that is dirtier than the counted sizes show. */
export interface DirtierThanCounts {
  /** Classes that it is dirtier. */
  readonly classes: number;
  /** The dirtiest class that the counted sizes show. */
  readonly shown: string;
  /** Whether one particle of a size that was not counted would make it. */
  readonly isOneParticle: boolean;
}

/**
 * How much dirtier a stated class is than the counted sizes show; sizes that were not counted would have to explain it.
 *
 * Of several readings the nearest counts. Scale numbers of ISO 4406 say nothing across sizes and are not compared.
 *
 * @returns undefined when it is no dirtier, or when nothing can be said
 */
export function dirtierThanCounts(
  reported: StatedClass,
  counts: CountSet | undefined,
): DirtierThanCounts | undefined {
  const stated = readStatedClass(reported);
  if (stated === undefined || counts === undefined || reported.standard === "ISO 4406") return undefined;
  const [nearest] = readingsOf(reported.standard, counts)
    .flatMap(({ dirtier }) => dirtier(stated) ?? [])
    .sort((one, other) => one.classes - other.classes);
  return nearest !== undefined && nearest.classes > 0 ? nearest : undefined;
}

/**
 * Whether a class that names sizes is dirtier at one of them than the most particles that there can be, by every edition of
 * its table.
 *
 * @param most - such as the upper edge of another class of the same report
 */
export function isDirtierThanMost(reported: StatedClass, most: CountSet): boolean {
  const stated = readStatedClass(reported);
  if (reported.standard !== "AS4059" || stated === undefined || !("bySize" in stated)) return false;
  return [AS4059_CUMULATIVE, AS4059_CUMULATIVE_ROUNDED].every((table) =>
    bandsOf(table, most).some(({ name, to }) => {
      const own = stated.bySize.get(name);
      return own !== undefined && indexIn(table, own) > to;
    }),
  );
}

/**
 * Whether a stated class is dirtier than a target of its own standard allows.
 *
 * A class that the counts give by themselves is not: there the counts decide, by the table that the target names.
 */
export function isDirtierThanTarget(
  reported: StatedClass,
  target: CleanlinessTarget,
  counts: CountSet | undefined,
): boolean {
  const stated = readStatedClass(reported);
  if (stated === undefined || !isOfStandard(reported.standard, target.standard)) return false;
  if (counts !== undefined && readingsOf(reported.standard, counts).some(({ gives }) => gives(stated)))
    return false;
  const { table, bySize, whole } = allowedBy(target);
  const isDirtier = (name: string, most: string | undefined) =>
    most !== undefined && indexIn(table, name) > indexIn(table, most);
  if ("whole" in stated) return isDirtier(stated.whole, whole);
  return [...stated.bySize].some(([size, name]) => isDirtier(name, bySize?.get(size)));
}

/** The dirtiest class of a target for the whole sample, where it limits all of it, and for single sizes. */
function allowedBy(target: CleanlinessTarget): {
  readonly table: ClassTable<string, string>;
  readonly whole?: string;
  readonly bySize?: ReadonlyMap<string, string>;
} {
  switch (target.standard) {
    case "ISO 4406": {
      const places = target.code.flatMap((place, index): [string, string][] =>
        place.kind === "number" ? [[String(ISO_4406_SIZES_UM[index]), String(place.scaleNumber)]] : [],
      );
      return { table: ISO_4406, bySize: new Map(places) };
    }
    case "AS4059 cumulative": {
      const table = AS4059_CUMULATIVE;
      const bySize = new Map(target.bySize.map((one) => [one.size, one.class]));
      const [dirtiest] = [...bySize.values()].sort((a, b) => compareClasses(b, a));
      const isAll = bySize.size === table.channels.length && dirtiest !== undefined;
      return { table, bySize, ...(isAll && { whole: dirtiest }) };
    }
    case "NAVAIR 01-1A-17":
      return { table: NAVY_CLASSES, whole: target.class };
    default:
      return { table: AS4059_DIFFERENTIAL, whole: target.class };
  }
}

/** One way to read a class of a standard from counts. */
interface Reading {
  readonly form: "whole" | "bySize";
  /** The class as it would be written; absent when no size of the table was counted. */
  readonly computed?: string;
  /** Whether the class may be that of the counts. */
  readonly allows: (stated: Stated) => boolean;
  /** Whether the counts by themselves, as they are printed, give exactly this class. */
  readonly gives: (stated: Stated) => boolean;
  /** Absent when the class is of another form, or no size tells anything. */
  readonly dirtier: (stated: Stated) => DirtierThanCounts | undefined;
}

function readingsOf(standard: ClassStandard, counts: CountSet): Reading[] {
  switch (standard) {
    case "ISO 4406":
      return [bySize(ISO_4406, counts, describeCode)];
    case "NAS 1638":
      return [whole(NAS_1638, counts)];
    case "GOST 17216":
      return [whole(GOST_17216, counts)];
    case "NAVAIR 01-1A-17":
      return [whole(NAVY_CLASSES, counts)];
    case "AS4059": {
      // A class without a letter is size B, the worst size or the ranges, by the revision; and two tables are printed.
      const tables = [AS4059_CUMULATIVE, AS4059_CUMULATIVE_ROUNDED];
      return [
        ...tables.map((table) => bySize(table, counts, formatSizes)),
        ...tables.flatMap((table) => [whole(table, counts), whole(table, counts, "B")]),
        whole(AS4059_DIFFERENTIAL, counts),
      ];
    }
  }
}

/** The classes that a channel may have, as places in the rows of its table, and the one of the count as printed. */
interface Band {
  readonly name: string;
  readonly from: number;
  readonly at: number;
  readonly to: number;
}

/** A count printed with three figures is off by no more than this. Common practice, no source. */
const ROUNDED_BY = 0.005;

function bandsOf(table: ClassTable<string, string>, counts: CountSet): Band[] {
  return table.channels.flatMap(({ name, fromUm, toUm }, index) => {
    const reading = readChannel(counts, fromUm, toUm);
    if (reading === undefined) return [];
    const ends = toUm === undefined ? 1 : 2;
    const lower = readChannel(counts, fromUm, undefined)?.count ?? reading.count;
    const off = ends * Math.max(lastFigure(lower) / 2, ROUNDED_BY * lower);
    const limits = limitsOfChannel(table, index);
    const at = (count: number) => classIndexOf(Math.max(0, count), counts.volumeMl, limits, table.volumeMl);
    return [{ name, from: at(reading.count - off), at: at(reading.count), to: at(reading.count + off) }];
  });
}

/** What one step of the last printed figure of a count is worth. */
function lastFigure(count: number): number {
  const decimals = /\.(\d+)$/.exec(String(count))?.[1]?.length ?? 0;
  return 10 ** -decimals;
}

function indexIn(table: ClassTable<string, string>, name: string): number {
  if (name === BEYOND) return table.rows.length;
  const index = table.rows.findIndex(([row]) => row === name);
  // A grade that is not printed here: each allows twice as many as the one before.
  return index === -1 ? table.rows.length - 1 + Number(name) - Number(table.rows.at(-1)?.[0]) : index;
}

function nameIn(table: ClassTable<string, string>, index: number): string {
  return table.rows[index]?.[0] ?? table.beyond;
}

function bySize(
  table: ClassTable<string, string>,
  counts: CountSet,
  say: (found: ReadonlyMap<string, string>) => string,
): Reading {
  const bands = bandsOf(table, counts);
  const found = new Map(bands.map(({ name, at }) => [name, nameIn(table, at)]));
  return {
    form: "bySize",
    ...(bands.length > 0 && { computed: say(found) }),
    allows: (stated) =>
      "bySize" in stated &&
      bands.every(({ name, from, to }) => {
        const at = stated.bySize.get(name);
        return at === undefined || isAt(table, at, from, to);
      }),
    gives: (stated) =>
      "bySize" in stated && [...stated.bySize].every(([size, name]) => found.get(size) === name),
    dirtier: (stated) =>
      "bySize" in stated
        ? dirtierThan(
            table,
            counts,
            [...stated.bySize].filter(([size]) => !found.has(size)).map(([, name]) => name),
          )
        : undefined,
  };
}

function whole(table: ClassTable<string, string>, counts: CountSet, only?: string): Reading {
  const bands = bandsOf(table, counts).filter(({ name }) => only === undefined || name === only);
  const isWhole = bands.length === (only === undefined ? table.channels.length : 1);
  const [from, at, to] = (["from", "at", "to"] as const).map((end) =>
    Math.max(...bands.map((band) => band[end])),
  ) as [number, number, number];
  return {
    form: "whole",
    ...(bands.length > 0 && { computed: nameIn(table, at) }),
    allows: (stated) =>
      "whole" in stated &&
      bands.length > 0 &&
      isAt(table, stated.whole, from, isWhole ? to : table.rows.length),
    gives: (stated) => "whole" in stated && isWhole && nameIn(table, at) === stated.whole,
    dirtier: (stated) => ("whole" in stated ? dirtierThan(table, counts, [stated.whole]) : undefined),
  };
}

/** Whether a class is one of some neighbouring ones. A table ends with one class for all that is dirtier. */
function isAt(table: ClassTable<string, string>, name: string, from: number, to: number): boolean {
  const index = Math.min(indexIn(table, name), table.rows.length);
  return index >= from && index <= to;
}

function dirtierThan(
  table: ClassTable<string, string>,
  counts: CountSet,
  stated: readonly string[],
): DirtierThanCounts | undefined {
  const shown = shownBy(table, counts);
  if (shown === undefined || stated.length === 0) return undefined;
  const index = Math.max(...stated.map((name) => indexIn(table, name)));
  return {
    classes: index - shown,
    shown: nameIn(table, shown),
    isOneParticle: index <= classOfOneParticle(table, counts),
  };
}

/** The dirtiest class of the counted sizes; where they form no range, that of all ranges above one of them together. */
function shownBy(table: ClassTable<string, string>, counts: CountSet): number | undefined {
  const single = table.channels.flatMap((channel, index) => {
    const reading = readChannel(counts, channel.fromUm, channel.toUm);
    return reading === undefined ? [] : [{ reading, limits: limitsOfChannel(table, index) }];
  });
  const together = table.channels.flatMap(({ fromUm }, index) => {
    const reading = readChannel(counts, fromUm, undefined);
    const limits = table.rows.map(([, row]) =>
      row.slice(index).reduce<number>((sum, limit) => sum + (limit ?? 0), 0),
    );
    return reading === undefined ? [] : [{ reading, limits }];
  });
  const read = single.length > 0 ? single : together.slice(0, 1);
  if (read.length === 0) return undefined;
  return Math.max(
    ...read.map(({ reading: { count }, limits }) => {
      const index = classIndexOf(count, counts.volumeMl, limits, table.volumeMl);
      if (index < limits.length) return index;
      const times = count / counts.volumeMl / ((limits.at(-1) ?? Number.NaN) / table.volumeMl);
      return index - 1 + Math.ceil(Math.log2(times));
    }),
  );
}

/** The dirtiest class that one particle makes, of a size that was not counted, by its size range alone. */
function classOfOneParticle(table: ClassTable<string, string>, counts: CountSet): number {
  const seenMl = sampleSeenMl(counts) ?? USUAL_COUNTED_ML;
  return Math.max(
    ...table.channels.map(({ fromUm, toUm }, index) =>
      readChannel(counts, fromUm, toUm) === undefined
        ? classIndexOf(1, seenMl, limitsOfChannel(table, index), table.volumeMl)
        : 0,
    ),
  );
}

function describeCode(found: ReadonlyMap<string, string>): string {
  return ISO_4406.channels.map(({ name }) => found.get(name) ?? "-").join("/");
}

function formatSizes(found: ReadonlyMap<string, string>): string {
  return [...found].map(([size, name]) => `${name}${size}`).join("/");
}
