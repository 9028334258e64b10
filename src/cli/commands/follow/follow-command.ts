import type { Command } from "commander";
import { SHORT_DEFERENCE } from "../../../provenance/index.js";
import type { ExitCode, Io } from "../../io.js";
import type { FollowOptions } from "./asked.js";

/** Adds the command that follows a counter in the line. */
export function addFollowCommand(program: Command, io: Io, done: (code: ExitCode) => void): void {
  program
    .command("follow")
    .summary("a counter in the line, minute by minute")
    .description(
      "follows a particle counter in the line while the cart circulates: class, minutes left, and when it is clean",
    )
    .argument("[samples...]", "laboratory files, with --carts and --requirement")
    .option("--target <class>", 'such as "17/15/12", "AS4059 cumulative 7A-F" or "NAS 1638 7"')
    .option("--book <file>", "take target, volume, flow, element and last sample from the sample book")
    .option("--carts <file>", "carts file (JSON), instead of a book or of the book's")
    .option("--requirement <file>", "requirements file (JSON), instead of the book's")
    .option("--cart <name>", "the cart, with --book or --carts")
    .option("--circuit <name>", "the circuit, where the cart has several")
    .option("--port <side>", "where the counter sits: upstream of the element, or downstream (upstream)")
    .option("--on <day>", "day of judging, such as 2026-03-14 (today)")
    .option(
      "--log <file>",
      "lines of a file, or a table with a row for each moment, instead of the standard input",
    )
    .option("--map <file>", "column map (JSON) of a log that is a table")
    .option("--keep <file>", "a file of its own that each line is added to; a restart goes on from it")
    .option(
      "--confidence <fraction>",
      "confidence with which it is called clean (that of the requirement, or 95 %)",
    )
    .option("--counted <volume>", "volume that the counter looks at in a minute (10 mL)")
    .option("--repeatability <fraction>", "scatter of the counter from minute to minute (10 %)")
    .option("--bias <fraction>", "what the counter may lastingly show too much or too little (20 %)")
    .option("--calibrated <day>", "last day of the calibration of the counter, for a verdict that takes it")
    .option(
      "--indicator <settings>",
      "the clean element, for how long it lasts: drop, viscosity, trips; flow, housing, fluid or points",
    )
    .option("--json", "print one JSON document for each minute, a line each")
    .addHelpText(
      "after",
      `
Each line is JSON: an Observation of OGC SensorThings with its Datastream, or records of SenML (RFC 8428), such as
  {"n":"particles > 4 µm(c)","u":"1/mL","v":900,"t":1773500000}
A log may also be delimited text or a workbook with titles, such as "time stamp", "> 4 µm(c) per mL", "temperature (°C)".
Names that are used: particles > SIZE µm(c), ISO 4406 (a code), temperature, water saturation, flow, pressure drop.

Exit code 1: not shown to be clean at the end, a line could not be read, or there is something that circulating does not settle.

Examples:
  siltbook follow --target "17/15/12" --log datasets/demo/counter.jsonl
  siltbook follow --target "17/15/12" --log counter.csv --map counter.map.json
  siltbook follow --book base.siltbook --cart C-1 --circuit main < /dev/ttyUSB0
  siltbook follow --book base.siltbook --cart C-1 --circuit main --log week.csv \\
    --indicator "drop=0.4 bar flow=45 L/min viscosity=14 mm2/s trips=3.5 bar"

The counter is taken to see what the circuit holds: upstream of the elements, or in the return. One downstream of them sees
what they deliver: it says how the circuit falls, and never that it is clean. Calling it clean asks for the verifying bottle:
a verdict takes bottles, unless the requirement has "counterInLine"; then the run ends with the verdict that it leads to.

${SHORT_DEFERENCE}`,
    )
    .action(async (files: string[], options: FollowOptions) => {
      done(await (await import("./follow.js")).runFollow(files, options, io));
    });
}
