import { mkdirSync, readdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { beforeAll, describe, expect, test } from "vitest";
import * as cleanliness from "../../src/public/cleanliness.js";
import * as root from "../../src/public/index.js";
import * as intake from "../../src/public/intake.js";
import { WRITES } from "../fuzz/calls.js";
import { CARTS, LAB_TEXT, REQUIREMENTS } from "../fuzz/documents.js";
import { COMMANDS } from "../fuzz/grammar.js";
import { run } from "../support/run-cli.js";
import { temporaryFolder } from "../support/temporary-folder.js";

const folder = temporaryFolder();
/** A line of a terminal holds 80 characters; nobody reads more than some of them. */
const MAX_LINE = 2500;

const LONG: readonly (readonly [string, string])[] = [
  ["words, pairs and lines", 'C-1 "4=1,5" 6=é;\n'.repeat(3_000)],
  ["figures", "9".repeat(50_000)],
];

beforeAll(async () => {
  mkdirSync(join(folder, "folder"));
  writeFileSync(join(folder, "carts.json"), JSON.stringify(CARTS));
  writeFileSync(join(folder, "requirement.json"), JSON.stringify(REQUIREMENTS));
  writeFileSync(join(folder, "lab.csv"), LAB_TEXT);
  const fleet = ["--carts", at("carts.json"), "--requirement", at("requirement.json")];
  await run("import", "--book", at("b.siltbook"), ...fleet, at("lab.csv"));
});

const at = (name: string) => join(folder, name);
const isFile = (text: string) => readdirSync(folder).includes(text);
const placed = (text: string) => (isFile(text) ? at(text) : text);

/** Every option of every command once, with what else the command needs. */
const CASES = Object.entries(COMMANDS).flatMap(([command, { ways, may, words }]) => {
  const [way = {}] = ways;
  const options = [...new Set([...ways.flatMap(Object.keys), ...Object.keys(may)])];
  const takesText = (option: string) => [...ways, may].some((some) => (some[option]?.length ?? 0) > 0);
  return [
    ...options.filter(takesText).map((option) => ({ command, option, way, words })),
    ...(words === undefined ? [] : [{ command, option: "a word", way, words }]),
  ];
});

describe("an error is one line and quotes a piece of what was typed:", () => {
  test.each(CASES)("$command $option", async ({ command, option, way, words }) => {
    for (const [what, text] of LONG) {
      const given = Object.entries(way)
        .filter(([name]) => name !== option)
        .flatMap(([name, [first]]) =>
          first === undefined ? [name] : [name, WRITES.includes(name) ? at(first) : placed(first)],
        );
      const needsWord = words !== undefined && words.from > 0 && !(words.without && words.without in way);
      const own = option === "a word" ? [text] : needsWord ? [at("lab.csv"), option, text] : [option, text];
      const { code, err } = await run(command, ...given, ...own);
      const lines = err.split("\n").filter((line) => line !== "");
      expect([what, code === 2 ? lines.length >= 1 : true]).toEqual([what, true]);
      for (const line of lines)
        expect([what, line.length < MAX_LINE, line.slice(0, 9)]).toEqual([
          what,
          true,
          expect.stringMatching(/^(siltbook:|error: )/),
        ]);
    }
  });
});

const EXPORTED: Record<string, unknown> = { ...cleanliness, ...intake, ...root };
const PARSERS = Object.entries(EXPORTED).filter(
  (entry): entry is [string, (...texts: string[]) => unknown] =>
    /^(parse|tryParse)/.test(entry[0]) && typeof entry[1] === "function",
);

describe("an error of the library quotes a piece of a text and says its length:", () => {
  test.each(PARSERS)("%s", (name, parse) => {
    for (const [what, text] of LONG) {
      try {
        if (/File$|Map$/.test(name)) parse("a.json", text);
        else parse(text, text);
      } catch (error) {
        const { message } = error as Error;
        expect([what, message.length < MAX_LINE, message.includes("\n")]).toEqual([what, true, false]);
      }
    }
  });
});

test("what is short is quoted whole", async () => {
  const { err } = await run("classify", "--counts", "4=x");
  expect(err).toBe('siltbook: --counts: expected SIZE=NUMBER such as "4=15000", found "4=x"\n');
});

test("what is long is quoted with its length", async () => {
  const { err } = await run("classify", "--counts", `4=${"x".repeat(50_000)}`);
  expect(err).toMatch(/^siltbook: --counts: expected .*found "4=x{198}… \(50002 characters\)"\n$/);
});
