import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";

const folder = mkdtempSync(join(tmpdir(), "siltbook-fuzz-"));
process.on("exit", () => rmSync(folder, { recursive: true, force: true }));

/** One folder for what the checks write; it goes with the program that runs them. */
export function scratchFolder(): string {
  return folder;
}
