import { createHash } from "node:crypto";
import {
  type ByteSource,
  type ColumnMap,
  type Fate,
  localDay,
  type OpenedLabFile,
  openLabFile,
  type QuarantinedRow,
  sha256Of,
} from "../../intake/index.js";
import type { Assumption } from "../../provenance/index.js";
import { inEntry } from "../chain/entry.js";
import { type Connection, firstOf, numberOf } from "../storage/database.js";
import { inserterInto } from "../storage/insert.js";
import { type RowCounts, takeRows } from "./file-intake.js";
import { isAwaited, isWithdrawn } from "./standing-withdrawals.js";

/** What became of every row of a file that was brought into the book. */
export interface FileReport extends RowCounts {
  readonly file: string;
  readonly sha256: string;
  /** How the file was read: format, encoding and separator. */
  readonly readAs: string;
  /** All rows of the file: the five kinds below added up. */
  readonly rows: number;
  readonly quarantine: readonly QuarantinedRow[];
  /** Columns whose title was not recognised; what they hold was not used. */
  readonly unusedColumns: readonly string[];
  readonly assumptions: readonly Assumption[];
}

/** How a file is brought into the book. */
export interface TakeInOptions {
  readonly map?: ColumnMap;
  /** ISO 8601 day of taking in, for finding days in the future; today at the place where the program runs when absent. */
  readonly today?: string;
  /** Who brings the file in, for the record. */
  readonly by?: string;
  /** Called now and then with the share of the file that has been read, 0 to 1, and how many of its rows. */
  readonly onProgress?: (fraction: number, rows: number) => void;
}

const ROWS_BETWEEN_PROGRESS = 5000;

/**
 * Brings one laboratory file into the book: all of it or nothing.
 *
 * @param source - the file's bytes, on disk or in memory
 * @returns what became of every row
 * @throws IntakeError when the file cannot be read, names no samples, or needs a column map
 */
export async function takeIn(
  db: Connection,
  source: ByteSource,
  options: TakeInOptions,
): Promise<FileReport> {
  const today = options.today ?? localDay();
  const sha256 = sha256Of(source);
  const opened = await openLabFile(source, { today, ...(options.map && { map: options.map }) });
  const subject = ({ file, rows }: FileReport) => `${file}, ${rows} rows, SHA-256 ${sha256}`;
  return inEntry(db, { kind: "reading", by: options.by, subject }, () => {
    const mapId = options.map === undefined ? null : keepMap(db, options.map);
    const { fileId, isNew } = keepFile(db, sha256, mapId, source, opened);
    const beginsToCount = isNew || isWithdrawn(db, fileId) || isAwaited(db, fileId);
    const fates = tellProgress(opened.fates(), source.size, options.onProgress);
    const { counts, quarantine, assumptions } = takeRows(db, fileId, isNew, fates);
    const rows = counts.taken + counts.known + counts.amended + counts.quarantined + counts.notSamples;
    if (beginsToCount || counts.taken + counts.amended > 0) {
      const at = new Date().toISOString();
      const { notSamples: not_samples, ...others } = counts;
      inserterInto(db, "reading")({ file_id: fileId, at, rows, ...others, not_samples });
    }
    const all = [...opened.assumptions, ...assumptions];
    db.prepare("UPDATE file SET assumptions = ? WHERE id = ?").run(JSON.stringify(all), fileId);
    const { file, readAs, unusedColumns } = opened;
    return { file, sha256, readAs, rows, ...counts, quarantine, unusedColumns, assumptions: all };
  });
}

function keepMap(db: Connection, map: ColumnMap): number {
  const body = JSON.stringify(map);
  const sha256 = createHash("sha256").update(body).digest("hex");
  inserterInto(db, "column_map", "ON CONFLICT DO NOTHING")({ sha256, name: map.name, body });
  return numberOf(db, "SELECT id FROM column_map WHERE sha256 = ?", sha256);
}

function keepFile(
  db: Connection,
  sha256: string,
  mapId: number | null,
  source: ByteSource,
  opened: OpenedLabFile,
): { fileId: number; isNew: boolean } {
  const known = firstOf<{ id: number }>(
    db,
    "SELECT id FROM file WHERE sha256 = ? AND column_map_id IS ?",
    sha256,
    mapId,
  );
  if (known !== undefined) return { fileId: known.id, isNew: false };
  const { id } = inserterInto(
    db,
    "file",
  )({
    ...{ sha256, column_map_id: mapId, name: source.file, bytes: source.size },
    ...{ read_as: opened.readAs, assumptions: "[]" },
  });
  return { fileId: id, isNew: true };
}

function* tellProgress(
  fates: Generator<Fate>,
  bytes: number,
  onProgress: TakeInOptions["onProgress"],
): Generator<Fate> {
  if (onProgress === undefined) {
    yield* fates;
    return;
  }
  let [read, rows, shown] = [0, 0, 0];
  for (const fate of fates) {
    yield fate;
    const texts = fate.kind === "sample" ? fate.fate.rows.map(({ text }) => text) : [fate.row.text];
    for (const text of texts) read += text.length + 1;
    rows += texts.length;
    if (rows - shown < ROWS_BETWEEN_PROGRESS) continue;
    shown = rows;
    onProgress(Math.min(1, read / bytes), rows);
  }
  onProgress(1, rows);
}
