import { execFile } from "node:child_process";
import { mkdir, readdir, readFile } from "node:fs/promises";
import { promisify } from "node:util";
import { describe, expect, test } from "vitest";
import { blocksOf, compileExamples, promisedBy, runExample } from "../support/typescript-example.js";

const run = promisify(execFile);
const readme = await readFile("README.md", "utf8");
const blocks = (language: string) => blocksOf(readme, language);

const pages = [
  "README.md",
  "DEVELOPERS.md",
  "notebooks/README.md",
  ...(await readdir("docs")).filter((name) => name.endsWith(".md")).map((name) => `docs/${name}`),
];
const examples = (
  await Promise.all(
    pages.map(async (page) =>
      blocksOf(await readFile(page, "utf8"), "ts").map((example, index) => ({
        name: `${page} example ${index + 1}`,
        folder: `${page.replaceAll(/[^a-zA-Z]/g, "-")}-${index + 1}`,
        example,
      })),
    ),
  )
).flat();

describe("examples in the documentation", () => {
  test("README and the guide of each reader have one", () => {
    const named = new Set(examples.map(({ name }) => name.split(" ")[0]));
    expect([...named]).toEqual(expect.arrayContaining(["README.md", "docs/start-here.md"]));
  });

  test("they compile strictly", async () => {
    expect(await compileExamples(examples)).toBe("");
  });

  test.each(examples)("$name prints what its comments say", async (entry) => {
    const promised = promisedBy(entry.example);
    expect(promised.length).toBeGreaterThan(0);
    expect(await runExample(entry)).toEqual(promised);
  });
});

/** Command lines on a page that run on the demonstration as they stand. */
async function commandLines(page: string): Promise<string[]> {
  return blocksOf(await readFile(page, "utf8"), "sh")
    .flatMap((block) => block.split("\n"))
    .filter((line) => /^(npx )?siltbook /.test(line) && !/\bown\//.test(line));
}

describe("every command line shown ends with 0 or 1, never with a usage error", () => {
  // One after the other: a book that one line makes is asked by the next.
  test.each([
    ["README.md", 7],
    ["docs/start-here.md", 13],
    ["docs/online.md", 1],
  ])("%s", async (page, least) => {
    const lines = await commandLines(page);
    expect(lines.length).toBeGreaterThanOrEqual(least);
    await mkdir("out", { recursive: true });
    for (const line of lines) {
      const local = line
        .replace(/^(npx )?siltbook/, `"${process.execPath}" dist/cli/main.js`)
        .replace(/--(out|sheet) (\w+\.html)/, "--$1 out/shown-$2");
      // Nobody types: what reads the standard input finds its end.
      const { code, stdout } = await run(`${local} < /dev/null`, { shell: true } as never).then(
        (done) => ({ ...done, code: 0 }),
        (error: { code: number; stdout: string }) => error,
      );
      expect([0, 1], line).toContain(code);
      // What is shown first is worth seeing: some circuits fit, and one to circulate.
      if (/siltbook (judge|fleet|report) /.test(line))
        expect(stdout, line).toMatch(/^[1-9]\d* of \d+ circuits fit/m);
      if (/siltbook (judge|fleet) /.test(line)) {
        expect(stdout, line).toContain(" fit to connect; next sample by ");
        expect(stdout, line).toMatch(/ circulate \d+ min \(/);
      }
    }
  });
});

describe("README", () => {
  test("the build runs exactly the test command that stands here, then the slow tests, then other versions of Node", async () => {
    const script = await readFile(".ci/run", "utf8");
    const commands = script
      .split("\n")
      .filter((line) => line !== "" && !line.startsWith("#") && !line.startsWith("set "));
    expect(commands).toEqual(["npm ci && npm test", "npm run test:slow", "npm run test:nodes"]);
    expect(blocks("sh").map((block) => block.trim())).toContain(commands[0]);
  });

  test("every file and folder it links to is there", async () => {
    const links = [...readme.matchAll(/\]\((?!http)([^)#]+)\)/g)].map((match) => match[1] ?? "");
    expect(links.length).toBeGreaterThan(5);
    for (const link of links) await expect(readFile(link), link).resolves.toBeDefined();
  });
});
