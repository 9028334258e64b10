import { closeSync, mkdtempSync, openSync, writeFileSync, writeSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { runBounded } from "../support/bounded-cli.js";
import { run } from "../support/run-cli.js";
import { temporaryFolder } from "../support/temporary-folder.js";

const root = temporaryFolder();
const TITLES = "sample,cart,circuit,drawn on,4 µm(c) per mL,water (mg/kg)\n";
const ROW = "S-1,C-1,fore,2026-03-04,1300,120\n";
const MB = 1_000_000;

/** A file from pieces, each written several times over, so that no test holds a large one in memory. */
function fileOf(name: string, ...pieces: readonly (readonly [text: string, times: number])[]): string {
  const path = join(mkdtempSync(join(root, "large-")), name);
  const handle = openSync(path, "w");
  for (const [text, times] of pieces) {
    const together = Math.max(1, Math.min(times, Math.floor(MB / text.length)));
    const block = Buffer.from(text.repeat(together));
    for (let left = times; left > 0; left -= together) {
      writeSync(handle, left >= together ? block : Buffer.from(text.repeat(left)));
    }
  }
  closeSync(handle);
  return path;
}

/** More than any of these needs, and far less than a file that is held whole would take. */
const MAX_MB = 700;

describe("files made to fill memory or time: each ends within a minute, in bounded memory, with its reason", () => {
  test.each([
    [
      "one cell of 100 MB",
      "a.csv",
      [
        [TITLES, 1],
        ["S-1,C-1,fore,2026-03-04,", 1],
        ["9", 100 * MB],
        [",120\n", 1],
      ],
      /a\.csv row 2: expected lines of at most 1000000 characters/,
    ],
    [
      "one quoted cell of 10 MB with line breaks",
      "b.csv",
      [
        [TITLES, 1],
        ['"', 1],
        [`${"x".repeat(9999)}\n`, 1_000],
      ],
      /1000 in quarantine, 1 not a sample/,
    ],
    [
      "a quoted cell that never ends, in every line",
      "c.csv",
      [
        [TITLES, 1],
        ['"S-1,C-1,fore,2026-03-04,1300,"120\n', 60_000],
      ],
      /none of the first 5000 rows could be read as one; nothing was taken\. .*: c\.csv row 2,/,
    ],
    [
      "lines of a million characters, each with an open quotation mark",
      "d.csv",
      [
        [TITLES, 1],
        [`"${"x".repeat(900_000)}\n`, 6],
      ],
      /a quotation mark that is closed/,
    ],
    [
      "900,000 columns in ten rows",
      "e.csv",
      [[`${",".repeat(900_000)}\n`, 10]],
      /e\.csv row 1: expected at most 2000 columns, found 900001/,
    ],
    [
      "a header of one million titles",
      "f.csv",
      [
        ["sample,", 1_000_000],
        ["\n", 1],
        [ROW, 1],
      ],
      /f\.csv row 1: expected lines of at most 1000000 characters/,
    ],
    [
      "a header of 140,000 times the same title",
      "g.csv",
      [
        ["sample,", 140_000],
        ["\n", 1],
        [ROW, 1],
      ],
      /g\.csv row 1: expected at most 2000 columns, found 140001/,
    ],
    [
      "a hundred headers of 1,900 different titles",
      "h.csv",
      [
        ...Array.from(
          { length: 100 },
          (_, row) =>
            [
              `${Array.from({ length: 1900 }, (_, column) => `title ${row} ${column} of water`).join(",")}\n`,
              1,
            ] as const,
        ),
        [ROW, 1],
      ],
      /expected a header|a column map has to settle/,
    ],
    [
      "200,000 carriage returns",
      "i.csv",
      [
        [TITLES.trim(), 1],
        ["\r", 200_000],
      ],
      /i\.csv: 200000 rows/,
    ],
    ["50 MB of null bytes", "j.csv", [["\0", 50 * MB]], /j\.csv/],
    [
      "null bytes in every cell",
      "k.csv",
      [
        [TITLES, 1],
        ["S\0-1,C-1,fore,2026-03-04,13\x0000,120\n", 20_000],
      ],
      /none of the first 5000 rows could be read as one; nothing was taken\. .*: k\.csv row 2,/,
    ],
    [
      "a million blanks within a label",
      "l.csv",
      [
        [`a${" ".repeat(900_000)}b,1\n`, 10],
        [TITLES, 1],
        [ROW, 1],
      ],
      /l\.csv/,
    ],
    [
      "a JSON text of 90 MB",
      "m.json",
      [
        ['[{"sample":"', 1],
        ["x", 90 * MB],
        ['"}]', 1],
      ],
      /m\.json row 1: expected objects of at most 1000000 characters/,
    ],
    [
      "a JSON document of 150 MB",
      "n.json",
      [
        ["[", 1],
        ['{"sample":"S-1"},\n', 9_000_000],
        ["{}]", 1],
      ],
      /n\.json: expected a JSON document of at most 100000000 bytes/,
    ],
    [
      "ten million lists inside each other",
      "o.json",
      [
        ["[", 10 * MB],
        ["]", 10 * MB],
      ],
      /o\.json: expected at most 100 lists and objects inside each other/,
    ],
    [
      "objects inside each other, a million deep",
      "p.json",
      [
        ['{"a":', MB],
        ["1", 1],
        ["}", MB],
      ],
      /p\.json: expected at most 100 lists/,
    ],
    [
      "a new name in every object",
      "q.json",
      [
        ["[", 1],
        ...Array.from({ length: 3000 }, (_, name) => [`{"name ${name}":1},`, 1] as const),
        ["{}]", 1],
      ],
      /q\.json: expected at most 2000 different names/,
    ],
  ] as const)("%s", (_what, name, pieces, message) => {
    const path = fileOf(name, ...pieces);
    const { code, out, err, peakMb } = runBounded(root, "import", "--book", `${path}.siltbook`, path);
    expect(code).not.toBeNull();
    expect(out + err).toMatch(message);
    expect(err).not.toContain("a fault of siltbook itself");
    // What is said of a file is for a person to read, however large the file is.
    expect((out + err).length).toBeLessThan(20_000);
    expect(peakMb).toBeLessThan(MAX_MB);
  });

  test("a line of JSON Lines that nests too deep is set aside, and the others are taken", async () => {
    const line =
      '{"sample":"S-1","cart":"C-1","circuit":"fore","drawn on":"2026-03-04","water (mg/kg)":120}\n';
    const path = fileOf("r.jsonl", [line, 1], [`{"sample":${"[".repeat(50_000)}${"]".repeat(50_000)}}\n`, 1]);
    const { code, out } = await run("import", "--book", `${path}.siltbook`, path);
    expect(code).toBe(1);
    expect(out.replace(/\s+/g, " ")).toContain("with at most 100 lists and objects inside each other");
    expect(out).toMatch(/r\.jsonl: 2 rows: 1 taken/);
  });

  test.each(["/dev/zero", "/dev/null", "/proc"])(
    "%s, which is no file, is refused and not read for ever",
    async (path) => {
      const { code, err } = await run("import", "--book", join(root, "device.siltbook"), path);
      expect(code).toBe(2);
      expect(err).toMatch(/cannot be read: it is a (device or a pipe; save it as a file|folder)/);
    },
  );

  test.each(["carts", "requirement", "map"])(
    "a --%s file that nests a million deep is refused",
    async (option) => {
      const path = fileOf("deep.json", ['{"carts":', MB], ["1", 1], ["}", MB]);
      const csv = fileOf("s.csv", [TITLES, 1], [ROW, 1]);
      const { code, err } = await run(
        "import",
        "--book",
        join(root, "deep.siltbook"),
        `--${option}`,
        path,
        csv,
      );
      expect(code).toBe(2);
      expect(err).toContain("deep.json: expected at most 100 lists and objects inside each other");
    },
  );

  test("a carts file with 5,000 faults is refused with the first of them and how many more", async () => {
    const path = join(mkdtempSync(join(root, "large-")), "carts.json");
    writeFileSync(path, JSON.stringify({ carts: Array.from({ length: 5000 }, () => ({ cart: 1 })) }));
    const { code, err } = await run("import", "--book", join(root, "carts.siltbook"), "--carts", path);
    expect(code).toBe(2);
    expect(err).toMatch(/carts\.0\.cart: .*; and 9980 more\n$/);
  });

  test("of 300,000 empty carts the first 10,000 are looked at", async () => {
    const path = join(mkdtempSync(join(root, "large-")), "carts.json");
    writeFileSync(path, `{"carts":[${"{},".repeat(299_999)}{}]}`);
    const { code, err } = await run("import", "--book", join(root, "carts.siltbook"), "--carts", path);
    expect(code).toBe(2);
    expect(err).toMatch(/carts\.0\.cart: .*; and 19980 more among the first 10000\n$/);
  });
});
