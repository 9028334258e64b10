import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import type { Book, FileReport } from "../../../book/index.js";
import { bytesOnDisk, type ColumnMap, openLabFile, quarantineFilesOf } from "../../../intake/index.js";
import { UsageError } from "../../io.js";
import { makeFolder, writeWhole } from "../../whole-file.js";

/** Where the quarantined rows of a table were written, and the column map to read them with. */
export interface QuarantineFilePaths {
  readonly file: string;
  readonly map: string;
}

/**
 * Writes the quarantined rows of a file, a pair of files for each of its tables. A file that holds something else, such as
 * rows that a person has begun to correct, stays as it is: the new one gets a number.
 *
 * @param path - the laboratory file, which is read again
 * @throws UsageError when the folder cannot be written; the rows are in the book all the same
 */
export async function writeQuarantine(
  book: Book,
  path: string,
  report: FileReport,
  folder: string,
  map: ColumnMap | undefined,
): Promise<QuarantineFilePaths[]> {
  await whereKept(() => makeFolder("--quarantine", folder));
  const { tables } = await openLabFile(bytesOnDisk(path), { ...(map && { map }) });
  // A report shows no more than its first rows; the book has them all.
  const quarantine = book.quarantine().filter(({ sha256 }) => sha256 === report.sha256);
  const written: QuarantineFilePaths[] = [];
  for (const [index, table] of tables.entries()) {
    const name = `${fileNameOf(report.file)}${tables.length === 1 ? "" : `.${index + 1}`}`;
    const files = quarantineFilesOf(table, quarantine, report.sha256, map);
    for (const [part, file] of files.entries()) {
      const start = join(folder, files.length === 1 ? name : `${name}.part-${part + 1}`);
      written.push(await writePair(start, file.csv, `${JSON.stringify(file.map, null, 2)}\n`));
    }
  }
  return written;
}

const KEPT = "the quarantined rows are in the book; import the file again to write them to another folder";

/** Writes both files under the first names that are free or hold the same already. */
async function writePair(start: string, csv: string, map: string): Promise<QuarantineFilePaths> {
  for (let number = 1; ; number += 1) {
    const name = `${start}.quarantine${number === 1 ? "" : `-${number}`}`;
    const paths = { file: `${name}.csv`, map: `${name}.map.json` };
    if (!isFreeFor(paths.file, csv) || !isFreeFor(paths.map, map)) continue;
    await whereKept(async () => {
      await writeWhole("--quarantine", paths.map, [map]);
      await writeWhole("--quarantine", paths.file, [csv]);
    });
    return paths;
  }
}

/** Says of what cannot be written that nothing is lost. */
async function whereKept(write: () => Promise<void>): Promise<void> {
  try {
    await write();
  } catch (error) {
    if (!(error instanceof UsageError)) throw error;
    throw new UsageError(`${error.message}; ${KEPT}`, { cause: error });
  }
}

function isFreeFor(path: string, text: string): boolean {
  if (!existsSync(path)) return true;
  try {
    return readFileSync(path, "utf8") === text;
  } catch {
    return false;
  }
}

/** The most bytes of a name, so that a suffix fits after it. */
const MAX_NAME_BYTES = 200;

/** A name that every system takes for a file in the folder, from the name of a laboratory file. */
export function fileNameOf(name: string): string {
  let plain = name.replace(/[\p{Cc}<>:"/\\|?*]/gu, "_").replace(/^\.+/, "_");
  if (/^(con|prn|aux|nul|com\d|lpt\d)(\.|$)/i.test(plain)) plain = `_${plain}`;
  while (Buffer.byteLength(plain) > MAX_NAME_BYTES) plain = [...plain].slice(0, -1).join("");
  return plain;
}
