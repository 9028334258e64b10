import { readFileSync } from "node:fs";
import { UsageError } from "./io.js";
import { describeWhy } from "./whole-file.js";

/** The bytes of a file that an option names. */
export function readBytes(option: string, path: string): Uint8Array {
  try {
    return readFileSync(path);
  } catch (error) {
    throw new UsageError(
      `${option}: ${path} cannot be read: ${describeWhy(error as NodeJS.ErrnoException)}`,
      { cause: error },
    );
  }
}

/** The text of a small file that an option names. */
export function readText(option: string, path: string): string {
  return new TextDecoder().decode(readBytes(option, path));
}
