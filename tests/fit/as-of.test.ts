import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, afterEach, beforeEach, describe, expect, test, vi } from "vitest";
import { Book } from "../../src/book/index.js";
import { CARTS, REQUIREMENT } from "../support/one-circuit.js";
import { run, runJson } from "../support/run-cli.js";

const HEADER =
  "sample,cart,circuit,drawn on,received,reported,fluid,4 µm(c) per mL,6 µm(c) per mL,14 µm(c) per mL,water (mg/kg),acid number (mg KOH/g)";

interface Bottle {
  readonly sample?: string;
  readonly drawn?: string;
  readonly received?: string;
  readonly reported?: string;
  readonly counts?: string;
  readonly water?: string;
  readonly cart?: string;
}

const CLEAN = "900,250,30";
/** Above 6 µm(c) 17/15/12 allows 320 per mL. */
const DIRTY = "1200,500,30";

function row({
  sample = "S-1",
  drawn = "2026-03-04",
  received = "",
  reported = "",
  counts = CLEAN,
  water = "120",
  cart = "C-1",
}: Bottle): string {
  return [sample, cart, "1", drawn, received, reported, "MIL-PRF-83282", counts, water, "0.1"].join();
}

const home = mkdtempSync(join(tmpdir(), "siltbook-"));
let at: string;
let serial = 0;
beforeEach(() => {
  serial += 1;
  at = join(home, String(serial));
});
afterEach(() => vi.useRealTimers());
afterAll(() => rmSync(home, { recursive: true }));

function write(name: string, content: string | object): string {
  const path = `${at}-${name}`;
  writeFileSync(path, typeof content === "string" ? content : JSON.stringify(content));
  return path;
}

const file = (name: string, ...bottles: Bottle[]) =>
  write(`${name}.csv`, [HEADER, ...bottles.map(row)].join("\n"));
const requirementOf = (change: object, revision = "3") => ({
  ...REQUIREMENT,
  revision,
  systems: [{ ...REQUIREMENT.systems[0], ...change }],
});
const cartsWith = (change: object) => ({
  carts: [{ cart: "C-1", circuits: [{ ...CARTS.carts[0]?.circuits[0], ...change }] }],
});

interface Asked {
  readonly carts?: object;
  readonly requirement?: object;
}

/** Judges files, and gives the verdict with its reasons. */
async function fromFiles(paths: readonly string[], options: readonly string[], asked: Asked = {}) {
  const carts = write("carts.json", asked.carts ?? CARTS);
  const requirement = write("requirement.json", asked.requirement ?? REQUIREMENT);
  const { json } = await runJson(
    "judge",
    "--carts",
    carts,
    "--requirement",
    requirement,
    ...options,
    ...paths,
  );
  return shorten(json);
}

/** The parts of a printed judgement that the cases look at. */
interface Printed {
  readonly on: string;
  readonly circuits: readonly [
    {
      readonly verdict: string;
      readonly sample?: { readonly sample: string } | null;
      readonly reasons: readonly { readonly code: string; readonly callsFor: string }[];
      readonly before: { readonly on: string } | null;
      readonly record: unknown;
    },
  ];
  readonly assumptions: readonly { readonly code: string }[];
}

function shorten(json: Printed) {
  const [circuit] = json.circuits;
  return {
    on: json.on,
    verdict: circuit.verdict,
    sample: circuit.sample?.sample ?? null,
    codes: circuit.reasons.flatMap((one) => (one.callsFor === "fit" ? [] : [one.code])),
    assumed: json.assumptions.map(({ code }) => code),
    before: circuit.before,
    record: circuit.record,
  };
}

/** A book into which files came on some days. */
async function bookOf(...imports: readonly (readonly [day: string, ...paths: string[]])[]): Promise<string> {
  const path = `${at}.siltbook`;
  vi.useFakeTimers({ toFake: ["Date"] });
  vi.setSystemTime("2026-01-02T08:00:00Z");
  const book = Book.open(path, { create: true });
  book.keepCarts("carts.json", JSON.stringify(CARTS));
  book.keepRequirements("requirement.json", JSON.stringify(REQUIREMENT));
  for (const [day, ...paths] of imports) {
    vi.setSystemTime(`${day}T08:00:00Z`);
    for (const one of paths) await book.takeIn(one);
  }
  book.close();
  vi.useRealTimers();
  return path;
}

async function fromBook(book: string, ...options: string[]) {
  return shorten((await runJson("judge", "--book", book, ...options)).json);
}

const OLD_AND_NEW: readonly Bottle[] = [
  { sample: "S-1", drawn: "2026-03-04", reported: "2026-03-06" },
  { sample: "S-2", drawn: "2026-03-10", reported: "2026-03-14", counts: DIRTY },
];

describe("--as-of judges with what was drawn and reported by that day", () => {
  test.each<[string, string, string | null]>([
    ["2026-03-05", "resample", null],
    ["2026-03-06", "fit", "S-1"],
    ["2026-03-10", "fit", "S-1"],
    ["2026-03-13", "fit", "S-1"],
    ["2026-03-14", "circulate", "S-2"],
    ["2026-03-20", "circulate", "S-2"],
  ])("files, as of %s: %s", async (day, verdict, sample) => {
    const answer = await fromFiles([file("lab", ...OLD_AND_NEW)], ["--as-of", day]);
    expect(answer).toMatchObject({ on: day, verdict, sample });
    expect(answer.assumed).not.toContain("known-when-drawn");
  });

  test("the day of judging may be a later one: what is too old then is too old", async () => {
    const lab = file("lab", ...OLD_AND_NEW);
    expect(await fromFiles([lab], ["--as-of", "2026-03-13", "--on", "2026-03-20"])).toMatchObject({
      on: "2026-03-20",
      verdict: "fit",
    });
    expect(await fromFiles([lab], ["--as-of", "2026-03-13", "--on", "2026-04-20"])).toMatchObject({
      codes: ["sample-too-old"],
    });
  });

  test("--on alone stays as it is: a bottle of a later day is still a mistake of one of the two days", async () => {
    const lab = file("lab", ...OLD_AND_NEW);
    expect((await fromFiles([lab], ["--on", "2026-03-08"])).codes).toContain("sample-after-judging-date");
    expect((await fromFiles([lab], ["--as-of", "2026-03-08"])).codes).toEqual([]);
  });

  test("a report without its day counts from its receipt, else its drawing, and that is said", async () => {
    const lab = file("lab", { drawn: "2026-03-04", received: "2026-03-07" });
    expect(await fromFiles([lab], ["--as-of", "2026-03-06"])).toMatchObject({ codes: ["no-sample"] });
    const known = await fromFiles([lab], ["--as-of", "2026-03-07"]);
    expect(known).toMatchObject({ verdict: "fit" });
    expect(known.assumed).toContain("known-when-drawn");
    const bare = await fromFiles([file("bare", { drawn: "2026-03-04" })], ["--as-of", "2026-03-04"]);
    expect(bare).toMatchObject({ verdict: "fit" });
    expect(bare.assumed).toContain("known-when-drawn");
  });

  test("before a correction was reported the report that it corrects stands", async () => {
    const first = file("first", { reported: "2026-03-06" });
    const corrected = file("corrected", { reported: "2026-03-09", counts: DIRTY });
    for (const paths of [
      [first, corrected],
      [corrected, first],
    ]) {
      expect(await fromFiles(paths, ["--as-of", "2026-03-08"])).toMatchObject({ verdict: "fit" });
      expect(await fromFiles(paths, ["--as-of", "2026-03-09"])).toMatchObject({ verdict: "circulate" });
    }
  });

  test("both reports may stand in one file", async () => {
    const lab = file("lab", { reported: "2026-03-06" }, { reported: "2026-03-09", counts: DIRTY });
    expect(await fromFiles([lab], ["--as-of", "2026-03-08"])).toMatchObject({ verdict: "fit" });
    expect(await fromFiles([lab], ["--as-of", "2026-03-09"])).toMatchObject({ verdict: "circulate" });
  });

  test.each<[string, string, readonly string[]]>([
    ["drawn later", "2026-03-12", []],
    ["drawn by then", "2026-03-08", ["result-in-quarantine"]],
    ["of a day that is not read", "08/03/26", ["result-in-quarantine"]],
  ])("a row that is not read, %s", async (_, drawn, codes) => {
    const lab = file("lab", { reported: "2026-03-06" }, { sample: "S-2", drawn, counts: "1O00,250,30" });
    expect(await fromFiles([lab], ["--as-of", "2026-03-10"])).toMatchObject({ codes });
  });

  test.each<[string, object, readonly string[]]>([
    ["an element change of a later day", { events: [{ on: "2026-03-12", kind: "element-change" }] }, []],
    [
      "an element change of that day",
      { events: [{ on: "2026-03-10", kind: "element-change" }] },
      ["drawn-before-event"],
    ],
    ["an alarm of a later day", { state: { on: "2026-03-12", level: "alarm" } }, []],
    ["an alarm of that day", { state: { on: "2026-03-10", level: "alarm" } }, ["level-alarm"]],
  ])("%s", async (_, change, codes) => {
    const lab = file("lab", { reported: "2026-03-06" });
    const answer = await fromFiles([lab], ["--as-of", "2026-03-10"], { carts: cartsWith(change) });
    expect(answer).toMatchObject({ codes });
    expect(answer.assumed).toContain("events-as-listed");
  });

  test("a day that is none is refused", async () => {
    const { code, err } = await run("judge", "--book", "none.siltbook", "--as-of", "yesterday");
    expect([code, err]).toEqual([2, expect.stringContaining("--as-of: expected a day such as 2026-03-14")]);
  });
});

describe("in a book a report without its day counts from the day its file came in", () => {
  test.each<[string, string, string | null]>([
    ["2026-03-05", "resample", null],
    ["2026-03-07", "resample", null],
    ["2026-03-08", "fit", "S-1"],
    ["2026-03-15", "fit", "S-1"],
    ["2026-03-16", "circulate", "S-2"],
  ])("as of %s: %s", async (day, verdict, sample) => {
    const book = await bookOf(
      ["2026-03-08", file("one", { drawn: "2026-03-04" })],
      ["2026-03-16", file("two", { sample: "S-2", drawn: "2026-03-10", counts: DIRTY })],
    );
    const answer = await fromBook(book, "--as-of", day);
    expect(answer).toMatchObject({ verdict, sample, record: null });
    expect(answer.assumed).toContain("known-from-import");
  });

  test("a report that was imported years later counts from its own day", async () => {
    const book = await bookOf(["2028-01-02", file("all", ...OLD_AND_NEW)]);
    expect(await fromBook(book, "--as-of", "2026-03-05")).toMatchObject({ codes: ["no-sample"] });
    expect(await fromBook(book, "--as-of", "2026-03-13")).toMatchObject({ verdict: "fit" });
    expect(await fromBook(book, "--as-of", "2026-03-14")).toMatchObject({ verdict: "circulate" });
  });

  test("water that came later under the first report's day counts from when it came", async () => {
    const book = await bookOf(
      ["2026-03-08", file("counts", { reported: "2026-03-06", water: "" })],
      ["2026-03-12", file("water", { reported: "2026-03-12", counts: ",,", water: "350" })],
    );
    expect(await fromBook(book, "--as-of", "2026-03-11")).toMatchObject({ codes: ["water-not-measured"] });
    expect(await fromBook(book, "--as-of", "2026-03-12")).toMatchObject({ codes: ["water-outside"] });
  });

  test("before a correction came in, what it corrected stands", async () => {
    const book = await bookOf(
      ["2026-03-07", file("first", { reported: "2026-03-06" })],
      ["2026-03-12", file("corrected", { reported: "2026-03-11", counts: DIRTY })],
    );
    expect(await fromBook(book, "--as-of", "2026-03-10")).toMatchObject({ verdict: "fit" });
    expect(await fromBook(book, "--as-of", "2026-03-11")).toMatchObject({ verdict: "circulate" });
  });

  test("a row that was settled later waited then", async () => {
    const bad = file(
      "bad",
      { reported: "2026-03-06" },
      { sample: "S-2", drawn: "2026-03-08", counts: "1O00,250,30" },
    );
    const good = file("good", { sample: "S-2", drawn: "2026-03-08", reported: "2026-03-15" });
    const book = await bookOf(["2026-03-09", bad], ["2026-03-15", good]);
    expect(await fromBook(book, "--as-of", "2026-03-10")).toMatchObject({ codes: ["result-in-quarantine"] });
    expect(await fromBook(book, "--as-of", "2026-03-15")).toMatchObject({ codes: [], sample: "S-2" });
  });

  test("a row that came in settled, after that day, does not wait", async () => {
    const bad = file(
      "bad",
      { reported: "2026-03-06" },
      { sample: "S-2", drawn: "2026-03-08", counts: "1O00,250,30" },
    );
    const good = file("good", { sample: "S-2", drawn: "2026-03-08", reported: "2026-03-09" });
    const book = await bookOf(["2028-01-02", bad], ["2028-01-03", good]);
    expect(await fromBook(book, "--as-of", "2026-03-10")).toMatchObject({ codes: [], sample: "S-2" });
  });

  test("what a person lifted later held the circuit then", async () => {
    const book = await bookOf(["2026-03-07", file("one", { reported: "2026-03-06" })]);
    vi.useFakeTimers({ toFake: ["Date"] });
    vi.setSystemTime("2026-03-08T08:00:00Z");
    const open = Book.open(book);
    open.overrideUnjudged("C-1", "1", { person: "A", decision: "do-not-connect", reason: "hose" });
    vi.setSystemTime("2026-03-12T08:00:00Z");
    open.lift("C-1", "1", { person: "A", reason: "hose changed" });
    open.close();
    vi.useRealTimers();
    const stands = async (day: string) =>
      (await runJson("judge", "--book", book, "--as-of", day)).json.circuits[0].stands;
    expect(await stands("2026-03-07")).toBe("fit");
    expect(await stands("2026-03-08")).toBe("do-not-connect");
    expect(await stands("2026-03-12")).toBe("fit");
  });

  test("judge, fleet and report give one answer and say the day", async () => {
    const book = await bookOf(["2028-01-02", file("all", ...OLD_AND_NEW)]);
    const asOf = ["--book", book, "--as-of", "2026-03-13"];
    const fleet = await runJson("fleet", ...asOf);
    expect(fleet.json).toMatchObject({
      on: "2026-03-13",
      asOf: "2026-03-13",
      circuits: [{ verdict: "fit" }],
    });
    expect((await run("fleet", ...asOf)).out).toContain("with what was known on 2026-03-13");
    expect((await run("judge", ...asOf)).out).toContain("with what was known on 2026-03-13");
    const out = `${at}.html`;
    await run("report", ...asOf, "--out", out);
    expect(readFileSync(out, "utf8")).toContain("with what was known on 2026-03-13");
    expect((await runJson("fleet", "--book", book, "--on", "2026-03-13")).json.asOf).toBeNull();
  });

  test("samples of a book are given as they were known", async () => {
    const path = await bookOf(
      ["2026-03-07", file("first", { reported: "2026-03-06" })],
      ["2026-03-12", file("corrected", { reported: "2026-03-11", water: "150" })],
    );
    const book = Book.open(path);
    const waterOn = (knownBy: string) =>
      [...book.samples({ knownBy })].map(({ waterPpm }) => waterPpm?.value);
    expect(waterOn("2026-03-05")).toEqual([]);
    expect(waterOn("2026-03-06")).toEqual([120]);
    expect(waterOn("2026-03-11")).toEqual([150]);
    book.close();
  });
});

describe("a book judges as of a day with the carts and the requirement that it held on that day", () => {
  /** A book of one clean bottle whose files change on later days. */
  async function changed(
    ...steps: readonly (readonly [day: string, carts?: object | undefined, requirement?: object])[]
  ) {
    const path = await bookOf(["2026-03-07", file("one", { reported: "2026-03-06" })]);
    vi.useFakeTimers({ toFake: ["Date"] });
    for (const [day, carts, requirement] of steps) {
      vi.setSystemTime(`${day}T08:00:00Z`);
      const book = Book.open(path);
      if (carts !== undefined) book.keepCarts("carts.json", JSON.stringify(carts));
      if (requirement !== undefined) book.keepRequirements("requirement.json", JSON.stringify(requirement));
      book.close();
    }
    vi.useRealTimers();
    return path;
  }
  const asOf = async (path: string, day: string) => {
    const { codes, assumed } = await fromBook(path, "--as-of", day);
    return { codes, isOfToday: assumed.includes("of-today") };
  };

  test.each<[string, string[]]>([
    ["2026-03-09", []],
    ["2026-03-10", ["water-outside"]],
    ["2026-03-11", ["water-outside"]],
    ["2026-03-12", []],
  ])("a requirement that was stricter for two days, as of %s", async (day, codes) => {
    const stricter = requirementOf({ waterPpmMax: 100 }, "4");
    const path = await changed(
      ["2026-03-10", undefined, stricter],
      ["2026-03-12", undefined, REQUIREMENT],
      ["2026-03-13", undefined, stricter],
    );
    expect(await asOf(path, day)).toEqual({ codes, isOfToday: false });
  });

  test.each<[string, string[]]>([
    ["2026-03-09", []],
    ["2026-03-10", []],
    ["2026-03-11", ["drawn-before-event"]],
  ])("an event is known from the day on which it was entered, as of %s", async (day, codes) => {
    const events = [{ on: "2026-03-08", kind: "element-change" }];
    const path = await changed(["2026-03-11", cartsWith({ events })]);
    const { isOfToday, ...answer } = await asOf(path, day);
    expect([answer.codes, isOfToday]).toEqual([codes, false]);
  });

  test("a circuit serves what it served then", async () => {
    const path = await changed(["2026-03-11", cartsWith({ serves: "utility system" })]);
    expect((await asOf(path, "2026-03-10")).codes).toEqual([]);
    expect((await asOf(path, "2026-03-11")).codes).toContain("no-requirement");
  });

  test("a cart that came later is not judged, and one of another base was one of another base", async () => {
    const two = { carts: [...CARTS.carts, { ...CARTS.carts[0], cart: "C-2" }] };
    const path = await changed(
      ["2026-03-09", { ...CARTS, otherCarts: ["Q-9"] }],
      ["2026-03-11", { ...two, otherCarts: [] }],
    );
    const cartsOn = async (day: string) =>
      (await runJson("fleet", "--book", path, "--as-of", day)).json.circuits
        .map(({ cart }: { cart: string }) => cart)
        .sort();
    expect(await cartsOn("2026-03-10")).toEqual(["C-1"]);
    expect(await cartsOn("2026-03-11")).toEqual(["C-1", "C-2"]);
    const book = Book.open(path);
    const held = ["2026-03-08", "2026-03-10", "2026-03-11"].map((day) => book.heldOn(day).otherCarts);
    expect(held).toEqual([[], ["Q-9"], []]);
    book.close();
  });

  test("a circuit that went and came back was gone in between", async () => {
    const other = {
      carts: [{ ...CARTS.carts[0], circuits: [{ ...CARTS.carts[0]?.circuits[0], circuit: "2" }] }],
    };
    const path = await changed(["2026-03-09", other], ["2026-03-11", CARTS]);
    const book = Book.open(path);
    const circuits = (day: string) => book.heldOn(day).carts[0]?.circuits.map(({ circuit }) => circuit);
    expect(["2026-03-08", "2026-03-09", "2026-03-11"].map(circuits)).toEqual([["1"], ["2"], ["1"]]);
    expect(book.heldOn("2026-03-11").carts).toEqual(book.carts());
    book.close();
  });

  test("before the book held any, those of today are taken and that is said", async () => {
    const path = await changed();
    const early = await fromBook(path, "--as-of", "2025-12-31");
    expect(early.assumed).toEqual(expect.arrayContaining(["of-today", "events-as-listed"]));
    const later = await fromBook(path, "--as-of", "2026-03-08");
    expect(later.assumed).not.toContain("of-today");
    expect(later.assumed).not.toContain("events-as-listed");
  });

  test("files without a book are those of today", async () => {
    const lab = file("lab", { reported: "2026-03-06" });
    expect((await fromFiles([lab], ["--as-of", "2026-03-10"])).assumed).toContain("of-today");
    expect((await fromFiles([lab], ["--on", "2026-03-10"])).assumed).not.toContain("of-today");
  });

  test("another requirement is held against the one of that day, and keeps nothing", async () => {
    const path = await changed(["2026-03-12", undefined, requirementOf({ waterPpmMax: 100 }, "4")]);
    const asked = write("asked.json", requirementOf({ waterPpmMax: 150 }, "5"));
    const answer = await runJson("judge", "--book", path, "--as-of", "2026-03-10", "--requirement", asked);
    const messages = answer.json.assumptions.map(({ message }: { message: string }) => message).join("\n");
    expect(messages).toContain("waterPpmMax is 150, was 200");
    expect(answer.json.circuits[0]).toMatchObject({ verdict: "fit", record: null });
  });
});

describe("a what-if is no record", () => {
  const kept = (path: string) => {
    const book = Book.open(path);
    const all = book.verdicts();
    book.close();
    return all;
  };

  test.each([["judge"], ["fleet"]])("%s by another requirement keeps nothing", async (command) => {
    const path = await bookOf(["2026-03-07", file("one", { reported: "2026-03-06" })]);
    const milder = write("milder.json", requirementOf({ waterPpmMax: 400 }, "4"));
    const on = ["--book", path, "--on", "2026-03-10"];
    const answer = await runJson(command, ...on, "--requirement", milder);
    expect(kept(path)).toEqual([]);
    expect(JSON.stringify(answer.json.assumptions)).toContain("not-kept");
    await runJson(command, ...on, "--as-of", "2026-03-10");
    expect(kept(path)).toEqual([]);
    // The book's own requirement from a file is no other one.
    await runJson(command, ...on, "--requirement", write("own.json", REQUIREMENT));
    expect(kept(path)).toHaveLength(1);
  });

  test("the report says that a what-if is not kept", async () => {
    const path = await bookOf(["2026-03-07", file("one", { reported: "2026-03-06" })]);
    const out = `${at}.html`;
    await run("report", "--book", path, "--as-of", "2026-03-10", "--out", out);
    expect(readFileSync(out, "utf8")).toContain("not kept in the sample book");
  });
});

describe("changed since compares like with like and names the day", () => {
  async function threeDays() {
    const path = await bookOf(["2026-03-07", file("one", ...OLD_AND_NEW)]);
    for (const on of ["2026-03-12", "2026-03-13"]) await run("fleet", "--book", path, "--on", on);
    return path;
  }

  test("fleet names the day of the verdict that it compares with", async () => {
    const path = await bookOf(["2026-03-07", file("one", { reported: "2026-03-06" })]);
    expect((await run("fleet", "--book", path, "--on", "2026-03-07", "--explain")).out).toContain(
      "There is no earlier report by this requirement to compare with.",
    );
    expect((await run("fleet", "--book", path, "--on", "2026-03-09")).out).toContain(
      "No verdict changed since 2026-03-07.",
    );
    const brief = await run("fleet", "--book", path, "--on", "2026-04-30");
    expect(brief.out).toContain('was "fit" on 2026-03-09');
    expect(brief.out).toContain("Changed since 2026-03-09.");
    const later = await run(
      "fleet",
      "--book",
      path,
      "--on",
      "2026-05-01",
      "--explain",
      "--since",
      "2026-03-09",
    );
    expect(later.out).toContain(
      'Changed since 2026-03-09:\n  C-1, circuit 1: "fit" on 2026-03-09, now "take a new sample"',
    );
    const { json } = await runJson("fleet", "--book", path, "--on", "2026-05-01", "--since", "2026-03-31");
    expect(json.circuits[0]).toMatchObject({ before: "fit", beforeOn: "2026-03-09", changed: true });
  });

  test("--since compares with the last verdict of that day or before", async () => {
    const path = await threeDays();
    const since = async (day: string) => {
      const answer = await fromBook(path, "--on", "2026-03-15", "--since", day);
      return answer.before?.on ?? null;
    };
    expect(await since("2026-03-11")).toBeNull();
    expect(await since("2026-03-12")).toBe("2026-03-12");
    expect(await since("2026-03-20")).toBe("2026-03-13");
  });

  test("--since without a book has nothing to compare with", async () => {
    const lab = file("lab", {});
    const { code, err } = await run(
      "judge",
      "--carts",
      write("c.json", CARTS),
      "--requirement",
      write("r.json", REQUIREMENT),
      "--since",
      "2026-03-01",
      lab,
    );
    expect([code, err]).toEqual([2, expect.stringContaining("--book")]);
  });

  test("a verdict by other limits is not compared with, though its revision has the same name", async () => {
    const path = await bookOf(["2026-03-07", file("one", { reported: "2026-03-06" })]);
    await run("fleet", "--book", path, "--on", "2026-03-07");
    const book = Book.open(path);
    book.keepRequirements("stricter.json", JSON.stringify(requirementOf({ waterPpmMax: 100 })));
    book.close();
    expect(await fromBook(path, "--on", "2026-03-08")).toMatchObject({
      verdict: "exchange-fluid",
      before: null,
    });
    // The old limits again are compared with the old verdict, and with none that lies between.
    const again = Book.open(path);
    again.keepRequirements("requirement.json", JSON.stringify(REQUIREMENT));
    again.close();
    expect((await fromBook(path, "--on", "2026-03-09")).before).toEqual({ on: "2026-03-07", verdict: "fit" });
  });
});
