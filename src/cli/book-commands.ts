import type { Command } from "commander";
import { collect } from "./collect.js";
import type { ColumnsOptions } from "./commands/columns/columns.js";
import type { ExportOptions } from "./commands/export/export.js";
import type { HistoryOptions } from "./commands/history/history.js";
import type { ImportOptions } from "./commands/import/import.js";
import type { InitOptions } from "./commands/init/init.js";
import type { ListOptions } from "./commands/list/list.js";
import type { QuarantineOptions } from "./commands/quarantine/quarantine.js";
import type { RowsOptions } from "./commands/rows/rows.js";
import type { WithdrawOptions } from "./commands/withdraw/withdraw.js";
import { EXPLAIN, type ExitCode, type Io } from "./io.js";

/** Adds the commands that fill the sample book and ask it. Each is loaded when it runs. */
export function addBookCommands(program: Command, io: Io, done: (code: ExitCode) => void): void {
  program
    .command("import")
    .summary("brings files or another book into the book")
    .description(
      "brings laboratory files, or the book of another base, into the sample book and says what became of every row",
    )
    .argument(
      "[files...]",
      "delimited text, xlsx, JSON or JSON Lines, as the laboratory delivered them; or other sample books",
    )
    .requiredOption("--book <file>", "the sample book; it is made when it does not exist")
    .option("--map <file>", "column map (JSON) that settles what the files leave open")
    .option("--carts <file>", "carts file (JSON) to keep in the book; samples of other carts are quarantined")
    .option("--drop-events", "let events go that the carts file does not list; they stay otherwise")
    .option("--requirement <file>", "requirements file (JSON) to keep in the book")
    .option("--quarantine <folder>", "write the quarantined rows there, to be corrected and fed back")
    .option(
      "--same-cart <name>",
      "with another book: a cart that is one and the same in both; may be given again",
      collect,
    )
    .option("--one-fleet", "with another book: every cart that both have by one name is the same")
    .option("--on <day>", "day of import, for finding days in the future (today)")
    .option(
      "--by <name>",
      "who brings the files in, kept in the record of the book (SILTBOOK_BY, or not stated)",
    )
    .option("--explain", EXPLAIN)
    .option("--json", "print one JSON document")
    .addHelpText(
      "after",
      `
A file or a book is taken in whole or not at all. Importing it again changes nothing; of a book that has grown, only what
is new comes in.

Examples:
  siltbook import --book base.siltbook --carts carts.json march.csv april.xlsx
  siltbook import --book base.siltbook --quarantine quarantine march.csv
  siltbook import --book base.siltbook --map quarantine/march.csv.quarantine.map.json quarantine/march.csv.quarantine.csv
  siltbook import --book both.siltbook north.siltbook south.siltbook`,
    )
    .action(async (files: string[], options: ImportOptions) => {
      done(await (await import("./commands/import/import.js")).runImport(files, options, io));
    });

  program
    .command("quarantine")
    .summary("rows that wait for a person")
    .description(
      "the rows of the book that wait for a person; settles or discards one by name and with a reason",
    )
    .requiredOption("--book <file>", "the sample book")
    .option("--cart <name>", "only the rows that may be of this cart")
    .option("--circuit <name>", "only the rows that may be of this circuit")
    .option("--all", "also the rows that wait no longer, and why")
    .option("--settle <id...>", "nothing is left to correct in these rows")
    .option("--discard <id...>", "these rows are no results")
    .option("--reopen <id...>", "these rows wait again")
    .option("--by <name>", "who decides (SILTBOOK_BY)")
    .option("--reason <text>", "why")
    .option("--json", "print one JSON document")
    .addHelpText(
      "after",
      `
Nothing is deleted: a decision is kept with who, why and when, and verdicts that the row may concern say it.
Exit code 1: a row waits.

Examples:
  siltbook quarantine --book base.siltbook
  siltbook quarantine --book base.siltbook --discard 3f2a9c1b2d --by "A. Person" --reason "a line of the transport firm"`,
    )
    .action(async (options: QuarantineOptions) => {
      done((await import("./commands/quarantine/quarantine.js")).runQuarantine(options, io));
    });

  program
    .command("columns")
    .summary("what is understood of a laboratory file")
    .description("says what is understood of a laboratory file, and writes a column map to edit")
    .argument("<file>", "delimited text, xlsx, JSON or JSON Lines")
    .option("--map <file>", "column map (JSON) to read it with")
    .option("--write <file>", "write a column map there, to be edited; nothing is overwritten")
    .option("--json", "print one JSON document")
    .addHelpText(
      "after",
      `
Examples:
  siltbook columns march.csv
  siltbook columns march.csv --write our-lab.map.json`,
    )
    .action(async (file: string, options: ColumnsOptions) => {
      done(await (await import("./commands/columns/columns.js")).runColumns(file, options, io));
    });

  program
    .command("init")
    .summary("files to fill in: carts, requirement, maps")
    .description(
      "writes a carts file and a requirements file to fill in, and a column map for each laboratory file",
    )
    .argument("[files...]", "laboratory files to write column maps for")
    .requiredOption("--to <folder>", "folder to write them to; nothing is overwritten")
    .option("--json", "print one JSON document")
    .addHelpText("after", "\nExample:\n  siltbook init --to our-base march.csv")
    .action(async (files: string[], options: InitOptions) => {
      done(await (await import("./commands/init/init.js")).runInit(files, options, io));
    });

  program
    .command("list")
    .summary("files, carts or open rows of the book")
    .description("lists the files, the carts or the open rows of the book")
    .argument("<what>", "files, carts or rows")
    .requiredOption("--book <file>", "the sample book")
    .option("--json", "print one JSON document")
    .addHelpText(
      "after",
      `
Exit code 1: a row waits for a person (rows).

Examples:
  siltbook list files --book base.siltbook
  siltbook list carts --book base.siltbook`,
    )
    .action(async (what: string, options: ListOptions) => {
      done((await import("./commands/list/list.js")).runList(what, options, io));
    });

  program
    .command("history")
    .summary("all samples of a circuit")
    .description("all samples of a circuit in the book, where each came from, and what was corrected")
    .requiredOption("--book <file>", "the sample book")
    .requiredOption("--cart <name>", "name of the cart")
    .requiredOption("--circuit <name>", "name of the circuit")
    .option("--json", "print one JSON document")
    .addHelpText(
      "after",
      `
Example:
  siltbook history --book base.siltbook --cart C-1 --circuit fore`,
    )
    .action(async (options: HistoryOptions) => {
      done((await import("./commands/history/history.js")).runHistory(options, io));
    });

  program
    .command("rows")
    .summary("what became of the rows of a file")
    .description("what became of the rows of a file in the book, and what those that wait need")
    .requiredOption("--book <file>", "the sample book")
    .argument("<name>", "name of the file, or the first digits of its SHA-256")
    .option("--explain", "every row, as the file has it")
    .option("--json", "print one JSON document")
    .addHelpText("after", "\nExample:\n  siltbook rows --book base.siltbook march.csv")
    .action(async (name: string, options: RowsOptions) => {
      done((await import("./commands/rows/rows.js")).runRows(name, options, io));
    });

  program
    .command("withdraw")
    .summary("takes back what a file brought in")
    .description(
      "takes back what a file brought into the book: its samples count no longer, and what other files report of them counts again",
    )
    .requiredOption("--book <file>", "the sample book")
    .argument("<name>", "name of the file, or the first digits of its SHA-256")
    .option("--by <name>", "who withdraws it (SILTBOOK_BY)")
    .requiredOption("--reason <text>", "why")
    .option("--json", "print one JSON document")
    .addHelpText(
      "after",
      `
Nothing is deleted: verdicts on its circuits, history and rows say who withdrew it and why. Importing it again brings it back.
Exit code 1: other files name the same samples and are to be imported again.

Example:
  siltbook withdraw --book base.siltbook march.csv --by "A. Person" --reason "report of another base"`,
    )
    .action(async (name: string, options: WithdrawOptions) => {
      done((await import("./commands/withdraw/withdraw.js")).runWithdraw(name, options, io));
    });

  program
    .command("export")
    .summary("samples, verdicts, what is due: as tables")
    .description(
      "writes samples, verdicts, assessed quantities, the fleet or the samples that are due as tables",
    )
    .requiredOption("--book <file>", "the sample book")
    .requiredOption(
      "--to <file>",
      "file to write; its name ends in .csv, .jsonl, .xlsx, .parquet or .ics; with --base a folder",
    )
    .option(
      "--base <name>",
      "write the samples with their classes as Parquet files in folders base=…/cart=…, for several bases together",
    )
    .option("--table <name>", "samples, verdicts, quantities, fleet or due (samples; all of them in .xlsx)")
    .option("--cart <name>", "only the circuits of this cart")
    .option("--on <day>", "day of judging, such as 2026-03-14 (today)")
    .option("--as-of <day>", "with what was known on this day: drawn, and reported or imported by then")
    .option("--days <number>", "how many days to look ahead for samples that are due (30)")
    .option("--json", "print one JSON document")
    .addHelpText(
      "after",
      `
A .csv without --table is read back by siltbook import. A calendar (.ics) holds the samples that are due.

Examples:
  siltbook export --book base.siltbook --to samples.csv
  siltbook export --book base.siltbook --to base.xlsx --on 2026-03-14
  siltbook export --book base.siltbook --to qb-06.xlsx --cart QB-06 --as-of 2026-03-14
  siltbook export --book base.siltbook --to due.ics --days 14
  siltbook export --book base.siltbook --to quantities.parquet --table quantities
  siltbook export --book base.siltbook --to samples --base "North field"`,
    )
    .action(async (options: ExportOptions) => {
      done(await (await import("./commands/export/export.js")).runExport(options, io));
    });
}
