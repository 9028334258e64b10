import { execFile } from "node:child_process";
import { mkdir, writeFile } from "node:fs/promises";
import { dirname } from "node:path";
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

/** An example of a page, and the folder that it gets for itself. */
export interface Example {
  readonly folder: string;
  readonly example: string;
}

const fileOf = ({ folder }: Example) => `out/examples/${folder}/example.mts`;

/**
 * Compiles examples strictly, each as a user's own module. All together: each by itself reads the same types again.
 *
 * @returns what the compiler has against them, naming file and line; "" when nothing
 */
export async function compileExamples(examples: readonly Example[]): Promise<string> {
  for (const one of examples) {
    await mkdir(dirname(fileOf(one)), { recursive: true });
    await writeFile(fileOf(one), one.example);
  }
  const strict = ["--noEmit", "--strict", "--module", "nodenext", "--target", "es2022", "--types", "node"];
  const compiler = [
    "node_modules/typescript/bin/tsc",
    ...strict,
    "--skipLibCheck",
    "--moduleDetection",
    "force",
  ];
  return run(process.execPath, [...compiler, ...examples.map(fileOf)]).then(
    () => "",
    ({ stdout }: { stdout: string }) => stdout,
  );
}

/** Runs an example that was compiled, and gives the lines that it printed. */
export async function runExample(example: Example): Promise<string[]> {
  const { stdout } = await run(process.execPath, ["node_modules/tsx/dist/cli.mjs", fileOf(example)]);
  return stdout.trim().split("\n");
}
