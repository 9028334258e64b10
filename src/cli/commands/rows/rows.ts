import { Book, fileNamed, type RowFate, type Withdrawal } from "../../../book/index.js";
import { describeIssue } from "../../../intake/index.js";
import { describePlaces, isColumn } from "../../../provenance/index.js";
import { answerOf } from "../../answer.js";
import { type ExitCode, type Io, printJson } from "../../io.js";

/** Options of `siltbook rows`. */
export interface RowsOptions {
  readonly book: string;
  readonly json?: boolean;
}

/** Prints every row of a file and what became of it. */
export function runRows(name: string, { book: path, json }: RowsOptions, io: Io): ExitCode {
  const book = Book.open(path);
  try {
    const file = fileNamed(book.files(), name);
    const taken = book.withdrawals().find(({ sha256 }) => sha256 === file.sha256);
    const withdrawn = taken && { at: taken.at, person: taken.person, reason: taken.reason };
    if (json) {
      const { file: only, sha256 } = file;
      printJson(
        io,
        answerOf("rows", { file: only, sha256, withdrawn: withdrawn ?? null, rows: [...book.rows(sha256)] }),
      );
      return 0;
    }
    if (withdrawn !== undefined) io.out(describeWithdrawn(file.file, withdrawn));
    // Row by row, because a file may have a million of them.
    for (const row of book.rows(file.sha256)) io.out(formatRow(row));
    return 0;
  } finally {
    book.close();
  }
}

/** When, by whom and why a file was taken back. */
export function describeWithdrawn(
  what: string,
  { at, person, reason }: Pick<Withdrawal, "at" | "person" | "reason">,
): string {
  return `${what} was withdrawn on ${at.slice(0, 10)} by ${person}: ${reason}\n`;
}

function nameOf(row: number): string {
  return isColumn(row) ? describePlaces([row]) : String(row);
}

function formatRow({ sheet, row, text, fate, issues, settled, why }: RowFate): string {
  const place = sheet === undefined ? nameOf(row) : `"${sheet}" ${nameOf(row)}`;
  const more = why === undefined ? "" : ` (${why})`;
  const reasons = (issues ?? []).map((issue) => `    ${describeIssue(issue)}\n`).join("");
  return `${place}\t${fate}${settled ? ", settled since" : ""}${more}\t${text}\n${reasons}`;
}
