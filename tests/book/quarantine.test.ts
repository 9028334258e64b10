import { createHash } from "node:crypto";
import { mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { beforeEach, describe, expect, test } from "vitest";
import { Book } from "../../src/book/index.js";
import { bytesInMemory } from "../../src/intake/index.js";
import { inOneLine, run, runExplained, runJson } from "../support/run-cli.js";
import { temporaryFolder } from "../support/temporary-folder.js";

const root = temporaryFolder();
const FLEET = join(import.meta.dirname, "..", "support", "fleet");
const HEADER =
  "sample,cart,circuit,drawn on,reported on,4 µm(c) per mL,6 µm(c) per mL,14 µm(c) per mL,ISO 4406,water (mg/kg),acid number (mg KOH/g)";
const row = (change: Record<number, string | number> = {}) =>
  ["S-2", "C-1", "1", "2026-03-04", "", 1300, 320, 40, "", 120, 0.1]
    .map((cell, index) => change[index] ?? cell)
    .join(",");
const bytes = (name: string, ...rows: string[]) =>
  bytesInMemory(name, new TextEncoder().encode([HEADER, ...rows].join("\n")));
const TODAY = { today: "2026-12-31" };

/** How many rows are open after each file; the book knows carts. */
async function openAfter(files: readonly (readonly string[])[], knowsCarts = true): Promise<number[]> {
  const book = Book.open(":memory:", { create: true });
  if (knowsCarts) book.keepCarts("carts.json", CARTS);
  const open: number[] = [];
  for (const [index, rows] of files.entries()) {
    await book.takeIn(bytes(`file-${index}.csv`, ...rows), TODAY);
    open.push(book.openRowCount);
  }
  book.close();
  return open;
}

const CARTS = JSON.stringify({
  carts: [
    {
      cart: "C-1",
      circuits: ["1", "2"].map((circuit) => ({
        circuit,
        serves: "main system",
        fluid: "MIL-PRF-83282",
        volume: "60 L",
        flow: "45 L/min",
        element: { position: "pressure", betas: [{ sizeUmC: 4, beta: 20 }] },
      })),
    },
  ],
});

describe("a corrected file settles the rows that it replaces", () => {
  test.each<[string, string, string]>([
    ["a result that could not be read", row({ 9: "damp" }), row()],
    ["a result in words that tell nothing", row({ 9: "?" }), row({ 9: "trace" })],
    ["counts that rise with size", row({ 6: 3200 }), row()],
    ["a class that is not that of the counts", row({ 8: "20/15/12" }), row({ 8: "17/15/12" })],
    ["counts that the class was right about", row({ 5: 130, 8: "17/15/12" }), row({ 8: "17/15/12" })],
    ["water in per cent", row({ 9: 0.012 }), row({ 9: 120 })],
    ["a day that could not be read", row({ 3: "03/04/2026" }), row()],
    ["no day", row({ 3: "" }), row()],
    [
      "a day of last year that the report contradicts",
      row({ 3: "2025-03-04", 4: "2026-03-09" }),
      row({ 4: "2026-03-09" }),
    ],
    ["a cart that the book does not know", row({ 1: "C-7" }), row()],
    ["a circuit that the book does not know", row({ 2: "3" }), row({ 2: "2" })],
    ["no cart", row({ 1: "" }), row()],
    [
      "a reading that the laboratory took again",
      row({ 4: "2026-03-08", 9: "?", 10: 0.1 }),
      row({ 4: "2026-03-09", 10: 0.15 }),
    ],
    ["other cells too, which were given as well", row({ 9: "damp" }), row({ 8: "17/15/12" })],
    ["a row that was cut short", "S-2,C-1,1,2026-03-04,,1300,32", row()],
    ["a row with another separator", row().replaceAll(",", ";"), row()],
    ["a row with an open quotation mark", row().replace("C-1", '"C-1'), row()],
    ["a row with decimal commas", row().replace("0.1", "0,1"), row()],
    ["a row whose blank cell is missing", row().replace(",,", ","), row()],
  ])("%s", async (_, broken, corrected) => {
    expect(await openAfter([[broken], [corrected]])).toEqual([1, 0]);
  });

  test("both rows of a file that contradicts itself", async () => {
    expect(await openAfter([[row(), row({ 9: 180 })], [row()]])).toEqual([2, 0]);
  });

  test("a contradiction that a report of a later day decides", async () => {
    const files = [[row({ 4: "2026-03-06" })], [row({ 9: 180 })], [row({ 4: "2026-03-09", 9: 180 })]];
    expect(await openAfter(files)).toEqual([0, 1, 0]);
  });

  test("rows of a sample that stand one below the other", async () => {
    const book = Book.open(":memory:", { create: true });
    const long = (name: string, water: string) => {
      const named = "S-2,C-1,1,2026-03-04";
      const lines = [
        "sample,cart,circuit,drawn on,measurand,value,unit",
        `${named},acid number,0.1,mg KOH/g`,
        `${named},water,${water},mg/kg`,
      ];
      return bytesInMemory(name, new TextEncoder().encode(lines.join("\n")));
    };
    expect(await book.takeIn(long("march.csv", "damp"), TODAY)).toMatchObject({ taken: 1, quarantined: 1 });
    expect(await book.takeIn(long("again.csv", "120"), TODAY)).toMatchObject({ amended: 2, quarantined: 0 });
    expect(book.openRowCount).toBe(0);
    book.close();
  });
});

describe("nothing else settles a row", () => {
  const broken = row({ 9: "damp" });
  test.each<[string, readonly (readonly string[])[], number]>([
    ["another sample", [[broken], [row({ 0: "S-3" })]], 1],
    ["the same number of another circuit", [[broken], [row({ 2: "2" })]], 1],
    ["the same number of another day", [[broken], [row({ 3: "2026-03-05" })]], 1],
    ["a report without the result in question", [[broken], [row({ 9: "" })]], 1],
    ["a report that leaves out another result", [[broken], [row({ 10: "" })]], 1],
    ["a report with another value where the row could be read", [[row({ 5: 9000, 9: "damp" })], [row()]], 1],
    ["a row that is set aside itself", [[broken], [row({ 9: "wet" })]], 2],
    ["a row cut short in its circuit", [["S-2,C-1,1"], [row()]], 1],
    ["a row cut short, by another circuit", [["S-2,C-1,1,2026-03-04,,1300"], [row({ 2: "2" })]], 1],
    ["a row cut short, by another count", [["S-2,C-1,1,2026-03-04,,90000"], [row()]], 1],
    ["a row cut short, by another sample", [["S-2,C-1,1,2026-03-04,,1300"], [row({ 0: "S-22" })]], 1],
    ["a row too long, by the row without the rest", [[`${row()},7,8`], [row()]], 1],
    [
      "two rows in one, by the first",
      [
        [row({ 0: "S-1" }), `${row()},${row({ 0: "S-3" })}`],
        [row({ 0: "S-1" }), row()],
      ],
      1,
    ],
    ["a row with another separator, by another number", [[row().replaceAll(",", ";")], [row({ 9: 12 })]], 1],
    ["a file that came before", [[row()], [broken], [row()]], 1],
    [
      "an unknown cart, by the same number of another circuit",
      [[row({ 1: "C-7", 9: 180 })], [row({ 2: "2" })]],
      1,
    ],
    ["an unknown cart, by a report with other results", [[row({ 1: "C-7", 9: 180 })], [row()]], 1],
    [
      "a contradiction, by the results that stand already",
      [[row()], [row({ 9: 180 })], [row(), row({ 0: "S-9" })]],
      1,
    ],
    [
      "a contradiction, by results that stand and one more",
      [[row({ 10: "" })], [row({ 9: 180 })], [row()]],
      1,
    ],
    [
      "a contradiction, by a report of an earlier day",
      [[row({ 4: "2026-03-09" })], [row({ 9: 180 })], [row({ 4: "2026-03-06", 9: 180 })]],
      1,
    ],
  ])("%s", async (_, files, open) => {
    expect((await openAfter(files)).at(-1)).toBe(open);
  });

  test("and a row that was settled stays so when its file is read again", async () => {
    const book = Book.open(":memory:", { create: true });
    for (const [name, text] of [
      ["march.csv", broken],
      ["corrected.csv", row()],
      ["march.csv", broken],
    ] as const) {
      await book.takeIn(bytes(name, text), TODAY);
    }
    expect(book.openRowCount).toBe(0);
    expect(book.settledRows()).toMatchObject([{ file: "march.csv", row: 2, replacedBy: "corrected.csv" }]);
    book.close();
  });
});

describe("one row waits once", () => {
  const broken = row({ 9: "damp" });
  const BACK = "quarantine reason,quarantine place,quarantine accepted";
  /** Rows that come back from the quarantine of a file with one row. */
  const back = (text: string, accepted = "") => {
    const sha256 = createHash("sha256").update([HEADER, broken].join("\n")).digest("hex").slice(0, 12);
    const lines = [`${BACK},${HEADER}`, `why,march.csv row 2 #${sha256},${accepted},${text}`];
    return bytesInMemory("back.csv", new TextEncoder().encode(lines.join("\n")));
  };
  const SAYS_THE_SAME = bytes("april.csv", broken, row({ 0: "S-3" }));
  test.each<[string, ReturnType<typeof bytes>, number]>([
    ["that comes back as it was", back(broken), 1],
    ["that comes back with another fault", back(row({ 9: "wet" })), 1],
    ["that comes back with one of two results mended", back(row({ 9: 120, 10: "?" })), 1],
    ["that stands in a later file too", SAYS_THE_SAME, 1],
    // Each of these may be of another circuit or bottle, or another result.
    ["but twice where it comes back for another circuit", back(row({ 2: "2", 9: "wet" })), 2],
    ["but twice where it comes back for no circuit", back(row({ 2: "", 9: "wet" })), 2],
    ["but twice where it comes back with another number", back(row({ 0: "S-22", 9: "wet" })), 2],
    ["but twice where it comes back for another day", back(row({ 3: "2026-03-05", 9: "wet" })), 2],
    ["but twice where a later file has another result", bytes("april.csv", row({ 5: 1400, 9: "damp" })), 2],
  ])("%s", async (_, second, open) => {
    const book = Book.open(":memory:", { create: true });
    book.keepCarts("carts.json", CARTS);
    await book.takeIn(bytes("march.csv", broken), TODAY);
    expect(await book.takeIn(second, TODAY)).toMatchObject({ quarantined: 1 });
    expect(book.openRowCount).toBe(open);
    // Once more changes nothing.
    expect(await book.takeIn(second, TODAY)).toMatchObject({ quarantined: 1, known: book.sampleCount });
    expect(book.openRowCount).toBe(open);
    await book.takeIn(bytes("corrected.csv", row()), TODAY);
    expect(book.openRowCount).toBe(open - 1);
    book.close();
  });

  test("the later row says where it waits, and waits itself once the first file is withdrawn", async () => {
    const book = Book.open(":memory:", { create: true });
    const first = await book.takeIn(bytes("march.csv", broken), TODAY);
    const second = await book.takeIn(back(broken), TODAY);
    const fate = () => [...book.rows(second.sha256)].at(-1);
    expect(fate()).toMatchObject({ fate: "quarantined", settled: false, waitsIn: "march.csv" });
    book.withdraw(first, { person: "A. Person", reason: "of another base" });
    expect(book.quarantine()).toMatchObject([{ file: "back.csv", row: 2 }]);
    expect(fate()).not.toHaveProperty("waitsIn");
    book.close();
  });

  test("a mark that it is no result settles it wherever it came", async () => {
    const book = Book.open(":memory:", { create: true });
    await book.takeIn(bytes("march.csv", broken), TODAY);
    const second = await book.takeIn(back(broken), TODAY);
    await book.takeIn(back(broken, "discard"), TODAY);
    expect(book.openRowCount).toBe(0);
    expect([...book.rows(second.sha256)].at(-1)).toMatchObject({ settled: true });
    book.close();
  });
});

describe("siltbook quarantine", () => {
  let folder: string;
  let book: string;
  const write = (name: string, ...rows: string[]) => {
    const path = join(folder, name);
    writeFileSync(path, [HEADER, ...rows].join("\n"));
    return path;
  };
  const judged = async () => {
    const { json } = await runJson("judge", "--book", book, "--on", "2026-03-14");
    const [{ verdict, reasons, assumptions }, second] = json.circuits;
    return {
      verdict,
      code: reasons[0].code,
      assumptions: assumptions.map(({ message }: { message: string }) => message),
      second,
    };
  };
  const list = async (...args: string[]) => runJson("quarantine", "--book", book, ...args);
  const idOf = async () => (await list()).json.open[0].id as string;
  const BY = ["--by", "A. Person", "--reason", "a spilt bottle"];

  beforeEach(async () => {
    folder = mkdtempSync(join(root, "of-test-"));
    book = join(folder, "base.siltbook");
    const files = ["--carts", join(FLEET, "carts.json"), "--requirement", join(FLEET, "requirement.json")];
    await run(
      "import",
      "--book",
      book,
      ...files,
      "--on",
      "2026-03-14",
      write("march.csv", row({ 0: "S-1" })),
    );
    await run("import", "--book", book, write("damp.csv", row({ 3: "2026-03-10", 5: 20000, 9: "damp" })));
  });

  test("import ends with what is open in the whole book, and how to see it", async () => {
    const { out } = await run("import", "--book", book, write("more.csv", row({ 0: "S-3", 2: "2" })));
    expect(out).toContain("1 row of the book waits for a person.\nTo settle: siltbook quarantine --book");
    const { code, json } = await runJson("import", "--book", book, join(folder, "more.csv"));
    expect([code, json.openInBook]).toEqual([0, 1]);
    await run("import", "--book", book, write("corrected.csv", row({ 3: "2026-03-10", 5: 20000 })));
    const { out: after } = await run("import", "--book", book, join(folder, "more.csv"));
    expect(after).not.toContain("wait");
  });

  test("lists the open rows with file, row, whose they are, the issue and the text", async () => {
    const { code, json } = await list();
    expect(code).toBe(1);
    expect(json.open).toMatchObject([
      {
        file: "damp.csv",
        row: 2,
        cart: "C-1",
        circuit: "1",
        sample: "S-2",
        drawnOn: "2026-03-10",
        text: row({ 3: "2026-03-10", 5: 20000, 9: "damp" }),
      },
    ]);
    const out = (await run("quarantine", "--book", book)).out.replace(/\s+/g, " ");
    expect(out).toContain(
      `${json.open[0].id} damp.csv row 2: cart C-1, circuit 1, sample S-2, drawn 2026-03-10`,
    );
    expect(out).toContain(
      'damp.csv row 2, column "water (mg/kg)": expected a number of 0 or more with "." as decimal mark, found "damp"',
    );
    expect((await list("--cart", "C-2 <spare>")).json.open).toEqual([]);
    expect((await list("--cart", "C-1", "--circuit", "1")).json.open).toHaveLength(1);
  });

  test.each(["settle", "discard"])(
    "--%s opens the way, and every verdict that it concerns says who and why",
    async (decision) => {
      expect(await judged()).toMatchObject({ verdict: "resample", code: "result-in-quarantine" });
      const id = await idOf();
      expect((await list(`--${decision}`, id, ...BY)).code).toBe(0);
      const { verdict, assumptions, second } = await judged();
      expect(verdict).toBe("fit");
      expect(assumptions).toContainEqual(
        expect.stringMatching(
          new RegExp(
            `^damp.csv row 2 may hold a newer result of this circuit and was ${decision}e?d by A. Person on .*: a spilt bottle$`,
          ),
        ),
      );
      expect(JSON.stringify(second.assumptions)).not.toContain("A. Person");
      const { out } = await runExplained("judge", "--book", book, "--on", "2026-03-14");
      expect(inOneLine(out)).toContain("by A. Person on");

      // The same file again does not bring it back, under the same name or another.
      await run("import", "--book", book, join(folder, "damp.csv"));
      expect((await list()).json.open).toEqual([]);
      const all = await list("--all");
      expect(all.json.settled).toMatchObject([
        { id, decided: { person: "A. Person", reason: "a spilt bottle" } },
      ]);
      const sha256 = all.json.settled[0].sha256 as string;
      const { json } = await runJson("rows", "--book", book, sha256);
      expect(json.rows[1]).toMatchObject({ fate: "quarantined", settled: true });
    },
  );

  test("a newer sample makes the decision void, and the verdict says it no more", async () => {
    await list("--discard", await idOf(), ...BY);
    await run("import", "--book", book, write("newer.csv", row({ 0: "S-4", 3: "2026-03-12" })));
    const { verdict, assumptions } = await judged();
    expect(verdict).toBe("fit");
    expect(JSON.stringify(assumptions)).not.toContain("A. Person");
  });

  test("--reopen makes it wait again; both decisions are kept", async () => {
    const id = await idOf();
    await list("--settle", id, ...BY);
    const { json } = await list("--reopen", id, "--by", "B. Person", "--reason", "the bottle was found");
    expect(json.open.map((entry: { id: string }) => entry.id)).toEqual([id]);
    expect((await judged()).verdict).toBe("resample");
  });

  test("a row discarded in a quarantine file is said as well", async () => {
    const to = join(folder, "quarantine");
    const { json } = await runJson("import", "--book", book, "--quarantine", to, join(folder, "damp.csv"));
    const [{ file, map }] = json.quarantineFiles;

    const lines = readFileSync(file, "utf8").split("\n");
    // The third column is "quarantine accepted"; the place before it holds no comma.
    const marked = lines.map((line, index) =>
      index === 1 ? line.replace(/(#[0-9a-f]{12}"?),/, "$1,discard") : line,
    );
    writeFileSync(file, marked.join("\n"));
    await run("import", "--book", book, "--map", map, file);
    const { verdict, assumptions } = await judged();
    expect(verdict).toBe("fit");
    expect(assumptions).toContainEqual(
      expect.stringMatching(
        /^damp\.csv row 2 .* was discarded by damp\.csv\.quarantine\.csv row 2 on .*: marked "discard" there$/,
      ),
    );
  });

  test.each([
    [["--settle", "ID"], "--settle: expected who decides (--by)"],
    [["--settle", "ID", "--by", " ", "--reason", "why"], "needs the name of the person"],
    [["--settle", "ID", "--by", "...", "--reason", "why"], "needs the name of the person"],
    [["--settle", "ID", "--by", "A. Person", "--reason", "-"], "needs a reason"],
    [["--discard", "ID", "--by", "A. Person"], "--discard: expected why (--reason)"],
    [["--settle", "ID", "--discard", "ID", ...BY], "--settle, --discard: expected one of them at a time"],
    [BY, "--by, --reason: expected --settle, --discard or --reopen with the name of a row"],
    [
      ["--settle", "0000000000", ...BY],
      'the book has no row "0000000000" in quarantine; its rows are named in the list',
    ],
    [["--reopen", "ID", ...BY], "that was settled; its rows are named in the list"],
    [["--settle", "ID", "0000000000", ...BY], 'the book has no row "0000000000" in quarantine'],
  ])("%j is refused, and nothing is kept", async (args, message) => {
    const id = await idOf();
    const { code, err } = await run(
      "quarantine",
      "--book",
      book,
      ...args.map((arg) => (arg === "ID" ? id : arg)),
    );
    expect(code).toBe(2);
    expect(err).toContain(message);
    expect((await list()).json.open).toHaveLength(1);
  });
});
