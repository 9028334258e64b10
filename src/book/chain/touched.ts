import { type Connection, numberOf, rowsOf } from "../storage/database.js";
import { lineOfKey, linesWhere, type RowKey } from "./rows.js";
import { CHAINED_TABLES, type ChainedTable, canonicalLine } from "./tables.js";

/** What a step has done to the rows of one table. */
export interface TableChange {
  readonly table: ChainedTable;
  /** Keys of the rows that it inserted; none where {@link last} is less. */
  readonly first: number;
  readonly last: number;
  /** Keys of other rows that it inserted, changed or deleted, in order. */
  readonly others: readonly RowKey[];
  /** Rows whose key had been used before, as they were before this step; null for one that was not there. */
  readonly replaced: readonly { readonly key: RowKey; readonly former: string | null }[];
  /** Whether it changed or deleted rows that it had inserted itself. */
  readonly changedItsOwn: boolean;
}

/** The highest key of each table before a step. */
export type Marks = ReadonlyMap<string, number>;

const PREPARED = new WeakSet<Connection>();

/** Begins to note what this connection changes, and gives the marks to compare with. */
export function beginNoting(db: Connection): Marks {
  if (!PREPARED.has(db)) prepare(db);
  PREPARED.add(db);
  db.exec("DELETE FROM temp.touched");
  return new Map(CHAINED_TABLES.map((table) => [table.name, highestKey(db, table)]));
}

function highestKey(db: Connection, { name, key, keysGrow }: ChainedTable): number {
  if (!keysGrow) return 0;
  return numberOf(db, `SELECT ifnull(max(${key}), 0) AS last FROM "${name}"`);
}

/** Temporary triggers see what this connection does, and nothing that another program does to the file. */
function prepare(db: Connection): void {
  db.exec(
    "CREATE TEMP TABLE touched (number INTEGER PRIMARY KEY, of_table TEXT, key ANY, former TEXT) STRICT",
  );
  for (const table of CHAINED_TABLES) {
    const { name, key, keysGrow, isFixed, line } = table;
    if (isFixed) continue;
    for (const act of ["UPDATE", "DELETE"]) {
      db.exec(`CREATE TEMP TRIGGER touched_${name}_${act} BEFORE ${act} ON main."${name}" BEGIN
        INSERT INTO touched (of_table, key, former) SELECT '${name}', ${key}, ${line} FROM "${name}" WHERE ${key} = OLD.${key};
      END`);
    }
    if (keysGrow) continue;
    db.exec(`CREATE TEMP TRIGGER touched_${name}_INSERT AFTER INSERT ON main."${name}" BEGIN
      INSERT INTO touched (of_table, key) VALUES ('${name}', NEW.${key});
    END`);
  }
}

/** All that is in the book, as one change. */
export function everything(db: Connection): TableChange[] {
  return CHAINED_TABLES.flatMap((table) => {
    const last = highestKey(db, table);
    const others = table.keysGrow ? [] : keysIn(db, table);
    const change = { table, first: 1, last, others, replaced: [], changedItsOwn: false };
    return last === 0 && others.length === 0 ? [] : [change];
  });
}

function keysIn(db: Connection, table: ChainedTable): RowKey[] {
  return [...linesWhere(db, table, "TRUE")].map(({ key }) => key);
}

/** What has been done since the marks, table by table. */
export function changesSince(db: Connection, marks: Marks): TableChange[] {
  const touched = rowsOf<{ of_table: string; key: RowKey; former: string | null }>(
    db,
    "SELECT of_table, key, former FROM temp.touched ORDER BY number",
  );
  return CHAINED_TABLES.flatMap((table) => {
    const mark = marks.get(table.name) ?? 0;
    const last = highestKey(db, table);
    // The first that was noted of a row is how it was before.
    const first = new Map<RowKey, string | null>();
    for (const { of_table, key, former } of touched) {
      if (of_table !== table.name || first.has(key)) continue;
      first.set(key, former === null ? null : canonicalLine(table, former));
    }
    const isOlder = (key: RowKey) => !table.keysGrow || (key as number) <= mark;
    const older = [...first].filter(([key]) => isOlder(key));
    const changed = older.filter(([key, former]) => former !== (lineOfKey(db, table, key) ?? null));
    const change: TableChange = {
      table,
      first: mark + 1,
      last,
      others: changed.map(([key]) => key).sort(byKey),
      replaced: [
        ...changed.map(([key, former]) => ({ key, former })),
        ...usedBefore(db, table, mark + 1, last).map((key) => ({ key, former: null })),
      ],
      changedItsOwn: older.length < first.size,
    };
    return change.others.length === 0 && change.last < change.first ? [] : [change];
  });
}

/** Keys of new rows that rows had which are gone: the engine gives the highest key again when its row was deleted. */
function usedBefore(db: Connection, { name }: ChainedTable, first: number, last: number): RowKey[] {
  return rowsOf<{ key: RowKey }>(
    db,
    "SELECT DISTINCT key FROM replaced WHERE of_table = ? AND key BETWEEN ? AND ?",
    name,
    first,
    last,
  ).map(({ key }) => key);
}

function byKey(a: RowKey, b: RowKey): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
