// A verdict that another version computed otherwise is no forgery, and a forgery is not hidden by naming another version.
import { createHash } from "node:crypto";
import { copyFileSync, mkdtempSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { deflateRawSync, inflateRawSync } from "node:zlib";
import Database from "libsql";
import { beforeAll, beforeEach, describe, expect, test } from "vitest";
import { Book } from "../../../src/book/index.js";
import { canonicalJson, type RecordedInput, type VerdictRecord } from "../../../src/fitness/index.js";
import { circuitNamed as circuit, HEADER, requirementsWith } from "../../support/book/main-system.js";
import { dropChain } from "../../support/drop-chain.js";
import { run, runJson } from "../../support/run-cli.js";
import { temporaryFolder } from "../../support/temporary-folder.js";

type Db = InstanceType<typeof Database>;

const base = temporaryFolder();
const sound = join(base, "sound.siltbook");
let book: string;

beforeAll(async () => {
  const at = (name: string, text: string) => {
    writeFileSync(join(base, name), text);
    return join(base, name);
  };
  const carts = at("carts.json", JSON.stringify({ carts: [{ cart: "C-1", circuits: [circuit("fore")] }] }));
  const requirement = at("requirement.json", JSON.stringify(requirementsWith()));
  const results = at("first.csv", `${HEADER}\nS-1,C-1,fore,2026-03-04,MIL-PRF-83282,900,300,30,350,0.1\n`);
  await run("import", "--book", sound, "--carts", carts, "--requirement", requirement, results);
  await run("judge", "--book", sound, "--on", "2026-03-10");
});

beforeEach(() => {
  book = join(mkdtempSync(join(base, "t-")), "a.siltbook");
  copyFileSync(sound, book);
});

/** Reads or changes the file as no program of ours does. */
function withDriver<T>(act: (db: Db) => T): T {
  const db = new Database(book);
  db.exec("PRAGMA foreign_keys = OFF");
  const result = act(db);
  db.close();
  return result;
}

interface Row {
  readonly inputs: string;
  readonly result: Buffer;
  readonly document: string;
  readonly revision: string;
}

/** Verdict 1 of the book, as its record was given to the book. */
function recordOfFirst(): VerdictRecord {
  return withDriver((db) => {
    const row = db.prepare("SELECT * FROM verdict WHERE id = 1").get() as Row;
    const body = db.prepare("SELECT body FROM judged_input WHERE sha256 = ?");
    const textOf = (bytes: Buffer) => inflateRawSync(bytes).toString("utf8");
    const inputs = (JSON.parse(row.inputs) as { role: RecordedInput["role"]; sha256: string }[]).map(
      ({ role, sha256 }) => ({ role, text: textOf((body.get(sha256) as { body: Buffer }).body) }),
    );
    const { document, revision } = row;
    return { inputs, verdict: textOf(row.result), judgedBy: { document, revision }, version: "0.1.0" };
  });
}

type Edit = (verdict: Record<string, unknown>) => object;

/** Has the book keep a verdict as a siltbook of that version would have, with the chain written by the book. */
function keptBy(version: string, edit: Edit, inputs?: readonly RecordedInput[]): void {
  const record = recordOfFirst();
  const verdict = canonicalJson(edit(JSON.parse(record.verdict)));
  const opened = Book.open(book);
  opened.keepVerdicts([{ ...record, verdict, version, ...(inputs && { inputs }) }]);
  opened.close();
}

const asFit: Edit = (verdict) => ({ ...verdict, verdict: "fit" });
const otherFigures: Edit = (verdict) => ({ ...verdict, assessed: [] });
const as: Edit = (verdict) => verdict;

describe("a verdict of another version that comes out otherwise is named, and the book fits its chain:", () => {
  const APART: readonly [string, () => void, version: string, today: string | null, said: string][] = [
    [
      "of an earlier version",
      () => keptBy("0.0.9", asFit),
      "0.0.9",
      "exchange-fluid",
      '"fit" then, "exchange the fluid" now',
    ],
    [
      "of a later version",
      () => keptBy("9.0.0", asFit),
      "9.0.0",
      "exchange-fluid",
      '"fit" then, "exchange the fluid" now',
    ],
    [
      "the same word with other figures",
      () => keptBy("0.0.9", otherFigures),
      "0.0.9",
      "exchange-fluid",
      '"exchange the fluid" then and now, with other reasons or figures',
    ],
    [
      "inputs that are read no more",
      () => keptBy("0.0.9", as, [{ role: "case", text: "{}" }]),
      "0.0.9",
      null,
      '"exchange the fluid" then, and cannot be computed now',
    ],
  ];

  test.each(APART)("%s", async (_what, keep, version, today, said) => {
    keep();
    const { code, json } = await runJson("verify", "--book", book);
    const { fits, first, verdicts } = json;
    expect([code, fits, first, verdicts.kept, verdicts.same]).toEqual([1, true, null, 2, 1]);
    expect(verdicts.otherwise).toEqual([
      expect.objectContaining({ number: 2, cart: "C-1", circuit: "fore", on: "2026-03-10", version, today }),
    ]);
    const { out } = await run("verify", "--book", book);
    const text = out.replace(/\s+/g, " ");
    expect(text).toMatch(/^The book fits its chain, but another version computed 1 verdict otherwise\. /);
    expect(text).toContain(
      `Made by siltbook ${version}, computed otherwise by 0.1.0: 1 verdict verdict 2 of`,
    );
    expect(text).toContain(said);
    expect(text).toContain("no sign of a forgery");
    expect(text).not.toContain("does not fit");
  });

  test("one that comes out the same is counted, and all is well", async () => {
    keptBy("0.0.9", as);
    const { code, json } = await runJson("verify", "--book", book);
    expect(code).toBe(0);
    expect(json.verdicts).toEqual({ kept: 2, same: 2, sameOfOthers: { "0.0.9": 1 }, otherwise: [] });
  });

  test("its backup is restored, another book takes it in, and its pack says the same", async () => {
    keptBy("0.0.9", asFit);
    const restored = await run("restore", "--from", book, "--to", `${book}.new`);
    expect([restored.code, restored.err]).toEqual([0, ""]);
    const joined = await run("import", "--book", sound.replace("sound", "joined"), book);
    expect(joined.err).not.toContain("nothing of it was brought in");
    const pack = `${book}.zip`;
    const made = await run("evidence", "--book", book, "--record", "2", "--out", pack);
    expect([made.code, made.out.replace(/\s+/g, " ")]).toEqual([
      1,
      expect.stringContaining('"fit" then, "exchange the fluid" now'),
    ]);
    const { code, json } = await runJson("verify", "--evidence", pack);
    expect([code, json.fits, json.first]).toEqual([1, false, null]);
    expect(json.computedOtherwise).toMatchObject({ number: 2, recorded: "fit", today: "exchange-fluid" });
    const { out } = await run("verify", "--evidence", pack);
    expect(out).toMatch(/^The pack is as its chain says, but/);
    expect(out).not.toMatch(/does not fit|with the same answer/);
  });
});

describe("naming another version hides no forgery:", () => {
  const sql = (text: string) => () => withDriver((db) => db.exec(text));
  /** Gives a verdict another result, with every hash that is in its own row. */
  const rewrite = (number: number, set: string) => () =>
    withDriver((db) => {
      const row = db.prepare("SELECT result FROM verdict WHERE id = ?").get(number) as Row;
      const text = canonicalJson({
        ...JSON.parse(inflateRawSync(row.result).toString()),
        verdict: "circulate",
      });
      const hash = createHash("sha256").update(text).digest("hex");
      db.prepare(
        `UPDATE verdict SET ${set}, verdict = 'circulate', result = ?, result_sha256 = ? WHERE id = ?`,
      ).run(...[deflateRawSync(text), hash, number]);
    });
  const older = () => keptBy("0.0.9", asFit);

  const FORGED: readonly [string, (() => unknown)[], RegExp][] = [
    [
      "another result of this version",
      [() => keptBy("0.1.0", asFit, newInputs())],
      /verdict 2 .* comes out otherwise/,
    ],
    [
      "an edited result of an earlier version",
      [older, rewrite(2, "at = at")],
      /verdict 2 .* its record was changed/,
    ],
    [
      "an edited result that was given an earlier version",
      [rewrite(1, "version = '0.0.9'")],
      /verdict 1 .* its record was changed/,
    ],
    [
      "a verdict of this version that was given an earlier one, and its result left",
      [() => keptBy("0.1.0", asFit, newInputs()), sql("UPDATE verdict SET version = '0.0.9' WHERE id = 2")],
      /verdict 2 .* its record was changed/,
    ],
    [
      "a verdict that no entry wrote",
      [
        older,
        sql(
          `INSERT INTO verdict (id, at, judged_on, cart, circuit, verdict, inputs, result_sha256, result, inputs_sha256, document, revision, version)
             SELECT 9, at, judged_on, cart, circuit, verdict, inputs, result_sha256, result, inputs_sha256, document, revision, '0.0.8'
             FROM verdict WHERE id = 2`,
        ),
      ],
      /verdict 9 .*no entry put it into the book/,
    ],
    [
      "an entry that was changed",
      [older, sql("UPDATE entry SET subject = 'x' WHERE number = 1")],
      /entry 1 .* was changed/,
    ],
    [
      "a row that says another outcome than its own result, with a chain that was made again",
      [older, sql("UPDATE verdict SET verdict = 'circulate' WHERE id = 2"), () => withDriver(dropChain)],
      /verdict 2 is listed as "circulate" .* and was computed as "fit"/,
    ],
    [
      "a result without its hash, with a chain that was made again",
      [older, sql("UPDATE verdict SET result_sha256 = 'x' WHERE id = 2"), () => withDriver(dropChain)],
      /the verdict in the record was changed after it was kept/,
    ],
    [
      "an input that unpacks no more",
      [older, sql("UPDATE judged_input SET body = x'ff00'")],
      /in the record was changed after it was kept|what verdicts rest on/,
    ],
  ];

  /** The book keeps a verdict of this version on the same inputs once. */
  function newInputs(): readonly RecordedInput[] {
    return recordOfFirst().inputs.map(({ role, text }) => ({
      role,
      text: role === "circuit" ? text.replace("{", '{"note":"x",') : text,
    }));
  }

  test.each(FORGED)("%s", (_what, steps, said) => {
    for (const step of steps) step();
    const opened = Book.open(book);
    const { fits, misfits, verdicts } = opened.verify();
    opened.close();
    expect([fits, verdicts.otherwise]).toEqual([false, []]);
    expect(misfits.map(({ message }) => message).join("\n")).toMatch(said);
  });
});
