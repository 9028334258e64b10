import { createHash } from "node:crypto";
import { mkdtemp, readFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { deflateRawSync } from "node:zlib";
import fc from "fast-check";
import Database from "libsql";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { Book, BookError } from "../../src/book/index.js";
import { BOOK_APPLICATION_ID, MIGRATIONS } from "../../src/book/storage/migrations.js";
import {
  type CircuitCase,
  canonicalJson,
  judgeCircuit,
  type RecordedInput,
  recompute,
  recordOf,
} from "../../src/fitness/index.js";
import { VERSION } from "../../src/provenance/index.js";
import type { Sample } from "../../src/samples/index.js";
import { CIRCUIT, CLEAN, caseOf, countedIn, REQUIREMENT, sample } from "../support/fitness/bases.js";

const BY = { document: "limits", revision: "3" };
const record = (input: CircuitCase) => recordOf(input, judgeCircuit(input), BY);
const FIT = caseOf({
  requirement: { ...REQUIREMENT, confidence: { probability: 0.95, water: { sd: 10 } } },
  ...sample({ waterPpm: { value: 120 }, counts: countedIn(10, 600, 150, 10) }),
});

let path: string;
let book: Book;
beforeEach(async () => {
  path = join(await mkdtemp(join(tmpdir(), "siltbook-")), "a.siltbook");
  book = Book.open(path, { create: true });
});
afterEach(() => book.close());

const keep = (input: CircuitCase) => {
  const [kept] = book.keepVerdicts([record(input)]);
  if (kept === undefined) throw new Error("nothing was kept");
  return kept;
};

describe("the record of verdicts", () => {
  test("a verdict is kept with the hashes of its inputs, the revision of the requirement and the version", async () => {
    const kept = keep(FIT);
    expect(kept).toMatchObject({
      cart: "C-1",
      circuit: "1",
      on: "2026-03-14",
      verdict: "fit",
      ...BY,
      version: VERSION,
    });
    expect(kept.inputs.map(({ role }) => role)).toEqual(["case", "circuit", "requirement", "samples"]);
    for (const { sha256 } of kept.inputs) expect(sha256).toMatch(/^[0-9a-f]{64}$/);
  });

  test("the version recorded is the one of the package", async () => {
    expect(VERSION).toBe(JSON.parse(await readFile("package.json", "utf8")).version);
  });

  test("judging again from the stored record gives the same bytes, after the book was closed and opened", () => {
    const { id } = keep(FIT);
    book.close();
    book = Book.open(path);
    expect(book.recompute(id)).toEqual({ kind: "same", text: canonicalJson(judgeCircuit(FIT)) });
  });

  test("a verdict on the same inputs is kept once, and one on a changed sample by itself", () => {
    const first = keep(FIT);
    expect(keep(FIT).id).toBe(first.id);
    const [one] = FIT.samples;
    const wetter = { ...FIT, samples: [{ ...(one ?? CLEAN), waterPpm: { value: 250 } }] };
    const second = keep(wetter);
    expect(second.id).not.toBe(first.id);
    expect(second.verdict).toBe("exchange-fluid");
    expect(book.verdictBefore(second)?.id).toBe(first.id);
    expect(book.verdictBefore(first)).toBeUndefined();
    // Circuit and requirement are shared: only the sample is another piece.
    const roles = second.inputs.filter(({ sha256 }, index) => first.inputs[index]?.sha256 !== sha256);
    expect(roles.map(({ role }) => role)).toEqual(["samples"]);
  });

  test("an earlier record, with each sample by itself and those beside within their circuit, still judges the same", () => {
    const neighbours = [{ circuit: { ...FIT.circuit, circuit: "2" }, samples: FIT.samples }];
    const verdict = judgeCircuit({ ...FIT, neighbours });
    const { samples, requirement, circuit, ...rest } = FIT;
    const part = (role: RecordedInput["role"], value: unknown) => ({ role, text: canonicalJson(value) });
    const earlier = [
      part("case", rest),
      part("circuit", circuit),
      part("requirement", requirement),
      ...samples.map((sample) => part("sample", sample)),
      part("beside", neighbours[0]),
    ];
    expect(canonicalJson(recompute(earlier))).toBe(canonicalJson(verdict));
    expect(canonicalJson(recompute(recordOf({ ...FIT, neighbours }, verdict, BY).inputs))).toBe(
      canonicalJson(verdict),
    );
  });

  test("of a long history only the last piece is another when a sample comes to it", () => {
    const samples = Array.from({ length: 70 }, (_, index) => ({ ...CLEAN, sample: `S-${index}` }));
    const inputs = (history: readonly Sample[]) =>
      record({ ...FIT, samples: history }).inputs.filter(({ role }) => role === "samples");
    const [before, after] = [inputs(samples.slice(0, 69)), inputs(samples)];
    expect(before).toHaveLength(3);
    expect(after.map(({ text }, index) => text === before[index]?.text)).toEqual([true, true, false]);
    expect(after.flatMap(({ text }) => JSON.parse(text))).toEqual(samples);
  });

  test("canonical JSON is JSON with the names in the order in which objects list them", () => {
    const inOrder = (value: unknown): unknown => {
      if (value === null || typeof value !== "object") return value;
      if (Array.isArray(value)) return value.map(inOrder);
      return Object.fromEntries(
        Object.entries(value)
          .sort(([a], [b]) => (a < b ? -1 : 1))
          .map(([name, entry]) => [name, inOrder(entry)]),
      );
    };
    const name = fc.oneof(
      fc.string(),
      fc.constantFrom("0", "14", "4", "04", "4294967294", "4294967295", "-1", "a", "__proto__"),
    );
    const value = fc.letrec<{ any: unknown }>((tie) => ({
      any: fc.oneof(
        { maxDepth: 4 },
        fc.constantFrom(null, true, undefined, -0, 1e21, 5e-324, "\u2028", "\ud800"),
        fc.double({ noNaN: true, noDefaultInfinity: true }),
        fc.string({ unit: "binary" }),
        fc.array(tie("any"), { maxLength: 4 }),
        fc.dictionary(name, tie("any"), { maxKeys: 6, noNullPrototype: true }),
      ),
    })).any;
    fc.assert(
      fc.property(
        value.filter((entry) => entry !== undefined),
        (entry) => {
          expect(canonicalJson(entry)).toBe(JSON.stringify(inOrder(entry)));
        },
      ),
      { numRuns: 500 },
    );
    for (const number of [Number.NaN, Number.POSITIVE_INFINITY])
      expect(() => canonicalJson({ a: [number] })).toThrow(`${number} cannot be recorded`);
  });

  test("a result that would be another now is distinguished, with the version that judged", () => {
    const { id } = keep(FIT);
    const other = canonicalJson({ ...judgeCircuit(FIT), verdict: "resample" });
    tamper("result", other);
    expect(book.recompute(id)).toMatchObject({ kind: "differs", recorded: other, version: VERSION });
  });

  test("an input that was changed behind the book's back is found by its hash", () => {
    const { id } = keep(FIT);
    tamper("input", "{}");
    expect(() => book.recompute(id)).toThrow(BookError);
    expect(() => book.recompute(id)).toThrow("was changed after it was kept");
  });

  test("the verdict before is that of the last earlier day", () => {
    const days = ["2026-03-12", "2026-03-13", "2026-03-14"].map((on) => keep({ ...FIT, on }));
    expect(book.verdictBefore(days[2] as (typeof days)[2] & object)?.on).toBe("2026-03-13");
    expect(book.verdictBefore(days[0] as (typeof days)[0] & object)).toBeUndefined();
    expect(book.verdicts({ cart: "C-1", on: "2026-03-13" })).toHaveLength(1);
  });
});

describe("an override by a person", () => {
  test("is kept with its reason beside the verdict, which stays as computed, and recomputes the same", () => {
    const { id } = keep(FIT);
    book.override(id, { person: "A. Person", decision: "do-not-connect", reason: "bottle found open" });
    const [kept] = book.verdicts();
    expect(kept?.verdict).toBe("fit");
    expect(kept?.overrides).toMatchObject([
      { person: "A. Person", decision: "do-not-connect", reason: "bottle found open" },
    ]);
    expect(book.recompute(id).kind).toBe("same");
    expect(keep(FIT)).toMatchObject({ id, verdict: "fit" });
  });

  test.each([
    ["without a reason", { reason: "  " }, "an override needs a reason"],
    ["without a name", { person: "" }, "an override needs the name of the person"],
    ["with a decision that is none", { decision: "ok" as never }, '"ok" is no decision'],
  ])("is refused %s", (_name, change, message) => {
    const { id } = keep(FIT);
    const override = { person: "A. Person", decision: "resample" as const, reason: "seen", ...change };
    expect(() => book.override(id, override)).toThrow(message);
  });

  test("of a verdict that is not in the book is refused", () => {
    expect(() => book.override(7, { person: "A", decision: "fit", reason: "b" })).toThrow(
      "no verdict number 7",
    );
  });
});

describe("an older book", () => {
  test("a book of the first version gets the table of verdicts when it is opened", () => {
    book.close();
    const older = `${path}-of-the-first-version`;
    const db = new Database(older);
    db.exec(MIGRATIONS[0] as string);
    db.exec(`PRAGMA application_id = ${BOOK_APPLICATION_ID}; PRAGMA user_version = 1`);
    db.close();
    book = Book.open(older);
    expect(keep(FIT).verdict).toBe("fit");
  });
});

/** Changes the record as no program of ours does; a result is changed with its hash, an input without. */
function tamper(what: "result" | "input", text: string): void {
  book.close();
  const db = new Database(path);
  if (what === "result") {
    db.prepare("UPDATE verdict SET verdict = ?, result = ?, result_sha256 = ?").run(
      JSON.parse(text).verdict,
      deflateRawSync(text),
      createHash("sha256").update(text).digest("hex"),
    );
  } else db.prepare("UPDATE judged_input SET body = ? WHERE 1 = ?").run(deflateRawSync(text), 1);
  db.close();
  book = Book.open(path);
}

describe("the text of a record", () => {
  test("has names in order at every depth, lists as they are, and null", () => {
    expect(canonicalJson({ b: 1, aa: { z: null, y: [3, 1, { d: 1, c: 2 }] }, a: "x", B: true })).toBe(
      '{"B":true,"a":"x","aa":{"y":[3,1,{"c":2,"d":1}],"z":null},"b":1}',
    );
  });

  test("refuses a number that it has no form for", () => {
    for (const value of [Number.NaN, Number.POSITIVE_INFINITY])
      expect(() => canonicalJson({ a: [value] })).toThrow(`${value} cannot be recorded`);
  });

  test("gives the same verdict again, with the circuits beside and without a requirement", () => {
    const neighbours = [{ circuit: { ...CIRCUIT, circuit: "2" }, samples: [CLEAN] }];
    const { requirement: _, ...bare } = FIT;
    for (const input of [{ ...FIT, neighbours }, FIT, bare]) {
      const { inputs, verdict } = record(input);
      const roles = inputs.map(({ role }) => role);
      expect(roles.filter((role) => role === "beside")).toHaveLength("neighbours" in input ? 1 : 0);
      expect(roles.includes("requirement")).toBe("requirement" in input);
      expect(canonicalJson(recompute(inputs))).toBe(verdict);
      expect(record({ ...bare, ...input }).inputs).toEqual(inputs);
    }
  });

  test("without its case or its circuit cannot be judged again", () => {
    const { inputs } = record(FIT);
    for (const missing of ["case", "circuit"])
      expect(() => recompute(inputs.filter(({ role }) => role !== missing))).toThrow(
        "a record of a verdict needs a case and a circuit",
      );
  });
});
