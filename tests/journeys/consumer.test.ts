import { readdir, readFile } from "node:fs/promises";
import { join } from "node:path";
import { beforeAll, describe, expect, test } from "vitest";
import manifest from "../../package.json" with { type: "json" };
import { ANSWER_NAMES } from "../../src/cli/answers/schemas.js";
import { type Compiling, compile, installInto, packedFiles, runIn } from "../support/consumer/project.js";
import { temporaryFolder } from "../support/temporary-folder.js";

const folder = temporaryFolder();
const FLEET = join(import.meta.dirname, "..", "support", "fleet");

let size: number;
let paths: string[];
beforeAll(async () => {
  ({ size, paths } = await packedFiles());
  await installInto(folder);
});

describe("the published package", () => {
  test("holds the built library with its types, what it is and what changed, the schemas, and nothing else", () => {
    const built = paths.filter((path) => /^dist\/.*\.(?:js|d\.ts)$/.test(path));
    const answers = paths.filter((path) => /^docs\/answers\/\w+\.v\d+\.schema\.json$/.test(path));
    expect(answers).toHaveLength(ANSWER_NAMES.length);
    const rest = paths.filter((path) => ![...built, ...answers].includes(path));
    expect(rest.sort()).toEqual([
      "CHANGELOG.md",
      "LICENSE",
      "README.md",
      "dist/cli/licences.txt",
      "docs/carts.schema.json",
      "docs/column-map.schema.json",
      "docs/requirements.schema.json",
      "package.json",
    ]);
    // The command line and the program of the hangar page are bundles without types.
    const library = built.filter((path) => !/^dist\/(?:cli|page\/app\.js)/.test(path));
    expect(library.filter((path) => path.endsWith(".d.ts"))).toHaveLength(library.length / 2);
  });

  test("has no source map, and none of its files names one", async () => {
    const built = paths.filter((path) => path.startsWith("dist/"));
    const texts = await Promise.all(built.map((path) => readFile(path, "utf8")));
    expect(texts.filter((text) => text.includes("sourceMappingURL"))).toEqual([]);
  });

  test("is small: under 2.2 megabytes to download, 80 kB of them the schemas of answers", () => {
    expect(size).toBeLessThan(2_200_000);
  });

  test("has a file at every place that an import of it or its command leads to", () => {
    const entryPoints = Object.values(manifest.exports).flatMap((entryPoint) =>
      typeof entryPoint === "string" ? [entryPoint] : Object.values(entryPoint),
    );
    for (const goal of [...entryPoints, manifest.main, manifest.types, ...Object.values(manifest.bin)]) {
      const [start = "", end = ""] = goal.replace(/^\.\//, "").split("*");
      expect(paths.filter((path) => path.startsWith(start) && path.endsWith(end))).not.toEqual([]);
    }
  });
});

describe("installed into an empty project", () => {
  test("it brings along neither data frames nor the notebook kernel nor the font and renderer of PNG pictures", async () => {
    const installed = await readdir(join(folder, "node_modules"), { recursive: true });
    const names = installed.filter((path) => path.endsWith("package.json")).join("\n");
    expect(names).toContain("libsql/package.json");
    expect(names).not.toMatch(/danfojs|tensorflow|duckdb|tslab|zeromq|resvg|dejavu|typescript/);
  });

  const whole = { declarations: true };
  const own = { declarations: false };
  test.each<Compiling>([
    { node: "20", module: "node16", moduleResolution: "node16", ...whole },
    { node: "22", module: "preserve", moduleResolution: "bundler", ...own },
    { node: "22", module: "nodenext", moduleResolution: "nodenext", ...own },
  ])(
    "a strict program compiles with the types of Node $node, module resolution $moduleResolution, all declarations checked: $declarations",
    async (how) => {
      expect(await compile(folder, "program.ts", how)).toEqual([]);
    },
  );

  test("the compiled program classifies, plans, judges, opens a book, draws and reports", async () => {
    expect(await runIn(folder, process.execPath, "program.js", FLEET)).toEqual([
      // By the table of ISO 4406: 10000 to 20000 is 21, 640 to 1300 is 17, 40 to 80 is 13.
      "class 21/17/13",
      // All filtered alike: 15000 to 1300 needs ln 11.5 passes, 1200 to 320 ln 3.75, 75 to 40 ln 1.9.
      "plan 4",
      // See tests/frames/frames.test.ts.
      "verdicts resample do-not-connect resample",
      // Six rows: S-1, S-2, S-3, S-5, one row in quarantine and one said twice.
      "book 4 samples, 1 in quarantine, 6 rows",
      "report true",
      "figure true",
      "notebook html",
      "show() needs the kernel of TypeScript notebooks, which siltbook does not bring along: npm install tslab@1.0.22",
    ]);
  });

  test("the command is there and runs", async () => {
    const lines = await runIn(
      folder,
      join(folder, "node_modules/.bin/siltbook"),
      "classify",
      "--counts",
      "4=15000 6=1200 14=75",
    );
    expect(lines.join("\n")).toMatch(/ISO 4406 +21\/17\/13/);
  });

  test("siltbook/frames is there without the package that makes data frames, and says what to install", async () => {
    const how = { node: "20", module: "nodenext", moduleResolution: "nodenext", ...own } as const;
    expect(await compile(folder, "frames-program.ts", how)).toEqual([]);
    expect(await runIn(folder, process.execPath, "frames-program.js")).toEqual([
      expect.stringMatching(
        /^data frames need the package danfojs 1\.1\.2, which siltbook does not bring along: npm install danfojs@1\.1\.2;/,
      ),
    ]);
  });

  test("no other declaration needs that package", async () => {
    const declarations = paths.filter((path) => path.endsWith(".d.ts"));
    const texts = await Promise.all(declarations.map((path) => readFile(path, "utf8")));
    const needing = declarations.filter((_, place) => texts[place]?.includes("danfojs"));
    expect(needing.length).toBeGreaterThan(0);
    for (const path of needing) expect(path).toMatch(/^dist\/frames\//);
  });
});
