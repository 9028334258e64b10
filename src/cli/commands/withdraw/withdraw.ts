import { Book, fileNamed, type WithdrawnFile } from "../../../book/index.js";
import { answerOf } from "../../answer.js";
import { type ExitCode, type Io, printJson, UsageError } from "../../io.js";
import { asShellWord } from "../../plain-text.js";
import { formatHowMany } from "../../text.js";
import { whoDoesIt } from "../../who.js";

/** Options of `siltbook withdraw`. */
export interface WithdrawOptions {
  readonly book: string;
  readonly by?: string;
  readonly reason: string;
  readonly json?: boolean;
}

/** Takes back what a file brought into the book. */
export function runWithdraw(
  name: string,
  { book: path, by, reason, json }: WithdrawOptions,
  io: Io,
): ExitCode {
  const person = whoDoesIt(by);
  if (person === undefined) throw new UsageError("withdraw: expected who withdraws the file (--by)");
  const book = Book.open(path);
  try {
    const done = book.withdraw(fileNamed(book.files(), name), { person, reason });
    if (json) printJson(io, answerOf("withdraw", { ...done, by: person, reason }));
    else io.out(describe(done, path));
    return done.importAgain.length === 0 ? 0 : 1;
  } finally {
    book.close();
  }
}

function describe({ file, withdrawn, restored, reopened, importAgain }: WithdrawnFile, book: string): string {
  const rows = reopened === 1 ? "row of another file waits" : "rows of other files wait";
  return [
    `${file} is withdrawn: ${formatHowMany(withdrawn, "sample")} of it ${withdrawn === 1 ? "counts" : "count"} no longer`,
    restored === 0
      ? ".\n"
      : `, and ${restored} ${restored === 1 ? "is" : "are"} as other files report them.\n`,
    reopened === 0 ? "" : `${reopened} ${rows} again.\n`,
    importAgain.length === 0
      ? ""
      : `These files name samples of it. Import them again, so that what they report of them counts:\n` +
        `  siltbook import --book ${asShellWord(book)} ${importAgain.map(asShellWord).join(" ")}\n`,
    `Nothing is deleted, and verdicts that it may concern say so. Importing ${file} again brings it back.\n`,
  ].join("");
}
