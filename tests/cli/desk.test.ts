// The laboratory's desk: files to fill in, lists, columns of numbers that nobody knows, tables no wider than a terminal.
import { readFileSync, writeFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { drawTable } from "../../src/cli/text.js";
import { run, runJson } from "../support/run-cli.js";
import { temporaryFolder } from "../support/temporary-folder.js";

const LAB =
  "Sample,Cart,Circuit,Drawn on,>4 µm(c) per mL,Zork 5,Shelf\nS-1,C-1,main,2026-03-04,1000,12.5,B\n";

describe("init", () => {
  const filledIn = (text: string, answers: Readonly<Record<string, string | number>>) =>
    Object.entries(answers).reduce((left, [begins, answer]) => {
      const at = new RegExp(`"\\? ${begins}[^"]*"`, "g");
      expect(left).toMatch(at);
      return left.replace(at, JSON.stringify(answer));
    }, text);

  test("writes files that say place by place what is still open, and are taken once that is filled in", async () => {
    const folder = temporaryFolder();
    writeFileSync(`${folder}/lab.csv`, LAB);
    expect((await run("init", "--to", `${folder}/base`, `${folder}/lab.csv`)).code).toBe(0);
    const [carts, requirement] = [`${folder}/base/carts.json`, `${folder}/base/requirement.json`];
    const judge = () =>
      run(
        "judge",
        "--carts",
        carts,
        "--requirement",
        requirement,
        "--map",
        `${folder}/map.json`,
        `${folder}/lab.csv`,
        "--json",
      );
    const map = JSON.parse(readFileSync(`${folder}/base/lab.csv.map.json`, "utf8"));
    map.columns["Zork 5"] = { holds: "text" };
    map.decimal = ".";
    writeFileSync(`${folder}/map.json`, JSON.stringify(map));
    const names = { "the name of the cart": "C-1", "the name of the circuit": "main" };
    const system = { "the aircraft system": "main system", "the specification": "MIL-PRF-83282" };
    expect((await judge()).err).toContain("requirement.json: document: still open: ");
    writeFileSync(
      requirement,
      filledIn(readFileSync(requirement, "utf8"), {
        ...{ ...system, "the manual": "Test manual", "its revision": "1", "the class": "17/15/12" },
        ...{ "the most water": 200, "the largest acid": 0.2, "the oldest sample": 30 },
      }),
    );
    const open = await judge();
    expect(open).toMatchObject({ code: 2 });
    for (const place of [
      "cart",
      "circuits.0.circuit",
      "circuits.0.serves",
      "circuits.0.fluid",
      "circuits.0.volume",
    ]) {
      expect(open.err).toContain(`carts.0.${place}: still open: `);
    }
    writeFileSync(
      carts,
      filledIn(readFileSync(carts, "utf8"), {
        ...{ ...names, ...system, "reservoir, hoses": "60 L" },
        ...{ "flow through": "45 L/min", "what the element": "3 µm absolute" },
      }),
    );
    const judged = await judge();
    expect(judged.err).toBe("");
    expect(JSON.parse(judged.out).circuits).toHaveLength(1);
  });

  test("overwrites nothing", async () => {
    const folder = temporaryFolder();
    await run("init", "--to", folder);
    expect((await run("init", "--to", folder)).err).toContain(
      "carts.json exists already; name another folder",
    );
  });

  test("says why a folder cannot be made", async () => {
    const folder = temporaryFolder();
    writeFileSync(`${folder}/lab.csv`, LAB);
    const to = `${folder}/lab.csv/base`;
    expect((await run("init", "--to", to)).err).toBe(
      `siltbook: --to: ${to} cannot be made: there is a file of that name\n`,
    );
  });
});

describe("columns", () => {
  test("asks about a column of numbers that no title explains, and about no other", async () => {
    const folder = temporaryFolder();
    writeFileSync(`${folder}/lab.csv`, LAB);
    const { map } = JSON.parse((await run("columns", `${folder}/lab.csv`, "--json")).out);
    expect(map.columns["Zork 5"].question).toContain("it holds numbers such as 12.5: which result are they?");
    expect(map.columns.Shelf).toEqual({ holds: "text" });
  });
});

describe("lists of a book", () => {
  test("files, carts and open rows", async () => {
    const folder = temporaryFolder();
    const book = `${folder}/base.siltbook`;
    const fleet = ["--carts", "datasets/demo/carts.json", "--requirement", "datasets/demo/requirement.json"];
    await run(
      "import",
      "--book",
      book,
      ...fleet,
      "datasets/demo/lab-tidy.csv",
      "datasets/demo/lab-damaged.csv",
    );
    const listed = (what: string) => run("list", what, "--book", book);
    expect((await listed("files")).out).toContain("│ lab-tidy.csv");
    await run("withdraw", "--book", book, "lab-tidy.csv", "--by", "A. Person", "--reason", "why");
    expect((await listed("files")).out.replace(/[\s│]+/g, " ")).toMatch(/lab-tidy\.csv .*\(withdrawn/);
    expect((await listed("carts")).out).toContain("MIL-PRF-83282");
    expect((await listed("rows")).code).toBe(1);
    expect((await listed("samples")).err).toContain('expected files, carts or rows, found "samples"');
    for (const what of ["files", "carts", "rows"]) {
      expect((await listed(what)).out.split("\n").filter((line) => line.length > 80)).toEqual([]);
    }
  });
});

describe("rows of a file", () => {
  const HEADER =
    "sample,cart,circuit,drawn on,4 µm(c) per mL,6 µm(c) per mL,14 µm(c) per mL,water (mg/kg),acid (mg KOH/g)";
  const row = (number: number, water: string, acid = "0.1") =>
    `S-${number},C-1,1,2026-03-04,${1300 - number},320,40,${water},${acid}`;

  test("what became of them, what those that wait need by kind, and how to settle them, in few lines", async () => {
    const folder = temporaryFolder();
    const book = `${folder}/base.siltbook`;
    // Twenty rows without a readable water, two without a readable acid number, and two that can be read.
    const rows = Array.from({ length: 20 }, (_, index) => row(index, "damp"));
    const all = [HEADER, ...rows, row(20, "90", "?1"), row(21, "90", "?2"), row(22, "90"), row(23, "90"), ""];
    writeFileSync(`${folder}/lab.csv`, all.join("\n"));
    await run("import", "--book", book, `${folder}/lab.csv`);
    const { out, code } = await run("rows", "--book", book, "lab.csv");
    expect(code).toBe(0);
    const lines = out.trimEnd().split("\n");
    expect(lines.slice(0, 2)).toEqual([
      "lab.csv: 25 rows: 2 taken, 22 in quarantine, 1 not a sample",
      "22 rows wait for a person:",
    ]);
    const text = out.replace(/\s+/g, " ");
    expect(text).toContain(
      'lab.csv row 2, column "water (mg/kg)": expected a number of 0 or more with "." as decimal mark, found "damp"; the same in rows 3, 4, 5, 6, 7, 8 and 13 more',
    );
    expect(text).toContain('found "?1"; the same in row 23');
    expect(out).toContain("To settle: siltbook quarantine --book");
    expect(lines.length).toBeLessThanOrEqual(12);
    expect(lines.filter((line) => line.length > 80 && !line.includes(": siltbook "))).toEqual([]);
    // Each row as its file has it, after a tab, and below it what is wrong with it.
    const explained = (await run("rows", "--book", book, "lab.csv", "--explain")).out.split("\n");
    expect(explained.filter((line) => line.includes("\t"))).toHaveLength(25);
    expect(explained.filter((line) => line.startsWith("    lab.csv row "))).toHaveLength(22);
    expect((await runJson("rows", "--book", book, "lab.csv")).json.rows).toHaveLength(25);
  });
});

describe("a table is no wider than a terminal, and no part of a cell is left out", () => {
  test.for([
    ["words are wrapped", ["a", "b"], [["x".repeat(5), "some words ".repeat(20).trim()]]],
    ["long words are broken", ["a", "b"], [["x".repeat(120), "y".repeat(70)]]],
    [
      "many columns",
      Array.from({ length: 12 }, (_, at) => `column ${at}`),
      [Array.from({ length: 12 }, () => "a value")],
    ],
  ] as const)("%s", ([, head, rows]) => {
    const drawn = drawTable(head, rows);
    for (const line of drawn.trimEnd().split("\n")) expect(line.length).toBeLessThanOrEqual(80);
    const left = drawn.replace(/[\s│┌┬┐├┼┤└┴┘─]/g, "");
    expect(left).not.toContain("…");
    // A table in parts repeats the column that names its rows.
    for (const cell of [head, ...rows].flat()) {
      const letters = [...cell.replace(/\s/g, "")];
      const counted = (text: string, one: string) => text.split(one).length - 1;
      for (const one of letters) expect(counted(left, one)).toBeGreaterThanOrEqual(counted(cell, one));
    }
  });
});
