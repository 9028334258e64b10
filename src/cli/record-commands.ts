import type { Command } from "commander";
import { collect } from "./collect.js";
import type { EvidenceOptions } from "./commands/evidence/evidence.js";
import type { ExportOptions } from "./commands/export/export.js";
import type { RestoreOptions, SalvageOptions } from "./commands/salvage/salvage.js";
import type { SignOptions } from "./commands/sign/sign.js";
import type { VerifyOptions } from "./commands/verify/verify.js";
import type { ExitCode, Io } from "./io.js";

/** Adds the commands that check the record of a book, hand it over, and keep it safe. Each is loaded when it runs. */
export function addRecordCommands(program: Command, io: Io, done: (code: ExitCode) => void): void {
  program
    .command("verify")
    .summary("whether the book is as it was written")
    .description(
      "whether the book is as it was written: its chain, every row, every verdict computed again; or an evidence pack, without the book",
    )
    .option("--book <file>", "the sample book; with --evidence, whether it contains the head of the pack")
    .option("--evidence <path>", "an evidence pack: its folder, or the .zip")
    .option("--against <head>", "the head on a printed page, or its first 12 digits: is it contained?")
    .option("--signed <file>", "a signed statement of a head: is it contained, and signed with --public-key?")
    .option(
      "--public-key <file>",
      "the public key (PEM) to check --signed with, or the statement in the pack",
    )
    .option("--json", "print one JSON document")
    .addHelpText(
      "after",
      `
Exit code 1: something does not fit, the head is not contained, or the statement is not signed with the key.

Examples:
  siltbook verify --book base.siltbook
  siltbook verify --book base.siltbook --against 3f2a9c1b2d04
  siltbook verify --book base.siltbook --signed head.json --public-key base.pem.pub
  siltbook verify --evidence c-01-fore.zip`,
    )
    .action(async (options: VerifyOptions) => {
      done(await (await import("./commands/verify/verify.js")).runVerify(options, io));
    });

  program
    .command("sign")
    .summary("a signed statement of the head of the book")
    .description(
      "signs the head of a book that fits its chain with a key of the base (Ed25519), or makes such a key",
    )
    .option("--book <file>", "the sample book")
    .option("--key <file>", "the private key (PEM, Ed25519); it is read only")
    .option("--on <day>", "day of signing, such as 2026-03-14 (today)")
    .option("--out <file>", "write the statement there; it is printed otherwise (JSON)")
    .option(
      "--new-key <file>",
      "make a private key there, and the public key in <file>.pub; nothing is overwritten",
    )
    .addHelpText(
      "after",
      `
Who has the book and not the key can make another book, but no statement of it. Keep key and book apart.

Examples:
  siltbook sign --new-key base.pem
  siltbook sign --book base.siltbook --key base.pem --out head-2026-03-14.json`,
    )
    .action(async (options: SignOptions) => {
      done(await (await import("./commands/sign/sign.js")).runSign(options, io));
    });

  program
    .command("evidence")
    .summary("all that one verdict rests on, to hand over")
    .description(
      "writes all that one verdict rests on: the laboratory's rows, the sample, the requirement, the verdict, the sheet, and the chain; another machine checks it without the book",
    )
    .requiredOption("--book <file>", "the sample book")
    .option("--cart <name>", "the cart; its last verdict, where --on names no day")
    .option("--circuit <name>", "the circuit, where the cart has several")
    .option("--on <day>", "the day that the verdict was judged for, such as 2026-03-14")
    .option("--record <number>", "the number of the verdict, as printed, instead of cart and day")
    .option(
      "--original <file>",
      "a laboratory file as it was delivered, to be put in; again for each further one",
      collect,
    )
    .option("--ro-crate", "also describe the pack as an RO-Crate, with terms of PROV")
    .option("--signed <file>", "a signed statement of a head of the book, to be put in")
    .requiredOption("--out <path>", "folder to write, or a file that ends in .zip; nothing is overwritten")
    .option("--json", "print one JSON document")
    .addHelpText(
      "after",
      `
Exit code 1: written, but something does not fit.

Examples:
  siltbook evidence --book base.siltbook --cart C-01 --circuit fore --out c-01-fore.zip
  siltbook evidence --book base.siltbook --record 17 --original march.xlsx --out verdict-17`,
    )
    .action(async (options: EvidenceOptions) => {
      done(await (await import("./commands/evidence/evidence.js")).runEvidence(options, io));
    });

  program
    .command("backup")
    .summary("a copy of the whole book")
    .description("writes a copy of the whole book, also while other programs use it")
    .requiredOption("--book <file>", "the sample book")
    .requiredOption("--to <file>", "file to write; nothing is overwritten")
    .option("--json", "print one JSON document")
    .addHelpText(
      "after",
      "\nA backup is a book: verify --book tells whether all of it fits.\n\nExample:\n  siltbook backup --book base.siltbook --to base-2026-03-14.siltbook",
    )
    .action(async (options: ExportOptions) => {
      done((await import("./commands/export/export.js")).runBackup(options, io));
    });

  program
    .command("restore")
    .summary("the book again, from a backup")
    .description("writes the book from a backup, when all of the backup fits its chain")
    .requiredOption("--from <file>", "the backup")
    .requiredOption("--to <file>", "the book to write; nothing is overwritten")
    .option("--json", "print one JSON document")
    .addHelpText("after", "\nExample:\n  siltbook restore --from base-2026-03-14.siltbook --to base.siltbook")
    .action(async (options: RestoreOptions) => {
      done((await import("./commands/salvage/salvage.js")).runRestore(options, io));
    });

  program
    .command("salvage")
    .summary("what can be read of a damaged book")
    .description("brings what can be read of a damaged book into a new one, and lists what is lost")
    .requiredOption("--book <file>", "the damaged book; it is left as it is")
    .requiredOption("--to <file>", "the new book; nothing is overwritten")
    .option("--json", "print one JSON document")
    .addHelpText(
      "after",
      `
A backup, with the files that came after it, is better. Exit code 1: something is lost.

Example:
  siltbook salvage --book base.siltbook --to salvaged.siltbook`,
    )
    .action(async (options: SalvageOptions) => {
      done((await import("./commands/salvage/salvage.js")).runSalvage(options, io));
    });
}
