import { mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { basename, join } from "node:path";
import { parse } from "csv-parse/sync";
import { stringify } from "csv-stringify/sync";
import Database from "libsql";
import { beforeEach, describe, expect, test, vi } from "vitest";
import { Book } from "../../src/book/index.js";
import { circuitNamed as circuit, HEADER, requirementsWith } from "../support/book/main-system.js";
import { inOneLine, run, runJson } from "../support/run-cli.js";
import { temporaryFolder } from "../support/temporary-folder.js";

const base = temporaryFolder();
const REQUIREMENT = requirementsWith();
/** A row: its sample, day drawn, water and day reported. */
const row = (sample: string, drawnOn: string, water: number | string, reportedOn: string, circuit = "fore") =>
  `${sample},C-1,${circuit},${drawnOn},MIL-PRF-83282,900,300,30,${water},0.1,${reportedOn}`;

let folder: string;
let book: string;

function file(name: string, ...rows: readonly string[]): string {
  const path = join(folder, name);
  writeFileSync(path, [`${HEADER},reported on`, ...rows].join("\n"));
  return path;
}

const import_ = (...paths: readonly string[]) => run("import", "--book", book, ...paths);
const withdraw = (name: string) =>
  runJson("withdraw", "--book", book, name, "--by", "A. Person", "--reason", "report of another base");

/** Water of each sample, as the book has it now. */
function water(): Record<string, number | undefined> {
  const opened = Book.open(book);
  try {
    return Object.fromEntries([...opened.samples()].map(({ sample, waterPpm }) => [sample, waterPpm?.value]));
  } finally {
    opened.close();
  }
}

async function verdictOf(name: string, on = "2026-03-12"): Promise<{ verdict: string; said: string }> {
  const { json } = await runJson("judge", "--book", book, "--on", on);
  const found = json.circuits.find((one: { circuit: string }) => one.circuit === name);
  return { verdict: found.verdict, said: JSON.stringify(found) };
}

beforeEach(async () => {
  folder = mkdtempSync(join(base, "t-"));
  book = join(folder, "a.siltbook");
  const write = (name: string, content: unknown) => {
    writeFileSync(join(folder, name), JSON.stringify(content));
    return join(folder, name);
  };
  const carts = write("carts.json", {
    carts: [{ cart: "C-1", circuits: [circuit("fore"), circuit("aft")] }],
  });
  await import_("--carts", carts, "--requirement", write("requirement.json", REQUIREMENT));
});

const A = row("S-1", "2026-03-04", 150, "2026-03-06");
/** [what the files are, in the order of import, which is withdrawn, water by sample afterwards] */
const STATES: readonly [
  string,
  Readonly<Record<string, readonly string[]>>,
  string,
  Record<string, number>,
][] = [
  ["the only report of a sample", { "a.csv": [A] }, "a.csv", {}],
  [
    "one of two files with other samples",
    { "a.csv": [A], "b.csv": [row("S-2", "2026-03-05", 90, "2026-03-06")] },
    "b.csv",
    { "S-1": 150 },
  ],
  [
    "a correction: what was before is restored",
    { "a.csv": [A], "b.csv": [row("S-1", "2026-03-04", 160, "2026-03-08")] },
    "b.csv",
    { "S-1": 150 },
  ],
  [
    "what had been corrected: the correction stays",
    { "a.csv": [A], "b.csv": [row("S-1", "2026-03-04", 160, "2026-03-08")] },
    "a.csv",
    { "S-1": 160 },
  ],
  [
    "the middle one of three reports",
    {
      "a.csv": [A],
      "b.csv": [row("S-1", "2026-03-04", 160, "2026-03-08")],
      "c.csv": [row("S-1", "2026-03-04", 170, "2026-03-10")],
    },
    "b.csv",
    { "S-1": 170 },
  ],
];

describe("withdrawn:", () => {
  test.each(STATES)(
    "%s; and all is as it was when it is imported again",
    async (_what, files, name, left) => {
      const paths = Object.entries(files).map(([own, rows]) => file(own, ...rows));
      await import_(...paths);
      const before = water();
      expect((await withdraw(name)).code).toBe(0);
      expect(water()).toEqual(left);
      expect((await runJson("verify", "--book", book)).json).toMatchObject({
        fits: true,
        withdrawn: [{ file: name, person: "A. Person", reason: "report of another base" }],
      });
      await import_(join(folder, name));
      expect(water()).toEqual(before);
      expect((await runJson("verify", "--book", book)).json).toMatchObject({ fits: true, withdrawn: [] });
    },
  );
});

test("the rows of the file, the history of its circuits and their verdicts say who withdrew it and why", async () => {
  await import_(file("a.csv", A), file("b.csv", row("S-2", "2026-03-10", 350, "2026-03-11")));
  expect((await verdictOf("fore")).verdict).toBe("exchange-fluid");
  await withdraw("b.csv");
  const said = "withdrawn by A. Person on";
  const { verdict, said: of } = await verdictOf("fore");
  expect([verdict, of.includes(said), of.includes("report of another base")]).toEqual(["fit", true, true]);
  // Without being asked, next to "fit": a person can take a dirty result out of the way.
  const brief = await run("judge", "--book", book, "--on", "2026-03-12");
  expect(brief.out.replace(/\s+/g, " ")).toMatch(
    /C-1 fore fit to connect.* may hold a newer result of this circuit and was withdrawn by A\. Person on [\d-]+: report of another base/,
  );
  const rows = await runJson("rows", "--book", book, "b.csv");
  expect(rows.json.rows.map(({ fate }: { fate: string }) => fate)).toEqual(["not a sample", "withdrawn"]);
  expect(rows.json.withdrawn).toMatchObject({ person: "A. Person", reason: "report of another base" });
  const history = await runJson("history", "--book", book, "--cart", "C-1", "--circuit", "fore");
  expect(history.json.withdrawn).toMatchObject([
    { person: "A. Person", file: "b.csv", sample: { sample: "S-2", waterPpm: { value: 350 } } },
  ]);
  expect(inOneLine((await run("history", "--book", book, "--cart", "C-1", "--circuit", "fore")).out)).toMatch(
    /S-2, drawn 2026-03-10, from b\.csv was withdrawn on \d{4}-\d\d-\d\d by A\. Person: report of another base/,
  );
});

test("a sample that another file repeats blocks its circuit until that file is imported again", async () => {
  const dirty = row("S-2", "2026-03-10", 350, "2026-03-11");
  await import_(
    file("a.csv", A),
    file("b.csv", dirty),
    file("c.csv", dirty, row("S-3", "2026-03-01", 90, "2026-03-11")),
  );
  const { code, json } = await withdraw("b.csv");
  expect([code, json.importAgain]).toEqual([1, ["c.csv"]]);
  const { verdict, said } = await verdictOf("fore");
  expect([verdict, said.includes("c.csv reports it too: import that file again")]).toEqual([
    "resample",
    true,
  ]);
  await import_(join(folder, "c.csv"));
  expect((await verdictOf("fore")).verdict).toBe("exchange-fluid");
});

const FORE = ["--cart", "C-1", "--circuit", "fore"];
const TREND = ["trend", ...FORE, "--measure", "water"];

describe.each([["judge"], ["fleet"], TREND, ["trace", ...FORE]])("%s", (command, ...words) => {
  const said = async () => {
    const { out } = await run(command, "--book", book, "--on", "2026-03-12", ...words, "--explain");
    return out.replace(/\s+/g, " ");
  };
  const isOfOneCircuit = words.length > 0;

  test("leaves out what was withdrawn, and says who withdrew it", async () => {
    await import_(file("a.csv", A), file("b.csv", row("S-2", "2026-03-10", 350, "2026-03-11")));
    await withdraw("b.csv");
    const what = /b\.csv row 2 may hold a.* result .* was withdrawn by A\. Person on/;
    // A list of a fleet says of a circuit that is fit no more than that.
    if (command === "fleet") expect(await said()).toMatch(/C-1 │ fore │ fit /);
    else expect(await said()).toMatch(what);
  });

  test("says where a withdrawn sample waits for another file, and nothing of a row of another circuit", async () => {
    const dirty = row("S-2", "2026-03-10", 350, "2026-03-11");
    const ofAft = row("S-3", "2026-03-10", "wet", "2026-03-11", "aft");
    const other = row("S-4", "2026-03-01", 90, "2026-03-02", "aft");
    await import_(file("a.csv", A, ofAft), file("b.csv", dirty), file("c.csv", other, dirty));
    await withdraw("b.csv");
    expect(await said()).toMatch(/b\.csv row 2.* may (be|hold) a/);
    expect(await said()).not.toContain("was withdrawn by");
    if (isOfOneCircuit) expect(await said()).not.toContain("a.csv row 3");
  });
});

test("a carts file in place of the book's does not make a trend forget an event of the book", async () => {
  const path = join(folder, "carts.json");
  const { carts } = JSON.parse(readFileSync(path, "utf8"));
  const trend = async () => (await run(...TREND, "--book", book, "--carts", path, "--on", "2026-03-12")).out;
  carts[0].circuits[0].events = [{ on: "2026-03-05", kind: "fluid-change" }];
  const changed = join(folder, "changed.json");
  writeFileSync(changed, JSON.stringify({ carts }));
  await import_("--carts", changed, file("a.csv", A));
  const before = await trend();
  writeFileSync(path, readFileSync(changed));
  expect(before).toBe(await trend());
});

/** [how the other file is written, its text, which says of S 2 what the withdrawn file says] */
const ALSO_WRITTEN: readonly [string, string][] = [
  [
    "in columns of a print",
    [
      "Sample   Cart  Circuit  Drawn on    Fluid          Water (mg/kg)  Reported on",
      "S-1      C-1   fore     2026-03-04  MIL-PRF-83282  150            2026-03-06",
      "S 2      C-1   fore     2026-03-10  MIL-PRF-83282  350            2026-03-11",
    ].join("\n"),
  ],
  [
    "as labels with their values",
    "Sample: S 2\nCart: C-1\nCircuit: fore\nDrawn on: 2026-03-10\nFluid: MIL-PRF-83282\nWater (mg/kg): 350\nReported on: 2026-03-11\n",
  ],
  [
    "with apostrophes before texts",
    "sample,cart,circuit,drawn on,fluid,water (mg/kg),reported on\n'S 2,C-1,fore,2026-03-10,MIL-PRF-83282,350,2026-03-11\n",
  ],
  [
    "as JSON",
    JSON.stringify([
      {
        sample: "S 2",
        cart: "C-1",
        circuit: "fore",
        "drawn on": "2026-03-10",
        fluid: "MIL-PRF-83282",
        "water (mg/kg)": 350,
        "reported on": "2026-03-11",
      },
    ]),
  ],
];

test.each(ALSO_WRITTEN)("a sample that another file repeats %s is looked for there", async (_how, text) => {
  const other = join(folder, text.startsWith("[") ? "c.json" : "c.csv");
  writeFileSync(other, text);
  await import_(file("a.csv", A), file("b.csv", row("S 2", "2026-03-10", 350, "2026-03-11")), other);
  const { json } = await withdraw("b.csv");
  expect(json.importAgain).toEqual([basename(other)]);
  expect((await verdictOf("fore")).verdict).toBe("resample");
  await import_(other);
  expect((await verdictOf("fore")).verdict).not.toBe("fit");
});

test("a longer number with the same beginning is another sample", async () => {
  await import_(
    file("a.csv", A, row("S-1-2", "2026-03-01", 90, "2026-03-02")),
    file("b.csv", row("S-1-2", "2026-03-01", 90, "2026-03-02"), row("S-3", "2026-03-01", 90, "2026-03-02")),
  );
  await withdraw("a.csv");
  const opened = Book.open(book);
  const [{ reports = [] } = {}] = opened.withdrawals();
  opened.close();
  expect(reports.map(({ sample, awaited }) => [sample.sample, awaited])).toEqual([
    ["S-1", undefined],
    ["S-1-2", "b.csv"],
  ]);
});

test("it blocks no longer when the other file is withdrawn too, or says the same as one that came since", async () => {
  const dirty = row("S-2", "2026-03-10", 350, "2026-03-11");
  const more = (sample: string) => row(sample, "2026-03-01", 90, "2026-03-11");
  await import_(file("a.csv", A), file("b.csv", dirty), file("c.csv", dirty, more("S-3")));
  await withdraw("b.csv");
  await withdraw("c.csv");
  expect((await verdictOf("fore")).verdict).toBe("fit");
  await import_(join(folder, "b.csv"), join(folder, "c.csv"), file("d.csv", dirty, more("S-4")));
  await withdraw("b.csv");
  await import_(join(folder, "d.csv"), join(folder, "c.csv"));
  expect((await verdictOf("fore")).verdict).toBe("exchange-fluid");
});

test("as of a day before it was withdrawn, a result blocks its circuit", async () => {
  vi.useFakeTimers({ toFake: ["Date"] });
  try {
    vi.setSystemTime(new Date("2026-03-11T12:00:00Z"));
    await import_(file("a.csv", A), file("b.csv", row("S-2", "2026-03-10", 350, "2026-03-11")));
    vi.setSystemTime(new Date("2026-03-13T12:00:00Z"));
    await withdraw("b.csv");
    const asOf = async (day: string) => {
      const { json } = await runJson("judge", "--book", book, "--on", "2026-03-14", "--as-of", day);
      return json.circuits[0].verdict;
    };
    expect([await asOf("2026-03-12"), await asOf("2026-03-13")]).toEqual(["resample", "fit"]);
  } finally {
    vi.useRealTimers();
  }
});

test("as of a day on which a withdrawn result was not known yet, it does not block its circuit", async () => {
  vi.useFakeTimers({ toFake: ["Date"] });
  try {
    vi.setSystemTime(new Date("2026-03-07T12:00:00Z"));
    await import_(file("a.csv", A));
    vi.setSystemTime(new Date("2026-03-12T12:00:00Z"));
    await import_(file("b.csv", row("S-2", "2026-03-08", 350, "2026-03-11")));
    vi.setSystemTime(new Date("2026-03-13T12:00:00Z"));
    await withdraw("b.csv");
    const asOf = async (day: string) => {
      const { json } = await runJson("judge", "--book", book, "--on", "2026-03-14", "--as-of", day);
      return json.circuits[0].verdict;
    };
    expect([await asOf("2026-03-10"), await asOf("2026-03-11")]).toEqual(["fit", "resample"]);
  } finally {
    vi.useRealTimers();
  }
});

test("its own rows in quarantine wait no longer; rows that it had settled wait again", async () => {
  await import_(file("a.csv", row("S-1", "2026-03-04", "damp", "2026-03-06")));
  await import_(
    file("b.csv", row("S-1", "2026-03-04", 150, "2026-03-08"), row("S-2", "2026-03-05", "wet", "2026-03-08")),
  );
  const open = async () =>
    (await runJson("quarantine", "--book", book)).json.open.map(
      ({ file: of, row: at }: { file: string; row: number }) => `${of} ${at}`,
    );
  expect(await open()).toEqual(["b.csv 3"]);
  const { json } = await withdraw("b.csv");
  expect(json.reopened).toBe(1);
  expect(await open()).toEqual(["a.csv 2"]);
  const { settled } = (await runJson("quarantine", "--book", book, "--all")).json;
  expect(settled).toMatchObject([
    { file: "b.csv", row: 3, decided: { decision: "withdrawn", person: "A. Person" } },
  ]);
  await import_(join(folder, "b.csv"));
  expect(await open()).toEqual(["b.csv 3"]);
});

test("rows that it had discarded wait again", async () => {
  await import_(file("a.csv", row("S-1", "2026-03-04", "damp", "2026-03-06")), "--quarantine", folder);
  const path = join(folder, "a.csv.quarantine.csv");
  const [head = [], cells = []] = parse(readFileSync(path, "utf8"), { bom: true }) as string[][];
  cells[head.indexOf("quarantine accepted")] = "discard";
  writeFileSync(path, stringify([head, cells]));
  await import_("--map", join(folder, "a.csv.quarantine.map.json"), path);
  const { openRowCount } = Book.open(book);
  expect(openRowCount).toBe(0);
  expect((await withdraw("a.csv.quarantine.csv")).json.reopened).toBe(1);
  expect(Book.open(book).openRowCount).toBe(1);
});

/** [the words, what is said] */
const REFUSALS: readonly [readonly string[], string][] = [
  [["x.csv", "--by", "A. Person", "--reason", "why"], 'the book has read no file "x.csv"; it has a.csv'],
  [["a.csv", "--by", "A. Person", "--reason", " "], "withdrawing a file needs a reason"],
  [["a.csv", "--reason", "why"], "expected who withdraws the file (--by)"],
  [["a.csv", "--by", "A. Person"], "--reason"],
];

test.each(REFUSALS)("withdraw %j is refused", async (words, said) => {
  await import_(file("a.csv", A));
  const { code, err } = await run("withdraw", "--book", book, ...words);
  expect([code, err.includes(said)]).toEqual([2, true]);
  expect(water()).toEqual({ "S-1": 150 });
});

test("a file that is withdrawn is not withdrawn again", async () => {
  await import_(file("a.csv", A));
  await withdraw("a.csv");
  const { code, err } = await run(
    "withdraw",
    "--book",
    book,
    "a.csv",
    "--by",
    "A. Person",
    "--reason",
    "why",
  );
  expect([code, err]).toEqual([2, "siltbook: a.csv is withdrawn already\n"]);
});

describe("who did it", () => {
  const entries = () => {
    const opened = Book.open(book);
    const { kind, by } = opened.head();
    opened.close();
    return [kind, by];
  };
  const ofCircuit = ["--cart", "C-1", "--circuit", "fore", "--person", "A. Person", "--reason", "why"];

  /** [the command, the kind of its entry, who is kept where nobody is stated with SILTBOOK_BY="L. Tech", and with --by] */
  const COMMANDS: readonly [string, readonly string[], string][] = [
    ["import", ["a.csv"], "reading"],
    ["withdraw", ["z.csv", "--reason", "why"], "withdrawal"],
    ["override", [...ofCircuit, "--decision", "do-not-connect"], "override"],
  ];

  test.each(COMMANDS)("%s: --by, or else SILTBOOK_BY", async (command, words, kind) => {
    file("a.csv", A);
    await import_(file("z.csv", row("S-9", "2026-03-04", 90, "2026-03-06")));
    const own = words.map((word) => (word === "a.csv" ? join(folder, word) : word));
    vi.stubEnv("SILTBOOK_BY", " L. Tech ");
    try {
      await run(command, "--book", book, ...own);
      expect(entries()).toEqual([kind, "L. Tech"]);
      await import_(join(folder, "z.csv"));
      file("a.csv", A.replace("S-1", "S-7"));
      await run(command, "--book", book, ...own, "--by", "B. Clerk");
      expect(entries()).toEqual([kind, "B. Clerk"]);
    } finally {
      vi.unstubAllEnvs();
    }
  });

  test("an override says the person who decided, where nobody is stated who entered it", async () => {
    await run("override", "--book", book, ...ofCircuit, "--decision", "do-not-connect");
    expect(entries()).toEqual(["override", "A. Person"]);
  });
});

/** [what was forged, how, what is said] */
const FORGERIES: readonly [string, string, RegExp][] = [
  [
    "who withdrew a file",
    "UPDATE withdrawal SET person = 'C. Person'",
    /^entry \d+ of .*, withdrawal by A\. Person .*: the withdrawal of a file: its record was changed/,
  ],
  [
    "what a withdrawn file had reported",
    "UPDATE withdrawn_report SET report = replace(report, '350', '150')",
    /withdrawal by A\. Person .*: what a withdrawn file had reported: its record was changed/,
  ],
  [
    "a file withdrawn by hand",
    "INSERT INTO withdrawal (file_id, last_reading, at, person, reason) SELECT 1, last_reading, at, person, reason FROM withdrawal",
    /the withdrawal of a file: no entry put it into the book/,
  ],
];

test.each(FORGERIES)("%s is found by verify, and not believed by judge", async (_what, sql, said) => {
  await import_(file("a.csv", A), file("b.csv", row("S-2", "2026-03-10", 350, "2026-03-11")));
  await withdraw("b.csv");
  const db = new Database(book);
  db.exec(sql);
  db.close();
  expect((await runJson("verify", "--book", book)).json.first.message).toMatch(said);
  const { code, err } = await run("judge", "--book", book, "--on", "2026-03-12");
  expect([code, said.test(err.replace(/^siltbook: /, ""))]).toEqual([2, true]);
});
