import { Command, CommanderError } from "commander";
import { addBookCommands } from "./book-commands.js";
import type { CirculateOptions } from "./circulate.js";
import type { ClassifyOptions } from "./classify.js";
import { addFleetCommands } from "./fleet-commands.js";
import { type ExitCode, type Io, UsageError } from "./io.js";
import type { JudgeOptions } from "./judgement.js";
import type { ReportOptions } from "./report.js";
import type { TrendOptions } from "./trend-options.js";

const DEFERENCE =
  "Siltbook advises; it never releases. The aircraft maintenance manual, local rules and licensed staff decide.";

const EXIT_CODES = "Exit codes: 0 done; 1 done, and not all is well; 2 could not be done.";

/**
 * Runs the command line.
 *
 * @param args - arguments after the program's name
 * @param io - where to print
 * @returns 0: done; 1: done, and not all is well; 2: could not be done, with one line on stderr
 */
export async function runCli(args: readonly string[], io: Io): Promise<ExitCode> {
  let exitCode: ExitCode = 0;
  const program = describeProgram(io, (code) => {
    exitCode = code;
  });
  try {
    await program.parseAsync([...args], { from: "user" });
    return exitCode;
  } catch (error) {
    if (error instanceof CommanderError) return error.exitCode === 0 ? 0 : 2;
    if (!isExpected(error)) throw error;
    io.err(`siltbook: ${error.message}\n`);
    return 2;
  }
}

/** Errors that tell the user what to mend; any other is a fault of siltbook and keeps its stack. */
function isExpected(error: unknown): error is Error {
  return (
    error instanceof UsageError ||
    error instanceof RangeError ||
    (error instanceof Error && (error.name === "IntakeError" || error.name === "BookError"))
  );
}

// Each command is loaded when it runs, so that classifying does not wait for the figures.
function describeProgram(io: Io, done: (code: ExitCode) => void): Command {
  const program = new Command("siltbook")
    .description(
      "Judges whether the fluid of a hydraulic ground power cart is fit to connect: the right fluid, clean, dry and\n" +
        "unspoiled; and says how long to self-circulate when it is not clean.",
    )
    .addHelpText("after", `\n${EXIT_CODES}\n${DEFERENCE}`)
    .exitOverride()
    .configureOutput({ writeOut: io.out, writeErr: io.err });

  program
    .command("classify")
    .description("classes of one set of particle counts by ISO 4406, AS4059, NAS 1638 and other tables")
    .requiredOption(
      "--counts <pairs>",
      'particles larger than each size, such as "4=15000 6=1200 14=75"; by range with --form differential',
    )
    .option("--form <form>", "cumulative, or differential for counts by range (cumulative)")
    .option("--scale <scale>", "size scale: um-c, um-older (ISO 4402) or um-microscope (um-c)")
    .option("--per <volume>", "volume the counts stand for: 1mL or 100mL (1mL is assumed)")
    .option(
      "--raw-volume <quantity>",
      'volume that went through the counter, such as "25 mL": says how sure a class is',
    )
    .option("--dilution <parts>", "parts of mixture for one part of sample, with --raw-volume (1)")
    .option("--lab-rsd <spread>", 'reproducibility of counter and laboratory, such as "15 %" or "0.5 codes"')
    .option("--blank <pairs>", "counts of a clean bottle, written like --counts; they are subtracted")
    .option("--target <class>", 'such as "17/15/12", "AS4059 cumulative 7A-F" or "NAS 1638 7"')
    .option("--estimate", "estimate the table's sizes that lie between two counted ones")
    .option("--as4059-limits <table>", "cumulative limits unrounded (revision E) or rounded (unrounded)")
    .option("--json", "print one JSON document")
    .addHelpText(
      "after",
      `
Examples:
  siltbook classify --counts "4=15000 6=1200 14=75"
  siltbook classify --counts "6=16000 14=2000 21=300 38=40 70=5" --per 100mL --json
  siltbook classify --form differential --counts "6-14=13400 14-21=1000 21-38=400 38-70=50 >70=5" --per 100mL
  siltbook classify --counts "4=150 6=40 14=3" --raw-volume "25 mL" --lab-rsd "15 %" --target "15/13/10"

Exit code 1: the target is not met, or the bottle blank makes the sample unusable.

${DEFERENCE}`,
    )
    .action(async (options: ClassifyOptions) => {
      done((await import("./classify.js")).runClassify(options, io));
    });

  program
    .command("circulate")
    .description("how long to self-circulate until the fluid is clean, or why circulating cannot get there")
    .requiredOption("--volume <quantity>", 'circuit volume, such as "60 L" or "16 US gal"')
    .requiredOption("--flow <quantity>", 'flow through the filter, such as "45 L/min" or "12 US gpm"')
    .requiredOption("--beta <pairs>", 'filtration ratio at rated sizes, such as "4=20 6=100 14=1000"')
    .requiredOption(
      "--start <code or pairs>",
      'ISO 4406 code or counts of the last sample, such as "21/19/16"',
    )
    .requiredOption("--target <class>", 'such as "17/15/12", "AS4059 cumulative 7A-F" or "NAS 1638 7"')
    .option("--ingress <pairs>", "particles per minute entering the whole circuit, larger than each size")
    .option("--per <volume>", "volume the counts of --start stand for: 1mL or 100mL (1mL is assumed)")
    .option("--json", "print one JSON document")
    .addHelpText(
      "after",
      `
Examples:
  siltbook circulate --volume "60 L" --flow "45 L/min" --beta "4=20 6=100 14=1000" --start "21/19/16" --target "17/15/12"
  siltbook circulate --volume "16 US gal" --flow "12 US gpm" --beta "4=20 6=100 14=1000" \\
    --start "4=15000 6=4000 14=500" --target "17/15/12" --ingress "4=1e6 6=2e5 14=1e4" --json

${DEFERENCE}`,
    )
    .action(async (options: CirculateOptions) => {
      done((await import("./circulate.js")).runCirculate(options, io));
    });

  program
    .command("judge")
    .description("one verdict for every circuit: fit, circulate, exchange-fluid, resample or do-not-connect")
    .argument("[samples...]", "laboratory files, as the laboratory delivered them; none with --book")
    .option(
      "--book <file>",
      "the sample book: its samples, and its carts and requirements unless files are named",
    )
    .option("--carts <file>", "carts file (JSON)")
    .option("--requirement <file>", "requirements file (JSON)")
    .option("--cart <name>", "only the circuits of this cart")
    .option("--on <day>", "day of judging, such as 2026-03-14 (today)")
    .option("--json", "print one JSON document")
    .addHelpText(
      "after",
      `
Every verdict judged from a book is kept in it, with what it rests on.
Exit code 1: a circuit is not fit, or a row is in quarantine.

Examples:
  siltbook judge --carts datasets/demo/carts.json --requirement datasets/demo/requirement.json datasets/demo/lab-*.csv
  siltbook judge --book base.siltbook --cart C-1

${DEFERENCE}`,
    )
    .action(async (samples: string[], options: JudgeOptions) => {
      done(await (await import("./judge.js")).runJudge(samples, options, io));
    });

  program
    .command("report")
    .description("the verdicts as one self-contained HTML page")
    .argument("[samples...]", "laboratory files, as the laboratory delivered them; none with --book")
    .option(
      "--book <file>",
      "the sample book: its samples, and its carts and requirements unless files are named",
    )
    .option("--carts <file>", "carts file (JSON)")
    .option("--requirement <file>", "requirements file (JSON)")
    .requiredOption("--out <file>", "HTML file to write")
    .option("--on <day>", "day of judging, such as 2026-03-14 (today)")
    .option("--json", "print one JSON document")
    .addHelpText(
      "after",
      `
Example:
  siltbook report --carts datasets/demo/carts.json --requirement datasets/demo/requirement.json \\
    datasets/demo/lab-*.csv --out report.html

${DEFERENCE}`,
    )
    .action(async (samples: string[], options: ReportOptions) => {
      done(await (await import("./report.js")).runReport(samples, options, io));
    });

  program
    .command("trend")
    .description(
      "where water, acid, viscosity or particles of a circuit are heading, and when a limit is crossed",
    )
    .argument(
      "[samples...]",
      "laboratory files (delimited text, a row for each sample or for each measurand)",
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
    .option("--horizon <days>", "how far ahead a crossing is told", "365")
    .option("--longest <days>", "longest time between two samples (the requirement's)")
    .option("--risk <per cent>", "chance of having crossed the limit at which the next sample is due", "5")
    .option("--json", "print one JSON document")
    .addHelpText(
      "after",
      `
Example:
  siltbook trend --carts datasets/demo/carts.json --requirement datasets/demo/requirement.json \\
    --cart QB-03 --circuit fore --measure water --on 2026-11-20 datasets/demo/lab-*.csv

${DEFERENCE}`,
    )
    .action(async (samples: string[], options: TrendOptions) => {
      done(await (await import("./trend.js")).runTrend(samples, options, io));
    });

  addBookCommands(program, io, done);
  addFleetCommands(program, io, done);
  return program;
}
