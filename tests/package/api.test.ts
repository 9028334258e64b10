import { readdir, readFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { publicSurfaces, REPORTS } from "../../docs/making/public-surface.js";
import { temporaryFolder } from "../support/temporary-folder.js";

const surfaces = publicSurfaces(temporaryFolder());
const names = surfaces.flatMap((surface) => surface.names);

describe("the public surface is the one written down in docs/api; a wanted change is written with `npm run api`", () => {
  test.each(surfaces)("$file", async ({ file, report }) => {
    expect(report).toBe(await readFile(join(REPORTS, file), "utf8"));
  });

  test("there is a report for every entry point and no other", async () => {
    expect(await readdir(REPORTS)).toEqual(surfaces.map(({ file }) => file).sort());
  });
});

describe("a user can write down every type", () => {
  const exported = new Set(surfaces.flatMap((surface) => surface.exported));

  test.each(surfaces)("that a signature of $name uses: an entry point exports it", ({ mentioned }) => {
    expect(mentioned.filter((declaration) => !exported.has(declaration))).toEqual([]);
  });

  test("and each name has one meaning and one entry point", () => {
    expect(names.filter((name, place) => names.indexOf(name) !== place)).toEqual([]);
  });
});

describe("names", () => {
  test("the root holds what people meet first: about 120 names, types included", () => {
    expect(surfaces[0]?.name).toBe("siltbook");
    expect(surfaces[0]?.names.length).toBeLessThanOrEqual(125);
    expect(surfaces[0]?.names.length).toBeGreaterThan(80);
  });

  test("what reads opens a file or a book; text is parsed, and nothing is said, got or handled", () => {
    const reading = names.filter((name) => /^read[A-Z]/.test(name));
    expect(reading).toContain("readFleetFiles");
    expect(reading.filter((name) => !/(?:Files?|OfBook|Outline)$/.test(name))).toEqual([]);
    expect(names.filter((name) => /^(?:say|get|handle|process|do)[A-Z]/.test(name))).toEqual([]);
  });
});
