import { Worker } from "node:worker_threads";

/** A check of some milliseconds that is not done after so long hangs. */
const MAX_MS = 60_000;

// A loop that never ends lets nothing else of its thread run, so another one watches, and ends the program.
const WATCHER = `
const { parentPort } = require("node:worker_threads");
const { writeSync } = require("node:fs");
let timer;
parentPort.on("message", (input) => {
  clearTimeout(timer);
  if (input === undefined) return;
  timer = setTimeout(() => {
    writeSync(2, "fuzzing: not done after ${MAX_MS} ms with the input " + input + "\\n");
    process.kill(process.pid, "SIGKILL");
  }, ${MAX_MS});
});
`;

let watcher: Worker | undefined;

/** Runs a check; when it never ends, its input is printed and the program killed. */
export async function watched<T>(input: unknown, act: () => T | Promise<T>): Promise<T> {
  if (watcher === undefined) {
    watcher = new Worker(WATCHER, { eval: true });
    watcher.unref();
  }
  watcher.postMessage(JSON.stringify(input)?.slice(0, 20_000) ?? "undefined");
  try {
    return await act();
  } finally {
    watcher.postMessage(undefined);
  }
}
