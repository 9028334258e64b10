import type { Assumption } from "../../provenance/index.js";
import type { ReportedClass } from "../../samples/index.js";
import type { ColumnMap } from "../column-map.js";
import { type KeptPlace, keptPlace } from "../kept.js";
import {
  type CountMeaning,
  type Description,
  isDescribed,
  isMeasurand,
  type Meaning,
  NEEDED_NAMING,
} from "../meaning.js";
import { keptUnit } from "../quantities.js";
import type { Table } from "../tables.js";

/** What a column holds, as a number, because the scanner asks it of every cell. */
export const HOLDS = {
  nothing: 0,
  sample: 1,
  cart: 2,
  circuit: 3,
  fluid: 4,
  drawn: 5,
  received: 6,
  reported: 7,
  "drawn-time": 8,
  class: 9,
  count: 10,
  measured: 11,
  described: 12,
} as const;

/** A column of measured values that are written in the unit siltbook keeps. */
export interface MeasuredPlace {
  readonly place: KeptPlace;
  /** What the unit leaves open. */
  readonly assumption?: Assumption;
}

/** How the rows of a wide table are read cell by cell, where that can be done without looking at other rows. */
export interface PlainPlan {
  /** One of {@link HOLDS} for each column. */
  readonly holds: Int8Array;
  /** For counts, measured values, classes and words: the place in `counts`, `measured`, `classes` or `described`. */
  readonly slots: Int8Array;
  /** Columns of counts in the order of the file. */
  readonly counts: readonly CountMeaning[];
  /** Slots of the counts, smallest size first. */
  readonly bySize: Int8Array;
  readonly measured: readonly MeasuredPlace[];
  readonly classes: readonly ReportedClass["standard"][];
  readonly described: readonly Description[];
  /** What holds for every row and stands in no column. */
  readonly fixed: NonNullable<ColumnMap["fixed"]>;
  /** Whether a column holds times of day. */
  readonly hasTimes: boolean;
  /** Rows up to this one are above the table. */
  readonly lastHeaderRow: number;
}

/**
 * Finds out whether the rows of a table can be read cell by cell.
 *
 * @returns the plan, or undefined when the table has another shape or columns that need the ordinary reader
 */
export function plainPlan({ layout }: Table, map: ColumnMap | undefined): PlainPlan | undefined {
  const { columns, headerRows, shape } = layout;
  if (shape !== "wide" || columns.length === 0 || columns.length > MOST_PLAIN_COLUMNS) return undefined;
  // A text that could also be a number may mean "not measured".
  if (map?.blanks?.some((text) => /^[\s<>=\d.,-]/.test(text))) return undefined;
  const holds = new Int8Array(columns.length);
  const slots = new Int8Array(columns.length);
  const counts: CountMeaning[] = [];
  const measured: MeasuredPlace[] = [];
  const classes: ReportedClass["standard"][] = [];
  const described: Description[] = [];
  const named = new Map<string, number>();
  for (const [index, { recognition }] of columns.entries()) {
    if (recognition.kind === "unsure") return undefined;
    if (recognition.kind === "unknown") continue;
    const { meaning } = recognition;
    if (!isMeasurand(meaning)) {
      if (meaning.holds === "nothing") continue;
      if (!isPlainNaming(meaning.holds)) return undefined;
      const before = named.get(meaning.holds);
      // Of two columns of one name the last is read.
      if (before !== undefined) holds[before] = HOLDS.nothing;
      named.set(meaning.holds, index);
      holds[index] = HOLDS[meaning.holds];
      continue;
    }
    if (meaning.holds === "class") {
      holds[index] = HOLDS.class;
      slots[index] = classes.push(meaning.standard) - 1;
    } else if (isDescribed(meaning)) {
      // One of these texts could be a word as well.
      if (map?.blanks !== undefined || described.includes(meaning.holds)) return undefined;
      holds[index] = HOLDS.described;
      slots[index] = described.push(meaning.holds) - 1;
    } else if (meaning.holds === "count") {
      if (!isPlainCount(meaning, counts)) return undefined;
      holds[index] = HOLDS.count;
      slots[index] = counts.push(meaning) - 1;
    } else {
      // A counted volume goes with the counts of its row.
      if (meaning.holds === "counted") return undefined;
      const unit = meaning.unit === undefined ? undefined : keptUnit(meaning.unit, meaning.holds);
      if (unit === undefined || named.has(meaning.holds)) return undefined;
      named.set(meaning.holds, index);
      holds[index] = HOLDS.measured;
      slots[index] = measured.push({ place: keptPlace(meaning.holds), ...unit }) - 1;
    }
  }
  const fixed = map?.fixed ?? {};
  if (!NEEDED_NAMING.every((kind) => named.has(kind) || kind in fixed)) return undefined;
  return {
    holds,
    slots,
    counts,
    bySize: Int8Array.from(
      counts.map((_, slot) => slot).sort((a, b) => sizeAt(counts, a) - sizeAt(counts, b)),
    ),
    measured,
    classes,
    described,
    fixed,
    hasTimes: named.has("drawn-time"),
    lastHeaderRow: Math.max(0, ...headerRows.map(({ row }) => row)),
  };
}

/** Numbers of columns must fit into a byte. */
const MOST_PLAIN_COLUMNS = 100;

type PlainNaming = "sample" | "cart" | "circuit" | "fluid" | "drawn" | "received" | "reported" | "drawn-time";

function isPlainNaming(holds: Meaning["holds"]): holds is PlainNaming {
  return holds in HOLDS;
}

function isPlainCount(count: CountMeaning, others: readonly CountMeaning[]): boolean {
  return (
    count.scale === "um(c)" &&
    count.toUm === undefined &&
    others.every((other) => other.volumeMl === count.volumeMl && other.fromUm !== count.fromUm)
  );
}

function sizeAt(counts: readonly CountMeaning[], slot: number): number {
  return counts[slot]?.fromUm ?? 0;
}
