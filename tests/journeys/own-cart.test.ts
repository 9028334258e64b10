import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { formatMinutes } from "../../src/circulation/index.js";
import { run, runJson } from "../support/run-cli.js";
import { temporaryFolder } from "../support/temporary-folder.js";

const folder = temporaryFolder();
const PAGE = readFileSync("docs/own-cart.md", "utf8");
const at = (name: string) => join(folder, name);

/** The blocks of the page in one language. */
const blocks = (language: string) =>
  [...PAGE.matchAll(new RegExp(`^\`\`\`${language}\\n(.*?)^\`\`\``, "gms"))].map((match) => match[1] ?? "");

test("the files and answers of the page on one's own cart lead to the verdict that it promises", async () => {
  const [carts = "", requirement = ""] = blocks("json");
  writeFileSync(at("carts.json"), carts);
  writeFileSync(at("requirement.json"), requirement);
  writeFileSync(at("lab.csv"), blocks("csv")[0]?.trim() ?? "");

  await run("columns", at("lab.csv"), "--write", at("map.json"));
  const map = JSON.parse(readFileSync(at("map.json"), "utf8"));
  const answers = [...PAGE.matchAll(/^\| `([^`]+)` \| `(\{.*?\})` \| `(\{.*?\})`/gm)];
  expect(answers).toHaveLength(5);
  for (const [, title = "", written = "", answer = ""] of answers) {
    expect(map.columns[title].holds, title).toBe(/"holds": "([^"]+)"/.exec(written)?.[1]);
    map.columns[title] = JSON.parse(answer);
  }
  // What the page does not speak of is understood unchanged.
  const open = Object.values(map.columns as Record<string, { holds: string }>).filter(
    ({ holds }) => holds === "?",
  );
  expect(open).toEqual([]);
  writeFileSync(at("map.json"), JSON.stringify(map));

  const files = [
    "--carts",
    at("carts.json"),
    "--requirement",
    at("requirement.json"),
    "--map",
    at("map.json"),
  ];
  const book = ["--book", at("own.siltbook")];
  await run("import", ...book, ...files, at("lab.csv"));
  const { json } = await runJson("judge", ...book, "--on", "2026-11-20");
  expect(json.circuits).toHaveLength(1);
  const [{ cart, circuit, verdict, circulation }] = json.circuits;
  const promised = /`(Cart 7, circuit A: not fit yet; circulate) ([\d.]+) passes \(([\d.]+ min)\)/.exec(PAGE);
  expect(`${cart}, circuit ${circuit}: not fit yet; ${verdict}`).toBe(promised?.[1]);
  expect(circulation.passes.toFixed(1)).toBe(promised?.[2]);
  expect(formatMinutes(circulation.minutes)).toBe(promised?.[3]);
});
