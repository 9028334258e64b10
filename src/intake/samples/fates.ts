import { type Assumption, joinAssumptions } from "../../provenance/index.js";
import type { Sample } from "../../samples/index.js";
import { gatherResults } from "../cells/results.js";
import { hasRun } from "../cells/runs.js";
import { checkSample, type Finding } from "../checks/checks.js";
import { CHECKS, type CheckCode, type NotSampleRow, type QuarantinedRow } from "../checks/issue.js";
import type { ColumnMap } from "../layout/column-map.js";
import { type Conventions, keyOf, type Survey, survey } from "../layout/conventions.js";
import type { Identity } from "../layout/identity.js";
import type { Meaning } from "../layout/meaning.js";
import type { NamedSamples, Table } from "../layout/tables.js";
import { type QuarantinePlace, readPlace } from "../quarantine/quarantine-place.js";
import { keyOfMeasurand, statementsOf } from "../reports/statements.js";
import { type RawRow, type RowSource, textOf } from "../rows/row.js";
import { entriesOf } from "./entries.js";
import type { Entry, EntryOrSkipped, RowFault } from "./entry.js";
import { difference, NamesOfTable } from "./names-of-table.js";
import { entryNamer, isNamed, type NamedEntry, readSample } from "./read-sample.js";
import { tooManyRows } from "./too-many-rows.js";

/** What became of one sample and the rows it is in. */
export interface SampleFate {
  readonly sample: Sample;
  /** The rows it was taken from, as they are in the file. */
  readonly rows: readonly RawRow[];
  readonly assumptions: readonly Assumption[];
  /** Checks that a person has accepted for these rows. */
  readonly accepted: readonly CheckCode[];
  /** Places in other files whose quarantine these rows settle. */
  readonly settles: readonly QuarantinePlace[];
  /** Puts all rows of the sample in quarantine for a reason that showed later. */
  readonly quarantine: (findings: readonly Finding[]) => QuarantinedRow[];
}

/** What became of a row or of the rows of one sample. */
export type Fate =
  | { readonly kind: "sample"; readonly fate: SampleFate }
  | { readonly kind: "quarantined"; readonly row: QuarantinedRow }
  | { readonly kind: "not-a-sample"; readonly row: NotSampleRow; readonly discards?: QuarantinePlace };

/** How a table is read. */
export interface ReadOptions {
  readonly map?: ColumnMap;
  /** ISO 8601 day of reading; without it days in the future are not looked for. */
  readonly today?: string;
}

/** Looks at the rows of a file as a whole, while they come and when it is known what became of them. */
export interface Onlooker {
  readonly see: (item: EntryOrSkipped) => void;
  readonly after: (fate: Fate) => Fate;
}

/**
 * Reads a table row by row and says what became of every row.
 *
 * Only the rows of samples that are not complete yet are kept in memory.
 *
 * @param table - a table that serves
 * @param share - of the rows of the file that can be read
 */
export function* readTable(table: Table, options: ReadOptions, share: Onlooker): Generator<Fate> {
  const { source, layout } = table;
  const { map } = options;
  const seen = survey(table, map);
  const { conventions } = seen;
  const names = new NamesOfTable(table, map);
  const nameEntry = entryNamer(conventions);
  const reading: Reading = {
    place: placeIn(source),
    conventions,
    nameEntry: (entry) => names.compared(nameEntry(entry)),
    today: options.today,
  };
  const open = new OpenSamples(seen);
  for (const item of entriesOf(source, layout, map)) {
    const shape = item.section?.layout.shape ?? layout.shape;
    for (const named of names.of(item)) {
      share.see(named);
      const isJoined = shape === "long" || ("entry" in named && hasRun(named.entry.results));
      for (const fate of fatesOf(named, reading, isJoined ? open : undefined)) yield share.after(fate);
    }
  }
  for (const named of names.atEnd()) yield* fatesOf(named, reading);
  // The row that would have ended a sample may itself have been set aside.
  for (const group of open.rest()) for (const fate of fatesOfSample(group, reading)) yield share.after(fate);
}

/** Whether a table has at least one of some samples, by their numbers. */
export function hasOneOf({ source, layout }: Table, samples: NamedSamples, { map }: ReadOptions): boolean {
  for (const item of entriesOf(source, layout, map)) {
    if ("entry" in item && samples.has(textOf(item.entry.naming.sample?.cell))) return true;
  }
  return false;
}

/** Who the samples of some tables are; null where two of them differ. */
export function namedSamplesIn(
  tables: readonly Table[],
  options: ReadOptions,
  keyOf: (named: Identity) => string,
): NamedSamples {
  const found = new Map<string, Identity | null>();
  for (const table of tables) {
    for (const named of entriesNamed(table, options)) {
      if (!isNamed(named)) continue;
      const key = keyOf(named.identity);
      const before = found.get(key);
      const isOther = before === null || (before && difference(before, named.identity)) !== undefined;
      found.set(key, isOther ? null : { ...before, ...named.identity });
    }
  }
  return found;
}

/** Whose bottle each row of a register is about. */
export function namesByRow(register: Table, options: ReadOptions): ReadonlyMap<number, Identity> {
  const all = [...entriesNamed(register, options)];
  return new Map(all.flatMap(({ entry, identity }) => entry.rows.map(({ row }) => [row, identity] as const)));
}

function* entriesNamed(table: Table, { map }: ReadOptions): Generator<NamedEntry> {
  const nameEntry = entryNamer(survey(table, map).conventions);
  const names = new NamesOfTable(table, map);
  for (const item of entriesOf(table.source, table.layout, map)) {
    for (const named of names.of(item)) if ("entry" in named) yield nameEntry(named.entry);
  }
}

/**
 * Says what became of one row, or of one block.
 *
 * @param open - in tables with a row for each measurand, the samples that are not complete yet
 */
function fatesOf(item: EntryOrSkipped, reading: Reading, open?: OpenSamples): readonly Fate[] {
  const { place } = reading;
  if ("skipped" in item) {
    const { row, why } = item.skipped;
    return [{ kind: "not-a-sample", row: notASample(place, row, why) }];
  }
  if (item.entry.accepted.trim().toLowerCase() === DISCARD) return discard(place, item.entry);
  const named = reading.nameEntry(item.entry);
  if (open === undefined) return fatesOfSample([named], reading);
  return open.add(named).flatMap((group) => fatesOfSample(group, reading));
}

/** The file and sheet of a table, for the places of its rows. */
function placeIn({ file, sheet }: RowSource): Placed {
  return { file, ...(sheet !== undefined && { sheet }) };
}

/** Rows of samples that go on further down, in tables with a row for each measurand or run. */
class OpenSamples {
  readonly #survey: Survey;
  readonly #open = new Map<number, Map<string, NamedEntry[]>>();

  constructor(survey: Survey) {
    this.#survey = survey;
  }

  /** Adds a row; returns the samples that end with it. A row that does not name its sample stays by itself. */
  add(named: NamedEntry): NamedEntry[][] {
    const key = keyOf(named.entry);
    const ends = (this.#survey.lastRows.get(key) ?? 0) <= (named.entry.rows[0]?.row ?? 0);
    const groups = this.#open.get(key) ?? new Map<string, NamedEntry[]>();
    const alone: NamedEntry[][] = [];
    if (isNamed(named)) {
      const { sample, cart, circuit, drawnOn, drawnTime, fluid, reportedOn } = named.identity;
      // Runs of another day's report are another report.
      const report = hasRun(named.entry.results) ? reportedOn : undefined;
      const who = JSON.stringify([sample, cart, circuit, drawnOn, drawnTime, fluid, report]);
      const group = groups.get(who);
      if (group === undefined) groups.set(who, [named]);
      else group.push(named);
    } else alone.push([named]);
    if (!ends) {
      this.#open.set(key, groups);
      return alone;
    }
    this.#open.delete(key);
    return [...groups.values(), ...alone];
  }

  /** The samples that are still open at the end of the table. */
  rest(): NamedEntry[][] {
    return [...this.#open.values()].flatMap((groups) => [...groups.values()]);
  }
}

type Placed = { readonly file: string; readonly sheet?: string };

/** What the rows of one table are read with. */
interface Reading {
  readonly place: Placed;
  readonly conventions: Conventions;
  readonly nameEntry: (entry: Entry) => NamedEntry;
  readonly today: string | undefined;
}

/** Puts one sample together, checks it, and says what became of its rows. */
function fatesOfSample(group: readonly NamedEntry[], reading: Reading): Fate[] {
  const { place, conventions, today } = reading;
  const tooMany = tooManyRows(group);
  const read = readSample(place, tooMany.length > 0 ? [] : group, conventions);
  const fates = [...tooMany, ...read.setAside].flatMap(({ named, faults }) =>
    setAside(place, named, faults, conventions),
  );
  if (read.sample === undefined) return fates;
  const entries = read.kept.map(({ entry }) => entry);
  const accepted = acceptedIn(entries);
  const sample = accepted.length === 0 ? read.sample : { ...read.sample, acceptedChecks: accepted };
  const findings = checkSample(sample, today).filter(({ code }) => !accepted.some((one) => one === code));
  const quarantine = (found: readonly Finding[]) => quarantineAll(place, read.kept, found, conventions);
  if (findings.length > 0) {
    for (const row of quarantine(findings)) fates.push({ kind: "quarantined", row });
    return fates;
  }
  const rows = entries.length === 1 ? (entries[0] as Entry).rows : entries.flatMap((entry) => entry.rows);
  const assumptions =
    read.assumptions.length + accepted.length === 0
      ? read.assumptions
      : joinAssumptions(read.assumptions, accepted.map(acceptedByHand));
  const settles = placesIn(entries);
  fates.push({ kind: "sample", fate: { sample, rows, assumptions, accepted, settles, quarantine } });
  return fates;
}

/** What a person writes to say that a row of the quarantine is no result. */
const DISCARD = "discard";

function discard(place: Placed, entry: Entry): Fate[] {
  const [discards] = placesIn([entry]);
  return entry.rows.map((row) => {
    const gone = notASample(place, row, "discarded by a person");
    return { kind: "not-a-sample", row: gone, ...(discards && { discards }) };
  });
}

function notASample({ file, sheet }: Placed, { row, text }: RawRow, why: NotSampleRow["why"]): NotSampleRow {
  return sheet === undefined ? { file, row, text, why } : { file, sheet, row, text, why };
}

function placesIn(entries: readonly Entry[]): QuarantinePlace[] {
  if (entries.every(({ place }) => place === "")) return [];
  return entries.flatMap(({ place }) => readPlace(place) ?? []);
}

function acceptedIn(entries: readonly Entry[]): CheckCode[] {
  if (entries.every(({ accepted }) => accepted === "")) return [];
  const codes = entries.flatMap(({ accepted }) => accepted.split(/[\s,;]+/));
  return [...new Set(codes)].filter((code): code is CheckCode => Object.hasOwn(CHECKS, code));
}

function acceptedByHand(code: CheckCode): Assumption {
  return { code: "check-accepted", message: `a person accepted the check "${code}" for some rows` };
}

/** Every row of an entry is set aside: with the faults found in it, or with those of the entry it belongs to. */
function setAside(
  place: Placed,
  named: NamedEntry,
  faults: readonly RowFault[],
  conventions: Conventions,
): Fate[] {
  return named.entry.rows.map((row) => {
    const own = faults.filter((fault) => fault.row === row.row);
    const given = own.length > 0 ? own : faults;
    return { kind: "quarantined", row: quarantined(place, row, named, given, conventions) };
  });
}

function quarantineAll(
  place: Placed,
  kept: readonly NamedEntry[],
  findings: readonly Finding[],
  conventions: Conventions,
): QuarantinedRow[] {
  return kept.flatMap((named) =>
    named.entry.rows.map((row) =>
      quarantined(
        place,
        row,
        named,
        findings.map(({ code, holds, standard, expected }) => {
          const cell = cellThatHolds(kept, holds, standard);
          return { code, row: row.row, column: cell?.column ?? holds, value: textOf(cell?.cell), expected };
        }),
        conventions,
      ),
    ),
  );
}

function cellThatHolds(kept: readonly NamedEntry[], holds: Meaning["holds"], standard: Finding["standard"]) {
  for (const { entry } of kept) {
    const placed =
      entry.naming[holds as keyof Entry["naming"]] ??
      entry.results.find(
        ({ measurand }) =>
          measurand.holds === holds &&
          (standard === undefined || ("standard" in measurand && measurand.standard === standard)),
      );
    if (placed !== undefined) return placed;
  }
  return undefined;
}

function quarantined(
  place: Placed,
  row: RawRow,
  { entry, identity }: NamedEntry,
  faults: readonly RowFault[],
  conventions: Conventions,
): QuarantinedRow {
  const { file, sheet } = place;
  const { sample, cart, circuit, drawnOn } = identity;
  const issues = faults.map(({ code, column, value, expected }) =>
    sheet === undefined
      ? { file, code, row: row.row, column, value, expected }
      : { file, sheet, code, row: row.row, column, value, expected },
  );
  // A file may hold nothing but such rows, and names that are spread into them cost more than all the rest.
  const found: { -readonly [K in keyof QuarantinedRow]: QuarantinedRow[K] } =
    sheet === undefined
      ? { file, row: row.row, text: row.text, issues }
      : { file, sheet, row: row.row, text: row.text, issues };
  if (cart !== undefined) found.cart = cart;
  if (circuit !== undefined) found.circuit = circuit;
  if (drawnOn !== undefined) found.drawnOn = drawnOn;
  if (sample !== undefined) {
    found.sample = sample;
    found.reported = reportedIn(entry, identity, conventions);
  }
  const [cameFrom] = placesIn([entry]);
  if (cameFrom !== undefined) found.cameFrom = cameFrom;
  return found;
}

/** What a row reports as far as it can be read; null for a result that cannot. */
function reportedIn(entry: Entry, identity: Identity, conventions: Conventions): Record<string, unknown> {
  const { results, refused } = gatherResults([entry.results], conventions);
  return Object.fromEntries([
    ...statementsOf({ ...identity, ...results }),
    ...refused.map(({ result }) => [keyOfMeasurand(result.measurand), null] as const),
  ]);
}
