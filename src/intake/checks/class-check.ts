import {
  AS4059_CUMULATIVE,
  AS4059_CUMULATIVE_ROUNDED,
  AS4059_DIFFERENTIAL,
  type ClassTable,
  classIndexOf,
  GOST_17216,
  ISO_4406,
  type Iso4406Code,
  limitsOfChannel,
  NAS_1638,
  NAVY_CLASSES,
  readChannel,
  readIso4406,
  readSizedClasses,
  readTwoNumberCode,
} from "../../cleanliness/index.js";
import type { CountSet } from "../../counts/index.js";
import type { ReportedClass } from "../../samples/index.js";

/** What is wrong with a class that a report states. */
export type ClassFault =
  | { readonly code: "class-differs-from-counts"; readonly computed: string }
  | { readonly code: "class-cannot-be"; readonly expected: string };

/**
 * Holds a stated class against the counts of its own report.
 *
 * A class is contradicted when no reading of it can be had from the counts as they are printed, the last figure rounded. Of
 * sizes that are not given nothing is known: they can make a class dirtier, never cleaner.
 *
 * @returns undefined when the class may be that of the counts, or when nothing can be said
 */
export function checkClass(
  { standard, class: text }: ReportedClass,
  counts: CountSet | undefined,
): ClassFault | undefined {
  const stated = readStated(standard, text);
  const readings = counts === undefined ? [] : readingsOf(standard, counts);
  const alike = readings.filter(({ form }) => stated === undefined || form in stated);
  const computed = [...new Set(alike.flatMap(({ computed }) => computed ?? []))].join(" or ");
  if (stated === undefined) {
    return computed === ""
      ? { code: "class-cannot-be", expected: EXPECTED[standard] }
      : { code: "class-differs-from-counts", computed };
  }
  if (computed === "" || alike.some(({ allows }) => allows(stated))) return undefined;
  return { code: "class-differs-from-counts", computed };
}

/** A class as it is stated: one for the whole sample, or some for single sizes. */
type Stated = { readonly whole: string } | { readonly bySize: ReadonlyMap<string, string> };

const EXPECTED: Record<ReportedClass["standard"], string> = {
  "ISO 4406": "three scale numbers that do not rise, such as 18/16/13",
  "NAS 1638": "a class from 00 to 12",
  AS4059: "a class from 000 to 12, alone or with size codes such as 6B-F or 7A/6B/5C",
  "GOST 17216": "a grade from 00 to 17",
  "NAVAIR 01-1A-17": "a class from 0 to 6",
};

/** No class is written in more characters, whatever stands around it. */
const LONGEST_CLASS = 100;
/** Dirtier than the last class that is printed here. */
const BEYOND = "beyond";

function readStated(standard: ReportedClass["standard"], text: string): Stated | undefined {
  if (text.length > LONGEST_CLASS) return undefined;
  const plain = withoutLabel(text);
  if (standard === "ISO 4406") return readCode(plain);
  if (standard === "AS4059" && /\d[A-F]/i.test(plain)) return readSizes(plain);
  const last = { "NAS 1638": 12, AS4059: 12, "GOST 17216": 17, "NAVAIR 01-1A-17": 6 }[standard];
  if (/^(?:>|beyond|over|above|more than|worse than) ?\d{1,2}$|^\d{1,2} ?\+$/i.test(plain))
    return { whole: BEYOND };
  if (!/^(?:0{1,3}|[1-9]\d?)$/.test(plain) || Number(plain) > last) return undefined;
  if (plain === "000" && standard !== "AS4059") return undefined;
  if (standard === "GOST 17216" && Number(plain) > 8) return { whole: BEYOND };
  return standard === "NAVAIR 01-1A-17" && plain === "00" ? undefined : { whole: plain };
}

/** A cell without the name of its standard, its edition, notes in brackets and words such as "class". */
function withoutLabel(text: string): string {
  return text
    .normalize("NFKC")
    .replace(/\([^)]*\)/g, " ")
    .replace(/\biso[ -]?4406(?:\s?[:-]\s?(?:19|20)\d\d)?/gi, " ")
    .replace(/\b(?:sae )?as[ -]?4059 ?[a-h]?(?![\p{L}\d])/giu, " ")
    .replace(/\bnas(?:[ -]?1638)?(?![\p{L}])|\bgost(?:[ -]?17216)?|\bnavair(?: ?01-1a-17)?|\bnavy\b/giu, " ")
    .replace(
      /\b(?:iso|sae|class|cl|code|level|grade|cleanliness|contamination|rev(?:ision)? [a-h]|table [12])\b\.?/gi,
      " ",
    )
    .replace(/[:=]/g, " ")
    .replace(/\s+/g, " ")
    .trim();
}

function readCode(text: string): Stated | undefined {
  const code = text.replace(/ /g, "").replace(/(?<=\d)[-–](?=[≥>]?\d)/g, "/");
  const places = tryRead(() => readIso4406(code)) ?? tryRead(() => readTwoNumberCode(code));
  return (
    places && {
      bySize: new Map(ISO_4406.channels.flatMap(({ name }, index) => placeOf(name, places[index]))),
    }
  );
}

function placeOf(name: string, place: Iso4406Code[number] | undefined): [string, string][] {
  if (place === undefined || place.kind === "not-counted" || place.kind === "too-many") return [];
  return [[name, place.kind === "beyond" ? BEYOND : String(place.scaleNumber)]];
}

function readSizes(text: string): Stated | undefined {
  const sizes = tryRead(() => readSizedClasses(text.toUpperCase().replace(/\s*[/,;]\s*|\s+(?=\d)/g, "/")));
  return sizes && { bySize: new Map(sizes.map((one) => [one.size, one.class])) };
}

function tryRead<T>(read: () => T): T | undefined {
  try {
    return read();
  } catch {
    return undefined;
  }
}

/** One way to read a class of a standard from counts. */
interface Reading {
  readonly form: "whole" | "bySize";
  /** The class as it would be written; absent when no size of the table was counted. */
  readonly computed?: string;
  readonly allows: (stated: Stated) => boolean;
}

function readingsOf(standard: ReportedClass["standard"], counts: CountSet): Reading[] {
  switch (standard) {
    case "ISO 4406":
      return [bySize(ISO_4406, counts, sayCode)];
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
        ...tables.map((table) => bySize(table, counts, saySizes)),
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

function bandsOf<C extends string, N extends string>(table: ClassTable<C, N>, counts: CountSet): Band[] {
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

function indexIn<C extends string, N extends string>(table: ClassTable<C, N>, name: string): number {
  return name === BEYOND ? table.rows.length : table.rows.findIndex(([row]) => row === name);
}

function nameIn<C extends string, N extends string>(table: ClassTable<C, N>, index: number): string {
  return table.rows[index]?.[0] ?? table.beyond;
}

function bySize<C extends string, N extends string>(
  table: ClassTable<C, N>,
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
        if (at === undefined) return true;
        const index = indexIn(table, at);
        return index >= from && index <= to;
      }),
  };
}

function whole<C extends string, N extends string>(
  table: ClassTable<C, N>,
  counts: CountSet,
  only?: C,
): Reading {
  const bands = bandsOf(table, counts).filter(({ name }) => only === undefined || name === only);
  const isWhole = bands.length === (only === undefined ? table.channels.length : 1);
  const [from, at, to] = (["from", "at", "to"] as const).map((end) =>
    Math.max(...bands.map((band) => band[end])),
  ) as [number, number, number];
  return {
    form: "whole",
    ...(bands.length > 0 && { computed: nameIn(table, at) }),
    allows: (stated) => {
      if (!("whole" in stated) || bands.length === 0) return false;
      const index = indexIn(table, stated.whole);
      return index >= from && (index <= to || !isWhole);
    },
  };
}

function sayCode(found: ReadonlyMap<string, string>): string {
  return ISO_4406.channels.map(({ name }) => found.get(name) ?? "-").join("/");
}

function saySizes(found: ReadonlyMap<string, string>): string {
  return [...found].map(([size, name]) => `${name}${size}`).join("/");
}
