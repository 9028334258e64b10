import { existsSync } from "node:fs";
import { readdir, readFile } from "node:fs/promises";
import { dirname, join } from "node:path";
import { describe, expect, test } from "vitest";
import { REASONS } from "../../src/fitness/index.js";

const pages = [
  "DEVELOPERS.md",
  "CHANGELOG.md",
  "datasets/README.md",
  "datasets/demo/README.md",
  "datasets/requirements/SOURCE.md",
  "notebooks/README.md",
  ...(await pagesIn("docs")),
  ...(await pagesIn("docs/making")),
];

async function pagesIn(folder: string): Promise<string[]> {
  return (await readdir(folder)).filter((name) => name.endsWith(".md")).map((name) => `${folder}/${name}`);
}

describe("documentation", () => {
  test.each(pages)("every file that %s links to is there", async (page) => {
    const text = await readFile(page, "utf8");
    const links = [...text.matchAll(/\]\((?!https?:)([^)#]+)(?:#[^)]*)?\)/g)].map((match) => match[1] ?? "");
    for (const link of links) {
      const goal = join(dirname(page), link);
      await expect(
        readFile(goal).catch(() => readdir(goal)),
        `${page} links to ${link}`,
      ).resolves.toBeDefined();
    }
  });

  test("the table of reasons in docs/fitness.md is the one the code decides by", async () => {
    const text = await readFile("docs/fitness.md", "utf8");
    const rows = [...text.matchAll(/^\| (`[a-z-]+`(?:, `[a-z-]+`)*) \| `([a-z-]+)` \|/gm)].flatMap(
      ([, codes = "", verdict]) => codes.split(", ").map((code) => [code.slice(1, -1), verdict]),
    );
    expect(rows).toHaveLength(Object.keys(REASONS).length);
    expect(Object.fromEntries(rows)).toEqual(REASONS);
  });

  test("every package that package.json names has its sentence in docs/making/dependencies.md, and no other", async () => {
    const manifest = JSON.parse(await readFile("package.json", "utf8"));
    const named = Object.keys({
      ...manifest.dependencies,
      ...manifest.devDependencies,
      ...manifest.peerDependencies,
    });
    const text = await readFile("docs/making/dependencies.md", "utf8");
    const described = [...text.matchAll(/^\| (.+?) \|/gm)].flatMap((row) =>
      [...(row[1] ?? "").matchAll(/`([^`:]+)`/g)].map((match) => match[1]),
    );
    const typesAside = named.filter((name) => !name.startsWith("@types/"));
    expect([...new Set(described)].sort()).toEqual([...new Set(typesAside)].sort());
  });
});

test("docs/making/one-road.md names each folder of intake that files pass through, and files that are in it", async () => {
  const page = await readFile("docs/making/one-road.md", "utf8");
  const stages = [...page.matchAll(/^\| \d [a-z]+ \| ([^|]+) \|.*$/gm)];
  const folders = stages.flatMap(([, named = ""]) =>
    [...named.matchAll(/`(\w+)\/`/g)].map(([, name]) => name),
  );
  const present = (await readdir("src/intake", { withFileTypes: true }))
    .filter((entry) => entry.isDirectory())
    .map(({ name }) => name);
  // Carts and requirements are documents of their own, not laboratory files.
  expect([...folders, "documents"].sort()).toEqual(present.sort());
  for (const [row = "", named = ""] of stages) {
    const own = [...named.matchAll(/`(\w+)\/`/g)].map(([, name]) => name as string);
    for (const [, file = ""] of row.matchAll(/`([\w-]+\.ts)`/g)) {
      expect([file, own.some((folder) => existsSync(`src/intake/${folder}/${file}`))]).toEqual([file, true]);
    }
  }
});
