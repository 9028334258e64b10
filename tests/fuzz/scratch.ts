import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll } from "vitest";

const home = process.cwd();
const folder = mkdtempSync(join(tmpdir(), "siltbook-fuzz-"));
afterAll(() => {
  // Commands are run in it, and nobody is in a folder that is taken away.
  process.chdir(home);
  rmSync(folder, { recursive: true, force: true });
});

/** One folder for what the checks of a test file write; it goes with them. */
export function scratchFolder(): string {
  return folder;
}
