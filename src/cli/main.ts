#!/usr/bin/env node
import { runCli } from "./run.js";

try {
  process.exitCode = await runCli(process.argv.slice(2), {
    out: (text) => process.stdout.write(text),
    err: (text) => process.stderr.write(text),
    // Carriage return and "erase to the end of the line", so that the bar is drawn over itself.
    ...(process.stderr.isTTY && { progress: (text: string) => process.stderr.write(`\r\x1b[K${text}`) }),
  });
} catch (error) {
  // Left to itself Node would end with 1, which here says that the job was done and not all is well.
  process.stderr.write(`siltbook: a fault of siltbook itself, not of the files: ${(error as Error).stack}\n`);
  process.exitCode = 2;
}
