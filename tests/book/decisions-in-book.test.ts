import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import Database from "libsql";
import { parseHTML } from "linkedom";
import { beforeEach, describe, expect, test } from "vitest";
import { Book } from "../../src/book/index.js";
import { MIGRATIONS } from "../../src/book/storage/migrations.js";
import { circuitNamed as circuit, HEADER, requirementsWith } from "../support/book/main-system.js";
import { dropChain } from "../support/drop-chain.js";
import { inOneLine, run, runExplained, runJson } from "../support/run-cli.js";
import { temporaryFolder } from "../support/temporary-folder.js";

const SEALS = { state: { on: "2026-03-13", seals: "damaged" } };
/** C-1 is fit in its first circuit and wet in its second; C-2 is fit; the seals of C-3 are damaged. */
const CARTS = [
  { cart: "C-1", circuits: [circuit("1"), circuit("2")] },
  { cart: "C-2", circuits: [circuit("1")] },
  { cart: "C-3", circuits: [circuit("1", SEALS)] },
];
const ROWS = [
  "S-1,C-1,1,2026-03-04,MIL-PRF-83282,900,300,30,150,0.1",
  "S-2,C-1,2,2026-03-04,MIL-PRF-83282,900,300,30,350,0.1",
  "S-3,C-2,1,2026-03-04,MIL-PRF-83282,900,300,30,150,0.1",
  "S-4,C-3,1,2026-03-04,MIL-PRF-83282,900,300,30,150,0.1",
];

const base = temporaryFolder();
let folder: string;
let book: string;
const at = (name: string) => join(folder, name);
const ON = ["--on", "2026-03-14"];
const NEXT_DAY = ["--on", "2026-03-15"];
/** The day of a decision is the day on which the test runs. */
const DAY = String.raw`\d{4}-\d{2}-\d{2}`;

function write(name: string, content: unknown): string {
  writeFileSync(at(name), typeof content === "string" ? content : JSON.stringify(content));
  return at(name);
}

beforeEach(async () => {
  folder = mkdtempSync(join(base, "t-"));
  book = at("a.siltbook");
  write("carts.json", { carts: CARTS });
  write("requirement.json", requirementsWith());
  write("lab.csv", [HEADER, ...ROWS].join("\n"));
  const files = ["--carts", at("carts.json"), "--requirement", at("requirement.json")];
  await run("import", "--book", book, ...files, at("lab.csv"));
});

const judge = (...more: string[]) => runExplained("judge", "--book", book, ...more);
const about = (cart: string, name: string) => ["--book", book, "--cart", cart, "--circuit", name];
const override = (cart: string, name: string, ...more: string[]) =>
  run("override", ...about(cart, name), "--person", "A. Person", "--reason", "bottle found open", ...more);
const hold = (cart: string, name: string) => override(cart, name, "--decision", "resample");
const lift = (cart: string, name: string, ...more: string[]) =>
  run(
    "override",
    ...about(cart, name),
    "--person",
    "C. Person",
    "--reason",
    "drawn again",
    "--lift",
    ...more,
  );

describe("a fit circuit that a person holds", () => {
  beforeEach(async () => {
    expect((await judge("--cart", "C-2", ...ON)).code).toBe(0);
    expect((await hold("C-2", "1")).code).toBe(0);
  });
  const HEADED = new RegExp(
    String.raw`^Held by a person, not fit to connect:\n {2}C-2, circuit 1: HELD by A\. Person on ${DAY}: bottle found open\n`,
  );

  test.each([
    ["judge, the same day", ["judge", "--cart", "C-2", ...ON]],
    ["judge, the next day", ["judge", "--cart", "C-2", ...NEXT_DAY]],
    ["judge, the whole book", ["judge", ...NEXT_DAY]],
    ["fleet, the next day", ["fleet", "--cart", "C-2", ...NEXT_DAY]],
    ["fleet, the whole book", ["fleet", ...NEXT_DAY]],
    ["history", ["history", "--cart", "C-2", "--circuit", "1"]],
  ])("%s: the hold is the first thing said, and the exit code is 1", async (_title, [command, ...words]) => {
    const { code, out } = await (command === "history" ? run : runExplained)(
      command as string,
      "--book",
      book,
      ...words,
    );
    expect(code).toBe(1);
    expect(out).toMatch(HEADED);
    expect(out).not.toContain("Every circuit is fit");
    expect(out).not.toMatch(/C-2, circuit 1: fit/);
    if (command !== "history") expect(out).toMatch(/C-2 +│ 1 .*│ held: take a( new( sample)?)? +│/);
  });

  test("judge and fleet count it among the circuits that are not fit", async () => {
    expect((await judge("--cart", "C-2", ...NEXT_DAY)).out).toContain("Not fit to connect, and why:");
    const { out } = await runExplained("fleet", "--book", book, "--cart", "C-2", ...NEXT_DAY);
    expect(out).toContain("0 of 1 circuits are fit to connect");
    expect(out).toContain("C-2, circuit 1: held: take a new sample: HELD by A. Person");
  });

  test("the pairing with the aircraft says that it is held", async () => {
    expect((await judge("--cart", "C-2", ...ON)).out).toContain(
      "main system by circuit 1 (held: take a new sample)",
    );
  });

  test("JSON of judge says what stands, who holds it and that nothing leads to a hookup; the verdict stays as computed", async () => {
    const { code, json } = await runJson("judge", "--book", book, "--cart", "C-2", ...NEXT_DAY);
    expect(code).toBe(1);
    expect(json.circuits[0]).toMatchObject({
      verdict: "fit",
      stands: "resample",
      held: true,
      heldBy: [expect.stringMatching(new RegExp(`^HELD by A. Person on ${DAY}: bottle found open$`))],
      decisions: [
        {
          number: 1,
          person: "A. Person",
          second: null,
          decision: "resample",
          reason: "bottle found open",
          until: null,
          madeOn: { verdict: "fit", on: "2026-03-14" },
          lifted: null,
          effect: "holds",
        },
      ],
      next: { action: "resample" },
    });
    expect(JSON.stringify(json.circuits[0].next)).not.toContain("connect only if");
    expect(json.carts[0]).toMatchObject({ cart: "C-2", verdict: "resample" });
  });

  test("JSON of fleet and history say the same", async () => {
    const fleet = await runJson("fleet", "--book", book, "--cart", "C-2", ...NEXT_DAY);
    expect(fleet.json.circuits[0]).toMatchObject({ verdict: "fit", stands: "resample", held: true });
    expect(fleet.json.circuits[0].decisions[0]).toMatchObject({ number: 1, effect: "holds" });
    const history = await runJson("history", ...about("C-2", "1"));
    expect(history.json).toMatchObject({ held: true, decisions: [{ number: 1, cart: "C-2", circuit: "1" }] });
  });

  test("a clean sample drawn afterwards does not lift it", async () => {
    const row = "S-9,C-2,1,2026-03-16,MIL-PRF-83282,500,200,20,100,0.05";
    await run("import", "--book", book, write("later.csv", `${HEADER}\n${row}`));
    const { code, out } = await judge("--cart", "C-2", "--on", "2026-03-17");
    expect([code, HEADED.test(out)]).toEqual([1, true]);
  });

  test("bringing in the carts and the samples again does not lift it", async () => {
    await run("import", "--book", book, "--carts", at("carts.json"), at("lab.csv"));
    expect((await judge("--cart", "C-2", ...NEXT_DAY)).code).toBe(1);
  });

  test("it holds for a carts file given instead of the book's", async () => {
    const { code, out } = await judge("--carts", write("only.json", { carts: [CARTS[1]] }), ...NEXT_DAY);
    expect([code, HEADED.test(out)]).toEqual([1, true]);
  });

  test("a cart written with other letters, spaces and hyphens is the same cart", async () => {
    const renamed = write("only.json", { carts: [{ cart: "c 2", circuits: [circuit("1")] }] });
    const { out } = await judge("--carts", renamed, ...NEXT_DAY);
    expect(out).toMatch(/^Held by a person, not fit to connect:\n {2}c 2, circuit 1: HELD by A\. Person/);
  });

  test("a circuit that is taken out of its cart stays held, and is named as not judged", async () => {
    await run(
      "import",
      "--book",
      book,
      "--carts",
      write("new.json", { carts: [{ cart: "C-2", circuits: [circuit("main")] }] }),
      at("lab.csv"),
    );
    for (const command of ["judge", "fleet"]) {
      const { code, out } = await run(command, "--book", book, "--cart", "C-2", ...NEXT_DAY);
      expect(code).toBe(1);
      expect(inOneLine(out)).toMatch(
        /^Held by a person\b.*: C-2, circuit 1: HELD by .* \(no circuit of this name was judged\)/,
      );
    }
  });

  test("it does not block another cart", async () => {
    for (const words of [
      ["--cart", "C-1"],
      ["--carts", write("only.json", { carts: [CARTS[0]] })],
    ]) {
      expect((await judge(...words, ...NEXT_DAY)).out).not.toContain("HELD");
    }
    const alone = write("only.json", { carts: [{ cart: "C-1", circuits: [circuit("1")] }] });
    const { code, out } = await judge("--carts", alone, ...NEXT_DAY);
    expect([code, out.includes("Every circuit is fit to connect.")]).toEqual([0, true]);
  });

  test("lifting it, by a name and with a reason, ends it and stays in the history", async () => {
    const { code, out } = await lift("C-2", "1");
    expect(code).toBe(0);
    expect(inOneLine(out)).toMatch(
      new RegExp(
        `decision 1: "take a new sample" decided by A\\. Person on ${DAY}.*; lifted by C\\. Person on ${DAY}: drawn again`,
      ),
    );
    const judged = await judge("--cart", "C-2", ...NEXT_DAY);
    expect([judged.code, judged.out.includes("HELD")]).toEqual([0, false]);
    const history = await run("history", ...about("C-2", "1"));
    expect(history.code).toBe(0);
    expect(inOneLine(history.out)).toContain("lifted by C. Person");
  });

  test("is lifted once; a second time there is nothing to lift", async () => {
    await lift("C-2", "1");
    expect(await lift("C-2", "1")).toMatchObject({
      code: 2,
      err: "siltbook: C-2, circuit 1: there is no decision to lift\n",
    });
  });

  test.each([
    [
      "without a name",
      ["--person", " ", "--reason", "drawn again"],
      "lifting a decision needs the name of the person",
    ],
    ["without a reason", ["--person", "C. Person", "--reason", "…"], "lifting a decision needs a reason"],
  ])("is not lifted %s", async (_title, words, message) => {
    const { code, err } = await run("override", ...about("C-2", "1"), "--lift", ...words);
    expect([code, err]).toEqual([2, `siltbook: ${message}\n`]);
    expect((await judge("--cart", "C-2", ...ON)).code).toBe(1);
  });

  test("a later and milder decision is refused until it is lifted", async () => {
    const { code, err } = await override("C-2", "1", "--decision", "fit", "--second", "B. Person");
    expect(code).toBe(2);
    expect(err).toMatch(
      /HELD by A\. Person .*; no milder decision is kept until a person has lifted decision 1/,
    );
    expect((await judge("--cart", "C-2", ...ON)).code).toBe(1);
  });

  test("two that hold are both said, and are lifted one by one by their numbers", async () => {
    await override("C-2", "1", "--decision", "do-not-connect");
    expect((await judge("--cart", "C-2", ...ON)).out.match(/circuit 1: HELD by/g)).toHaveLength(3);
    const { code, err } = await lift("C-2", "1");
    expect(code).toBe(2);
    expect(err).toContain('several decisions stand; say the number of one: decision 1: "take a new sample"');
    await lift("C-2", "1", "--number", "2");
    expect((await judge("--cart", "C-2", ...ON)).out).toContain("held: take a new sample");
    await lift("C-2", "1", "--number", "1");
    expect((await judge("--cart", "C-2", ...ON)).code).toBe(0);
  });

  test("its verdict is judged again from the record to the last byte", () => {
    const opened = Book.open(book);
    for (const { id } of opened.verdicts()) expect(opened.recompute(id).kind).toBe("same");
    opened.close();
  });
});

describe("a milder decision", () => {
  beforeEach(() => judge(...ON));

  test("is shown by judge, fleet and history with who, why and until when, and the exit code stays 1", async () => {
    await override("C-1", "2", "--decision", "fit", "--until", "2026-03-20");
    const said = new RegExp(
      `decision 1: "fit" decided by A\\. Person on ${DAY}, until 2026-03-20: bottle found open`,
    );
    for (const command of [
      ["judge", ...NEXT_DAY],
      ["fleet", ...NEXT_DAY],
    ]) {
      const { code, out } = await runExplained(
        command[0] as string,
        "--book",
        book,
        "--cart",
        "C-1",
        ...command.slice(1),
      );
      expect(code).toBe(1);
      expect(inOneLine(out)).toMatch(said);
      expect(inOneLine(out)).toContain('the verdict stays as computed, "exchange the fluid"');
      expect(out).toMatch(/C-1 +│ 2 .*│ exchange (the fluid)? +│/);
      expect(out).not.toContain("HELD");
    }
    expect(inOneLine((await run("history", ...about("C-1", "2"))).out)).toMatch(said);
  });

  test("is not shown as valid the day after its last", async () => {
    await override("C-1", "2", "--decision", "fit", "--until", "2026-03-20");
    const saidOn = async (day: string) => inOneLine((await judge("--on", day)).out);
    expect(await saidOn("2026-03-20")).toContain('"fit" decided by A. Person');
    expect(await saidOn("2026-03-21")).not.toContain('"fit" decided by A. Person');
    const { json } = await runJson("judge", "--book", book, "--on", "2026-03-21");
    expect(json.circuits[1].decisions[0]).toMatchObject({ effect: "ended", until: "2026-03-20" });
  });

  test("without a last day counts for the day of its verdict alone", async () => {
    await override("C-1", "2", "--decision", "fit");
    expect(inOneLine((await judge(...ON)).out)).toContain("until 2026-03-14: bottle found open");
    expect(inOneLine((await judge(...NEXT_DAY)).out)).not.toContain('"fit" decided by A. Person');
  });

  test("counts in whatever units its verdict is read", async () => {
    // A third of the circuit was topped up since the sample; the reason says so in litres or in gallons.
    const events = [{ on: "2026-03-06", kind: "top-up", added: "20 L" }];
    const carts = CARTS.map((cart) =>
      cart.cart === "C-2" ? { cart: "C-2", circuits: [circuit("1", { events })] } : cart,
    );
    await run("import", "--book", book, "--carts", write("topped-up.json", { carts }));
    await judge(...ON);
    await override("C-2", "1", "--decision", "fit", "--until", "2026-03-20");
    for (const units of ["metric", "us"]) {
      const { json } = await runJson("judge", "--book", book, "--cart", "C-2", ...NEXT_DAY, "--units", units);
      expect(json.circuits[0]).toMatchObject({ verdict: "resample", decisions: [{ effect: "milder" }] });
      expect(json.circuits[0].reasons[0].message).toContain(units === "us" ? "5.283 US gal" : "20 L");
    }
  });

  test("is said to be made on another verdict when a newer sample is as wet", async () => {
    await override("C-1", "2", "--decision", "fit", "--until", "2026-03-20");
    const row = "S-9,C-1,2,2026-03-15,MIL-PRF-83282,900,300,30,350,0.1";
    await run("import", "--book", book, write("later.csv", `${HEADER}\n${row}`));
    const { code, out } = await judge("--cart", "C-1", "--on", "2026-03-16");
    expect(code).toBe(1);
    expect(inOneLine(out)).toContain(
      '; made on the verdict "exchange the fluid" of 2026-03-14, not on this one',
    );
  });

  test("of do-not-connect needs a second person, who is shown with the first", async () => {
    const alone = await override("C-3", "1", "--decision", "fit");
    expect([alone.code, alone.err]).toEqual([
      2,
      expect.stringContaining("needs the name of a second person"),
    ]);
    expect((await override("C-3", "1", "--decision", "fit", "--second", "a person")).err).toContain(
      "must be another",
    );
    expect((await override("C-3", "1", "--decision", "fit", "--second", "B. Person")).code).toBe(0);
    const { code, out } = await judge("--cart", "C-3", ...ON);
    expect(code).toBe(1);
    expect(out).toContain('"fit" decided by A. Person and B. Person');
    expect(out).toMatch(/C-3 .*│ do not connect +│/);
  });
});

test("a decision is about the cart it names, and no other that is written with the same figures", async () => {
  const carts = ["1-11", "11-1"].map((cart) => ({ cart, circuits: [circuit("1")] }));
  const rows = carts.map(({ cart }, index) => (ROWS[0] as string).replace("S-1,C-1", `S-${index},${cart}`));
  book = at("figures.siltbook");
  const files = ["--carts", write("figures.json", { carts }), "--requirement", at("requirement.json")];
  await run("import", "--book", book, ...files, write("figures.csv", [HEADER, ...rows].join("\n")));
  await judge(...ON);
  expect((await hold("1-11", "1")).code).toBe(0);
  const { json } = await runJson("judge", "--book", book, ...ON);
  const holds = json.circuits.map(({ heldBy }: { heldBy: readonly string[] }) => heldBy.length);
  expect(holds).toEqual([1, 0]);
  expect((await lift("11-1", "1")).code).toBe(2);
  expect((await judge("--cart", "1-11", ...ON)).out).toContain("HELD by A. Person");
});

describe("stopping a circuit that nobody has judged", () => {
  test("do-not-connect needs no verdict and holds the first verdict", async () => {
    const { code, out } = await override("C-2", "1", "--decision", "do-not-connect");
    expect([code, out]).toEqual([0, expect.stringContaining("there is no verdict yet")]);
    const judged = await judge("--cart", "C-2", ...ON);
    expect([judged.code, judged.out]).toEqual([1, expect.stringContaining("held: do not connect")]);
  });

  test.each([
    [
      "a milder decision needs a verdict",
      "C-2",
      ["--decision", "fit"],
      'the book has no verdict on circuit "1" of cart "C-2": only do-not-connect can be decided without one; judge it first',
    ],
    [
      "a circuit the book does not know is named with those it knows",
      "C-9",
      ["--decision", "do-not-connect"],
      'the book has no circuit "1" of cart "C-9"; it has C-1 / 1, C-1 / 2, C-2 / 1, C-3 / 1',
    ],
    [
      "a day without a verdict",
      "C-2",
      ["--decision", "do-not-connect", ...ON],
      "--on: the book has no verdict of 2026-03-14",
    ],
    ["neither a decision nor --lift", "C-2", [], "expected --decision, or --lift"],
    ["both a decision and --lift", "C-2", ["--decision", "fit", "--lift"], "expected --decision, or --lift"],
    [
      "a last day for lifting",
      "C-2",
      ["--lift", "--until", "2026-03-20"],
      "--until: goes with --decision only",
    ],
    [
      "a number for deciding",
      "C-2",
      ["--decision", "fit", "--number", "1"],
      "--number: goes with --lift only",
    ],
    [
      "a number that is none",
      "C-2",
      ["--lift", "--number", "one"],
      '--number: expected the number of a decision, found "one"',
    ],
  ])("%s", async (_title, cart, words, message) => {
    const { code, err } = await override(cart, "1", ...words);
    expect([code, err]).toEqual([2, expect.stringContaining(message)]);
  });
});

describe("the report", () => {
  const wordsIn = (element: Element | null) => (element?.textContent ?? "").replace(/\s+/g, " ");
  async function report(...words: string[]) {
    const { code } = await runExplained("report", "--book", book, ...words, "--out", at("r.html"));
    return { code, document: parseHTML(readFileSync(at("r.html"), "utf8")).document };
  }

  test("of a held circuit begins with the hold, on the page and on its sheet, and nowhere says fit", async () => {
    await judge(...ON);
    await hold("C-2", "1");
    const { code, document } = await report("--cart", "C-2", ...NEXT_DAY);
    expect(code).toBe(1);
    expect(wordsIn(document.querySelector("title"))).toContain("0 of 1 circuits fit to connect");
    expect(document.querySelector("main")?.firstElementChild?.id).toBe("held");
    expect(wordsIn(document.getElementById("held"))).toMatch(
      /C-2, circuit 1: HELD by A\. Person on .*: bottle found open/,
    );
    const sheet = document.getElementById("C-2-1");
    expect(wordsIn(sheet?.querySelector("h2") ?? null)).toBe("C-2, circuit 1: held: take a new sample");
    expect(wordsIn(sheet?.querySelector("h2 + p") ?? null)).toMatch(
      /^HELD by A\. Person on .*: bottle found open$/,
    );
    expect(wordsIn(sheet?.querySelector("ol li") ?? null)).toBe(
      "Stop. Do not connect this circuit; mark it as held, as local rules say.",
    );
    expect(wordsIn(sheet)).not.toContain("Connect only if");
    const marks = Array.from(document.querySelectorAll(".verdict"), wordsIn);
    expect(new Set(marks)).toEqual(new Set(["held: take a new sample"]));
  });

  test("lists it first among what needs doing, before a computed do-not-connect", async () => {
    await judge(...ON);
    await hold("C-2", "1");
    const { document } = await report(...NEXT_DAY);
    const first = Array.from(document.querySelectorAll("#first li"), wordsIn);
    expect(first[0]?.trim()).toMatch(
      /^C-2, circuit 1: do not connect: held by a person, because decision 1: "take a new sample" decided by A\. Person/,
    );
    expect(first[1]?.trim()).toMatch(/^C-3, circuit 1: do not connect/);
    expect(wordsIn(document.querySelector("h1"))).toBe("1 of 4 circuits is fit to connect");
  });

  test("shows a milder decision below the verdicts, on the sheet and in the history, and lifted ones in the history alone", async () => {
    await judge(...ON);
    await override("C-1", "2", "--decision", "fit", "--until", "2026-03-20");
    await hold("C-2", "1");
    await lift("C-2", "1");
    const { document } = await report(...NEXT_DAY);
    const said = /"fit" decided by A\. Person on .*, until 2026-03-20: bottle found open/;
    for (const id of ["decided", "C-1-2", "history-C-1-2"])
      expect(wordsIn(document.getElementById(id)), id).toMatch(said);
    expect(document.getElementById("held")).toBeNull();
    expect(wordsIn(document.getElementById("C-2-1"))).not.toContain("decided by");
    expect(wordsIn(document.getElementById("history-C-2-1"))).toContain("lifted by C. Person");
  });

  test("shows what a person wrote as text", async () => {
    await judge(...ON);
    await run(
      "override",
      ...about("C-2", "1"),
      "--person",
      "<b>A</b>",
      "--decision",
      "resample",
      "--reason",
      "<script>1</script>",
    );
    const { document } = await report("--cart", "C-2", ...ON);
    expect(document.querySelector("script, #held b")).toBeNull();
    expect(wordsIn(document.getElementById("held"))).toContain("HELD by <b>A</b>");
  });
});

describe("books", () => {
  test("a decision of an older book is kept, and a stricter one holds its circuit from now on", async () => {
    await judge(...ON);
    const db = new Database(book);
    dropChain(db);
    const older = /CREATE TABLE override[\s\S]*$/.exec(MIGRATIONS[1] as string)?.[0] as string;
    db.exec(
      `DROP VIEW open_row; DROP TABLE other_cart; DROP VIEW quarantined_row; DROP TABLE quarantine_decision; DROP INDEX quarantine_of_sample;
       ALTER TABLE quarantine DROP COLUMN sample; ALTER TABLE quarantine DROP COLUMN reported;
       ALTER TABLE amendment DROP COLUMN report; ALTER TABLE circuit DROP COLUMN former;
       DROP TABLE lifting; DROP TABLE override; ${older}; PRAGMA user_version = 2;`,
    );
    const keep = db.prepare(
      `INSERT INTO override (id, verdict_id, at, person, decision, reason)
       SELECT ?, id, '2026-03-14T10:00:00Z', 'A. Person', ?, 'bottle found open' FROM verdict WHERE cart = ? AND circuit = ?`,
    );
    keep.run(3, "resample", "C-2", "1");
    keep.run(8, "fit", "C-1", "2");
    db.close();
    const { code, out } = await judge("--cart", "C-2", ...NEXT_DAY);
    expect([code, out]).toEqual([
      1,
      expect.stringContaining("C-2, circuit 1: HELD by A. Person on 2026-03-14: bottle found open"),
    ]);
    expect((await judge(...ON)).out).toContain(
      'decision 8: "fit" decided by A. Person on 2026-03-14, until 2026-03-14',
    );
    const opened = Book.open(book);
    expect(opened.check()).toEqual([]);
    expect(opened.decisions().map((one) => one.number)).toEqual([3, 8]);
    opened.close();
    expect((await lift("C-2", "1")).code).toBe(0);
  });

  test("a backup holds what the book holds", async () => {
    await judge(...ON);
    await hold("C-2", "1");
    await run("backup", "--book", book, "--to", at("copy.siltbook"));
    expect(
      (await runExplained("judge", "--book", at("copy.siltbook"), "--cart", "C-2", ...NEXT_DAY)).code,
    ).toBe(1);
  });

  test("a circuit among so many carts that threads judge them is held as well", async () => {
    const many = Array.from({ length: 70 }, (_, cart) => ({
      cart: `D-${cart + 100}`,
      circuits: [circuit("1")],
    }));
    const large = at("large.siltbook");
    await run(
      "import",
      "--book",
      large,
      "--carts",
      write("many.json", { carts: many }),
      "--requirement",
      at("requirement.json"),
      write("none.csv", `${HEADER}\nS-1,D-150,1,2026-03-04,MIL-PRF-83282,900,300,30,150,0.1`),
    );
    const who = ["--person", "A. Person", "--reason", "hose burst", "--decision", "do-not-connect"];
    await run("override", "--book", large, "--cart", "D-150", "--circuit", "1", ...who);
    const cli = join(import.meta.dirname, "..", "..", "dist", "cli", "main.js");
    const { status, stdout } = spawnSync(process.execPath, [cli, "fleet", "--book", large, ...ON], {
      encoding: "utf8",
    });
    expect(status).toBe(1);
    expect(stdout).toMatch(
      /^Held by a person, not fit to connect:\n {2}D-150, circuit 1: HELD by A\. Person on .*: hose burst\n/,
    );
    expect(stdout).toContain("0 of 70 circuits fit to connect");
  });
});
