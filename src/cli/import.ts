import { mkdir, writeFile } from "node:fs/promises";
import { basename, join } from "node:path";
import { Book, type FileReport } from "../book/index.js";
import {
  bytesOnDisk,
  type ColumnMap,
  IntakeError,
  openLabFile,
  quarantineFileOf,
  readColumnMap,
  sayIssue,
  textOnDisk,
} from "../intake/index.js";
import { joinAssumptions } from "../provenance/index.js";
import { readDay } from "./day.js";
import { type ExitCode, type Io, printJson, UsageError } from "./io.js";
import { drawTable, sayAssumptions } from "./text.js";

/** Options of `siltbook import`. */
export interface ImportOptions {
  readonly book: string;
  readonly map?: string;
  readonly carts?: string;
  readonly requirement?: string;
  readonly quarantine?: string;
  readonly on?: string;
  readonly json?: boolean;
}

interface Imported {
  readonly files: readonly FileReport[];
  readonly refused: readonly { readonly file: string; readonly message: string }[];
  readonly quarantineFiles: readonly QuarantineFilePaths[];
}

interface QuarantineFilePaths {
  readonly file: string;
  readonly map: string;
}

/** Brings files into the book and prints what became of every row. */
export async function runImport(paths: readonly string[], options: ImportOptions, io: Io): Promise<ExitCode> {
  if (paths.length === 0 && options.carts === undefined && options.requirement === undefined) {
    throw new UsageError("import: expected files, --carts or --requirement");
  }
  const today = options.on === undefined ? undefined : readDay(options.on);
  const map =
    options.map === undefined ? undefined : readColumnMap(basename(options.map), textOnDisk(options.map));
  const book = Book.open(options.book, { create: true });
  try {
    if (options.carts !== undefined) book.keepCarts(basename(options.carts), textOnDisk(options.carts));
    if (options.requirement !== undefined) {
      book.keepRequirements(basename(options.requirement), textOnDisk(options.requirement));
    }
    const files: FileReport[] = [];
    const refused: { file: string; message: string }[] = [];
    const quarantineFiles: QuarantineFilePaths[] = [];
    for (const path of paths) {
      try {
        const report = await book.takeIn(path, {
          ...(map && { map }),
          ...(today !== undefined && { today }),
          ...(io.progress && { onProgress: barOf(basename(path), io.progress) }),
        });
        files.push(report);
        if (options.quarantine !== undefined && report.quarantined > 0) {
          quarantineFiles.push(...(await writeQuarantine(book, path, report, options.quarantine, map)));
        }
      } catch (error) {
        if (!(error instanceof IntakeError)) throw error;
        refused.push({ file: basename(path), message: error.message });
      }
    }
    const imported = { files, refused, quarantineFiles };
    if (options.json) printJson(io, importedAsJson(imported));
    else io.out(sayImported(imported, options));
    for (const { message } of refused) io.err(`siltbook: ${message}\n`);
    if (refused.length > 0) return 2;
    return files.some(({ quarantined }) => quarantined > 0) ? 1 : 0;
  } finally {
    book.close();
  }
}

async function writeQuarantine(
  book: Book,
  path: string,
  report: FileReport,
  folder: string,
  map: ColumnMap | undefined,
): Promise<QuarantineFilePaths[]> {
  await mkdir(folder, { recursive: true });
  const { tables } = await openLabFile(bytesOnDisk(path), { ...(map && { map }) });
  // A report shows no more than its first rows; the book has them all.
  const quarantine = book.quarantine().filter(({ sha256 }) => sha256 === report.sha256);
  const written: QuarantineFilePaths[] = [];
  for (const [index, table] of tables.entries()) {
    const file = quarantineFileOf(table, quarantine, report.sha256, map);
    if (file === undefined) continue;
    const start = join(folder, tables.length === 1 ? report.file : `${report.file}.${index + 1}`);
    const paths = { file: `${start}.quarantine.csv`, map: `${start}.quarantine.map.json` };
    await writeFile(paths.file, file.csv);
    await writeFile(paths.map, `${JSON.stringify(file.map, null, 2)}\n`);
    written.push(paths);
  }
  return written;
}

const BAR_CELLS = 30;

/** A bar that is drawn over itself; it is gone when the file has been read. */
function barOf(file: string, progress: NonNullable<Io["progress"]>): (fraction: number) => void {
  return (fraction) => {
    const full = Math.round(fraction * BAR_CELLS);
    const bar = `${"#".repeat(full)}${".".repeat(BAR_CELLS - full)}`;
    progress(fraction >= 1 ? "" : `${file} [${bar}] ${Math.round(fraction * 100)} %`);
  };
}

function importedAsJson({ files, refused, quarantineFiles }: Imported) {
  return {
    files: files.map(({ quarantine: _quarantine, assumptions: _assumptions, ...report }) => report),
    quarantine: files.flatMap(({ quarantine }) =>
      quarantine.flatMap((row) =>
        row.issues.map((issue) => ({ ...issue, message: sayIssue(issue), text: row.text })),
      ),
    ),
    refused,
    quarantineFiles,
    assumptions: joinAssumptions(...files.map(({ assumptions }) => assumptions)),
  };
}

/** So many issues of one file are said; the others stand in the quarantine file. */
const MOST_SAID = 20;

function sayImported({ files, refused, quarantineFiles }: Imported, options: ImportOptions): string {
  const head = ["file", "rows", "taken", "known", "amended", "quarantined", "not samples"];
  const rows = files.map((file) =>
    [file.file, file.rows, file.taken, file.known, file.amended, file.quarantined, file.notSamples].map(
      String,
    ),
  );
  return [
    files.length === 0 ? "" : drawTable(head, rows),
    ...files.map(
      ({ file, readAs, unusedColumns }) =>
        `${file}: read as ${readAs}${unusedColumns.length === 0 ? "" : `; columns not used: ${unusedColumns.join(", ")}`}\n`,
    ),
    ...files.flatMap((file) => sayQuarantine(file)),
    ...quarantineFiles.map(
      ({ file, map }) =>
        `Correct ${file} and feed it back:\n  siltbook import --book ${options.book} --map ${map} ${file}\n`,
    ),
    ...refused.map(({ file }) => `${file}: nothing was taken.\n`),
    sayAssumptions(joinAssumptions(...files.map(({ assumptions }) => assumptions))),
  ].join("");
}

function sayQuarantine({ quarantine, quarantined }: FileReport): string[] {
  if (quarantined === 0) return [];
  const issues = quarantine.flatMap((row) => row.issues.map(sayIssue));
  const said = issues.slice(0, MOST_SAID).map((issue) => `  ${issue}\n`);
  const more = issues.length - said.length;
  return ["In quarantine:\n", ...said, ...(more > 0 ? [`  and ${more} more\n`] : [])];
}
