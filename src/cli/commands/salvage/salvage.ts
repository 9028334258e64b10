import { Book, BookError, type Salvaged, salvageBook } from "../../../book/index.js";
import { answerOf } from "../../answer.js";
import { type ExitCode, type Io, printJson } from "../../io.js";
import { asShellWord } from "../../plain-text.js";

/** Options of `siltbook salvage`. */
export interface SalvageOptions {
  readonly book: string;
  readonly to: string;
  readonly json?: boolean;
}

/** Brings what can be read of a damaged book into a new one. */
export function runSalvage({ book, to, json }: SalvageOptions, io: Io): ExitCode {
  const salvaged = salvageBook(book, to);
  if (json) printJson(io, answerOf("salvage", { to, ...salvaged }));
  else io.out(describe(salvaged, to));
  return salvaged.chainGoesOn ? 0 : 1;
}

function describe({ rows, lost, chainGoesOn, importAgain }: Salvaged, to: string): string {
  const inBook = `siltbook import --book ${asShellWord(to)}`;
  return [
    lost.length === 0 ? `All ${rows} rows are in ${to}.\n` : `${rows} rows are in ${to}. Lost, at least:\n`,
    ...lost.map(({ what, rows: count }) => `  ${count} of ${what}\n`),
    chainGoesOn
      ? "Its chain goes on: the heads of printed pages are in it.\n"
      : "A new chain begins with it. Keep the damaged book: the heads on printed pages are of its chain.\n",
    importAgain.length === 0
      ? ""
      : `No circuit is called fit until these files are imported again, after the carts and the requirement:\n` +
        `  ${inBook} --carts FILE --requirement FILE\n  ${inBook} ${importAgain.map(asShellWord).join(" ")}\n` +
        "Enter again what people had decided, where decisions are lost.\n",
  ].join("");
}

/** Options of `siltbook restore`. */
export interface RestoreOptions {
  readonly from: string;
  readonly to: string;
  readonly json?: boolean;
}

/** Writes a book from its backup, when all of the backup fits. */
export function runRestore({ from, to, json }: RestoreOptions, io: Io): ExitCode {
  const backup = Book.open(from);
  try {
    const { fits, head, misfits, damage } = backup.verify();
    if (!fits || head === undefined) {
      throw new BookError(
        `${from}: ${damage[0] ?? misfits[0]?.message}; it was not restored, take an earlier backup`,
      );
    }
    backup.backup(to);
    if (json) printJson(io, answerOf("restore", { to, samples: backup.sampleCount, head }));
    else
      io.out(
        `${to} is as the backup of ${head.at}, with ${backup.sampleCount} samples, head ${head.hash.slice(0, 12)}.\n`,
      );
    return 0;
  } finally {
    backup.close();
  }
}
