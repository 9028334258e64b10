import { basename } from "node:path";
import {
  Book,
  BookError,
  type BroughtBook,
  describeFates,
  type FileReport,
  leavesWork,
  mayBeBook,
  type TakeInOptions,
} from "../../../book/index.js";
import {
  describeIssue,
  IntakeError,
  parseColumnMap,
  type QuarantinedRow,
  textOnDisk,
} from "../../../intake/index.js";
import { joinAssumptions } from "../../../provenance/index.js";
import type { FleetChange } from "../../../samples/index.js";
import { answerOf } from "../../answer.js";
import { readDay } from "../../day.js";
import { type ExitCode, type Io, printJson, UsageError } from "../../io.js";
import { asShellWord } from "../../plain-text.js";
import { describeAssumptions, formatHowMany } from "../../text.js";
import { describeKinds, describeWaiting, howToSettle, indented } from "../../waiting-rows.js";
import { whoDoesIt } from "../../who.js";
import { bookAsJson, describeBrought } from "./brought-books.js";
import { type QuarantineFilePaths, writeQuarantine } from "./quarantine-files.js";

/** Options of `siltbook import`. */
export interface ImportOptions {
  readonly book: string;
  readonly map?: string;
  readonly carts?: string;
  readonly requirement?: string;
  /** Let events go that the carts file does not list. */
  readonly dropEvents?: boolean;
  readonly quarantine?: string;
  /** Carts that are one and the same in this book and in one that is brought in. */
  readonly sameCart?: readonly string[];
  /** That every name of a cart means the same cart in both. */
  readonly oneFleet?: boolean;
  readonly on?: string;
  /** Who brings the files in. */
  readonly by?: string;
  /** All there is to say, not only what became of the rows. */
  readonly explain?: boolean;
  readonly json?: boolean;
}

interface Imported {
  /** Rows of files that came in before the book knew its carts, and that name none of their circuits. */
  readonly setAside: readonly QuarantinedRow[];
  /** What the carts file and the requirements file change against what the book had. */
  readonly changes: readonly FleetChange[];
  readonly files: readonly FileReport[];
  /** Other books. */
  readonly books: readonly BroughtBook[];
  readonly refused: readonly { readonly file: string; readonly message: string }[];
  readonly quarantineFiles: readonly QuarantineFilePaths[];
  /** Files that a column map has to settle questions of. */
  readonly unsettled: readonly string[];
  /** Rows of all files of the book that wait for a person. */
  readonly openInBook: number;
  /** Who brought the files in; null where that is not stated. */
  readonly by: string | null;
}

/** Brings files into the book and prints what became of every row. */
export async function runImport(paths: readonly string[], options: ImportOptions, io: Io): Promise<ExitCode> {
  if (paths.length === 0 && options.carts === undefined && options.requirement === undefined) {
    throw new UsageError("import: expected files, --carts or --requirement");
  }
  if (options.dropEvents && options.carts === undefined) {
    throw new UsageError("--drop-events: expected a carts file with it (--carts)");
  }
  const sameCarts = options.oneFleet ? "all" : options.sameCart;
  if (sameCarts !== undefined && !paths.some(mayBeBook)) {
    const name = options.oneFleet ? "--one-fleet" : "--same-cart";
    throw new UsageError(`${name}: expected another book with it, to be brought into this one`);
  }
  const today = options.on === undefined ? undefined : readDay(options.on);
  const map =
    options.map === undefined ? undefined : parseColumnMap(basename(options.map), textOnDisk(options.map));
  const by = whoDoesIt(options.by);
  const book = Book.open(options.book, { create: true });
  try {
    const { changes, setAside } = keepFleet(book, { ...options, ...(by !== undefined && { by }) }, today);
    const files: FileReport[] = [];
    const books: BroughtBook[] = [];
    const refused: { file: string; message: string }[] = [];
    const quarantineFiles: QuarantineFilePaths[] = [];
    const notWritten: string[] = [];
    const unsettled: string[] = [];
    for (const [index, path] of paths.entries()) {
      try {
        if (mayBeBook(path)) {
          books.push(
            book.bringIn(path, {
              ...(sameCarts && { sameCarts }),
              ...(today !== undefined && { today }),
              ...(by !== undefined && { by }),
            }),
          );
          continue;
        }
        const report = await book.takeIn(path, {
          ...(map && { map }),
          ...(today !== undefined && { today }),
          ...(by !== undefined && { by }),
          ...(io.progress && { onProgress: barOf(basename(path), io.progress) }),
        });
        files.push(report);
        if (options.quarantine !== undefined && report.quarantined > 0) {
          quarantineFiles.push(...(await writeQuarantine(book, path, report, options.quarantine, map)));
        }
      } catch (error) {
        if (error instanceof IntakeError) {
          refused.push({ file: basename(path), message: error.message });
          if (error.needsColumnMap) unsettled.push(path);
        } else if (error instanceof UsageError) notWritten.push(error.message);
        else if (error instanceof BookError) {
          refused.push({ file: basename(path), message: error.message });
          // What stopped one file would stop the next; what was taken before is said all the same.
          refused.push(...paths.slice(index + 1).map((later) => notTried(basename(later), path)));
          break;
        } else throw error;
      }
    }
    const imported = {
      setAside,
      changes,
      files,
      books,
      refused,
      quarantineFiles,
      unsettled,
      openInBook: book.openRowCount,
      by: by ?? null,
    };
    if (options.json) printJson(io, answerOf("import", importedAsJson(imported)));
    else io.out(describeImported(imported, options));
    for (const message of [...refused.map((entry) => entry.message), ...notWritten]) {
      io.err(`siltbook: ${message}\n`);
    }
    if (refused.length + notWritten.length > 0) return 2;
    return leavesWork(imported) ? 1 : 0;
  } finally {
    book.close();
  }
}

function keepFleet(
  book: Book,
  { carts, requirement, dropEvents, by }: ImportOptions,
  today: string | undefined,
) {
  const who = by === undefined ? {} : { by };
  const how = { ...(today !== undefined && { today }), ...(dropEvents && { dropEvents }), ...who };
  const kept =
    carts === undefined
      ? { changes: [], setAside: [] }
      : book.keepCarts(basename(carts), textOnDisk(carts), how);
  const dropped =
    requirement === undefined
      ? []
      : book.keepRequirements(basename(requirement), textOnDisk(requirement), who);
  return { changes: [...kept.changes, ...dropped], setAside: kept.setAside };
}

function notTried(file: string, stopped: string) {
  return { file, message: `${file}: was not tried, because ${basename(stopped)} could not be brought in` };
}

const BAR_CELLS = 30;

/** A bar that is drawn over itself, with the rows a second and the time left; it is gone when the file has been read. */
function barOf(
  file: string,
  progress: NonNullable<Io["progress"]>,
): NonNullable<TakeInOptions["onProgress"]> {
  const start = performance.now();
  return (fraction, rows) => {
    const seconds = (performance.now() - start) / 1000;
    const full = Math.round(fraction * BAR_CELLS);
    const bar = `${"#".repeat(full)}${".".repeat(BAR_CELLS - full)}`;
    const rate = `${formatRounded(rows / seconds)} rows a second`;
    const left = `${formatTimeLeft((seconds * (1 - fraction)) / fraction)} left`;
    progress(fraction >= 1 ? "" : `${file} [${bar}] ${Math.round(fraction * 100)} %, ${rate}, ${left}`);
  };
}

/** Two figures are as many as a rate holds for. */
function formatRounded(rate: number): string {
  return String(Number(rate.toPrecision(2)));
}

function formatTimeLeft(seconds: number): string {
  return seconds < 90 ? `${Math.ceil(seconds)} s` : `${Math.ceil(seconds / 60)} min`;
}

function importedAsJson(imported: Imported) {
  const { setAside, changes, files, books, refused, quarantineFiles, openInBook, by } = imported;
  return {
    setAside: issuesAsJson(setAside),
    changes,
    files: files.map(({ quarantine: _quarantine, assumptions: _assumptions, ...report }) => report),
    books: books.map((book) => bookAsJson(book, issuesAsJson)),
    quarantine: files.flatMap(({ quarantine }) => issuesAsJson(quarantine)),
    refused,
    quarantineFiles,
    openInBook,
    by,
    assumptions: joinAssumptions(...files.map(({ assumptions }) => assumptions)),
  };
}

function issuesAsJson(rows: readonly QuarantinedRow[]) {
  return rows.flatMap((row) =>
    row.issues.map((issue) => ({ ...issue, message: describeIssue(issue), text: row.text })),
  );
}

/** At most this many faults are printed; the others are in the quarantine file. */
const MAX_SAID = 1000;

const LATE = "Came in before the book knew its carts, names none of their circuits, and is in quarantine now";

function describeImported(imported: Imported, options: ImportOptions): string {
  const { setAside, changes, files, books, refused, quarantineFiles, unsettled, openInBook, by } = imported;
  const late = [...setAside, ...books.flatMap((book) => book.setAside)];
  return [
    ...describeChanges([...changes, ...books.flatMap((book) => book.changes)]),
    late.length === 0 ? "" : `${LATE}:\n${describeFaults(late, options)}`,
    ...books.map((book) => describeBrought(book, options.book)),
    ...files.flatMap((report) => [
      describeFile(report, options),
      describeFaults(report.quarantine, options, report.file),
    ]),
    ...quarantineFiles.map(
      ({ file, map }) =>
        `Correct the last file of this line, then run the line:\n  siltbook import --book ${asShellWord(options.book)} --map ${asShellWord(map)} ${asShellWord(file)}\n`,
    ),
    ...refused.map(({ file }) => `${file}: nothing was taken.\n`),
    ...unsettled.map(
      (path) =>
        `Answer its questions in a column map, then import with --map:\n  siltbook columns ${asShellWord(path)} --write ${asShellWord(`${path}.map.json`)}\n`,
    ),
    by === null ? "" : `In the record of the book: by ${by}.\n`,
    describeRead(files, options),
    describeOpen(openInBook, imported, options),
  ].join("");
}

/** What was not used of the files, and what --explain adds. */
function describeRead(files: readonly FileReport[], { explain }: ImportOptions): string {
  const assumptions = joinAssumptions(...files.map((report) => report.assumptions));
  if (explain) return describeAssumptions(assumptions);
  const unused = files.flatMap(({ file, unusedColumns }) =>
    unusedColumns.map((title) => (files.length === 1 ? title : `${title} (${file})`)),
  );
  const said = [
    ...(unused.length === 0 ? [] : [`Columns not used: ${unused.join(", ")}.`]),
    ...(assumptions.length === 0
      ? []
      : [`With --explain: ${formatHowMany(assumptions.length, "assumption")} of the reading.`]),
  ];
  return said.length === 0 ? "" : `${said.join(" ")}\n`;
}

/** The rows of the whole book that wait, but for those that were said with how to feed them back. */
function describeOpen(
  openInBook: number,
  { files, quarantineFiles }: Imported,
  { book }: ImportOptions,
): string {
  const here = files.reduce((sum, { quarantined }) => sum + quarantined, 0);
  if (openInBook === 0 || (openInBook === here && quarantineFiles.length > 0)) return "";
  const waiting = openInBook === here ? "" : `${describeWaiting(openInBook, "of the book")}.\n`;
  return `${waiting}${howToSettle(book)}`;
}

function describeChanges(changes: readonly FleetChange[]): string[] {
  if (changes.length === 0) return [];
  const staying = changes.some(({ kind }) => kind === "event-kept");
  return [
    "Changed against what the book had:\n",
    ...changes.map(({ message }) => `  ${message}\n`),
    ...(staying ? ["Events that stay can be let go with --drop-events.\n"] : []),
  ];
}

/** What became of the rows of a file: the numbers add up to the first. */
function describeFile(report: FileReport, { explain }: ImportOptions): string {
  const { file, readAs, unusedColumns, rows, notSamples } = report;
  const { taken, known, amended, quarantined } = report;
  const became = describeFates({ taken, known, amended, quarantined, "not a sample": notSamples });
  return [
    `${file}: ${formatHowMany(rows, "row")}${rows === notSamples ? "" : `: ${became}`}`,
    ...(rows === notSamples ? ["no row of it is a sample"] : []),
    ...(explain ? [`read as ${readAs}`] : []),
    ...(explain && unusedColumns.length > 0 ? [`columns not used: ${unusedColumns.join(", ")}`] : []),
  ]
    .join("; ")
    .concat("\n");
}

function describeFaults(rows: readonly QuarantinedRow[], { explain }: ImportOptions, file?: string): string {
  if (rows.length === 0) return "";
  if (!explain) return describeKinds(rows, file);
  const issues = rows.flatMap((row) => row.issues.map(describeIssue));
  const more = issues.length - MAX_SAID;
  return indented([...issues.slice(0, MAX_SAID), ...(more > 0 ? [`and ${more} more`] : [])]);
}
