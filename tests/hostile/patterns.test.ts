import { spawnSync } from "node:child_process";
import { join } from "node:path";
import { expect, test } from "vitest";
import { bytesInMemory, openLabFile, readLabFile } from "../../src/intake/index.js";
import { HANG_MS } from "../support/hang.js";

const ROOT = join(import.meta.dirname, "..", "..");

/**
 * Modules whose patterns see no text longer than this, because it is refused before. What is in a command is typed by
 * a person. All other patterns are tried on long texts.
 */
const MAX_TEXT_LENGTH = [
  ["src/cli/", 1000],
  ["src/units/quantities", 200],
  ["src/cleanliness/stated-class.", 200],
  ["src/samples/statements/", 1200],
  ...[
    "cells/cells",
    "cells/dates",
    "cells/numbers",
    "cells/results",
    "layout/bottle-titles",
    "layout/columns",
    "layout/count-titles",
    "layout/dictionary",
    "layout/labels",
    "layout/layout",
    "layout/meaning",
    "layout/quantity-titles",
    "layout/title-words",
  ].map((name) => [`src/intake/${name}.`, 200]),
];

test("no pattern of the library can be kept busy: work grows with the text, not with its square", () => {
  // In a program of its own, which is killed: a pattern that explodes cannot be stopped otherwise.
  const { status, stdout, stderr } = spawnSync(
    process.execPath,
    [join(ROOT, "tests", "support", "attack-patterns.mjs"), ROOT, JSON.stringify(MAX_TEXT_LENGTH)],
    { timeout: HANG_MS, killSignal: "SIGKILL", encoding: "utf8", maxBuffer: 1e8 },
  );
  expect({ status, last: status === 0 ? "" : stderr.split("\n").at(-2) }).toEqual({ status: 0, last: "" });
  const { patterns, tries, slow } = JSON.parse(stdout);
  expect(slow).toEqual([]);
  // Most patterns of the library are found, or the test would say little.
  expect(patterns).toBeGreaterThan(100);
  expect(tries).toBeGreaterThan(30_000);
});

const encode = (text: string) => new TextEncoder().encode(text);
const TITLES = "sample,cart,circuit,drawn on,4 µm(c) per mL,water (mg/kg),ISO 4406";

test.each([
  ["digits", "1".repeat(100_000)],
  ["blanks between two figures", `1${" ".repeat(100_000)}1`],
  ["marks", `1${"*".repeat(100_000)}a`],
  ["groups of three", `1${",000".repeat(25_000)}x`],
  ["slashes", "/".repeat(100_000)],
  ["a place in a quarantine", `${' sheet "'.repeat(10_000)} row 1`],
  ["dates", "01/".repeat(33_000)],
])(
  "a cell of 100,000 characters of %s is set aside in every column, and the row after it is taken",
  async (_what, cell) => {
    for (let column = 0; column < 6; column += 1) {
      const cells = ["S-1", "C-1", "fore", "2026-03-04", "1300", "120", ""];
      cells[column] = `"${cell}"`;
      const text = `${TITLES}\n${cells.join(",")}\nS-2,C-1,fore,2026-03-04,1300,120,\n`;
      const { samples, quarantine } = await readLabFile("lab.csv", encode(text));
      expect(samples.at(-1)?.sample).toBe("S-2");
      expect(samples.length + quarantine.length).toBe(2);
      // A name may be long; a result or a day may not.
      if (column > 2) expect(quarantine).toHaveLength(1);
    }
  },
);

test("titles of 900,000 characters that look like labels, units or sizes are looked at once and not used", async () => {
  const title = `a${" ".repeat(900_000)}b`;
  for (const hostile of [title, `"(${" ".repeat(900_000)}x"`, `4 ${"-4".repeat(200_000)}`]) {
    const text = `${TITLES},${hostile}\nS-1,C-1,fore,2026-03-04,1300,120,,1\n`;
    const opened = await openLabFile(bytesInMemory("lab.csv", encode(text)));
    expect([...opened.fates()].filter(({ kind }) => kind === "sample")).toHaveLength(1);
  }
});
