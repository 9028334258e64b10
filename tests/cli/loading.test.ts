import { execFile } from "node:child_process";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { promisify } from "node:util";
import { describe, expect, test } from "vitest";
import { temporaryFolder } from "../support/temporary-folder.js";

const DEMO = ["--carts", "datasets/demo/carts.json", "--requirement", "datasets/demo/requirement.json"];
const folder = temporaryFolder();
const BOOK = join(folder, "loading.siltbook");

/**
 * The packages and modules of which a command of the built program loads something: those outside of the bundle by their
 * files, those in it by the lines with which each begins in a file of the bundle.
 */
async function loadedBy(
  ...args: string[]
): Promise<{ packages: string[]; modules: string[]; files: number }> {
  const file = join(folder, `${args[0]}.txt`);
  await promisify(execFile)(
    process.execPath,
    ["--import", "./tests/support/list-modules.mjs", "dist/cli/main.js", ...args],
    { env: { ...process.env, SILTBOOK_MODULES: file } },
  ).catch((error: { code: unknown; stderr: string }) => {
    // 1 says that not all is well with the fluid.
    if (error.code !== 1) throw new Error(error.stderr);
  });
  const loaded = readFileSync(file, "utf8").replaceAll("\\", "/");
  const bundled = [...loaded.matchAll(/^file:\/\/.*\/dist\/cli\/[^/\n]+\.js$/gm)].map(([url]) =>
    readFileSync(new URL(url), "utf8"),
  );
  const parts = bundled.flatMap((text) =>
    [...text.matchAll(/^(?: {2})?\/\/ ((?:src|node_modules)\/.*)$/gm)].map(([, path]) => `/${path}`),
  );
  const text = [loaded, ...parts].join("\n");
  const all = (pattern: RegExp) =>
    [...new Set([...text.matchAll(pattern)].map((match) => match[1] as string))].sort();
  return {
    files: bundled.length,
    packages: all(/node_modules\/((?:@[^/\n]+\/)?[^/\n]+)\//g),
    // What stands in for a package of the bundle is no module.
    modules: all(/^\/src\/(?!bundles\/)([a-z]+)\//gm),
  };
}

/** How wide a text is on a terminal, with everything it stands on. */
const WIDTH = ["ansi-regex", "emoji-regex", "is-fullwidth-code-point", "string-width", "strip-ansi"];
const DRAWS = ["pure-rand"];
const STATISTICS = [...DRAWS, "simple-statistics"];
const TEXT_FILES = ["csv-parse", "csv-stringify", "jsonc-parser", "zod"];
const DATABASE = ["@libsql/linux-x64-gnu", "@neon-rs/load", "detect-libc", "fastest-levenshtein", "libsql"];

describe("a command loads what it needs and nothing else", () => {
  test("help: the reader of the command line, and how wide a text is", async () => {
    expect(await loadedBy("--help")).toMatchObject({
      packages: [...WIDTH, "commander"].sort(),
      modules: ["cli", "provenance"],
    });
  });

  test("classify: no schemas, no files, no database, no figures", async () => {
    expect(
      await loadedBy("classify", "--counts", "4=15000 6=1200 14=75", "--target", "18/16/13"),
    ).toMatchObject({
      packages: [...WIDTH, ...DRAWS, "commander"].sort(),
      modules: ["cleanliness", "cli", "counts", "numeric", "provenance", "units"],
    });
  });

  test("circulate and exchange: no schemas, no files", async () => {
    const expected = {
      packages: [...WIDTH, ...DRAWS, "commander"].sort(),
      modules: [
        ...["circulation", "cleanliness", "cli", "counts", "fluids", "numeric", "provenance", "units"],
      ],
    };
    const circuit = ["--volume", "60 L", "--flow", "45 L/min", "--beta", "4=10"];
    expect(
      await loadedBy("circulate", ...circuit, "--start", "4=20000 6=1200 14=75", "--target", "17/15/12"),
    ).toMatchObject(expected);
    const water = ["--water", "400 ppm", "--water-limit", "200 ppm", "--fresh-water", "50 ppm"];
    expect(await loadedBy("exchange", "--volume", "60 L", ...water)).toMatchObject(expected);
  });

  test("judge and trend from text files: no database, no workbooks, no figures", async () => {
    const expected = [...WIDTH, ...STATISTICS, ...TEXT_FILES, "commander"].sort();
    const judge = await loadedBy("judge", ...DEMO, "datasets/demo/lab-tidy.csv");
    expect(judge.packages).toEqual(expected);
    expect(judge.modules).not.toContain("book");
    // A file of the library for each of these would be some 300.
    expect(judge.files).toBeLessThan(30);
    const trend = await loadedBy(
      "trend",
      ...["--cart", "QB-01", "--circuit", "fore", ...DEMO.slice(0, 2)],
      "datasets/demo/lab-tidy.csv",
    );
    expect(trend.packages).toEqual(expected);
    expect(trend.modules).not.toContain("book");
  });

  test("columns: no database, no workbooks, no figures", async () => {
    expect((await loadedBy("columns", "datasets/demo/lab-tidy.csv")).packages).toEqual(
      [...WIDTH, ...STATISTICS, ...TEXT_FILES, "commander"].sort(),
    );
  });

  test("import and fleet: the database, but no workbooks and no figures", async () => {
    const expected = [...WIDTH, ...STATISTICS, ...TEXT_FILES, ...DATABASE, "commander"].sort();
    // Which binary of the database is loaded is the machine's.
    const named = (packages: string[]) =>
      packages.map((name) => (name.startsWith("@libsql/") ? "@libsql/linux-x64-gnu" : name));
    const imported = await loadedBy("import", "--book", BOOK, ...DEMO, "datasets/demo/lab-tidy.csv");
    expect(named(imported.packages)).toEqual(expected);
    expect(named((await loadedBy("fleet", "--book", BOOK)).packages)).toEqual(expected);
  });
});
