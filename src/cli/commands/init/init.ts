import { existsSync } from "node:fs";
import { basename, join } from "node:path";
import { bytesOnDisk, mapToEdit, understand } from "../../../intake/index.js";
import { answerOf } from "../../answer.js";
import { type ExitCode, type Io, printJson, UsageError } from "../../io.js";
import { asShellWord } from "../../plain-text.js";
import { drawLines } from "../../text.js";
import { makeFolder, writeWhole } from "../../whole-file.js";
import { CARTS, REQUIREMENT } from "./templates.js";

/** Options of `siltbook init`. */
export interface InitOptions {
  readonly to: string;
  readonly json?: boolean;
}

/** Writes files to fill in: carts, requirement, and a column map for each laboratory file. */
export async function runInit(labFiles: readonly string[], options: InitOptions, io: Io): Promise<ExitCode> {
  const { to } = options;
  const maps = await Promise.all(
    labFiles.map(async (file) => {
      const name = basename(file);
      return { name: `${name}.map.json`, content: mapToEdit(name, await understand(bytesOnDisk(file))) };
    }),
  );
  const files = [
    { name: "carts.json", content: CARTS },
    { name: "requirement.json", content: REQUIREMENT },
    ...maps,
  ].map(({ name, content }) => ({ path: join(to, name), content }));
  // What a person has filled in is never overwritten.
  const there = files.find(({ path }) => existsSync(path));
  if (there !== undefined) throw new UsageError(`--to: ${there.path} exists already; name another folder`);
  await makeFolder("--to", to);
  for (const { path, content } of files) {
    await writeWhole("--to", path, [`${JSON.stringify(content, null, 2)}\n`]);
  }
  const paths = files.map(({ path }) => path);
  if (options.json) printJson(io, answerOf("init", { files: paths }));
  else {
    io.out(
      drawLines([
        `Written: ${paths.join(", ")}.`,
        'Fill in every value that begins with "?". Then this says what is still open, place by place:',
      ]) +
        `  siltbook import --book ${asShellWord(join(to, "base.siltbook"))} --carts ${asShellWord(join(to, "carts.json"))} --requirement ${asShellWord(join(to, "requirement.json"))}\nTake the limits from the manual of your aircraft.\n`,
    );
  }
  return 0;
}
