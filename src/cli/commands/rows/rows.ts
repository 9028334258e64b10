import {
  Book,
  describeFate,
  describeFates,
  fileNamed,
  type RowFate,
  rowsByFate,
  type Withdrawal,
} from "../../../book/index.js";
import { describeIssue } from "../../../intake/index.js";
import { describePlaces, isColumn } from "../../../provenance/index.js";
import { answerOf } from "../../answer.js";
import { type ExitCode, type Io, printJson } from "../../io.js";
import { formatHowMany } from "../../text.js";
import { describeKinds, describeWaiting, howToSettle } from "../../waiting-rows.js";

/** Options of `siltbook rows`. */
export interface RowsOptions {
  readonly book: string;
  /** Every row, not only what became of them together. */
  readonly explain?: boolean;
  readonly json?: boolean;
}

/** Prints what became of the rows of a file. */
export function runRows(name: string, { book: path, explain, json }: RowsOptions, io: Io): ExitCode {
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
    if (!explain) io.out(describeRows(file.file, book.rows(file.sha256), path));
    // Row by row, because a file may have a million of them.
    else {
      for (const row of book.rows(file.sha256)) {
        io.document(formatRow(row));
        io.out((row.issues ?? []).map((issue) => `    ${describeIssue(issue)}\n`).join(""));
      }
    }
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

/** How many rows had which fate, and what those that wait need. */
function describeRows(file: string, rows: Iterable<RowFate>, book: string): string {
  const found = rowsByFate(rows);
  const waiting = found.waiting.map(({ issues = [], sheet, row, text }) => ({
    ...{ file, row, text, issues },
    ...(sheet !== undefined && { sheet }),
  }));
  return [
    `${file}: ${formatHowMany(found.rows, "row")}: ${describeFates(found.became, found.settled)}\n`,
    ...(waiting.length === 0
      ? ["No row waits for a person.\n"]
      : [`${describeWaiting(waiting.length)}:\n`, describeKinds(waiting), howToSettle(book)]),
    "With --explain: every row as the file has it.\n",
  ].join("");
}

function nameOf(row: number): string {
  return isColumn(row) ? describePlaces([row]) : String(row);
}

function formatRow({ sheet, row, text, ...became }: RowFate): string {
  const place = sheet === undefined ? nameOf(row) : `"${sheet}" ${nameOf(row)}`;
  return `${place}\t${describeFate(became)}\t${text}\n`;
}
