import { runCli } from "../../src/cli/index.js";

/** Runs a command in this process and keeps what it printed. */
export async function run(...args: string[]): Promise<{ code: number; out: string; err: string }> {
  let out = "";
  let err = "";
  const code = await runCli(args, {
    out: (text) => {
      out += text;
    },
    err: (text) => {
      err += text;
    },
  });
  return { code, out, err };
}

/** Runs a command for all there is to say. */
export function runExplained(...args: string[]) {
  return run(...args, "--explain");
}

/** Runs a command with --json and reads the document it printed. */
export async function runJson(...args: string[]) {
  const result = await run(...args, "--json");
  return { ...result, json: JSON.parse(result.out) };
}

/** What was printed without the breaks of a terminal: every run of blanks and ends of lines as one blank. */
export function inOneLine(printed: string): string {
  return printed.replace(/\s+/g, " ").trim();
}
