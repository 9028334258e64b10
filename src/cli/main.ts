#!/usr/bin/env node
import module from "node:module";
import { createInterface } from "node:readline";

// Node from 22 on keeps what it has compiled, for the next command.
(module as { enableCompileCache?: () => void }).enableCompileCache?.();

// Whoever reads the output may stop early, as `head` does. The job is done to its end all the same: half an import helps nobody.
let isWritten = true;
process.stdout.on("error", (error: NodeJS.ErrnoException) => {
  if (error.code === "EPIPE") return;
  process.stderr.write(
    `siltbook: the output could not be written (${error.code}); say where it is to go and do it again\n`,
  );
  isWritten = false;
  process.exitCode = 2;
});

/** As many columns a block may have; a line that wraps would be two. */
const COLUMNS = 80;

/** Prints, and on a terminal draws a block over itself: as many lines up, and "erase to the end of the screen". */
function terminal() {
  let lines = 0;
  const out = (text: string) => {
    process.stdout.write(lines === 0 ? text : `\x1b[${lines}A\x1b[J${text}`);
    lines = 0;
  };
  if (!process.stdout.isTTY || process.stdout.columns < COLUMNS) return { out };
  return {
    out,
    redraw: (block: string) => {
      out(block);
      lines = block.split("\n").length - 1;
    },
  };
}

try {
  const { runCli } = await import("./index.js");
  const code = await runCli(process.argv.slice(2), {
    ...terminal(),
    err: (text) => process.stderr.write(text),
    input: () => createInterface({ input: process.stdin }),
    // Carriage return and "erase to the end of the line", so that the bar is drawn over itself.
    ...(process.stderr.isTTY && { progress: (text: string) => process.stderr.write(`\r\x1b[K${text}`) }),
  });
  process.exitCode = isWritten ? code : 2;
} catch (error) {
  // Left to itself Node would end with 1, which here says that the job was done and not all is well.
  process.stderr.write(`siltbook: a fault of siltbook itself, not of the files: ${(error as Error).stack}\n`);
  process.exitCode = 2;
}
