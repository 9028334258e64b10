#!/usr/bin/env node
import { runCli } from "./run.js";

process.exitCode = await runCli(process.argv.slice(2), {
  out: (text) => process.stdout.write(text),
  err: (text) => process.stderr.write(text),
  // Carriage return and "erase to the end of the line", so that the bar is drawn over itself.
  ...(process.stderr.isTTY && { progress: (text: string) => process.stderr.write(`\r\x1b[K${text}`) }),
});
