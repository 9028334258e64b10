import { Command, CommanderError } from "commander";
import { SHORT_DEFERENCE, VERSION } from "../provenance/index.js";
import { addBookCommands } from "./book-commands.js";
import { collect } from "./collect.js";
import type { CirculateOptions } from "./commands/circulate/asked.js";
import type { ClassifyOptions } from "./commands/classify/classify.js";
import type { ExchangeOptions } from "./commands/exchange/exchange.js";
import { addFollowCommand } from "./commands/follow/follow-command.js";
import type { JudgeOptions } from "./commands/judge/judgement.js";
import { addLaboratoriesCommand } from "./commands/laboratories/laboratories-command.js";
import type { ReportOptions } from "./commands/report/report.js";
import { addTraceCommand } from "./commands/trace/trace-command.js";
import { addTrendCommand } from "./commands/trend/trend-command.js";
import { addFleetCommands } from "./fleet-commands.js";
import { EXPLAIN, type ExitCode, type Io, type Terminal, UsageError } from "./io.js";
import { plainIo, withShortErrors } from "./plain-text.js";
import { addRecordCommands } from "./record-commands.js";
import { UNITS_OPTION } from "./units-option.js";

const EXIT_CODES = "Exit codes: 0 all clear; 1 completed with findings; 2 failed.";

/**
 * Runs the command line.
 *
 * @param args - arguments after the program's name
 * @param terminal - where to print; nothing but plain text goes there, whatever is in the files
 * @returns 0: done; 1: done, and not all is well; 2: could not be done, with one line on stderr
 */
export async function runCli(args: readonly string[], terminal: Terminal): Promise<ExitCode> {
  const io = withShortErrors(plainIo(terminal), args);
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

const MAP = "column map (JSON) that settles what the laboratory files leave open; none with --book";

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
      "Judges whether the fluid of a hydraulic ground power cart is fit to connect: the right fluid, clean, dry and " +
        "unspoiled; and says how long to circulate when it is not clean.",
    )
    .version(VERSION)
    .addHelpText("after", `\n${EXIT_CODES}\n${SHORT_DEFERENCE}`)
    .exitOverride()
    .configureOutput({
      writeOut: (help) => io.document(wrapSentences(help)),
      // Without a command the help goes there; an error stays one line.
      writeErr: (text) => io.err(text.startsWith("Usage:") ? wrapSentences(text) : text),
    });

  program
    .command("classify")
    .summary("classes of one set of particle counts")
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
    .option("--explain", EXPLAIN)
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

${SHORT_DEFERENCE}`,
    )
    .action(async (options: ClassifyOptions) => {
      done((await import("./commands/classify/classify.js")).runClassify(options, io));
    });

  program
    .command("circulate")
    .summary("how long to circulate until it is clean")
    .description("how long to self-circulate until the fluid is clean, or why circulating cannot get there")
    .argument("[samples...]", "laboratory files, with --carts and --requirement")
    .option("--book <file>", "take volume, flow, element, last sample and target from the sample book")
    .option("--carts <file>", "carts file (JSON), instead of a book or of the book's")
    .option("--requirement <file>", "requirements file (JSON), instead of the book's")
    .option("--map <file>", MAP)
    .option("--cart <name>", "the cart, with --book or --carts")
    .option("--circuit <name>", "the circuit, where the cart has several")
    .option("--on <day>", "day of judging, such as 2026-03-14 (today)")
    .option("--as-of <day>", "judge with what was known on this day: drawn, and reported or imported by then")
    .option("--sheet <file>", "write the sheet of the circuit there, one page of A4 (HTML)")
    .option("--volume <quantity>", 'circuit volume, such as "60 L" or "16 US gal"')
    .option("--flow <quantity>", 'flow through the element, such as "45 L/min" or "12 US gpm"')
    .option(
      "--beta <pairs>",
      'filtration ratio at rated sizes, such as "4=20 6=100 14=1000", or "3 µm absolute"; again for each further element in series',
      collect,
    )
    .option(
      "--start <class or pairs>",
      'class or counts of the last sample, such as "21/19/16", "NAS 9" or "4=20000 6=5000 14=640"',
    )
    .option("--target <class>", 'such as "17/15/12", "AS4059 cumulative 7A-F" or "NAS 1638 7"')
    .option("--ingress <pairs>", "particles per minute entering the whole circuit, larger than each size")
    .option("--per <volume>", "volume that counts stand for: 1mL or 100mL (1mL is assumed)")
    .option("--bypass <fraction>", 'part of the flow that goes around each element, such as "5 %"')
    .option("--side-stream <text>", 'filter loop with its own flow, such as "10 L/min: 4=75 6=200"')
    .option(
      "--credit-below-rated",
      "credit removal below the smallest rated size, on a straight line of log β",
    )
    .option("--mixing <way>", "well-mixed, two-zone or plug (a modest slow zone for the time to go by)")
    .option("--slow-zone <text>", 'slow part of the volume, and trade per pass: "20 % exchange 10 %"')
    .option(
      "--settled <fraction>",
      'dirt that lies settled and is stirred up in the first pass, as a part of what the start shows, "50 %" (none)',
    )
    .option(
      "--port <side>",
      "where the samples are drawn: upstream of the element, or downstream, where they are converted with β (upstream)",
    )
    .option(
      "--hoses <text>",
      'bore, length and number of hoses, "25 mm x 8 m x 2"; added to the volume, and looked at for flushing (repeatable)',
      collect,
    )
    .option("--fluid <specification>", "the fluid in the hoses, with --hoses")
    .option("--coldest <temperature>", "the coldest fluid in the hoses (29 °C, from which the minutes count)")
    .option("--after <time>", "say the class to expect after this time")
    .option("--within <time>", "say the flow that would be needed to be there within this time")
    .option(
      "--uncertainty <settings>",
      'what is known: "volume=10% flow=5% beta=30% ingress=30% slow-zone=30% hoses=15% leakage=10% lab=20% counted=20 mL"; usual values else',
    )
    .option(
      "--confidence <fraction>",
      "the confidence that the requirement asks for: the verifying bottle has to show it (95 %, as measured)",
    )
    .option("--seed <number>", "seed of the drawn cases (1)")
    .option("--draws <number>", "number of drawn cases (1000)")
    .option(
      "--interim <text>",
      'a sample drawn while circulating, "10 min: 4=9000 6=800 14=<2", "10 min: 19/16/13" or "10 min: NAS 8"; again for each further one',
      collect,
    )
    .option("--counted <volume>", "volume that was counted in each sample (20 mL is assumed)")
    .option("--element <settings>", '"capacity=80 g held=10 g", also density (2.65 g/cm3) and shape (1)')
    .option(
      "--indicator <settings>",
      '"drop=1 bar viscosity=14 mm2/s trips=5 bar at=5 °C fluid=MIL-PRF-83282", also flow, housing, points',
    )
    .option(
      "--heat <settings>",
      '"drop=200 bar efficiency=85 % cooling=2 kW start=20 °C limit=70 °C restart=50 °C fluid=MIL-PRF-83282"',
    )
    .option("--units <system>", UNITS_OPTION)
    .option("--explain", EXPLAIN)
    .option("--json", "print one JSON document")
    .addHelpText(
      "after",
      `
Examples:
  siltbook circulate --book base.siltbook --cart C-1 --circuit main --sheet c-1.html
  siltbook circulate --book base.siltbook --cart C-1 --circuit main --flow "30 L/min" --interim "10 min: 19/16/13"
  siltbook circulate --volume "60 L" --flow "45 L/min" --beta "4=20 6=100 14=1000" --start "21/19/16" --target "17/15/12"
  siltbook circulate --volume "16 US gal" --flow "12 US gpm" --beta "4=20 6=100 14=1000" \\
    --start "4=15000 6=4000 14=500" --target "17/15/12" --ingress "4=1e6 6=2e5 14=1e4" --json
  siltbook circulate --volume "60 L" --flow "15 L/min" --beta "4=20 6=100 14=1000" --start "21/19/16" \\
    --target "17/15/12" --slow-zone "20 % exchange 30 %" --uncertainty "volume=10% flow=5% lab=20%"
  siltbook circulate --volume "60 L" --flow "15 L/min" --beta "4=20 6=100 14=1000" --start "4=20000 6=5000 14=640" \\
    --target "17/15/12" --interim "4 min: 4=7800 6=1900 14=240" --interim "8 min: 4=3000 6=700 14=88"

The first line is the time to go by: a verifying bottle drawn then is accepted in 95 % of the cases, or as many as
--confidence says. Usual values are taken for what is not stated. The minutes by the stated values alone come after it.

${SHORT_DEFERENCE}`,
    )
    .action(async (samples: string[], options: CirculateOptions) => {
      done(await (await import("./commands/circulate/circulate.js")).runCirculate(samples, options, io));
    });

  addFollowCommand(program, io, done);

  program
    .command("exchange")
    .summary("fresh fluid that water and acid need")
    .description("fresh fluid or drying that water and acid need, which filters do not remove")
    .requiredOption("--volume <quantity>", 'circuit volume, such as "60 L" or "16 US gal"')
    .option("--water <quantity>", 'water in the fluid now, such as "900 ppm" or "0.09 %"')
    .option("--water-limit <quantity>", "water that is allowed")
    .option("--fresh-water <quantity>", "water in the fresh fluid")
    .option("--acid <quantity>", 'acid number of the fluid now, such as "1.8 mg KOH/g"')
    .option("--acid-limit <quantity>", "acid number that is allowed")
    .option("--fresh-acid <quantity>", "acid number of the fresh fluid")
    .option("--drain <part>", 'what one drain takes out, such as "80 %" or "48 L" (the whole circuit)')
    .option(
      "--dry <rate>",
      'rate of a dehydrator, such as "30 % per hour" of the water above its driest level',
    )
    .option("--driest <quantity>", "water that the dehydrator cannot get below (0 ppm)")
    .option("--units <system>", UNITS_OPTION)
    .option("--explain", EXPLAIN)
    .option("--json", "print one JSON document")
    .addHelpText(
      "after",
      `
Examples:
  siltbook exchange --volume "60 L" --water "900 ppm" --water-limit "500 ppm" --fresh-water "150 ppm" --drain "80 %"
  siltbook exchange --volume "16 US gal" --acid "1.8 mg KOH/g" --acid-limit "1.5 mg KOH/g" --fresh-acid "0.05 mg KOH/g" \\
    --water "0.9 %" --water-limit "0.8 %" --fresh-water "0.1 %" --dry "20 % per hour" --json

${SHORT_DEFERENCE}`,
    )
    .action(async (options: ExchangeOptions) => {
      done((await import("./commands/exchange/exchange.js")).runExchange(options, io));
    });

  program
    .command("judge")
    .summary("what to do with every circuit, and why")
    .description("one verdict for every circuit: fit, circulate, exchange-fluid, resample or do-not-connect")
    .argument("[samples...]", "laboratory files, as the laboratory delivered them; none with --book")
    .option(
      "--book <file>",
      "the sample book: its samples, and its carts and requirements unless files are named",
    )
    .option("--carts <file>", "carts file (JSON)")
    .option("--requirement <file>", "requirements file (JSON)")
    .option("--map <file>", MAP)
    .option("--cart <name>", "only the circuits of this cart")
    .option("--on <day>", "day of judging, such as 2026-03-14 (today)")
    .option("--as-of <day>", "judge with what was known on this day: drawn, and reported or imported by then")
    .option("--since <day>", "compare with the verdicts in the book that were judged for this day or before")
    .option(
      "--measured-spread",
      "with --book: widen the requirement's spread to what the laboratories of the book show",
    )
    .option("--units <system>", UNITS_OPTION)
    .option("--explain", EXPLAIN)
    .option("--json", "print one JSON document")
    .addHelpText(
      "after",
      `
Every verdict judged from a book is kept in it, with what it rests on.
Exit code 1: a circuit is not fit or held by a person, or a row is in quarantine.

Examples:
  siltbook judge --carts datasets/demo/carts.json --requirement datasets/demo/requirement.json datasets/demo/lab-*.csv
  siltbook judge --book base.siltbook --cart C-1

${SHORT_DEFERENCE}`,
    )
    .action(async (samples: string[], options: JudgeOptions) => {
      done(await (await import("./commands/judge/judge.js")).runJudge(samples, options, io));
    });

  program
    .command("report")
    .summary("the verdicts as one HTML page")
    .description("the verdicts as one self-contained HTML page")
    .argument("[samples...]", "laboratory files, as the laboratory delivered them; none with --book")
    .option(
      "--book <file>",
      "the sample book: its samples, and its carts and requirements unless files are named",
    )
    .option("--carts <file>", "carts file (JSON)")
    .option("--requirement <file>", "requirements file (JSON)")
    .option("--map <file>", MAP)
    .requiredOption("--out <file>", "HTML file to write")
    .option("--cart <name>", "only the circuits of one cart (all carts)")
    .option("--on <day>", "day of judging, such as 2026-03-14 (today)")
    .option("--as-of <day>", "judge with what was known on this day: drawn, and reported or imported by then")
    .option("--since <day>", "compare with the verdicts in the book that were judged for this day or before")
    .option("--units <system>", UNITS_OPTION)
    .option("--explain", EXPLAIN)
    .option("--json", "print one JSON document")
    .addHelpText(
      "after",
      `
Examples:
  siltbook report --book base.siltbook --cart QB-06 --out qb-06.html
  siltbook report --carts datasets/demo/carts.json --requirement datasets/demo/requirement.json \\
    datasets/demo/lab-*.csv --out report.html

${SHORT_DEFERENCE}`,
    )
    .action(async (samples: string[], options: ReportOptions) => {
      done(await (await import("./commands/report/report.js")).runReport(samples, options, io));
    });

  addTraceCommand(program, io, done);
  addTrendCommand(program, io, done);
  addLaboratoriesCommand(program, io, done);
  addBookCommands(program, io, done);
  addRecordCommands(program, io, done);
  addFleetCommands(program, io, done);
  return program;
}

/** What follows the options of a help, as wide as they are; what is indented is an option, or a command to be copied whole. */
function wrapSentences(help: string): string {
  return help.replaceAll(/^\S.*(?:\n\S.*)*$/gm, (lines) =>
    /.{81}/.test(lines)
      ? lines
          .replaceAll("\n", " ")
          .replaceAll(/(.{1,80})(?: +|$)/g, "$1\n")
          .trimEnd()
      : lines,
  );
}
