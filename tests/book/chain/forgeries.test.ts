import { createHash } from "node:crypto";
import { copyFileSync, mkdtempSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { deflateRawSync, inflateRawSync } from "node:zlib";
import Database from "libsql";
import { beforeAll, beforeEach, describe, expect, test } from "vitest";
import { Book } from "../../../src/book/index.js";
import { canonicalJson } from "../../../src/fitness/index.js";
import { circuitNamed as circuit, HEADER, requirementsWith } from "../../support/book/main-system.js";
import { dropChain } from "../../support/drop-chain.js";
import { run, runJson } from "../../support/run-cli.js";
import { temporaryFolder } from "../../support/temporary-folder.js";

type Db = InstanceType<typeof Database>;

const REQUIREMENT = requirementsWith();
const FIRST = [
  "S-1,C-1,fore,2026-03-04,MIL-PRF-83282,900,300,30,150,0.1",
  "S-2,C-1,aft,2026-03-04,MIL-PRF-83282,900,300,30,350,0.1",
  "S-3,C-2,fore,2026-03-04,MIL-PRF-83282,9000,300,30,150,0.1",
  "S-4,C-2,fore,2026-03-05,MIL-PRF-83282,damp,300,30,150,0.1",
];
/** A later report of S-1 adds its acid number to two figures. */
const SECOND = [
  "S-5,C-2,fore,2026-03-08,MIL-PRF-83282,900,300,30,150,0.1",
  "S-1,C-1,fore,2026-03-04,MIL-PRF-83282,900,300,30,160,0.1",
];

const base = temporaryFolder();
const sound = join(base, "sound.siltbook");
let early: string;
let book: string;

const head = (path: string) => {
  const opened = Book.open(path);
  const { hash } = opened.head();
  opened.close();
  return hash;
};

beforeAll(async () => {
  const at = (name: string, content: unknown) => {
    writeFileSync(join(base, name), typeof content === "string" ? content : JSON.stringify(content));
    return join(base, name);
  };
  const carts = at("carts.json", {
    carts: [
      { cart: "C-1", circuits: [circuit("fore"), circuit("aft")] },
      { cart: "C-2", circuits: [circuit("fore")] },
    ],
  });
  const requirement = at("requirement.json", REQUIREMENT);
  const inBook = ["--book", sound];
  const reported = (rows: readonly string[], day: string) =>
    [`${HEADER},reported on`, ...rows.map((row) => `${row},${day}`)].join("\n");
  const first = at("first.csv", reported(FIRST, "2026-03-06"));
  const second = at("second.csv", reported(SECOND, "2026-03-12"));
  await run("import", ...inBook, "--carts", carts, "--requirement", requirement, first);
  await run("judge", ...inBook, "--on", "2026-03-10");
  early = join(base, "early.siltbook");
  copyFileSync(sound, early);
  await run("import", ...inBook, second);
  await run("judge", ...inBook, "--on", "2026-03-14");
  const who = [...inBook, "--cart", "C-2", "--circuit", "fore", "--person", "A. Person"];
  await run("override", ...who, "--decision", "resample", "--reason", "bottle found open");
  await run("override", ...who, "--lift", "--reason", "drawn again");
  const opened = Book.open(sound);
  const [row] = opened.quarantine();
  opened.decideRows([row?.id ?? ""], { decision: "discarded", person: "B. Person", reason: "no result" });
  opened.close();
});

beforeEach(() => {
  book = join(mkdtempSync(join(base, "t-")), "a.siltbook");
  copyFileSync(sound, book);
});

/** Changes the file as no program of ours does. */
function forge(act: (db: Db) => unknown): void {
  const db = new Database(book);
  db.exec("PRAGMA foreign_keys = OFF");
  act(db);
  db.close();
}

const sql = (text: string) => (db: Db) => db.exec(text);

/** Makes a verdict say fit, with every hash that is in its own row. */
function makeFit(db: Db): void {
  const row = db
    .prepare("SELECT id, result FROM verdict WHERE verdict <> 'fit' ORDER BY id LIMIT 1")
    .get() as {
    id: number;
    result: Buffer;
  };
  const record = JSON.parse(inflateRawSync(row.result).toString("utf8"));
  const text = canonicalJson({ ...record, verdict: "fit" });
  db.prepare("UPDATE verdict SET verdict = 'fit', result = ?, result_sha256 = ? WHERE id = ?").run(
    deflateRawSync(text),
    createHash("sha256").update(text).digest("hex"),
    row.id,
  );
}

/** [what was forged, how, the entry that is named, what is said of it] */
const FORGERIES: readonly [string, (db: Db) => unknown, RegExp, RegExp][] = [
  [
    "a sample's water",
    sql("UPDATE sample SET water_ppm = 150 WHERE sample = 'S-2'"),
    /reading .*first\.csv/,
    /sample S-2 of cart C-1, circuit aft, from first\.csv: its record was changed/,
  ],
  [
    "the last bit of a sample's acid number",
    sql("UPDATE sample SET acid_mg_koh_per_g = 0.10000000000000002 WHERE sample = 'S-3'"),
    /reading .*first\.csv/,
    /sample S-3/,
  ],
  [
    "a sample with the sum of its row",
    (db) =>
      db.exec("UPDATE sample SET fluid = 'MIL-PRF-5606', row_check = row_check + 1 WHERE sample = 'S-3'"),
    /reading .*first\.csv/,
    /sample S-3/,
  ],
  [
    "the day of a sample",
    sql("UPDATE sample SET drawn_on = '2026-03-09' WHERE sample = 'S-5'"),
    /reading .*second\.csv/,
    /sample S-5/,
  ],
  [
    "a deleted sample",
    sql("DELETE FROM sample WHERE sample = 'S-3'"),
    /reading .*first\.csv/,
    /1 of its 3 samples are gone/,
  ],
  [
    "a sample that was put in",
    sql(
      "INSERT INTO sample (circuit_id, sample, drawn_on, file_id, rows) SELECT circuit_id, 'S-9', '2026-03-13', file_id, '[9]' FROM sample WHERE sample = 'S-5'",
    ),
    /./,
    /^sample S-9 of cart C-2, circuit fore, drawn on 2026-03-13: no entry put it into the book/,
  ],
  [
    "two samples that changed places",
    sql(
      "UPDATE sample SET id = 99 WHERE id = 1; UPDATE sample SET id = 1 WHERE id = 2; UPDATE sample SET id = 2 WHERE id = 99",
    ),
    /reading .*first\.csv/,
    /samples were changed/,
  ],
  [
    "what a sample said before it was corrected",
    sql(`UPDATE amendment SET earlier = replace(earlier, '150', '140')`),
    /reading .*second\.csv/,
    /an earlier report of a sample: its record was changed/,
  ],
  [
    "how a row was before an entry changed it",
    sql(`UPDATE replaced SET former = replace(former, '150', '140') WHERE of_table = 'sample'`),
    /reading .*first\.csv/,
    /samples were changed/,
  ],
  [
    "the text of a file's rows",
    (db) => db.prepare("UPDATE row_text SET body = ? WHERE file_id = ?").run(deflateRawSync('["x"]'), 1),
    /reading .*first\.csv/,
    /texts of rows/,
  ],
  [
    "a row taken out of quarantine",
    sql("DELETE FROM quarantine"),
    /reading .*first\.csv/,
    /rows in quarantine 1: it is gone/,
  ],
  [
    "the decision about a row",
    sql("UPDATE quarantine_decision SET person = 'C. Person'"),
    /quarantine by B\. Person/,
    /the decision about row 5 in quarantine: its record was changed/,
  ],
  [
    "a limit of the requirement",
    sql("UPDATE requirements SET body = replace(body, '200', '400')"),
    /requirement /,
    /requirement "example limits", revision 3: its record was changed/,
  ],
  [
    "another requirement",
    sql(
      "INSERT INTO requirements (sha256, document, revision, kept_at, body) SELECT 'x', document, '4', kept_at, body FROM requirements",
    ),
    /./,
    /requirement "example limits", revision 4: no entry put it/,
  ],
  [
    "the fluid of a circuit",
    sql("UPDATE circuit SET body = replace(body, '83282', '5606') WHERE circuit = 'aft'"),
    /carts /,
    /circuit aft of cart C-1: its record was changed/,
  ],
  [
    "a verdict's word",
    sql("UPDATE verdict SET verdict = 'fit' WHERE id = 2"),
    /verdicts /,
    /verdict 2 of cart C-1, circuit aft, judged for 2026-03-10: its record was changed/,
  ],
  [
    "a verdict with its hashes",
    makeFit,
    /verdicts /,
    /verdict \d+ of cart C-1, circuit aft, judged for 2026-03-10: its record was changed/,
  ],
  [
    "a deleted verdict",
    sql("DELETE FROM override; DELETE FROM verdict WHERE id = 6"),
    /verdicts /,
    /verdicts 6: it is gone/,
  ],
  [
    "an input of a verdict",
    (db) => db.prepare("UPDATE judged_input SET body = ? WHERE 1 = ?").run(deflateRawSync("{}"), 1),
    /verdicts /,
    /verdict \d of cart .* in the record was changed/,
  ],
  [
    "an override",
    sql("UPDATE override SET decision = 'fit'"),
    /override by A\. Person/,
    /decision 1 about cart C-2, circuit fore: its record was changed/,
  ],
  [
    "a deleted lifting",
    sql("DELETE FROM lifting"),
    /lifting by A\. Person/,
    /liftings of decisions 1: it is gone/,
  ],
  [
    "who did it",
    sql("UPDATE entry SET by = 'C. Person' WHERE kind = 'override'"),
    /override by C\. Person/,
    /its date, name, subject or hash was changed/,
  ],
  [
    "a deleted entry",
    sql("DELETE FROM piece WHERE entry = 4; DELETE FROM entry WHERE number = 4"),
    /./,
    /^entry 4 is gone/,
  ],
  [
    "two entries that changed places",
    sql(
      "UPDATE entry SET number = 99 WHERE number = 4; UPDATE entry SET number = 4 WHERE number = 5; UPDATE entry SET number = 5 WHERE number = 99",
    ),
    /entry 4/,
    /./,
  ],
  [
    "an entry that was put in",
    sql(
      "INSERT INTO entry SELECT (SELECT max(number) + 1 FROM entry), at, kind, by, 'again', body_sha256, hash, hash FROM entry WHERE number = (SELECT max(number) FROM entry)",
    ),
    /again/,
    /its date, name, subject or hash was changed/,
  ],
  [
    "the list of what an entry wrote",
    sql(
      "UPDATE piece SET sha256 = 'x' WHERE of_table = 'sample' AND entry = (SELECT min(entry) FROM piece WHERE of_table = 'sample')",
    ),
    /reading .*first\.csv/,
    /its list of what it wrote was changed/,
  ],
  [
    "all entries",
    sql("DELETE FROM replaced; DELETE FROM piece; DELETE FROM entry"),
    /./,
    /the book has no chain/,
  ],
  [
    "the last entries, with the rows left there",
    sql(
      "DELETE FROM piece WHERE entry > 6; DELETE FROM replaced WHERE entry > 6; DELETE FROM entry WHERE number > 6",
    ),
    /./,
    /no entry put it into the book/,
  ],
];

test("a sound book fits its chain, with every verdict computed again", async () => {
  const { code, json } = await runJson("verify", "--book", book);
  expect(code).toBe(0);
  expect(json).toMatchObject({ fits: true, first: null, damage: [], verdicts: { kept: 6, same: 6 } });
});

describe("found, with the entry named:", () => {
  test.each(FORGERIES)("%s", async (_what, act, entry, said) => {
    forge(act);
    const { code, json } = await runJson("verify", "--book", book);
    expect(code).toBe(1);
    expect(json.fits).toBe(false);
    const { message } = json.first as { message: string };
    expect(message).toMatch(entry);
    expect(message).toMatch(said);
  });

  test("a clock that was set back", async () => {
    const opened = Book.open(book);
    const { at } = opened.head();
    const late = Date.parse(at) - 6 * 60_000;
    const RealDate = Date;
    globalThis.Date = class extends RealDate {
      constructor(...given: []) {
        if (given.length === 0) super(late);
        else super(...given);
      }
    } as DateConstructor;
    opened.decideRows([opened.settledRows()[0]?.id ?? ""], {
      decision: "reopened",
      person: "A. Person",
      reason: "looked at again",
    });
    globalThis.Date = RealDate;
    opened.close();
    const { json } = await runJson("verify", "--book", book);
    expect(json.first).toMatchObject({
      message: expect.stringMatching(/quarantine by A\. Person.*the clock was set back/),
    });
  });
});

describe("a verdict that is listed as another than was computed, with a chain that was made again:", () => {
  test.each([
    [
      "fit",
      "verdict = 'fit' WHERE id = 2",
      /verdict 2 is listed as "fit" for C-1 aft on 2026-03-10, and was computed as "/,
    ],
    ["another cart's", "cart = 'C-9' WHERE id = 2", /verdict 2 is listed as "\S+" for C-9 aft on /],
    ["another circuit's", "circuit = 'fore' WHERE id = 2", /verdict 2 is listed as "\S+" for C-1 fore on /],
    [
      "another day's",
      "judged_on = '2026-03-11' WHERE id = 2",
      /verdict 2 is listed as "\S+" for C-1 aft on 2026-03-11/,
    ],
  ])("%s", async (_what, set, said) => {
    forge((db) => {
      db.exec(`UPDATE verdict SET ${set}`);
      dropChain(db);
    });
    const { code, json } = await runJson("verify", "--book", book);
    expect([code, json.fits, json.verdicts.same]).toEqual([1, false, 5]);
    expect(json.first.message).toMatch(said);
    const pack = await run("evidence", "--book", book, "--record", "2", "--out", `${book}.zip`);
    expect([pack.code, pack.err]).toEqual([2, expect.stringMatching(said)]);
  });
});

describe("not believed by judge, fleet, report and history, in one line that names it:", () => {
  const commands = (): string[][] => [
    ["judge", "--book", book, "--on", "2026-03-15"],
    ["fleet", "--book", book, "--on", "2026-03-15"],
    ["report", "--book", book, "--on", "2026-03-15", "--out", `${book}.html`],
    ["history", "--book", book, "--cart", "C-2", "--circuit", "fore"],
  ];

  test.each([
    [
      "a sample",
      "UPDATE sample SET water_ppm = 100 WHERE sample = 'S-5'",
      "sample S-5 of cart C-2, circuit fore",
    ],
    [
      "a text whose bytes are no text",
      "UPDATE sample SET fluid = CAST(x'ff41' AS TEXT) WHERE sample = 'S-5'",
      "bytes that are no text",
    ],
    [
      "the fluid of a circuit",
      "UPDATE circuit SET body = replace(body, '83282', '5606')",
      "circuit fore of cart C-1",
    ],
    ["a limit", "UPDATE requirements SET body = replace(body, '200', '400')", 'requirement "example limits"'],
    ["an override", "UPDATE override SET decision = 'fit'", "decision 1 about cart C-2"],
    ["a row in quarantine", "DELETE FROM quarantine", "rows in quarantine 1: it is gone"],
  ])("%s", async (_what, text, said) => {
    forge(sql(text));
    for (const command of commands()) {
      const { code, err } = await run(...command);
      expect([command[0], code]).toEqual([command[0], 2]);
      expect(err).toContain(said);
      expect(err).toMatch(/^siltbook: [^\n]+"siltbook verify"[^\n]+\n$/);
    }
  });
});

describe("a printed head", () => {
  test("is in the book that it was printed from, however the book has grown since", async () => {
    const digits = head(early).slice(0, 12);
    const { code, json } = await runJson("verify", "--book", book, "--against", digits);
    expect(code).toBe(0);
    expect(json).toMatchObject({ against: { isInBook: true } });
  });

  test.each([
    ["an older copy of the book in its place", () => copyFileSync(early, book)],
    [
      "a chain that was cut, with its rows",
      () =>
        forge(
          sql(
            "DELETE FROM quarantine_decision; DELETE FROM piece WHERE entry = 10; DELETE FROM replaced WHERE entry = 10; DELETE FROM entry WHERE number = 10",
          ),
        ),
    ],
  ])("%s: the book fits its chain and does not contain the head", async (_what, act) => {
    const digits = head(sound).slice(0, 12);
    act();
    const { code, json } = await runJson("verify", "--book", book, "--against", digits);
    expect(json).toMatchObject({ fits: true, against: { isInBook: false, entry: null } });
    expect(code).toBe(1);
  });

  test("of fewer than 12 digits, or of other signs, is refused", async () => {
    for (const text of ["3f2a9c1b2d0", "no head here"]) {
      const { code, err } = await run("verify", "--book", book, "--against", text);
      expect([code, err]).toEqual([2, expect.stringContaining("--against: expected 12 to 64 digits")]);
    }
  });
});

test("an older book keeps everything, and its chain says where it begins", async () => {
  forge(dropChain);
  const opened = Book.open(book);
  expect(opened.head()).toMatchObject({
    number: 1,
    kind: "begin",
    subject: "everything that was in the book when its chain began",
  });
  expect(opened.sampleCount).toBe(4);
  expect([...opened.samples()]).toHaveLength(4);
  expect(opened.verify()).toMatchObject({ fits: true, entries: 1, verdicts: { same: 6 } });
  opened.close();
  forge(sql("UPDATE override SET reason = 'none'"));
  expect((await runJson("verify", "--book", book)).json.first).toMatchObject({
    entry: 1,
    message: expect.stringContaining("decision 1 about cart C-2, circuit fore"),
  });
});

test("an entry is written in canonical form as RFC 8785, 3.2.2, prints it", () => {
  const value = {
    numbers: [333333333.3333333, 1e30, 4.5, 2e-3, 0.000000000000000000000000001],
    string: '\u20ac$\u000F\u000aA\'B"\\\\"/',
    literals: [null, true, false],
  };
  expect(canonicalJson(value)).toBe(
    `{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],"string":"€$\\u000f\\nA'B\\"\\\\\\\\\\"/"}`,
  );
});
