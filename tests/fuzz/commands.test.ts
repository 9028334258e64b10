import { describe, expect, test } from "vitest";
import { runCli } from "../../src/cli/index.js";
import { checkCall } from "./calls.js";
import { callsOf } from "./command-words.js";
import { COMMANDS_SHARE, fuzz, SEED } from "./fuzzing.js";
import { COMMANDS } from "./grammar.js";

async function helpOf(...words: string[]): Promise<string> {
  let text = "";
  const take = (piece: string) => {
    text += piece;
  };
  await runCli([...words, "--help"], { out: take, err: take });
  return text;
}

describe("the commands that are fuzzed are the commands that there are", () => {
  test("every command of --help has a grammar", async () => {
    const listed = [...(await helpOf()).matchAll(/^ {2}([a-z]+) \[/gm)].map(([, name]) => name);
    expect(listed.filter((name) => name !== "help").sort()).toEqual(Object.keys(COMMANDS).sort());
  });

  test.each(Object.entries(COMMANDS))(
    "%s: every option of --help is tried",
    async (command, { ways, may }) => {
      const listed = [...(await helpOf(command)).matchAll(/^ {2}(--[a-z0-9-]+)/gm)].map(([, name]) => name);
      expect([...new Set([...ways, may].flatMap((options) => Object.keys(options)))].sort()).toEqual(
        listed.sort(),
      );
    },
  );
});

describe(`however a command is called, it ends as documented (seed ${SEED})`, () => {
  test.each(Object.keys(COMMANDS))("%s", async (command) => {
    const entry = { functions: [command], inputs: callsOf(command), check: checkCall, runs: 30 };
    await fuzz(entry as never, COMMANDS_SHARE / Object.keys(COMMANDS).length);
  });
});
