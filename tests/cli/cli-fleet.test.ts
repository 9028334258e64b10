import { mkdtemp, readFile, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { beforeEach, describe, expect, test } from "vitest";
import { Book } from "../../src/book/index.js";
import { circuitNamed as circuit, HEADER, requirementsWith } from "../support/book/main-system.js";
import { inOneLine, run, runExplained, runJson } from "../support/run-cli.js";

const CARTS = {
  carts: [
    { cart: "C-1", circuits: [circuit("1"), circuit("2")] },
    { cart: "C-2", circuits: [circuit("1", { state: { on: "2026-03-13", elementUsed: 0.9 } })] },
  ],
};
const REQUIREMENT = requirementsWith({ from: { waterPpmMax: "TB-1-1520-240-20-121" } });

let folder: string;
let book: string;
const at = (name: string) => join(folder, name);
const ON = ["--on", "2026-03-14"];

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "siltbook-"));
  book = at("a.siltbook");
  await writeFile(at("carts.json"), JSON.stringify(CARTS));
  await writeFile(at("requirement.json"), JSON.stringify(REQUIREMENT));
  await writeFile(
    at("lab.csv"),
    `${HEADER}\nS-1,C-1,1,2026-03-04,MIL-PRF-83282,1300,320,40,200,0.2\nS-2,C-1,2,2026-03-04,MIL-PRF-83282,1300,320,40,350,0.1\nS-3,C-2,1,2026-03-04,MIL-PRF-83282,900,300,40,150,0.1\n`,
  );
  await run(
    ...["import", "--book", book, "--carts", at("carts.json"), "--requirement", at("requirement.json")],
    at("lab.csv"),
  );
});

describe("siltbook judge with a book", () => {
  test("keeps every verdict in the book with what it rests on, and says its number", async () => {
    const { code, json } = await runJson("judge", "--book", book, ...ON);
    expect(code).toBe(1);
    expect(json.circuits.map(({ verdict }: { verdict: string }) => verdict)).toEqual([
      "fit",
      "exchange-fluid",
      "fit",
    ]);
    const opened = Book.open(book);
    for (const { record } of json.circuits) expect(opened.recompute(record.number).kind).toBe("same");
    expect(opened.verdicts()).toHaveLength(3);
    opened.close();
  });

  test("--cart judges one cart alone; 0 is the exit code when all of it is fit", async () => {
    const { code, json } = await runJson("judge", "--book", book, "--cart", "C-2", ...ON);
    expect(code).toBe(0);
    expect(json.circuits.map(({ cart }: { cart: string }) => cart)).toEqual(["C-2"]);
  });

  test("a cart that is not there is named, with those that are", async () => {
    const { code, err } = await runExplained("judge", "--book", book, "--cart", "C-9", ...ON);
    expect([code, err]).toEqual([2, 'siltbook: --cart: there is no cart "C-9"; known are C-1, C-2\n']);
  });

  test("says the litres, what would change the verdict, where limits are from, the pairing and the cautions", async () => {
    const { out } = await runExplained("judge", "--book", book, ...ON);
    for (const words of [
      "one drain of",
      'when a sample drawn afterwards is inside, the verdict by the other data is "fit"',
      "take a new sample when no newer sample is drawn by 2026-04-03",
      "main system, waterPpmMax: US Army TB 1-1520-240-20-121",
      "C-1 at fleet A: main system by circuit 1 (fit)",
      "How to draw a sample:",
      "Siltbook advises; it never releases.",
      "local rules and licensed staff decide",
    ]) {
      expect(inOneLine(out)).toContain(words);
    }
  });

  test("adds to the document of each circuit and takes nothing away", async () => {
    const { json } = await runJson("judge", "--book", book, ...ON);
    for (const entry of json.circuits) {
      expect(Object.keys(entry)).toEqual(
        expect.arrayContaining([
          ...[
            "cart",
            "circuit",
            "serves",
            "verdict",
            "reasons",
            "target",
            "sample",
            "classes",
            "circulation",
          ],
          ...["trends", "assumptions", "assessed", "together", "next", "changes", "outlook", "record"],
        ]),
      );
      for (const reason of entry.reasons) {
        const actor = reason.callsFor === "fit" ? [] : ["actor"];
        expect(Object.keys(reason)).toEqual(["code", "callsFor", ...actor, "message"]);
      }
    }
  });
});

describe("siltbook fleet", () => {
  test("puts first what needs doing first and ends with 1 unless all are fit", async () => {
    const { code, json } = await runJson("fleet", "--book", book, ...ON);
    expect(code).toBe(1);
    expect(
      json.circuits.map((row: { cart: string; circuit: string }) => `${row.cart} ${row.circuit}`),
    ).toEqual(["C-1 2", "C-2 1", "C-1 1"]);
    expect(json.circuits[1]).toMatchObject({ elementNearCapacity: true, before: null, changed: false });
    expect((await runExplained("fleet", "--book", book, "--cart", "C-2", ...ON)).code).toBe(0);
  });

  test("says what changed since the report before", async () => {
    await runExplained("fleet", "--book", book, ...ON);
    await writeFile(
      at("later.csv"),
      `${HEADER}\nS-4,C-1,2,2026-03-15,MIL-PRF-83282,1300,320,40,120,0.1\nS-5,C-2,1,2026-03-15,MIL-PRF-83282,20000,5000,640,120,0.1\n`,
    );
    await run("import", "--book", book, at("later.csv"));
    const { out } = await runExplained("fleet", "--book", book, "--on", "2026-03-16");
    expect(out).toContain('C-1, circuit 2: "exchange the fluid" on 2026-03-14, now "fit"');
    expect(out).toContain('C-2, circuit 1: "fit" on 2026-03-14, now "circulate"');
    expect(out).toMatch(/90 %[\s\S]*used,[\s\S]*change[\s\S]*soon/);
    expect(out).toContain("Siltbook advises; it never releases.");
  });

  test("without a change it says so", async () => {
    await runExplained("fleet", "--book", book, ...ON);
    expect((await runExplained("fleet", "--book", book, "--on", "2026-03-15")).out).toContain(
      "No verdict changed since 2026-03-14.",
    );
  });

  test("a book without carts is distinguished from one that is not there", async () => {
    const { code, err } = await runExplained("fleet", "--book", at("none.siltbook"), ...ON);
    expect([code, err]).toEqual([2, `siltbook: ${at("none.siltbook")}: there is no such book\n`]);
  });
});

describe("siltbook override", () => {
  const override = (...more: string[]) =>
    run(
      ...["override", "--book", book, "--cart", "C-1", "--circuit", "1", "--person", "A. Person"],
      ...["--decision", "resample", "--reason", "bottle found open", ...more],
    );

  test("is shown with the verdict in the next judgement of the same data and does not change the computed verdict", async () => {
    await runExplained("judge", "--book", book, "--cart", "C-1", ...ON);
    const { code, out } = await override();
    expect(code).toBe(0);
    expect(out).toContain('the verdict of 2026-03-14 stays "fit"');
    expect(out).toContain("Siltbook advises; it never releases.");
    const { json } = await runJson("judge", "--book", book, "--cart", "C-1", ...ON);
    expect(json.circuits[0]).toMatchObject({
      verdict: "fit",
      overrides: [{ person: "A. Person", decision: "resample", reason: "bottle found open" }],
    });
    const { out: text } = await runExplained("judge", "--book", book, "--cart", "C-1", ...ON);
    expect(text).toContain("bottle found open; the verdict stays as computed");
  });

  test("needs a verdict to stand against, and a decision that is one", async () => {
    expect((await override()).err).toContain("the book has no verdict on circuit");
    await runExplained("judge", "--book", book, ...ON);
    expect((await override("--decision", "release")).err).toContain(
      "--decision: expected fit, circulate, exchange-fluid, resample, do-not-connect",
    );
    expect((await override("--reason", " ")).err).toContain("an override needs a reason");
  });
});

test("the illustrative requirement judges a book and shows the standing of its limits", async () => {
  const text = await readFile("datasets/requirements/illustrative.json", "utf8");
  await writeFile(at("illustrative.json"), text.replace("synthetic hydrocarbon system", "main system"));
  const { out } = await runExplained(
    "judge",
    "--book",
    book,
    "--requirement",
    at("illustrative.json"),
    ...ON,
  );
  expect(inOneLine(out)).toContain("Use the limits of your aircraft's manual.");
  expect(inOneLine(out)).toMatch(/waterPpmMax: US Army TB 1-1520-240-20-121.*one page/);
  expect(out).toMatch(/acidMgKohPerGMax: Common practice, no source/);
});
