// Books of several bases brought together: what holds a circuit in one of them holds it afterwards, nothing counts twice,
// and what two books disagree about a person settles.
import { copyFileSync, mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import Database from "libsql";
import { beforeEach, describe, expect, test, vi } from "vitest";
import { Book, type BringInOptions, type BroughtBook } from "../../src/book/index.js";
import * as news from "../../src/book/joining/news.js";
import { circuitNamed as circuit, HEADER, requirementsWith } from "../support/book/main-system.js";
import { dropChain } from "../support/drop-chain.js";
import { inOneLine, run, runJson } from "../support/run-cli.js";
import { temporaryFolder } from "../support/temporary-folder.js";

const root = temporaryFolder();
let folder: string;

beforeEach(() => {
  folder = mkdtempSync(join(root, "t-"));
});

const at = (name: string) => join(folder, `${name}.siltbook`);

function using<T>(name: string, act: (book: Book) => T, create = false): T {
  const book = Book.open(at(name), { create });
  try {
    return act(book);
  } finally {
    book.close();
  }
}

type CartOptions = { readonly events?: readonly object[]; readonly volume?: string; readonly fluid?: string };

const cartNamed = (cart: string, more: CartOptions = {}) => ({
  cart,
  circuits: ["fore", "aft"].map((name) => circuit(name, more)),
});

function keepCarts(name: string, carts: readonly object[], more: object = {}): void {
  using(name, (book) =>
    book.keepCarts("carts.json", JSON.stringify({ carts, ...more }), { today: "2026-03-01" }),
  );
}

const made = new Map<string, string>();

/** Makes a book with some carts, two circuits each, and with the limits of an example. Each is made once, and copied. */
function base(name: string, carts: readonly string[], more: object = {}): void {
  const key = JSON.stringify([name, carts, more]);
  const before = made.get(key);
  if (before !== undefined) {
    copyFileSync(before, at(name));
    return;
  }
  using(name, (book) => book.keepRequirements("r.json", JSON.stringify(requirementsWith())), true);
  if (carts.length > 0)
    keepCarts(
      name,
      carts.map((cart) => cartNamed(cart)),
      more,
    );
  const kept = join(root, `${made.size}.siltbook`);
  copyFileSync(at(name), kept);
  made.set(key, kept);
}

/** A row: whose sample, the day on which it was drawn, its count above 4 µm(c), the day of the report. */
const row = (
  sample: string,
  cart: string,
  drawnOn: string,
  count: number | string = 900,
  reportedOn = "2026-03-12",
) => `${sample},${cart},fore,${drawnOn},MIL-PRF-83282,${count},300,30,100,0.1,${reportedOn}`;

async function take(name: string, file: string, ...rows: readonly string[]): Promise<void> {
  const path = join(folder, file);
  writeFileSync(path, [`${HEADER},reported on`, ...rows].join("\n"));
  const book = Book.open(at(name));
  try {
    await book.takeIn(path, { today: "2026-03-12", by: `technician of ${name}` });
  } finally {
    book.close();
  }
}

function bring(into: string, from: string, options: BringInOptions = {}): BroughtBook {
  return using(into, (book) => book.bringIn(at(from), { today: "2026-03-12", ...options }));
}

const fits = (name: string) => using(name, (book) => book.verify().fits);
const counts = (name: string) =>
  using(name, (book) =>
    Object.fromEntries([...book.samples()].map(({ sample, counts }) => [sample, counts?.counts[0]?.count])),
  );
const waiting = (name: string) =>
  using(name, (book) => book.quarantine().map(({ file, row }) => `${file} ${row}`));
const head = (name: string) => using(name, (book) => book.head().hash);

async function stands(name: string, cart: string): Promise<string> {
  const { json } = await runJson("fleet", "--book", at(name), "--on", "2026-03-12");
  const circuits = json.circuits as { cart: string; circuit: string; verdict: string; held: boolean }[];
  const found = circuits.find((one) => one.cart === cart && one.circuit === "fore");
  return found?.held ? `held: ${found.verdict}` : `${found?.verdict}`;
}

describe("two bases", () => {
  beforeEach(async () => {
    base("north", ["N-1"], { otherCarts: ["S-1"] });
    base("south", ["S-1"], { otherCarts: ["N-1"] });
    await take("north", "north.csv", row("1", "N-1", "2026-03-08"));
    await take("south", "south.csv", row("2", "S-1", "2026-03-09", 20_000));
  });

  test("one has the carts and samples of both, its chain fits, and says which book was brought in up to which entry", async () => {
    const brought = bring("north", "south", { by: "A. Person" });
    expect(brought.samples).toEqual({ taken: 1, known: 0, amended: 0, setAside: 0 });
    expect(counts("north")).toEqual({ 1: 900, 2: 20_000 });
    const entry = using("north", (book) => book.entries().at(-1));
    expect(entry).toMatchObject({ kind: "book", by: "A. Person" });
    expect(await stands("north", "N-1")).toBe("fit");
    expect(await stands("north", "S-1")).toBe(await stands("south", "S-1"));
    expect(fits("north")).toBe(true);
    expect(entry?.subject).toContain(
      `south.siltbook up to its entry ${brought.head.number}, ${brought.head.hash}`,
    );
  });

  test("where a sample came from is kept: the file with its hash and row, and its text", () => {
    const [before] = using("south", (book) => book.history("S-1", "fore"));
    bring("north", "south");
    const [after] = using("north", (book) => book.history("S-1", "fore"));
    expect(after).toEqual(before);
    const sha256 = after?.source.sha256 as string;
    expect(using("north", (book) => book.rowText(sha256, 2))).toBe(row("2", "S-1", "2026-03-09", 20_000));
    const days = (name: string) =>
      using(name, (book) => book.files().find((file) => file.sha256 === sha256)?.at);
    expect(days("north")).toBe(days("south"));
  });

  test("twice changes nothing", () => {
    bring("north", "south");
    const before = head("north");
    expect(bring("north", "south")).toMatchObject({ entries: 0, waiting: 0, files: 0 });
    expect(head("north")).toBe(before);
  });

  test("again when it has grown: only the news", async () => {
    bring("north", "south");
    await take("south", "later.csv", row("3", "S-1", "2026-03-11"));
    const brought = bring("north", "south");
    expect(brought.samples).toEqual({ taken: 1, known: 0, amended: 0, setAside: 0 });
    expect(counts("north")).toEqual({ 1: 900, 2: 20_000, 3: 900 });
    expect(await stands("north", "S-1")).toBe("fit");
    expect(fits("north")).toBe(true);
  });

  test("a book into itself, or a copy of it, changes nothing", () => {
    copyFileSync(at("north"), at("copy"));
    const before = head("north");
    expect(bring("north", "north").entries).toBe(0);
    expect(bring("north", "copy").entries).toBe(0);
    expect(head("north")).toBe(before);
  });

  test("one into the other and back: both have all, and nothing twice", () => {
    bring("north", "south");
    expect(bring("south", "north").samples).toEqual({ taken: 1, known: 0, amended: 0, setAside: 0 });
    expect(counts("south")).toEqual(counts("north"));
    expect(bring("north", "south")).toMatchObject({ entries: 0, changes: [], waiting: 0 });
    expect([fits("north"), fits("south")]).toEqual([true, true]);
  });

  test("a copy that went on by itself comes back with its news, events among them", async () => {
    copyFileSync(at("north"), at("laptop"));
    await take("laptop", "new.csv", row("7", "N-1", "2026-03-10", 20_000));
    const event = { on: "2026-03-11", kind: "top-up" };
    keepCarts("laptop", [cartNamed("N-1", { events: [event] })]);
    await take("north", "other.csv", row("8", "N-1", "2026-03-09"));
    bring("north", "laptop");
    expect(counts("north")).toEqual({ 1: 900, 7: 20_000, 8: 900 });
    const [cart] = using("north", (book) => book.carts());
    expect(cart?.circuits[0]?.events).toMatchObject([{ on: "2026-03-11", kind: "top-up" }]);
    expect(fits("north")).toBe(true);
  });
});

describe("carts: one name in two books is no proof of one cart", () => {
  const refused = (into: string, from: string, options: BringInOptions = {}): string => {
    const before = head(into);
    let message = "";
    try {
      bring(into, from, options);
    } catch (error) {
      message = (error as Error).message;
    }
    expect(head(into)).toBe(before);
    expect(fits(into)).toBe(true);
    return message;
  };

  test("a clean sample of their C-1 makes no dirty C-1 of ours fit: such a book is refused, naming the cart", async () => {
    base("north", ["C-1", "N-2"]);
    base("south", ["C-1", "S-2"]);
    await take("north", "north.csv", row("1", "C-1", "2026-03-08", 20_000));
    await take("south", "south.csv", row("2", "C-1", "2026-03-10"));
    expect(refused("north", "south")).toMatch(
      /^south\.siltbook: both books have a cart named "C-1"\..*--same-cart/,
    );
    expect(await stands("north", "C-1")).not.toBe("fit");
  });

  test("also where only samples name it, in a book without a carts file", async () => {
    base("north", ["C-1"]);
    using("south", () => {}, true);
    await take("south", "south.csv", row("2", "C-1", "2026-03-10"));
    expect(refused("north", "south")).toContain('"C-1"');
    expect(refused("south", "north")).toContain('"C-1"');
  });

  test("a name that a person could take for one of ours is refused, as in a carts file", () => {
    base("north", ["C-1"]);
    base("south", ["C 1"]);
    expect(refused("north", "south")).toMatch(/C-1.*C 1|C 1.*C-1/);
  });

  test("where a person says that it is one cart, its samples stand together", async () => {
    base("north", ["C-1"]);
    base("south", ["C-1", "S-2"]);
    await take("north", "north.csv", row("1", "C-1", "2026-03-08"));
    await take("south", "south.csv", row("2", "C-1", "2026-03-10", 20_000));
    bring("north", "south", { sameCarts: ["C-1"] });
    expect(await stands("north", "C-1")).toBe(await stands("south", "C-1"));
    expect(counts("north")).toEqual({ 1: 900, 2: 20_000 });
    // Afterwards it is known.
    await take("south", "more.csv", row("3", "C-1", "2026-03-11"));
    expect(bring("north", "south").samples.taken).toBe(1);
  });

  test.each([
    ["fluid", { fluid: "MIL-PRF-5606" }],
    ["volume", { volume: "80 L" }],
  ] as const)("one cart with another %s in each book is refused, naming circuit and field", (field, more) => {
    base("north", ["C-1"]);
    using("south", () => {}, true);
    keepCarts("south", [cartNamed("C-1", more)]);
    expect(refused("north", "south", { sameCarts: ["C-1"] })).toMatch(
      new RegExp(`cart C-1, circuit fore is described otherwise.*\\(${field}\\)`),
    );
  });

  test("a name that is not in both is said", () => {
    base("north", ["N-1"]);
    base("south", ["S-1"]);
    expect(refused("north", "south", { sameCarts: ["N-1"] })).toContain('"N-1" is not a cart of both books');
  });

  const event = (on: string, kind = "hookup") => ({ on, kind });
  test.each([
    ["theirs since", [], [event("2026-03-11")], ["2026-03-11"]],
    ["ours since", [event("2026-03-11")], [], ["2026-03-11"]],
    ["both since", [event("2026-03-10")], [event("2026-03-11")], ["2026-03-10", "2026-03-11"]],
    ["the same in both", [event("2026-03-10")], [event("2026-03-10")], ["2026-03-10"]],
  ])("an event is left out of neither book: %s", (_, own, other, all) => {
    base("south", ["C-1"]);
    base("north", []);
    bring("north", "south");
    if (own.length > 0) keepCarts("north", [cartNamed("C-1", { events: own })]);
    if (other.length > 0) keepCarts("south", [cartNamed("C-1", { events: other })]);
    bring("north", "south");
    const events = using("north", (book) => book.carts()[0]?.circuits[0]?.events ?? []);
    expect(events.map(({ on }) => on).sort()).toEqual(all);
  });

  test("what they have changed of their cart since is taken, with a fluid change; what we have changed stays", () => {
    base("south", ["C-1", "C-2"]);
    base("north", []);
    bring("north", "south");
    const volumes = () => using("north", (book) => book.carts().map(({ circuits }) => circuits[0]?.volumeL));
    const [before] = volumes();
    keepCarts("north", [cartNamed("C-2", { volume: "90 L" })]);
    keepCarts("south", [cartNamed("C-1", { fluid: "MIL-PRF-87257" })]);
    bring("north", "south");
    const [one] = using("north", (book) => book.carts());
    expect(one?.circuits[0]?.fluid).toBe("MIL-PRF-87257");
    expect(one?.circuits[0]?.events.map(({ kind }) => kind)).toContain("fluid-change");
    expect(volumes()).not.toEqual([before, before]);
  });
});

describe("one sample in both books", () => {
  /** North and south know cart C-1 from one carts file. */
  beforeEach(() => {
    base("north", ["C-1"]);
    copyFileSync(at("north"), at("south"));
  });

  const [older, newer] = ["2026-03-09", "2026-03-10"];
  /** [what, rows of north, rows of south, count of sample 1 afterwards, rows that wait] */
  const cases: readonly [string, string[][], string[][], number, string[]][] = [
    ["one file in both", [[row("1", "C-1", "2026-03-08")]], [[row("1", "C-1", "2026-03-08")]], 900, []],
    [
      "one row in two files",
      [[row("1", "C-1", "2026-03-08")]],
      [[row("1", "C-1", "2026-03-08"), ""]],
      900,
      [],
    ],
    [
      "another result of the same day: it waits, and ours stands",
      [[row("1", "C-1", "2026-03-08")]],
      [[row("1", "C-1", "2026-03-08", 500)]],
      900,
      ["south-0.csv 2"],
    ],
    [
      "corrected in theirs",
      [[row("1", "C-1", "2026-03-08", 900, older)]],
      [[row("1", "C-1", "2026-03-08", 900, older)], [row("1", "C-1", "2026-03-08", 1100, newer)]],
      1100,
      [],
    ],
    [
      "corrected in ours",
      [[row("1", "C-1", "2026-03-08", 900, older)], [row("1", "C-1", "2026-03-08", 1100, newer)]],
      [[row("1", "C-1", "2026-03-08", 900, older)]],
      1100,
      [],
    ],
    [
      "one number on two bottles: theirs waits",
      [[row("1", "C-1", "2026-03-08")]],
      [[row("1", "C-1", "2026-03-09", 500)]],
      900,
      ["south-0.csv 2"],
    ],
  ];
  test.each(cases)("%s", async (_, own, other, count, waits) => {
    for (const [place, rows] of own.entries()) await take("north", `north-${place}.csv`, ...rows);
    for (const [place, rows] of other.entries()) await take("south", `south-${place}.csv`, ...rows);
    bring("north", "south");
    expect(counts("north")).toEqual({ 1: count });
    expect(waiting("north")).toEqual(waits);
    expect(await stands("north", "C-1")).toBe(waits.length > 0 ? "resample" : "fit");
    expect(fits("north")).toBe(true);
  });

  test("a sample with its corrections comes as a whole, and can be taken back file by file", async () => {
    await take("south", "a.csv", row("1", "C-1", "2026-03-08", 900, older));
    await take("south", "b.csv", row("1", "C-1", "2026-03-08", 1100, newer));
    bring("north", "south");
    const amendments = (name: string) =>
      using(name, (book) => book.history("C-1", "fore").map((sample) => sample.amendments));
    expect(amendments("north")).toEqual(amendments("south"));
    const file = using("north", (book) => book.files().find((one) => one.file === "b.csv"));
    using("north", (book) => book.withdraw(file as never, { person: "A. Person", reason: "wrong bottle" }));
    expect(counts("north")).toEqual({ 1: 900 });
  });

  test("a file that says what another book has already is awaited when that other file is withdrawn", async () => {
    await take("north", "a.csv", row("1", "C-1", "2026-03-08"));
    await take("south", "b.csv", row("1", "C-1", "2026-03-08"), "");
    bring("north", "south");
    const file = using("north", (book) => book.files().find((one) => one.file === "a.csv"));
    const done = using("north", (book) =>
      book.withdraw(file as never, { person: "A. Person", reason: "not ours" }),
    );
    expect(done.importAgain).toEqual(["b.csv"]);
    expect(await stands("north", "C-1")).toBe("resample");
  });
});

describe("a book that cannot be brought in", () => {
  beforeEach(async () => {
    base("north", ["N-1"]);
    base("south", ["S-1"]);
    await take("south", "south.csv", row("1", "S-1", "2026-03-08"), row("2", "S-1", "2026-03-09", "many"));
  });

  const forge = (act: (db: InstanceType<typeof Database>) => void) => {
    const db = new Database(at("south"));
    act(db);
    db.close();
  };
  const cases: readonly [string, () => void, RegExp][] = [
    [
      "whose row in quarantine is gone",
      () => forge((db) => db.exec("DELETE FROM quarantine")),
      /1 of its 1|it is gone/,
    ],
    [
      "whose result was changed",
      () => forge((db) => db.exec("UPDATE sample SET water_ppm = 50")),
      /changed after it was written/,
    ],
    [
      "whose last entry is gone",
      () =>
        forge((db) =>
          db.exec(
            "PRAGMA foreign_keys = OFF; DELETE FROM piece WHERE entry = 4; DELETE FROM entry WHERE number = 4",
          ),
        ),
      /no entry put it/,
    ],
    [
      "of a newer siltbook",
      () => forge((db) => db.pragma("user_version = 99")),
      /was written by a newer siltbook/,
    ],
    ["that is another database", () => forge((db) => db.pragma("application_id = 7")), /not a sample book/],
    [
      "whose end is cut off",
      () => writeFileSync(at("south"), readFileSync(at("south")).subarray(0, 50_000)),
      /damaged/,
    ],
  ];
  test.each(cases)("%s: nothing of it is taken, and the fault is named", async (_, harm, says) => {
    const before = head("north");
    harm();
    const { code, err, json } = await runJson("import", "--book", at("north"), at("south"));
    expect(code).toBe(2);
    expect(err).toMatch(says);
    expect(json.refused).toMatchObject([{ file: "south.siltbook" }]);
    expect([head("north"), counts("north")]).toEqual([before, {}]);
  });

  test("a failure on the way leaves ours as it was", () => {
    const before = readFileSync(at("north"));
    const full = vi.spyOn(news, "keepEntries").mockImplementation(() => {
      throw Object.assign(new Error("database or disk is full"), { code: "SQLITE_FULL" });
    });
    expect(() => bring("north", "south")).toThrow("the disk is full; nothing of this step was kept");
    full.mockRestore();
    expect([fits("north"), counts("north"), using("north", (book) => book.files())]).toEqual([true, {}, []]);
    expect(readFileSync(at("north"))).toHaveLength(before.length);
    expect(bring("north", "south").files).toBe(1);
  });

  test("one from before the chain is brought up to date and comes in whole", () => {
    forge(dropChain);
    expect(bring("north", "south").samples.taken).toBe(1);
    expect([counts("north"), waiting("north"), fits("north")]).toEqual([{ 1: 900 }, ["south.csv 3"], true]);
  });
});

describe("the command", () => {
  test("says what came in, what waits, and that the requirement of the other book was not taken", async () => {
    base("north", ["N-1"]);
    base("south", ["S-1"]);
    using("south", (book) =>
      book.keepRequirements("r.json", JSON.stringify({ ...requirementsWith(), revision: "4" })),
    );
    await take("south", "south.csv", row("1", "S-1", "2026-03-08"), row("2", "S-1", "2026-03-09", "many"));
    const { number, hash } = using("south", (book) => book.head());
    const { code, out, err } = await run("import", "--book", at("north"), "--by", "A. Person", at("south"));
    expect([code, err]).toEqual([1, ""]);
    expect(out).toContain("cart S-1 is new\n");
    expect(inOneLine(out)).toContain(
      `south.siltbook, up to its entry ${number}, ${hash.slice(0, 12)}: ${number} of its entries`,
    );
    expect(inOneLine(out)).toContain("1 new file; samples: 1 taken, 0 known, 0 amended, 0 set aside");
    expect(out).toContain("1 more row waits for a person.");
    expect(inOneLine(out)).toContain('Its requirement ("example limits", revision 4) was not taken');
    const against = await run("verify", "--book", at("north"), "--against", hash.slice(0, 12));
    expect(against.code).toBe(0);
    expect(inOneLine(against.out)).toMatch(
      /contains what south\.siltbook held up to .*its entry 5 .*: entry 5 brought it in/,
    );
    const again = await runJson("import", "--book", at("north"), at("south"));
    expect([again.code, again.json.books[0].entries]).toEqual([0, 0]);
  });

  test("bases with one carts file: --one-fleet says that each name is one cart", async () => {
    base("north", ["N-1", "S-1"]);
    base("south", ["N-1", "S-1"]);
    await take("south", "south.csv", row("1", "S-1", "2026-03-08"));
    const { code, err } = await run("import", "--book", at("north"), at("south"), "--one-fleet");
    expect([code, err]).toEqual([0, ""]);
    expect(counts("north")).toEqual({ 1: 900 });
  });

  test.each([["--same-cart", "N-1"], ["--one-fleet"]])(
    "%s without another book is refused",
    async (...option) => {
      base("north", ["N-1"]);
      const { code, err } = await run("import", "--book", at("north"), ...option, "none.csv");
      expect([code, err]).toEqual([2, expect.stringContaining(`${option[0]}: expected another book`)]);
    },
  );
});

describe("what holds a circuit in one of the books", () => {
  const PERSON = { person: "A. Person", reason: "a reason" };
  const fileOf = (name: string, file: string) =>
    using(name, (book) => book.files().find((one) => one.file === file)) as never;
  const withdraw = (name: string, file: string) =>
    using(name, (book) => book.withdraw(fileOf(name, file), { ...PERSON, reason: `withdrawn in ${name}` }));
  const decide = (name: string, decision: "settled" | "discarded" | "reopened") =>
    using(name, (book) => {
      const rows = decision === "reopened" ? book.settledRows() : book.quarantine();
      book.decideRows(
        rows.map(({ id }) => id),
        { ...PERSON, decision },
      );
    });
  const refusal = (into: string, from: string): string => {
    try {
      bring(into, from);
    } catch (error) {
      return (error as Error).message;
    }
    return "was brought in";
  };

  /** North and south have a file with a row that cannot be read; a book that has it from south only is "office". */
  beforeEach(async () => {
    base("north", ["N-1"]);
    base("south", ["S-1"]);
    base("office", []);
    await take("south", "both.csv", row("1", "S-1", "2026-03-08"), row("2", "S-1", "2026-03-09", "many"));
  });

  test("a row that waits there waits here, and what people decide there of it counts here", async () => {
    bring("office", "south");
    expect(waiting("office")).toEqual(["both.csv 3"]);
    expect(await stands("office", "S-1")).toBe("resample");
    decide("south", "discarded");
    bring("office", "south");
    expect(waiting("office")).toEqual([]);
    decide("south", "reopened");
    bring("office", "south");
    expect(waiting("office")).toEqual(["both.csv 3"]);
  });

  test("what we decided of a row that came from there stands when the book has grown", async () => {
    bring("office", "south");
    decide("office", "settled");
    await take("south", "new.csv", row("3", "S-1", "2026-03-11"), row("4", "S-1", "2026-03-11", "few"));
    // Read again, its rows get new numbers there.
    await take("south", "both.csv", row("1", "S-1", "2026-03-08"), row("2", "S-1", "2026-03-09", "many"));
    bring("office", "south");
    expect(waiting("office")).toEqual(["new.csv 3"]);
  });

  /** [what people decided in north, in south, rows that wait in north afterwards] */
  test.each([
    [undefined, undefined, ["both.csv 3"]],
    ["discarded", undefined, ["both.csv 3"]],
    [undefined, "discarded", ["both.csv 3"]],
    ["discarded", "settled", []],
  ] as const)("a row of a file that both have read, %s here and %s there", async (own, other, waits) => {
    await take("north", "both.csv", row("1", "S-1", "2026-03-08"), row("2", "S-1", "2026-03-09", "many"));
    if (own !== undefined) decide("north", own);
    if (other !== undefined) decide("south", other);
    bring("north", "south");
    expect(waiting("north").filter((place) => place !== "both.csv 2")).toEqual(waits);
    expect(counts("north")).toEqual({ 1: 900 });
    decide("north", "settled");
    expect([waiting("north"), fits("north")]).toEqual([[], true]);
    // Bringing the same again asks nothing again.
    await take("south", "new.csv", row("3", "S-1", "2026-03-11"));
    bring("north", "south");
    expect(waiting("north")).toEqual([]);
  });

  test("a row that names one of our carts, hidden there as of another base, waits here until its file is read here", async () => {
    keepCarts("south", [cartNamed("S-1")], { otherCarts: ["N-1"] });
    const rows = [row("7", "N-1", "2026-03-11", 20_000), row("8", "S-1", "2026-03-10")];
    await take("south", "mixed.csv", ...rows);
    await take("north", "north.csv", row("6", "N-1", "2026-03-08"));
    expect(await stands("north", "N-1")).toBe("fit");
    expect(bring("north", "south").importAgain).toEqual(["mixed.csv"]);
    expect(await stands("north", "N-1")).toBe("resample");
    await take("north", "mixed.csv", ...rows);
    expect(counts("north")).toEqual({ 1: 900, 6: 900, 7: 20_000, 8: 900 });
    expect(fits("north")).toBe(true);
  });

  test("a corrected row that came back there is settled here", async () => {
    bring("office", "south");
    await take("south", "corrected.csv", row("2", "S-1", "2026-03-09", 1000));
    const before = waiting("south");
    bring("office", "south");
    expect(waiting("office")).toEqual(before);
    expect(counts("office")).toEqual({ 1: 900, 2: 1000 });
  });

  test("a decision that stops a circuit stops it here, until it is lifted there or here", async () => {
    using("south", (book) =>
      book.overrideUnjudged("S-1", "fore", {
        person: "A. Person",
        decision: "do-not-connect",
        reason: "found open",
      }),
    );
    bring("north", "south");
    expect(await stands("north", "S-1")).toMatch(/^held/);
    using("south", (book) => book.lift("S-1", "fore", { person: "B. Person", reason: "looked at" }));
    bring("north", "south");
    expect(await stands("north", "S-1")).not.toMatch(/^held/);
    using("south", (book) =>
      book.overrideUnjudged("S-1", "fore", {
        person: "A. Person",
        decision: "do-not-connect",
        reason: "again",
      }),
    );
    bring("north", "south");
    expect(await stands("north", "S-1")).toMatch(/^held/);
    using("north", (book) => book.lift("S-1", "fore", { person: "B. Person", reason: "looked at" }));
    await take("south", "new.csv", row("3", "S-1", "2026-03-11"));
    bring("north", "south");
    expect(await stands("north", "S-1")).not.toMatch(/^held/);
    expect(fits("north")).toBe(true);
  });

  test("verdicts come with what they rest on, and are computed again to the same", async () => {
    await stands("south", "S-1");
    using("south", (book) =>
      book.override(1, { person: "A. Person", decision: "do-not-connect", reason: "smell" }),
    );
    const brought = bring("north", "south");
    expect(brought).toMatchObject({ verdicts: 2, decisions: 1 });
    const found = using("north", (book) => book.verify());
    expect([found.fits, found.verdicts.same]).toEqual([true, 2]);
    expect(using("north", (book) => book.verdicts()[0]?.overrides)).toHaveLength(1);
  });

  test("a verdict that came with a book has its evidence, which fits by itself", async () => {
    await stands("south", "S-1");
    bring("north", "south");
    const pack = join(folder, "pack.zip");
    const named = ["--cart", "S-1", "--circuit", "fore", "--on", "2026-03-12", "--out", pack];
    expect((await run("evidence", "--book", at("north"), ...named)).err).toBe("");
    const { code, out } = await run("verify", "--evidence", pack, "--book", at("north"));
    expect([code, out]).toEqual([0, expect.stringContaining("verdict")]);
  });

  test("a row that waits in one of two books waits, though the other one, which the file came from too, discards it", async () => {
    await take("north", "both.csv", row("1", "S-1", "2026-03-08"), row("2", "S-1", "2026-03-09", "many"));
    bring("office", "south");
    decide("north", "discarded");
    bring("office", "north");
    expect(waiting("office")).toContain("both.csv 3");
    // The other way round, a person decides again.
    base("second", []);
    bring("second", "north");
    bring("second", "south");
    expect(waiting("second")).toContain("both.csv 3");
  });

  test("a file that was withdrawn there is withdrawn here, where it came from there only", async () => {
    bring("office", "south");
    withdraw("south", "both.csv");
    expect(bring("office", "south").withdrawn).toEqual(["both.csv"]);
    expect([counts("office"), waiting("office")]).toEqual([{}, []]);
    expect(using("office", (book) => book.withdrawals()[0])).toMatchObject({ reason: "withdrawn in south" });
    expect(fits("office")).toBe(true);
  });

  test("a file that came in as withdrawn does not count, and its reports are kept", () => {
    withdraw("south", "both.csv");
    bring("office", "south");
    expect(counts("office")).toEqual({});
    expect(using("office", (book) => book.withdrawals()[0]?.reports)).toHaveLength(1);
  });

  test("a file that we withdrew stays withdrawn when the book has grown", async () => {
    bring("office", "south");
    withdraw("office", "both.csv");
    await take("south", "new.csv", row("1", "S-1", "2026-03-08"), row("4", "S-1", "2026-03-07"));
    await take("south", "later.csv", row("1", "S-1", "2026-03-08", 950, "2026-03-13"));
    bring("office", "south");
    expect(Object.keys(counts("office")).sort()).toEqual(["1", "4"]);
    const [, corrected] = using("office", (book) => book.history("S-1", "fore"));
    expect(corrected).toMatchObject({ source: { file: "later.csv" }, amendments: [] });
  });

  test.each(["north", "south"])(
    "where both have read a file and %s withdrew it, the book is refused and the message names the file",
    async (who) => {
      await take("north", "both.csv", row("1", "S-1", "2026-03-08"), row("2", "S-1", "2026-03-09", "many"));
      withdraw(who, "both.csv");
      expect(refusal("north", "south")).toMatch(/both\.csv .*withdrawn/);
      withdraw(who === "north" ? "south" : "north", "both.csv");
      expect(refusal("north", "south")).toBe("was brought in");
      expect(counts("north")).toEqual({});
    },
  );

  test("a book that waits for a file to be imported again is brought in after that", async () => {
    await take("south", "same.csv", row("1", "S-1", "2026-03-08"));
    withdraw("south", "both.csv");
    expect(refusal("north", "south")).toMatch(/waits for same\.csv to be imported again/);
    await take("south", "same.csv", row("1", "S-1", "2026-03-08"));
    expect(refusal("north", "south")).toBe("was brought in");
    expect(counts("north")).toEqual({ 1: 900 });
  });
});
