import { execFile } from "node:child_process";
import { mkdir, rm, writeFile } from "node:fs/promises";
import { promisify } from "node:util";

const run = promisify(execFile);

/** The code blocks of one language in a page of Markdown. */
export function blocksOf(page: string, language: string): string[] {
  return [...page.matchAll(new RegExp(`\`\`\`${language}\\n(.*?)\`\`\``, "gs"))].map(
    (match) => match[1] ?? "",
  );
}

/** What the comments of an example say that it prints. */
export function promisedBy(example: string): string[] {
  return [...example.matchAll(/\/\/ => (.*)$/gm)].map((match) => match[1] ?? "");
}

/**
 * Compiles an example strictly, as a user's own module, and runs it.
 *
 * @param name - name of the file to put it in, for messages
 * @returns the lines it printed
 */
export async function runExample(name: string, example: string): Promise<string[]> {
  const folder = `out/examples/${name}`;
  const file = `${folder}/example.mts`;
  await mkdir(folder, { recursive: true });
  await writeFile(file, example);
  try {
    const strict = ["--noEmit", "--strict", "--module", "nodenext", "--target", "es2022", "--types", "node"];
    await run(process.execPath, ["node_modules/typescript/bin/tsc", ...strict, "--skipLibCheck", file]);
    const { stdout } = await run(process.execPath, ["node_modules/tsx/dist/cli.mjs", file]);
    return stdout.trim().split("\n");
  } finally {
    await rm(folder, { recursive: true });
  }
}
