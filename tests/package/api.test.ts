import { readdir, readFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { publicSurfaces, REPORTS } from "../../docs/making/public-surface.js";
import { temporaryFolder } from "../support/temporary-folder.js";

const surfaces = publicSurfaces(temporaryFolder());

describe("the public surface is the one written down in docs/api; a wanted change is written with `npm run api`", () => {
  test.each(surfaces)("$file", async ({ file, report }) => {
    expect(report).toBe(await readFile(join(REPORTS, file), "utf8"));
  });

  test("there is a report for every entry point and no other", async () => {
    expect(await readdir(REPORTS)).toEqual(surfaces.map(({ file }) => file).sort());
  });
});
