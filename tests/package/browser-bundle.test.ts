import { createContext, runInContext } from "node:vm";
import { gzipSync } from "node:zlib";
import { type BuildResult, build } from "esbuild";
import { describe, expect, test } from "vitest";
import manifest from "../../package.json" with { type: "json" };

const NEEDS_A_MACHINE = ["intake", "book", "figures", "frames", "duckdb", "notebook", "report", "evidence"];
const PURE = Object.entries(manifest.exports)
  .filter(([subpath, entry]) => typeof entry !== "string" && !NEEDS_A_MACHINE.includes(subpath.slice(2)))
  .map(([subpath]) => subpath.replace(".", "siltbook"));

/** Bundles a program for the browser; a module of Node in it is an error. */
async function bundle(program: string): Promise<string> {
  const result: BuildResult<{ write: false }> = await build({
    stdin: { contents: program, resolveDir: "." },
    bundle: true,
    platform: "browser",
    format: "iife",
    globalName: "bundled",
    minify: true,
    write: false,
    logLevel: "silent",
  });
  return result.outputFiles[0]?.text ?? "";
}

describe("the pure entry points in a browser", () => {
  test("are the root and a subpath for each pure module with more to show", () => {
    expect(PURE).toEqual([
      "siltbook",
      ...[
        "counts",
        "cleanliness",
        "fluids",
        "samples",
        "circulation",
        "online",
        "trend",
        "laboratories",
        "fitness",
      ].map((module) => `siltbook/${module}`),
    ]);
  });

  test.each(PURE)("%s needs no module and no global of Node", async (name) => {
    const code = await bundle(`export * from "${name}"`);
    // Nothing but the language itself: neither process nor Buffer, and no window either.
    const names = runInContext(`${code}; Object.keys(bundled)`, createContext({}));
    expect(names.length).toBeGreaterThan(3);
  });

  test("the root computes there as here: a class of the hand-worked sample", async () => {
    const code = await bundle(`
      import { classify, cumulativeCounts, formatIso4406 } from "siltbook";
      export const code = formatIso4406(classify(cumulativeCounts([
        { sizeUm: 4, count: 15000 }, { sizeUm: 6, count: 1200 }, { sizeUm: 14, count: 75 }], 1)).iso4406);`);
    // 10000 to 20000 is 21, 640 to 1300 is 17, 40 to 80 is 13.
    expect(runInContext(`${code}; bundled.code`, createContext({}))).toBe("21/17/13");
  });

  test("intake cannot be bundled so: a module of Node in it is found", async () => {
    await expect(bundle('export * from "siltbook/intake"')).rejects.toThrow(/node:/);
  });
});

describe("weight, minified", () => {
  test("the whole root is at most 492 kB, 173 kB packed", async () => {
    const code = await bundle('export * from "siltbook"');
    expect(code.length).toBeLessThan(492_000);
    expect(gzipSync(code).length).toBeLessThan(173_000);
  });

  test("who takes classify alone gets at most 20 kB: what is not used is left out", async () => {
    const code = await bundle('export { classify, cumulativeCounts } from "siltbook"');
    expect(code.length).toBeLessThan(20_000);
  });
});
