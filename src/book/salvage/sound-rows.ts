import { inflateRawSync } from "node:zlib";
import { DIGITS_FOR_A_ROW, lineOfKey, type RowKey, startOfHash } from "../chain/rows.js";
import { CHAINED_TABLES } from "../chain/tables.js";
import { unpack } from "../judging/pack-record.js";
import { type Connection, firstOf, type Sql, tryReadRows } from "../storage/database.js";
import { checkOfRow, type SampleRow, SELECT_SAMPLES } from "../storage/sample-row.js";

/**
 * Tells of a row that could be read whether it is as it was written: a sample by the sum in its row, others by the hash that
 * an entry keeps, what is packed by whether it can be unpacked.
 */
export function soundRowsOf(db: Connection): (table: string, row: Readonly<Record<string, Sql>>) => boolean {
  const starts = startsByTable(db);
  return (table, row) => {
    try {
      if (table === "sample") {
        const sample = firstOf<SampleRow>(db, `${SELECT_SAMPLES} WHERE sample.id = ?`, row.id as number);
        return sample !== undefined && sample.row_check === checkOfRow(sample);
      }
      if (table === "judged_input") unpack(row.body as Buffer, row.sha256 as string, table);
      if (table === "verdict") checkVerdict(db, row);
      if (table === "row_text") JSON.parse(inflateRawSync(row.body as Buffer).toString("utf8"));
      const kept = starts.get(table);
      const chained = CHAINED_TABLES.find(({ name }) => name === table);
      if (kept === undefined || chained === undefined) return true;
      const line = lineOfKey(db, chained, (row[chained.key] ?? row.row_number) as RowKey);
      return line !== undefined && kept.has(startOfHash(line));
    } catch {
      return false;
    }
  };
}

/** A verdict is no use without what it rests on. */
function checkVerdict(db: Connection, row: Readonly<Record<string, Sql>>): void {
  unpack(row.result as Buffer, row.result_sha256 as string, "verdict");
  for (const { sha256 } of JSON.parse(row.inputs as string) as { sha256: string }[]) {
    const input = firstOf<{ body: Buffer }>(db, "SELECT body FROM judged_input WHERE sha256 = ?", sha256);
    unpack((input as { body: Buffer }).body, sha256, "input");
  }
}

/** By table, the starts of the hashes of all rows that entries wrote; none for tables of which they are not kept. */
function startsByTable(db: Connection): Map<string, Set<string>> {
  const starts = new Map<string, Set<string>>();
  const pieces = tryReadRows<{ of_table: string; each: string }>(
    db,
    "SELECT of_table, each FROM piece WHERE each <> ''",
  );
  for (const { of_table, each } of pieces.rows) {
    const own = starts.get(of_table) ?? new Set<string>();
    for (const start of each.match(new RegExp(`.{${DIGITS_FOR_A_ROW}}`, "g")) ?? []) own.add(start);
    starts.set(of_table, own);
  }
  return starts;
}
