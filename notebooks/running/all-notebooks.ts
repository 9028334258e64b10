import { readdir } from "node:fs/promises";
import { join } from "node:path";

const FOLDER = join(import.meta.dirname, "..");

/** Paths of every notebook of the project, in reading order. */
export async function allNotebooks(): Promise<string[]> {
  const names = await readdir(FOLDER);
  return names
    .filter((name) => name.endsWith(".ipynb"))
    .sort()
    .map((name) => join(FOLDER, name));
}
