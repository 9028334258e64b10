import type { Command } from "commander";
import { SHORT_DEFERENCE } from "../../../provenance/index.js";
import { EXPLAIN, type ExitCode, type Io } from "../../io.js";
import { UNITS_OPTION } from "../../units-option.js";
import type { TraceOptions } from "./trace.js";

/** Adds the command that says what a cart or an aircraft touched. It is loaded when it runs. */
export function addTraceCommand(program: Command, io: Io, done: (code: ExitCode) => void): void {
  program
    .command("trace")
    .summary("aircraft a cart served, carts an aircraft met")
    .description(
      "which aircraft a cart served since its last good sample, or which carts an aircraft met, and what they can have carried over",
    )
    .argument("[samples...]", "laboratory files, as the laboratory delivered them; none with --book")
    .option(
      "--book <file>",
      "the sample book: its samples, and its carts and requirements unless files are named",
    )
    .option("--carts <file>", "carts file (JSON) with the hookups in the logs of its circuits")
    .option("--requirement <file>", "requirements file (JSON)")
    .option("--map <file>", "column map (JSON) of the laboratory files; none with --book")
    .option("--cart <name>", "what the circuits of this cart served")
    .option("--circuit <name>", "only this circuit of the cart")
    .option(
      "--aircraft <register>",
      "which carts this aircraft met; case, spaces and dashes make no difference",
    )
    .option("--on <day>", "the day of asking, such as 2026-03-14 (today); what is later is left out")
    .option("--units <system>", UNITS_OPTION)
    .option("--explain", EXPLAIN)
    .option("--json", "print one JSON document")
    .addHelpText(
      "after",
      `
Each quantity is traced by itself. Good and bad are what judge says of each sample.
Exit code 1: the last sample of a quantity is bad, or the aircraft was connected while one was; or a row could not be read.

Examples:
  siltbook trace --carts datasets/demo/carts.json --requirement datasets/demo/requirement.json \\
    --cart QB-02 --circuit aft --on 2026-11-20 datasets/demo/lab-*.csv
  siltbook trace --book base.siltbook --aircraft X-17

${SHORT_DEFERENCE}`,
    )
    .action(async (samples: string[], options: TraceOptions) => {
      done(await (await import("./trace.js")).runTrace(samples, options, io));
    });
}
