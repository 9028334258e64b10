import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { beforeEach, describe, expect, test } from "vitest";
import { runCli } from "../../src/cli/index.js";
import { inOneLine, run, runExplained, runJson } from "../support/run-cli.js";
import { temporaryFolder } from "../support/temporary-folder.js";

const root = temporaryFolder();
const FLEET = join(import.meta.dirname, "..", "support", "fleet");
const HEADER = "sample,cart,circuit,drawn on,4 µm(c) per mL,6 µm(c) per mL,14 µm(c) per mL,water (mg/kg)";
const row = (number: number, water: number | string = 120) =>
  `S-${number},C-1,1,2026-03-04,1300,320,40,${water}`;

let folder: string;
let book: string;
let made = 0;

beforeEach(() => {
  made += 1;
  folder = join(root, String(made));
  mkdirSync(folder);
  book = join(folder, "base.siltbook");
});

function write(name: string, ...lines: string[]): string {
  const path = join(folder, name);
  writeFileSync(path, lines.join("\n"));
  return path;
}

describe("siltbook import", () => {
  test("prints the accounting of every file and the quarantine, and exits 1 for a quarantined row", async () => {
    const march = write("march.csv", HEADER, row(1), row(2), row(3, "damp"), "", row(2));
    const april = write("april.csv", `${HEADER},acid number (mg KOH/g)`, `${row(2)},0.1`, `${row(4)},0.1`);
    const { code, json, err } = await runJson("import", "--book", book, march, april);
    expect(code).toBe(1);
    expect(err).toBe("");
    expect(json.files).toMatchObject([
      { file: "march.csv", rows: 6, taken: 2, known: 1, amended: 0, quarantined: 1, notSamples: 2 },
      { file: "april.csv", rows: 3, taken: 1, known: 0, amended: 1, quarantined: 0, notSamples: 1 },
    ]);
    for (const { sha256 } of json.files) expect(sha256).toMatch(/^[0-9a-f]{64}$/);
    expect(json.quarantine).toMatchObject([
      {
        file: "march.csv",
        row: 4,
        column: "water (mg/kg)",
        value: "damp",
        expected: "a number of 0 or more",
        message: 'march.csv row 4, column "water (mg/kg)": expected a number of 0 or more, found "damp"',
        text: row(3, "damp"),
      },
    ]);
  });

  test("the same file twice changes nothing and exits 0 when all of it is known", async () => {
    const march = write("march.csv", HEADER, row(1), row(2));
    expect((await run("import", "--book", book, march)).code).toBe(0);
    const { code, json } = await runJson("import", "--book", book, march);
    expect(code).toBe(0);
    expect(json.files).toMatchObject([
      { rows: 3, taken: 0, known: 2, amended: 0, quarantined: 0, notSamples: 1 },
    ]);
  });

  test("a wide file with 5 broken rows among 100 takes 95 and reports 5", async () => {
    const rows = Array.from({ length: 100 }, (_, index) => row(index + 1));
    for (const index of [3, 20, 50, 71, 99]) rows[index] = row(index + 1, "?");
    const { json } = await runJson("import", "--book", book, write("hundred.csv", HEADER, ...rows));
    expect(json.files).toMatchObject([{ rows: 101, taken: 95, quarantined: 5, notSamples: 1 }]);
    expect(json.quarantine.map((issue: { row: number }) => issue.row)).toEqual([5, 22, 52, 73, 101]);
  });

  test("a file that cannot be read is refused with a line on stderr and exit 2; the others are taken", async () => {
    const bad = write("bad.csv", "sample,cart", "S-1,C-1");
    const unsure = write("unsure.csv", HEADER.replace("4 µm(c) per mL", "4 µm(c)"), row(9));
    const good = write("good.csv", HEADER, row(1));
    const { code, json, err } = await runJson("import", "--book", book, bad, unsure, good);
    expect(code).toBe(2);
    expect(json.files).toMatchObject([{ file: "good.csv", taken: 1 }]);
    expect(json.refused.map((entry: { file: string }) => entry.file)).toEqual(["bad.csv", "unsure.csv"]);
    expect(err.split("\n")).toEqual([
      'siltbook: bad.csv row 1: expected columns for sample, cart, circuit and day drawn; missing circuit, day drawn; found "sample", "cart"',
      'siltbook: unsure.csv row 1: a column map has to settle "4 µm(c)": do the counts stand for 1 mL or for 100 mL?',
      "",
    ]);
  });

  test("a file that is not there, a book that is none and no files at all are each one line on stderr", async () => {
    const missing = await run("import", "--book", book, join(folder, "missing.csv"));
    expect([missing.code, missing.err]).toEqual([
      2,
      `siltbook: ${join(folder, "missing.csv")}: cannot be read: there is no such file\n`,
    ]);
    const none = await run("import", "--book", write("text.txt", "not a database ".repeat(100)), "x.csv");
    expect([none.code, none.err]).toEqual([
      2,
      `siltbook: ${join(folder, "text.txt")}: is not a sample book; name another file\n`,
    ]);
    expect(await run("import", "--book", book)).toMatchObject({ code: 2, out: "" });
  });

  test("the quarantine is a file that the technician corrects and feeds back", async () => {
    const carts = join(FLEET, "carts.json");
    const march = write(
      "march.csv",
      HEADER,
      row(1),
      row(2, "12O"),
      row(3).replace("C-1", "C-7"),
      row(4, 0.05),
      row(5, "n/a"),
    );
    const to = join(folder, "quarantine");
    const first = await runJson("import", "--book", book, "--carts", carts, "--quarantine", to, march);
    expect(first.json.files).toMatchObject([{ taken: 1, quarantined: 4 }]);
    const [{ file, map }] = first.json.quarantineFiles;
    const text = readFileSync(file, "utf8");
    const fixed = text
      .replaceAll("12O", "120")
      .replace("S-3,C-7", "S-3,C-1")
      .replace(/,,(S-4)/, ",water-per-cent-as-ppm,$1")
      .replace(/,,(S-5)/, ",discard,$1");
    writeFileSync(file, fixed);
    const second = await runJson("import", "--book", book, "--map", map, file);
    expect(second.code).toBe(0);
    expect(second.json.files).toMatchObject([{ rows: 5, taken: 3, quarantined: 0, notSamples: 2 }]);

    // What was settled stays settled when the first file is read again.
    expect((await run("history", "--book", book, "--cart", "C-1", "--circuit", "1")).code).toBe(0);
    const again = await runJson("import", "--book", book, march);
    expect(again.code).toBe(0);
    expect(again.json.files).toMatchObject([{ rows: 6, taken: 0, known: 5, quarantined: 0, notSamples: 1 }]);
    const history = await runJson("history", "--book", book, "--cart", "C-1", "--circuit", "1");
    expect(history.json.quarantine).toEqual([]);
    expect(history.json.samples.map((sample: { sample: string }) => sample.sample)).toEqual([
      "S-1",
      "S-2",
      "S-3",
      "S-4",
    ]);
  });

  test.each([
    [
      "blocks",
      [
        "Sample;S-1",
        "Cart;C-1",
        "Circuit;1",
        "Drawn;04.03.2026",
        "4 µm(c) per mL;1.500",
        "Acid number (mg KOH/g);0,1",
        "Water (mg/kg);wet",
        "",
        "Sample;S-2",
        "Cart;C-1",
        "Circuit;1",
        "Drawn;04.03.2026",
        "Water (mg/kg);100,5",
      ],
    ],
    [
      "a long file",
      [
        "sample;cart;circuit;drawn;test;result;unit",
        "S-1;C-1;1;27/03/2026;water;wet;mg/kg",
        "S-1;C-1;1;27/03/2026;4 µm(c);1.500;/mL",
        "S-2;C-1;1;04/03/2026;water;100,5;mg/kg",
      ],
    ],
  ])(
    "the quarantine of %s comes back with the decimal mark and dates of the whole file",
    async (_, lines) => {
      const to = join(folder, "quarantine");
      const first = await runJson("import", "--book", book, "--quarantine", to, write("lab.csv", ...lines));
      expect(first.code).toBe(1);
      const [{ file, map }] = first.json.quarantineFiles;
      writeFileSync(file, readFileSync(file, "utf8").replace(/(,|;)wet/, "$190"));
      expect((await runJson("import", "--book", book, "--map", map, file)).json.files).toMatchObject([
        { quarantined: 0 },
      ]);
      const { json } = await runJson("history", "--book", book, "--cart", "C-1", "--circuit", "1");
      const [sample] = json.samples.filter((entry: { sample: string }) => entry.sample === "S-1");
      expect(sample).toMatchObject({
        waterPpm: { value: 90 },
        counts: { counts: [{ sizeUm: 4, count: 1500 }] },
      });
    },
  );

  test("a bar shows how far a long file has come, how fast and how long it takes, and is taken away at its end", async () => {
    const lines = Array.from({ length: 12_000 }, (_, index) => row(index));
    const shown: string[] = [];
    const quiet = () => undefined;
    await runCli(["import", "--book", book, write("long.csv", HEADER, ...lines)], {
      out: quiet,
      err: quiet,
      progress: (text) => shown.push(text),
    });
    expect(shown[0]).toMatch(/^long.csv \[#+\.+\] [3-7]\d %, \d+ rows a second, \d+ (s|min) left$/);
    expect(shown.at(-1)).toBe("");
  });

  test("a file with a header and nothing below it is told, for nothing of it is in the book", async () => {
    const { code, out } = await run("import", "--book", book, write("march.csv", HEADER));
    expect(code).toBe(0);
    expect(inOneLine(out)).toContain("march.csv: 1 row; no row of it is a sample");
    const again = await run("import", "--book", book, write("april.csv", HEADER, row(1)));
    expect(inOneLine(again.out)).toContain("april.csv: 2 rows: 1 taken, 1 not a sample");
    expect(again.out).not.toContain("no row of it");
  });

  test("the text names the file, what was not used, and how to feed the quarantine back", async () => {
    const march = write("march.csv", `${HEADER},shelf`, `${row(1)},pale`, `${row(2, "damp")},pale`);
    const { out } = await run("import", "--book", book, "--quarantine", folder, march);
    expect(out).toContain("Columns not used: shelf.");
    expect(out.replace(/\s+/g, " ")).toContain(
      'not a sample row 3, column "water (mg/kg)": expected a number of 0 or more, found "damp"',
    );
    expect(out).toContain(
      `siltbook import --book ${book} --map ${join(folder, "march.csv.quarantine.map.json")}`,
    );
  });
});

describe("siltbook columns", () => {
  test("prints what was recognised, and exits 1 where a person has to decide", async () => {
    const unsure = write(
      "unsure.csv",
      `Bottle No.,Cart,Circuit,Date,4 µm,Water (ppm),Shelf`,
      "S-1,C-1,1,2026-03-04,1500,120,pale",
    );
    const { code, json } = await runJson("columns", unsure);
    expect(code).toBe(1);
    expect(
      json.tables[0].columns.map((column: { title: string; kind: string }) => [column.title, column.kind]),
    ).toEqual([
      ["Bottle No.", "known"],
      ["Cart", "known"],
      ["Circuit", "known"],
      ["Date", "unsure"],
      ["4 µm", "unsure"],
      ["Water (ppm)", "known"],
      ["Shelf", "unknown"],
    ]);
    const { out } = await run("columns", unsure);
    const words = out.replace(/[│\s]+/g, " ");
    expect(words).toContain("to be settled: is it the day the sample was drawn, received or reported?");
  });

  test("writes a map that asks its questions, and reads the file with it once they are answered", async () => {
    const unsure = write(
      "unsure.csv",
      "Bottle No.,Cart,Circuit,Date,4 µm,Water (ppm)",
      "S-1,C-1,1,2026-03-04,1500,120",
    );
    const map = join(folder, "lab.map.json");
    await run("columns", unsure, "--write", map);
    const asked = await run("import", "--book", book, unsure);
    expect(asked.out).toContain(`\n  siltbook columns ${unsure} --write ${unsure}.map.json\n`);
    const open = await run("import", "--book", book, "--map", map, unsure);
    expect([open.code, open.err]).toEqual([
      2,
      'siltbook: lab.map.json: column "Date" is still open: is it the day the sample was drawn, received or reported?\n',
    ]);

    const written = JSON.parse(readFileSync(map, "utf8"));
    // The question may stay where it is.
    written.columns.Date.holds = "drawn";
    written.columns["4 µm"] = { holds: "count", fromUm: 4, scale: "um(c)", volumeMl: 1 };
    writeFileSync(map, JSON.stringify(written));
    expect((await runJson("columns", unsure, "--map", map)).code).toBe(0);
    const { json } = await runJson("import", "--book", book, "--map", map, unsure);
    expect(json.files).toMatchObject([{ taken: 1 }]);

    const again = await run("columns", unsure, "--write", map);
    expect([again.code, again.err]).toEqual([
      2,
      `siltbook: --write: ${map} cannot be written: the file exists already\n`,
    ]);
  });
});

describe("commands that read the book", () => {
  beforeEach(async () => {
    const carts = join(FLEET, "carts.json");
    const requirement = join(FLEET, "requirement.json");
    const dated = (day: string, ...rows: string[]) => [
      `${HEADER},reported on`,
      ...rows.map((text) => `${text},${day}`),
    ];
    const files = [
      write("march.csv", ...dated("2026-03-08", row(1), row(2))),
      write("corrected.csv", ...dated("2026-03-09", row(2, 190))),
    ];
    await run("import", "--book", book, "--carts", carts, "--requirement", requirement, ...files);
  });

  test("history shows every sample with its file and row, and what was amended", async () => {
    const { code, json } = await runJson("history", "--book", book, "--cart", "C-1", "--circuit", "1");
    expect(code).toBe(0);
    expect(json.samples).toMatchObject([
      { sample: "S-1", iso4406: "17/15/12", source: { file: "march.csv", rows: [2] }, amendments: [] },
      {
        sample: "S-2",
        waterPpm: { value: 190 },
        source: { file: "corrected.csv", rows: [2] },
        amendments: [{ by: { file: "corrected.csv" }, earlier: { waterPpm: { value: 120 } } }],
      },
    ]);
    const { out } = await run("history", "--book", book, "--cart", "C-1", "--circuit", "1");
    expect(out).toMatch(
      /S-2, amended on \d{4}-\d\d-\d\d by corrected\.csv row 2:\n[\s\S]*│ water \(ppm by mass\) +│ 120 +│ 190 +│/,
    );
  });

  test("history of a circuit that the book does not have names those it has", async () => {
    const { code, err } = await run("history", "--book", book, "--cart", "C-1", "--circuit", "9");
    expect(code).toBe(2);
    expect(err).toContain('the book has no circuit "9" of cart "C-1"; it has C-1 / 1, C-1 / 2');
  });

  test("judge --book gives the verdicts that judge gives from the files", async () => {
    const carts = join(FLEET, "carts.json");
    const requirement = join(FLEET, "requirement.json");
    const files = write("all.csv", HEADER, row(1), row(2, 190));
    const fromFiles = await runJson(
      "judge",
      "--on",
      "2026-03-14",
      "--carts",
      carts,
      "--requirement",
      requirement,
      files,
    );
    const fromBook = await runJson("judge", "--on", "2026-03-14", "--book", book);
    const plain = ({ json }: typeof fromBook) =>
      json.circuits.map(({ cart, circuit, verdict }: Record<string, string>) => [cart, circuit, verdict]);
    expect(plain(fromBook)).toEqual(plain(fromFiles));
    expect(fromBook.code).toBe(fromFiles.code);
    const mixed = await runExplained("judge", "--book", book, files);
    expect([mixed.code, mixed.out]).toEqual([2, ""]);
  });

  test("a row in the book's quarantine keeps an older sample from passing", async () => {
    const before = await runJson("judge", "--on", "2026-03-14", "--book", book);
    await run("import", "--book", book, write("late.csv", HEADER, row(7, "damp").replace("03-04", "03-10")));
    const after = await runJson("judge", "--on", "2026-03-14", "--book", book);
    const codes = ({ json }: typeof after) =>
      json.circuits[0].reasons.map(({ code }: { code: string }) => code);
    expect(codes(before)).not.toContain("result-in-quarantine");
    expect(codes(after)).toContain("result-in-quarantine");
  });

  test("report --book writes the page", async () => {
    const out = join(folder, "report.html");
    const { code } = await runExplained("report", "--on", "2026-03-14", "--book", book, "--out", out);
    expect(code).toBeLessThan(2);
    expect(readFileSync(out, "utf8")).toContain("C-1");
  });

  test("export writes delimited text or JSON Lines by the file's name, and backup a copy of the book", async () => {
    const csv = join(folder, "samples.csv");
    const lines = join(folder, "samples.jsonl");
    const copy = join(folder, "copy.siltbook");
    expect((await runJson("export", "--book", book, "--to", csv)).json).toMatchObject({
      to: csv,
      samples: 2,
    });
    await run("export", "--book", book, "--to", lines);
    expect(readFileSync(csv, "utf8").split("\n")[0]).toBe(
      "\ufeffsample,cart,circuit,drawn on,time drawn,received on,reported on,calibration due,fluid,fluid temperature (°C),4 µm(c) per mL,6 µm(c) per mL,14 µm(c) per mL,water (mg/kg),acid number (mg KOH/g),viscosity at 40 °C (mm²/s)",
    );
    expect(
      readFileSync(lines, "utf8")
        .trim()
        .split("\n")
        .map((line) => JSON.parse(line).sample),
    ).toEqual(["S-1", "S-2"]);
    expect((await run("backup", "--book", book, "--to", copy)).code).toBe(0);
    expect((await run("backup", "--book", book, "--to", copy)).err).toContain("a backup overwrites nothing");
    expect((await run("export", "--book", book, "--to", join(folder, "samples.doc"))).code).toBe(2);
    expect((await run("export", "--book", book, "--to", join(folder, "no", "samples.csv"))).code).toBe(2);
  });
});
