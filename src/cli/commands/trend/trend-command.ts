import type { Command } from "commander";
import { EXPLAIN, type ExitCode, type Io } from "../../io.js";
import type { TrendOptions } from "./trend-options.js";

/** Adds the command that says where a circuit is heading. It is loaded when it runs. */
export function addTrendCommand(program: Command, io: Io, done: (code: ExitCode) => void): void {
  program
    .command("trend")
    .summary("where a circuit is heading")
    .description(
      "where water, acid, viscosity or particles of a circuit are heading, and when a limit is crossed",
    )
    .argument("[samples...]", "laboratory files, as the laboratory delivered them; none with --book")
    .option(
      "--book <file>",
      "the sample book: its samples, and its carts and requirements unless files are named",
    )
    .option("--carts <file>", "carts file (JSON)")
    .option("--requirement <file>", "requirements file (JSON): limits, and how long a sample lasts")
    .requiredOption("--cart <name>", "name of the cart")
    .requiredOption("--circuit <name>", "name of the circuit")
    .option(
      "--measure <name>",
      "water, acid, viscosity, particles, or one channel: particles-4, particles-6, particles-14",
      "water",
    )
    .option("--limit <quantity>", 'upper limit, such as "200 ppm by mass" or "18/16/13" (the requirement\'s)')
    .option("--lower-limit <quantity>", 'lower limit, such as "9 mm2/s"')
    .option("--new-fluid <quantity>", "value of new fluid, to tell generation from dilution by top-ups")
    .option("--on <day>", "today, such as 2026-03-14 (today)")
    .option("--horizon <days>", "how far ahead a crossing is looked for (365)")
    .option("--longest <days>", "longest time between two samples (the requirement's)")
    .option("--risk <per cent>", "chance of having crossed the limit at which the next sample is due (5)")
    .option("--explain", EXPLAIN)
    .option("--json", "print one JSON document")
    .addHelpText(
      "after",
      `
Examples:
  siltbook trend --carts datasets/demo/carts.json --requirement datasets/demo/requirement.json \\
    --cart QB-03 --circuit fore --measure water --on 2026-11-20 datasets/demo/lab-*.csv
  siltbook trend --book base.siltbook --cart QB-03 --circuit fore --measure acid --limit "1.2 mg KOH/g"`,
    )
    .action(async (samples: string[], options: TrendOptions) => {
      done(await (await import("./trend.js")).runTrend(samples, options, io));
    });
}
