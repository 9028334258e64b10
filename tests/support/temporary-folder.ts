import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll } from "vitest";

/** A folder for the tests of one file, taken away after them. */
export function temporaryFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), "siltbook-"));
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}
