import { readFile } from "node:fs/promises";
import { describe, expect, test } from "vitest";
import { lockedPackages } from "../../docs/making/dependency-tree.js";
import { licenceProblems, licencesPage } from "../../docs/making/licences-page.js";
import manifest from "../../package.json" with { type: "json" };

const packages = lockedPackages();
const shipped = packages.filter((locked) => locked.shipped);

describe("the lock file", () => {
  test("pins the content of every package by a hash", () => {
    const unpinned = packages.filter(({ integrity }) => !/^sha512-[\w+/]{86}==$/.test(integrity ?? ""));
    expect(packages.length).toBeGreaterThan(shipped.length);
    expect(unpinned).toEqual([]);
  });

  test("takes every package from the registry, none from a repository, another address or a folder", () => {
    // Where npm is told not to write the address of the registry down, the hash alone stands there.
    const elsewhere = packages.filter(
      ({ resolved }) => resolved !== undefined && !resolved.startsWith("https://registry.npmjs.org/"),
    );
    expect(elsewhere).toEqual([]);
  });

  test("every package that package.json names has one exact version", () => {
    const { siltbook: itself, ...named } = { ...manifest.dependencies, ...manifest.devDependencies };
    expect(itself).toBe("file:.");
    for (const [name, version] of Object.entries(named))
      expect(`${name} ${version}`).toMatch(/ (?:npm:@types\/node@)?\d+\.\d+\.\d+(?:-r\.\d+)?$/);
  });
});

describe("what runs at install", () => {
  test("is named in docs/making/dependencies.md with what it does, and nothing else runs", async () => {
    const text = await readFile("docs/making/dependencies.md", "utf8");
    const named = [...text.matchAll(/^- `([^`]+)` \(by .+\): \S/gm)].map((match) => match[1]);
    const running = packages.filter((locked) => locked.runsAtInstall).map(({ name }) => name);
    expect(named).toEqual([...new Set(running)].sort());
  });

  test("is nothing for those who only use siltbook", () => {
    expect(shipped.filter((locked) => locked.runsAtInstall)).toEqual([]);
    // npm runs "dependencies" in the project that it installs for, never in a package that it installs.
    const run = [
      "preinstall",
      "install",
      "postinstall",
      "preprepare",
      "prepare",
      "postprepare",
      "prepublish",
    ];
    expect(Object.keys(manifest.scripts).filter((name) => run.includes(name))).toEqual([]);
    expect(manifest.scripts.dependencies).toBe("npm run build");
  });
});

describe("licences", () => {
  test("every package has one that is permitted for what it is used for", () => {
    expect(licenceProblems(packages)).toEqual([]);
  });

  test("a package that names none, or one nobody has permitted, is refused", () => {
    const [first] = shipped;
    if (first === undefined) throw new Error("the lock file brings nothing along");
    const strange = { ...first, name: "strange", version: "1.0.0" };
    const said = (changed: object) => licenceProblems([...packages, { ...strange, ...changed }]);
    expect(said({ licence: undefined })).toEqual(["strange@1.0.0: licence none named is not permitted"]);
    expect(said({ licence: "SSPL-1.0" })).toEqual(["strange@1.0.0: licence SSPL-1.0 is not permitted"]);
    // What is only worked with may be under MPL-2.0, what is brought along may not.
    expect(said({ licence: "MPL-2.0" })).toEqual(["strange@1.0.0: licence MPL-2.0 is not permitted"]);
    expect(said({ licence: "MPL-2.0", shipped: false })).toEqual([]);
  });

  test("docs/licences.md is the lock file's; `npm run licences` writes it", async () => {
    expect(await readFile("docs/licences.md", "utf8")).toBe(licencesPage());
  });
});

describe("what siltbook brings along", () => {
  test("is free of data frames, the database DuckDB, the notebook kernel, the browser and the compiler", () => {
    const names = shipped.map(({ name }) => name).join("\n");
    expect(names).toContain("libsql");
    expect(names).not.toMatch(/danfojs|tensorflow|duckdb|tslab|zeromq|chromium|playwright|^typescript$/m);
  });
});
