import { execFile } from "node:child_process";
import { mkdir, readFile, rm, writeFile } from "node:fs/promises";
import { promisify } from "node:util";
import { describe, expect, test } from "vitest";

const run = promisify(execFile);
const readme = await readFile("README.md", "utf8");
const blocks = (language: string) =>
  [...readme.matchAll(new RegExp(`\`\`\`${language}\\n(.*?)\`\`\``, "gs"))].map((match) => match[1] ?? "");

describe("README", () => {
  test("the library example compiles strictly and prints what its comments say", async () => {
    const [example = ""] = blocks("ts");
    const expected = [...example.matchAll(/\/\/ => (.*)$/gm)].map((match) => match[1]);
    expect(expected.length).toBeGreaterThan(0);
    await mkdir("out/readme", { recursive: true });
    await writeFile("out/readme/example.mts", example);
    try {
      const strict = [
        "--noEmit",
        "--strict",
        "--module",
        "nodenext",
        "--target",
        "es2022",
        "--types",
        "node",
      ];
      await run(process.execPath, [
        "node_modules/typescript/bin/tsc",
        ...strict,
        "--skipLibCheck",
        "out/readme/example.mts",
      ]);
      const { stdout } = await run(process.execPath, [
        "node_modules/tsx/dist/cli.mjs",
        "out/readme/example.mts",
      ]);
      expect(stdout.trim().split("\n")).toEqual(expected);
    } finally {
      await rm("out/readme", { recursive: true });
    }
  });

  test("the build runs exactly the test command that stands here", async () => {
    const script = await readFile(".ci/run", "utf8");
    const commands = script
      .split("\n")
      .filter((line) => line !== "" && !line.startsWith("#") && !line.startsWith("set "));
    expect(commands).toEqual(["npm ci && npm test"]);
    expect(blocks("sh").map((block) => block.trim())).toContain(commands[0]);
  });

  test("every command line shown ends with 0 or 1, never with a usage error", async () => {
    const lines = (blocks("sh").find((block) => block.includes("npx siltbook")) ?? "").trim().split("\n");
    expect(lines.length).toBeGreaterThanOrEqual(4);
    await mkdir("out", { recursive: true });
    for (const line of lines) {
      const local = line
        .replace("npx siltbook", `"${process.execPath}" dist/cli/main.js`)
        .replace("--out report.html", "--out out/readme.html");
      const code = await run(local, { shell: true } as never).then(
        () => 0,
        (error: { code: number }) => error.code,
      );
      expect([0, 1], line).toContain(code);
    }
  });

  test("every file and folder it links to is there", async () => {
    const links = [...readme.matchAll(/\]\((?!http)([^)#]+)\)/g)].map((match) => match[1] ?? "");
    expect(links.length).toBeGreaterThan(5);
    for (const link of links) await expect(readFile(link), link).resolves.toBeDefined();
  });
});
