import { readFileSync } from "node:fs";
import { basename } from "node:path";
import {
  bytesInMemory,
  type CounterLog,
  logMapOf,
  parseLogMap,
  readCounterLogFile,
  textOnDisk,
} from "../../../intake/index.js";
import { UsageError } from "../../io.js";
import { describeWhy } from "../../whole-file.js";

/** The log of an instrument: lines of JSON as it sends them, or a table of its own. */
export type Log =
  | { readonly kind: "lines"; readonly lines: readonly string[] }
  | { readonly kind: "table"; readonly log: CounterLog };

/**
 * Reads a log. A brace or a bracket begins JSON; everything else is a table.
 *
 * @throws UsageError or IntakeError naming what cannot be read
 */
export async function readLog(path: string, map: string | undefined): Promise<Log> {
  const bytes = readBytes(path);
  const start = new TextDecoder().decode(bytes.subarray(0, 4096)).trim();
  if (start === "" || start.startsWith("{") || start.startsWith("[")) {
    if (map !== undefined) throw new UsageError("--map: it goes with a log that is a table");
    return { kind: "lines", lines: new TextDecoder().decode(bytes).split("\n") };
  }
  const read = map === undefined ? logMapOf() : parseLogMap(basename(map), textOnDisk(map));
  return { kind: "table", log: await readCounterLogFile(bytesInMemory(basename(path), bytes), read) };
}

function readBytes(path: string): Uint8Array {
  try {
    return readFileSync(path);
  } catch (error) {
    throw new UsageError(`--log: ${path} cannot be read: ${describeWhy(error as NodeJS.ErrnoException)}`);
  }
}
