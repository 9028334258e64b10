import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";

let folder: string | undefined;

/** One folder for what the checks write; it goes with the program. */
export function scratchFolder(): string {
  if (folder === undefined) {
    const made = mkdtempSync(join(tmpdir(), "siltbook-fuzz-"));
    process.on("exit", () => rmSync(made, { recursive: true, force: true }));
    folder = made;
  }
  return folder;
}
