import type { Command } from "commander";
import { EXPLAIN, type ExitCode, type Io } from "../../io.js";
import type { LaboratoriesOptions } from "./laboratories.js";

/** Adds the command that compares laboratories. It is loaded when it runs. */
export function addLaboratoriesCommand(program: Command, io: Io, done: (code: ExitCode) => void): void {
  program
    .command("laboratories")
    .summary("whether laboratories and counters agree")
    .description(
      "whether laboratories and counters agree, from bottles of the same fluid and repeated counts in the book",
    )
    .requiredOption("--book <file>", "the sample book")
    .option("--reference <name>", "the laboratory that the others are compared with")
    .option("--same-day", "bottles of one circuit and day were filled together where no time is stated")
    .option("--by-map", "a column map's name is the laboratory of its files, where a report names none")
    .option("--explain", EXPLAIN)
    .option("--json", "print one JSON document")
    .addHelpText(
      "after",
      `
Two bottles are of the same fluid when circuit, place, day and time of drawing
are the same. A report names its laboratory in a column "Laboratory", its counter
in a column "Counter".
Exit code 1: laboratories differ, or too few bottles are shared to say.

Examples:
  siltbook laboratories --book base.siltbook
  siltbook laboratories --book base.siltbook --reference "Certificate" --same-day`,
    )
    .action(async (options: LaboratoriesOptions) => {
      done((await import("./laboratories.js")).runLaboratories(options, io));
    });
}
