import type { ColumnMap } from "./column-map.js";
import { type DateConvention, DateEvidence } from "./dates.js";
import type { Entry, EntryOrSkipped } from "./entries.js";
import { type DecimalConvention, DecimalEvidence } from "./numbers.js";
import { textOf } from "./readers/row.js";

/** How the numbers and days of a file are written. */
export interface Conventions {
  readonly decimal: DecimalConvention;
  readonly dates: DateConvention;
  /** Whether a column map gave the order of dates. */
  readonly datesSettled: boolean;
  /** Zone of times that do not name one; they are local when it is absent. */
  readonly zone?: string;
}

/** What a first reading of a whole table shows. */
export interface Survey {
  readonly conventions: Conventions;
  /** Entries in the table. */
  readonly entries: number;
  /** For tables with a row for each measurand: the last row of each sample, by its key. */
  readonly lastRows: ReadonlyMap<number, number>;
}

const DATE_KINDS = ["drawn", "received", "reported"] as const;

/**
 * Reads a table once, to see how its numbers and days are written and where each sample ends.
 *
 * @param entries - all entries of the table
 * @param long - whether several entries make one sample
 * @param map - what a person has settled; it overrules what the file shows
 */
export function survey(entries: Iterable<EntryOrSkipped>, long: boolean, map: ColumnMap | undefined): Survey {
  const decimal = new DecimalEvidence();
  const dates = new DateEvidence();
  const lastRows = new Map<number, number>();
  let number = 0;
  for (const item of entries) {
    if (!("entry" in item)) continue;
    number += 1;
    const { naming, results, rows } = item.entry;
    for (const { cell, measurand } of results) {
      if (typeof cell === "string" && measurand.holds !== "class") decimal.see(cell);
    }
    for (const kind of DATE_KINDS) {
      const cell = naming[kind]?.cell;
      if (typeof cell === "string") dates.see(cell.trim());
    }
    if (long) lastRows.set(keyOf(item.entry), rows[0]?.row ?? 0);
  }
  return {
    conventions: {
      decimal: map?.decimal ?? decimal.convention,
      dates: map?.dates ?? dates.convention,
      datesSettled: map?.dates !== undefined,
      ...(map?.zone !== undefined && { zone: map.zone }),
    },
    entries: number,
    lastRows,
  };
}

const KEY_KINDS = ["sample", "cart", "circuit", "drawn"] as const;

/**
 * A number for the sample that an entry belongs to.
 *
 * Two samples may share a number by chance. That only keeps the first of them open until the second ends; what is put
 * together is decided by the texts themselves.
 */
export function keyOf({ naming }: Entry): number {
  let a = 0x811c9dc5;
  let b = 0x1000193;
  for (const kind of KEY_KINDS) {
    const text = `${textOf(naming[kind]?.cell)}\n`;
    for (let index = 0; index < text.length; index += 1) {
      const code = text.charCodeAt(index);
      a = Math.imul(a ^ code, 0x01000193);
      b = Math.imul(b ^ code, 0x5bd1e995);
    }
  }
  return (a >>> 0) * 0x200000 + ((b >>> 0) & 0x1fffff);
}
