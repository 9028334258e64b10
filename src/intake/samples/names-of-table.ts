import { isDeepStrictEqual } from "node:util";
import { readColour, tryParseFluidSpecification } from "../../fluids/index.js";
import { describePlaces } from "../../provenance/index.js";
import { IntakeError, type NotSampleRow, shown } from "../checks/issue.js";
import type { ColumnMap } from "../layout/column-map.js";
import type { Identity } from "../layout/identity.js";
import type { Layout } from "../layout/layout.js";
import { kindsIn, type Naming } from "../layout/meaning.js";
import { namer } from "../layout/namer.js";
import {
  isOfFilling,
  mayNameAnother,
  type NameAround,
  namesInLine,
  namesOtherCart,
} from "../layout/names-around.js";
import type { Section } from "../layout/sections.js";
import type { NamedSamples, Table } from "../layout/tables.js";
import { type RawRow, textOf } from "../rows/row.js";
import { readDescription } from "../words/described.js";
import {
  type Entry,
  type EntryOrSkipped,
  faultOfRow,
  fixedNaming,
  OF_THE_MAP,
  type PlacedCell,
  type RowFault,
  unreadEntry,
} from "./entry.js";
import { areTwoFluids, NamesInRows } from "./names-in-rows.js";
import { isNamed, type NamedEntry, namesNoFluid } from "./read-sample.js";

/** What stands around a table and is taken for its samples: names, and how the bottles were filled where that is understood. */
export function saidAround({ names = [] }: Table): readonly NameAround[] {
  return names.filter((name) => !name.hasColumn && isUnderstood(name));
}

function isUnderstood({ kind, cell }: NameAround): boolean {
  if (!isOfFilling(kind)) return true;
  if (kind === "colour" && isColour(textOf(cell))) return true;
  const { findings, notUnderstood } = readDescription(kind, textOf(cell));
  return findings.length > 0 && notUnderstood.length === 0;
}

/** "Black" under a colour is asked about; "by eye" and the number of a scale name none. */
function isColour(text: string): boolean {
  const { seen, unknown } = readColour(text);
  return seen.length > 0 && unknown.length === 0;
}

/** Completes the names of samples with what stands around their table, in other sheets, and in the column map. */
export class NamesOfTable {
  readonly #around: Map<string, NameAround>;
  /** A cart that is named above a column of carts, and a fluid above one of fluids. */
  #cart: NameAround | undefined;
  readonly #fluid: NameAround | undefined;
  readonly #inRows = new NamesInRows();
  /** A line that names another fluid for the rows below it, until one comes. */
  #held: { readonly row: RawRow; readonly why: NotSampleRow["why"] } | undefined;

  constructor(
    private readonly table: Table,
    private readonly map: ColumnMap | undefined,
  ) {
    this.#around = new Map(saidAround(table).map((found) => [found.kind, found]));
    this.#cart = table.names?.find(({ kind, hasColumn }) => kind === "cart" && hasColumn);
    this.#fluid = table.names?.find(({ kind, hasColumn }) => kind === "fluid" && hasColumn);
  }

  /**
   * A row with the names that stand outside of it; a line that gives such names is no sample. One that names what no row before
   * it does comes with the row below it, or waits at the end of the table.
   */
  of(item: EntryOrSkipped & { readonly section?: Section }): readonly EntryOrSkipped[] {
    const layout = item.section?.layout ?? this.table.layout;
    if ("skipped" in item) {
      const { row, why } = item.skipped;
      if (why !== "footer") return [item];
      if (this.#takes(row)) return this.#hold(row, why);
      this.#endsAt(row);
      return [this.#inDoubt(row, layout) ?? item];
    }
    const { rows, results, faults } = item.entry;
    const [row, ...more] = rows;
    if (row !== undefined && more.length === 0) {
      if (this.#takes(row)) return this.#hold(row, "header");
      if (results.every(({ cell }) => textOf(cell) === "")) this.#endsAt(row);
      // A line with a figure in it may have been taken for a row that was cut short.
      const inDoubt = faults.length === 0 ? undefined : this.#inDoubt(row, layout);
      if (inDoubt !== undefined) return [inDoubt];
      if (faults.length > 0 && this.#isKnownFluid(row)) return [{ skipped: { row, why: "footer" } }];
    }
    const named = this.#areAnywhere() ? { entry: this.#complete(item.entry) } : item;
    this.#inRows.see(named.entry);
    const held = this.#held;
    this.#held = undefined;
    return held === undefined ? [named] : [{ skipped: held }, named];
  }

  /** What is left at the end of the table: a line that named another fluid, with no row below it, may be of the rows above. */
  atEnd(): readonly EntryOrSkipped[] {
    return this.#held === undefined ? [] : [this.#doubtBy(this.#held.row)];
  }

  #hold(row: RawRow, why: NotSampleRow["why"]): readonly EntryOrSkipped[] {
    const skipped = { row, why };
    if (!namesInLine(row, namer(this.map)).some((one) => this.#inRows.areContradictedBy(one)))
      return [{ skipped }];
    const before = this.#held;
    this.#held = skipped;
    return before === undefined ? [] : [{ skipped: before }];
  }

  #doubtBy(row: RawRow): { readonly entry: Entry } {
    return {
      entry: unreadEntry(row, fixedNaming(this.map), faultOfRow(row, OF_WHICH_ROWS, "table-in-doubt")),
    };
  }

  /**
   * A line among or below the rows, as an entry that waits: it names a fluid where no column and no line above them does, or
   * what none of the rows names.
   * A port, a flow or a colour in such a line is a statement like any other: it counts where it is a bad one.
   *
   * @throws IntakeError where the column map gives another name to every sample
   */
  #inDoubt(row: RawRow, { columns, shape }: Layout): { readonly entry: Entry } | undefined {
    if (shape === "block") return undefined;
    const inColumns = kindsIn(columns);
    const fixed: Partial<Record<string, string | undefined>> = this.map?.fixed ?? {};
    for (const { kind, cell } of namesInLine(row, namer(this.map))) {
      if (inColumns.has(kind)) {
        if (this.#inRows.areContradictedBy({ kind, cell })) return this.#doubtBy(row);
        continue;
      }
      const settled = fixed[kind];
      if (settled !== undefined) this.#mustAgree(kind, settled, textOf(cell), row.row);
      else if (kind === "fluid" && !namesNoFluid(textOf(cell)) && !this.#around.has(kind))
        return this.#doubtBy(row);
    }
    return undefined;
  }

  /** Whether a line names a fluid that rows before it have, and no more; a cart may begin a sample in rows of labels. */
  #isKnownFluid(row: RawRow): boolean {
    const [one, ...more] = namesInLine(row, namer(this.map));
    const written = row.cells.filter((cell) => textOf(cell) !== "").length;
    return one?.kind === "fluid" && more.length === 0 && written <= 2 && this.#inRows.have(one);
  }

  /** Whether any name stands elsewhere than in the rows of the samples. */
  #areAnywhere(): boolean {
    return (
      this.#around.size > 0 ||
      this.#cart !== undefined ||
      this.#fluid !== undefined ||
      this.map?.fixed !== undefined ||
      this.table.isJoined === true
    );
  }

  /** Takes up a line among the rows that names another cart: it is of the rows below it, and no sample. */
  #takes(row: RawRow): boolean {
    if (this.#around.size === 0 && this.#cart === undefined) return false;
    const named = namesInLine(row, namer(this.map));
    if (this.#cart !== undefined) this.#cart = named.find(({ kind }) => kind === "cart") ?? this.#cart;
    const found = named.filter(({ kind }) => this.#around.has(kind));
    for (const one of found) this.#around.set(one.kind, { ...one, row: row.row });
    return found.length > 0;
  }

  /** After a line that may name another cart it is not known whose the rows below it are. */
  #endsAt(row: RawRow): void {
    for (const before of this.#around.values()) {
      const isOfRows = before.kind !== "fluid" && !isOfFilling(before.kind);
      if (isOfRows && textOf(before.cell) !== "" && mayNameAnother(row, before, namer(this.map)))
        this.#around.set(before.kind, { kind: before.kind, cell: "", row: row.row });
    }
  }

  /**
   * @throws IntakeError where a name that the column map gives to every sample is contradicted
   */
  #complete(entry: Entry): Entry {
    const naming = { ...entry.naming };
    const results = [...entry.results];
    for (const { kind, cell, row, otherRow } of this.#around.values()) {
      const rows = otherRow === undefined ? row : `${otherRow} and row ${row}`;
      const column = rows === undefined ? "(sheet)" : `(row ${rows})`;
      if (isOfFilling(kind)) {
        results.push({ measurand: { holds: kind }, cell, row: OF_THE_MAP, column });
        continue;
      }
      const placed = naming[kind];
      if (placed?.row === OF_THE_MAP && cell !== "")
        this.#mustAgree(kind, textOf(placed.cell), textOf(cell), row);
      naming[kind] ??= { cell, row: OF_THE_MAP, column };
    }
    if (this.#fluid !== undefined && textOf(naming.fluid?.cell) === "") {
      const { cell, row = 0 } = this.#fluid;
      naming.fluid = { cell, row: OF_THE_MAP, column: `(row ${row})` };
    }
    const faults = [...entry.faults, ...this.#againstCart(naming.cart), ...this.#againstFluid(naming.fluid)];
    for (const [kind, value] of Object.entries(this.map?.fixed ?? {})) {
      const placed = naming[kind as "cart"];
      if (value === undefined || placed === undefined || placed.row === OF_THE_MAP) continue;
      if (textOf(placed.cell) === "") naming[kind as "cart"] = { ...placed, cell: value };
      else this.#mustAgree(kind, value, textOf(placed.cell), placed.row, placed.column);
    }
    const completed = { ...entry, naming, results, faults };
    const { elsewhere, isJoined } = this.table;
    return elsewhere === undefined || !isJoined ? completed : this.#joined(completed, elsewhere);
  }

  #againstCart(placed: PlacedCell | undefined): RowFault[] {
    const value = textOf(placed?.cell);
    if (this.#cart === undefined || placed === undefined || !namesOtherCart(this.#cart, value)) return [];
    return [againstLine(this.#cart, placed)];
  }

  #againstFluid(placed: PlacedCell | undefined): RowFault[] {
    if (this.#fluid === undefined || placed === undefined || placed.row === OF_THE_MAP) return [];
    return areTwoFluids(textOf(this.#fluid.cell), textOf(placed.cell))
      ? [againstLine(this.#fluid, placed)]
      : [];
  }

  #mustAgree(kind: string, fixed: string, found: string, row = 0, column = ""): void {
    const fluid = kind === "fluid" ? tryParseFluidSpecification(fixed) : undefined;
    if (fixed === found || (fluid !== undefined && fluid === tryParseFluidSpecification(found))) return;
    const { file, sheet } = this.table.source;
    const place = `${file}${sheet === undefined ? "" : ` sheet "${shown(sheet)}"`}${row === 0 ? "" : ` ${describePlaces([row])}`}`;
    const where = column === "" ? "" : `, column "${shown(column)}"`;
    throw new IntakeError(
      `${place}${where}: expected ${kind} "${shown(fixed)}", which the column map gives to every sample ("fixed"), found "${shown(found)}"`,
    );
  }

  #joined(entry: Entry, elsewhere: NamedSamples): Entry {
    const placed = entry.naming.sample;
    const number = textOf(placed?.cell);
    const known = elsewhere.get(number);
    if (placed === undefined || entry.faults.length > 0) return entry;
    if (known === undefined || known === null) {
      const expected =
        known === null
          ? OF_ONE_SAMPLE
          : "the number of a sample whose cart, circuit and day another sheet gives";
      const { row, column } = placed;
      return { ...entry, faults: [{ code: "cell-not-read", row, column, value: number, expected }] };
    }
    return withKnown(entry, known, (kind) => entry.naming[kind] === undefined);
  }

  /**
   * Compares a row with what another sheet says of its sample, and takes over what the row leaves out. Where the two differ,
   * neither is chosen and the row waits.
   */
  compared(named: NamedEntry): NamedEntry {
    const { entry, identity, faults } = named;
    const { elsewhere, isJoined } = this.table;
    if (elsewhere === undefined || !isNamed(named)) return named;
    const known = elsewhere.get(isJoined ? numberOf(identity) : bottleOf(identity));
    if (known === undefined) return named;
    const differs = known === null ? NUMBER : difference(known, identity);
    if (differs === undefined) {
      const whole = withKnown(entry, known ?? {}, (_, field) => identity[field] === undefined);
      return { ...named, entry: whole, identity: { ...known, ...identity } };
    }
    const [kind, field] = differs;
    const { row, column, cell } = entry.naming[kind] as PlacedCell;
    const expected =
      known === null ? OF_ONE_SAMPLE : `${known[field]}, as another sheet says of sample ${identity.sample}`;
    const fault = { code: "cell-not-read", row, column, value: textOf(cell), expected } as const;
    return { ...named, faults: [...faults, fault] };
  }
}

/** A cell names another cart or fluid than a line above the table or the name of its sheet. */
function againstLine({ cell, row: at }: NameAround, placed: PlacedCell): RowFault {
  const expected = `${textOf(cell)}, as ${at === undefined ? "the name of the sheet" : `row ${at}`} says; a person has to say which`;
  const { row, column } = placed;
  return { code: "cell-not-read", row, column, value: textOf(placed.cell), expected };
}

/** An entry with what another sheet says of its sample and the entry leaves out. */
function withKnown(
  entry: Entry,
  known: Identity,
  isLeftOut: (kind: Naming, field: keyof Identity) => boolean,
): Entry {
  const naming = { ...entry.naming };
  for (const [kind, field] of FIELDS) {
    const cell = known[field];
    if (cell !== undefined && isLeftOut(kind, field))
      naming[kind] = { cell, row: OF_THE_MAP, column: "(other sheet)" };
  }
  return { ...entry, naming };
}

const OF_WHICH_ROWS =
  "what holds for the samples in a line above their table or in a column; it is not known which rows this line is of";
const OF_ONE_SAMPLE = "a number that the other sheets give to one sample";
const NUMBER = ["sample", "sample"] as const;

/** A sample by its number alone. */
export const numberOf = ({ sample = "" }: Identity): string => sample;

/** A sample in full: each cart may have a bottle of the same number. */
export const bottleOf = ({ sample, cart, circuit, drawnOn }: Identity): string =>
  JSON.stringify([sample, cart, circuit, drawnOn]);

/** What a sheet may say of who a sample is, apart from its number. */
const FIELDS = [
  ["cart", "cart"],
  ["circuit", "circuit"],
  ["drawn", "drawnOn"],
  ["fluid", "fluid"],
  ["drawn-time", "drawnTime"],
  ["received", "receivedOn"],
  ["reported", "reportedOn"],
  ["calibration-due", "calibrationDueOn"],
] as const satisfies (readonly [Naming, keyof Identity])[];

/** The first of cart, circuit, day and fluid that two sheets give differently. */
export function difference(one: Identity, other: Identity): (typeof FIELDS)[number] | undefined {
  const meant = ({ fluid, ...names }: Identity) => ({
    ...names,
    fluid: fluid && (tryParseFluidSpecification(fluid) ?? fluid),
  });
  const [a, b] = [meant(one), meant(other)];
  return FIELDS.slice(0, 4).find(
    ([, field]) =>
      one[field] !== undefined &&
      other[field] !== undefined &&
      !isDeepStrictEqual(a[field as "fluid"], b[field as "fluid"]),
  );
}
