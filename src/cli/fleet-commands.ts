import type { Command } from "commander";
import { SHORT_DEFERENCE } from "../provenance/index.js";
import type { FleetOptions } from "./commands/fleet/fleet.js";
import type { LabelsOptions } from "./commands/labels/labels.js";
import type { OverrideOptions } from "./commands/override/override.js";
import type { PageOptions } from "./commands/page/page.js";
import { EXPLAIN, type ExitCode, type Io } from "./io.js";
import { UNITS_OPTION } from "./units-option.js";

/** Adds the commands that look at a whole fleet in the book. Each is loaded when it runs. */
export function addFleetCommands(program: Command, io: Io, done: (code: ExitCode) => void): void {
  program
    .command("fleet")
    .summary("every circuit, what needs doing first")
    .description("every circuit of the book, what needs doing first at the top, and what changed")
    .requiredOption("--book <file>", "the sample book")
    .option("--carts <file>", "carts file (JSON) instead of the book's")
    .option("--requirement <file>", "requirements file (JSON) instead of the book's")
    .option("--cart <name>", "only the circuits of this cart")
    .option("--on <day>", "day of judging, such as 2026-03-14 (today)")
    .option("--as-of <day>", "judge with what was known on this day: drawn, and reported or imported by then")
    .option("--since <day>", "compare with the verdicts in the book that were judged for this day or before")
    .option(
      "--shard <i/n>",
      "judge one of n parts of the fleet, shared out by the names of the carts, for siltbook merge",
    )
    .option("--out <file>", "where a shard goes, as JSON Lines (with --shard)")
    .option("--explain", EXPLAIN)
    .option("--json", "print one JSON document")
    .addHelpText(
      "after",
      `
Exit code 1: a circuit is not fit or held by a person, or a row is in quarantine. A shard ends with 0 when it is written.

Examples:
  siltbook fleet --book base.siltbook --on 2026-03-14
  siltbook fleet --book base.siltbook --on 2026-03-14 --shard 2/4 --out shard-2.jsonl

${SHORT_DEFERENCE}`,
    )
    .action(async (options: FleetOptions) => {
      done(await (await import("./commands/fleet/fleet.js")).runFleet(options, io));
    });

  program
    .command("merge")
    .summary("one fleet from the shards of several machines")
    .description(
      "puts the shards of a fleet together, keeps their verdicts in the book, and prints what fleet prints",
    )
    .argument("<shards...>", "all files of one fleet that siltbook fleet --shard wrote")
    .requiredOption(
      "--book <file>",
      "the sample book that was judged, or the one that its copies were made of",
    )
    .option("--explain", EXPLAIN)
    .option("--json", "print one JSON document")
    .addHelpText(
      "after",
      `
Exit code 1: as of fleet. Exit code 2: a shard is missing, there twice, damaged, or of another day, book, carts file,
requirement or version; then nothing is kept and no fleet is printed.

Example:
  siltbook merge --book base.siltbook shard-*.jsonl

${SHORT_DEFERENCE}`,
    )
    .action(async (files: string[], options: FleetOptions) => {
      done(await (await import("./commands/merge/merge.js")).runMerge(files, options, io));
    });

  program
    .command("page")
    .summary("all carts on one page for a phone")
    .description(
      "a page for a phone in the hangar: all carts and the program in one HTML file, without a network",
    )
    .argument("[samples...]", "laboratory files, as the laboratory delivered them; none with --book")
    .option(
      "--book <file>",
      "the sample book: its samples, and its carts and requirements unless files are named",
    )
    .option("--carts <file>", "carts file (JSON)")
    .option("--requirement <file>", "requirements file (JSON)")
    .option(
      "--map <file>",
      "column map (JSON) that settles what the laboratory files leave open; none with --book",
    )
    .requiredOption("--out <file>", "HTML file to write")
    .option("--cart <name>", "only the circuits of one cart (all carts)")
    .option("--on <day>", "day of the data, such as 2026-03-14 (today)")
    .option("--units <system>", UNITS_OPTION)
    .option("--json", "print one JSON document")
    .addHelpText(
      "after",
      `
The page judges for the day that the device shows. It calls nothing fit once its data are more than 7 days old.
Exit code 1: a row could not be read and may be a newer result.

Examples:
  siltbook page --book base.siltbook --out cart.html
  siltbook page --carts datasets/demo/carts.json --requirement datasets/demo/requirement.json \\
    datasets/demo/lab-*.csv --out cart.html

${SHORT_DEFERENCE}`,
    )
    .action(async (samples: string[], options: PageOptions) => {
      done(await (await import("./commands/page/page.js")).runPage(samples, options, io));
    });

  program
    .command("labels")
    .summary("labels for sample bottles, to print")
    .description(
      "labels for sample bottles as a page to print: cart, circuit, fluid, point and number, with a QR code",
    )
    .option("--book <file>", "the sample book: its carts, and the numbers that are in use")
    .option("--carts <file>", "carts file (JSON), without a book")
    .requiredOption("--out <file>", "HTML file to write")
    .option("--cart <name>", "only the circuits of one cart (all carts)")
    .option("--circuit <name>", "only the circuits of this name (all circuits)")
    .option("--bottles <number>", "bottles for each circuit (1)")
    .option(
      "--first <number>",
      'number of the first bottle, such as "26-0401", counted up (room to write it)',
    )
    .option("--point <point>", "where the bottles are filled, such as main-flow-line (room to write it)")
    .option("--json", "print one JSON document")
    .addHelpText(
      "after",
      `
Examples:
  siltbook labels --book base.siltbook --cart C-1 --bottles 2 --first 26-0401 --out labels.html
  siltbook labels --carts datasets/demo/carts.json --out labels.html

${SHORT_DEFERENCE}`,
    )
    .action(async (options: LabelsOptions) => {
      done(await (await import("./commands/labels/labels.js")).runLabels(options, io));
    });

  program
    .command("override")
    .summary("records what a person decided")
    .description(
      "records what a person decided about a circuit, and why, or lifts it; the verdict stays as it was computed",
    )
    .requiredOption("--book <file>", "the sample book")
    .requiredOption("--cart <name>", "name of the cart")
    .requiredOption("--circuit <name>", "name of the circuit")
    .requiredOption("--person <name>", "who decided, or who lifts the decision")
    .requiredOption("--reason <text>", "why")
    .option("--by <name>", "who enters it, for the record (SILTBOOK_BY, or the person)")
    .option("--decision <verdict>", "fit, circulate, exchange-fluid, resample or do-not-connect")
    .option("--second <name>", "a second person; needed for a decision milder than do-not-connect")
    .option(
      "--until <day>",
      "last day of a decision milder than the verdict (the day the verdict was judged for)",
    )
    .option("--on <day>", "the day the verdict was judged for (the last one kept)")
    .option("--lift", "lift the decision that holds the circuit")
    .option("--number <number>", "the decision to lift, where there are several")
    .option("--json", "print one JSON document")
    .addHelpText(
      "after",
      `
A decision as strict as the verdict or stricter holds the circuit until a person lifts it: exit code 1 from judge, fleet,
report and history. A milder one changes no exit code; it is shown with the verdict it was made on, until its last day.
A circuit without a verdict can be stopped with --decision do-not-connect.

Examples:
  siltbook override --book base.siltbook --cart C-1 --circuit fore --person "A. Person" \\
    --decision resample --reason "bottle was found open"
  siltbook override --book base.siltbook --cart C-1 --circuit fore --person "B. Person" \\
    --lift --reason "drawn again, bottle sealed"

${SHORT_DEFERENCE}`,
    )
    .action((options: OverrideOptions) =>
      import("./commands/override/override.js").then((command) => done(command.runOverride(options, io))),
    );
}
