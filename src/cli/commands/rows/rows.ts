import { Book, fileNamed, type RowFate, type Withdrawal } from "../../../book/index.js";
import { describeIssue, type QuarantinedRow } from "../../../intake/index.js";
import { describePlaces, isColumn } from "../../../provenance/index.js";
import { answerOf } from "../../answer.js";
import { type ExitCode, type Io, printJson } from "../../io.js";
import { drawLines, formatHowMany } from "../../text.js";
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
    else for (const row of book.rows(file.sha256)) io.out(formatRow(row));
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

const FATES = {
  taken: "taken",
  known: "known",
  amended: "amended",
  quarantined: "in quarantine",
  withdrawn: "withdrawn",
  "not a sample": "not samples",
} as const;

/** How many rows had which fate, and what those that wait need. */
function describeRows(file: string, rows: Iterable<RowFate>, book: string): string {
  const became = new Map<RowFate["fate"], number>();
  const waiting: QuarantinedRow[] = [];
  let settled = 0;
  for (const { fate, settled: isSettled, issues = [], ...row } of rows) {
    became.set(fate, (became.get(fate) ?? 0) + 1);
    if (fate !== "quarantined") continue;
    if (isSettled) settled += 1;
    else waiting.push({ file, issues, ...row });
  }
  const all = [...became.values()].reduce((sum, many) => sum + many, 0);
  const parts = Object.entries(FATES).flatMap(([fate, words]) => {
    const many = became.get(fate as RowFate["fate"]);
    const since = fate === "quarantined" && settled > 0 ? ` (${settled} settled since)` : "";
    const said = many === 1 && fate === "not a sample" ? fate : words;
    return many === undefined ? [] : [`${many} ${said}${since}`];
  });
  return [
    drawLines([`${file}: ${formatHowMany(all, "row")}: ${parts.join(", ")}`]),
    ...(waiting.length === 0
      ? ["No row waits for a person.\n"]
      : [`${describeWaiting(waiting.length)}:\n`, describeKinds(waiting), `T${howToSettle(book).slice(1)}`]),
    "With --explain: every row as the file has it.\n",
  ].join("");
}

function nameOf(row: number): string {
  return isColumn(row) ? describePlaces([row]) : String(row);
}

function formatRow({ sheet, row, text, fate, issues, settled, waitsIn, why }: RowFate): string {
  const place = sheet === undefined ? nameOf(row) : `"${sheet}" ${nameOf(row)}`;
  const said = why ?? (waitsIn && `waits in ${waitsIn}`);
  const more = said === undefined ? "" : ` (${said})`;
  const reasons = (issues ?? []).map((issue) => `    ${describeIssue(issue)}\n`).join("");
  return `${place}\t${fate}${settled ? ", settled since" : ""}${more}\t${text}\n${reasons}`;
}
