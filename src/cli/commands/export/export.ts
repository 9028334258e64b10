import { Book } from "../../../book/index.js";
import { type ExitCode, type Io, printJson, UsageError } from "../../io.js";
import { writeWhole } from "../../whole-file.js";

/** Options of `siltbook export` and `siltbook backup`. */
export interface ExportOptions {
  readonly book: string;
  readonly to: string;
  readonly json?: boolean;
}

/** Writes all samples as delimited text or JSON Lines, as the file's name says. */
export async function runExport({ book: path, to, json }: ExportOptions, io: Io): Promise<ExitCode> {
  const kind = /\.(csv|jsonl)$/i.exec(to)?.[1]?.toLowerCase();
  if (kind === undefined)
    throw new UsageError(`--to: expected a name that ends in .csv or .jsonl, found "${to}"`);
  const book = Book.open(path);
  try {
    await writeWhole("--to", to, kind === "csv" ? book.csv() : book.jsonLines());
    if (json) printJson(io, { to, samples: book.sampleCount });
    else io.out(`${book.sampleCount} samples are in ${to}\n`);
    return 0;
  } finally {
    book.close();
  }
}

/** Writes a copy of the whole book. */
export function runBackup({ book: path, to, json }: ExportOptions, io: Io): ExitCode {
  const book = Book.open(path);
  try {
    book.backup(to);
    if (json) printJson(io, { to, samples: book.sampleCount });
    else io.out(`A copy of the book with ${book.sampleCount} samples is in ${to}\n`);
    return 0;
  } finally {
    book.close();
  }
}
