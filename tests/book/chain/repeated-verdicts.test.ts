// Who wants a dirty cart called fit may try to let a morning go by an older, cleaner verdict, or by one of another circuit.
import { copyFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import Database from "libsql";
import { beforeAll, beforeEach, describe, expect, test } from "vitest";
import { Book, type FleetOfBookPaths, judgeBook, readFleetOutline } from "../../../src/book/index.js";
import { canonicalJson, type Verdict, type VerdictRecord } from "../../../src/fitness/index.js";
import { bytesInMemory } from "../../../src/intake/index.js";
import { inFull, judgedFleet } from "../../support/book/judged-fleet.js";
import { circuitNamed, HEADER, requirementsWith } from "../../support/book/main-system.js";
import { temporaryFolder } from "../../support/temporary-folder.js";

const folder = temporaryFolder();
const sound = join(folder, "sound.siltbook");
const path = join(folder, "a.siltbook");

const row = (sample: string, cart: string, day: string, count = 900) =>
  `${sample},${cart},fore,2026-03-${day},MIL-PRF-83282,${count},300,30,150,0.1`;

async function bringIn(to: string, ...rows: string[]): Promise<void> {
  await withBook(to, (book) =>
    book.takeIn(bytesInMemory(`${rows[0]}.csv`, new TextEncoder().encode([HEADER, ...rows].join("\n"))), {
      today: "2026-03-12",
    }),
  );
}

async function withBook<T>(to: string, act: (book: Book) => T | Promise<T>): Promise<T> {
  const book = Book.open(to, { create: true });
  try {
    return await act(book);
  } finally {
    book.close();
  }
}

function edit(sql: string): void {
  const db = new Database(path);
  db.exec(sql);
  db.close();
}

const verified = () => withBook(path, (book) => book.verify());

/** On the 8th both carts are fit; C-1 turns out dirty on the 9th, and is judged so on the 10th. */
beforeAll(async () => {
  await withBook(sound, (book) => {
    const carts = ["C-1", "C-2"].map((cart) => ({ cart, circuits: [circuitNamed("fore")] }));
    book.keepCarts("carts.json", JSON.stringify({ carts }));
    book.keepRequirements("requirement.json", JSON.stringify(requirementsWith()));
  });
  await bringIn(sound, row("S-1", "C-1", "04"), row("S-2", "C-2", "04"));
  expect((await judgedFleet(sound, "2026-03-08")).stands).toEqual({ "C-1 fore": "fit", "C-2 fore": "fit" });
  await bringIn(sound, row("S-3", "C-1", "09", 9000));
  const { stands, read } = await judgedFleet(sound, "2026-03-10");
  expect([stands, read]).toEqual([{ "C-1 fore": "circulate", "C-2 fore": "fit" }, 1]);
});

beforeEach(() => copyFileSync(sound, path));

const DIRTY = { "C-1 fore": "circulate", "C-2 fore": "fit" };

describe("a verdict that is not the last of its circuit, or not of it", () => {
  test("an undisturbed book reads no sample on the next morning, and fits", async () => {
    const { stands, read } = await judgedFleet(path, "2026-03-11");
    expect([stands, read]).toEqual([DIRTY, 0]);
    expect((await verified()).fits).toBe(true);
  });

  test("an older one is not gone by when the last one is gone, because a sample came in since", async () => {
    edit("DELETE FROM verdict WHERE cart = 'C-1' AND judged_on = '2026-03-10'");
    const { stands, read } = await judgedFleet(path, "2026-03-11");
    expect([stands, read]).toEqual([DIRTY, 2]);
    expect((await verified()).fits).toBe(false);
  });

  const OF_OTHER = (column: string) =>
    `(SELECT ${column} FROM verdict WHERE cart = 'C-2' AND judged_on = '2026-03-10')`;
  test.each([
    [
      "that of another circuit under its name",
      `result = ${OF_OTHER("result")}, result_sha256 = ${OF_OTHER("result_sha256")}, verdict = 'fit'`,
    ],
    ["another day", "judged_on = '2026-03-11'"],
    ["other inputs", `inputs = ${OF_OTHER("inputs")}, inputs_sha256 = 'x'`],
    ["another version", "version = '0.0.1'"],
  ])("a row that was changed to %s ends the run, and is found", async (_what, change) => {
    edit(`UPDATE verdict SET ${change} WHERE cart = 'C-1' AND judged_on = '2026-03-10'`);
    await expect(judgedFleet(path, "2026-03-11")).rejects.toThrow(/^verdict 3 is not as it was written/);
    expect((await verified()).fits).toBe(false);
  });

  test("what an import wrote cannot be hidden by taking its piece away", async () => {
    edit(
      "DELETE FROM piece WHERE of_table = 'sample' AND entry = (SELECT max(entry) FROM piece WHERE of_table = 'sample')",
    );
    await withBook(path, (book) => expect(book.samplesWritten()).toBeUndefined());
    expect((await judgedFleet(path, "2026-03-11")).read).toBe(2);
    expect((await verified()).fits).toBe(false);
  });

  test("a sample that no entry wrote is looked at", async () => {
    edit(`INSERT INTO sample SELECT 99, circuit_id, 'S-9', '2026-03-10', drawn_time, fluid, count_volume_ml, counts, water_ppm,
      water_limit, acid_mg_koh_per_g, acid_limit, viscosity_40_mm2_per_s, viscosity_40_limit, more, file_id, sheet, rows, row_check
      FROM sample WHERE sample = 'S-2'`);
    await expect(judgedFleet(path, "2026-03-11")).rejects.toThrow(/sample S-9 of cart C-2/);
  });
});

test("a what-if goes by the last verdicts only where it rests on the same", async () => {
  const judgedBy = async (paths: FleetOfBookPaths) => {
    const outline = readFleetOutline(path, { ...paths, on: "2026-03-11" });
    const verdicts: string[] = [];
    for await (const circuits of judgeBook(path, outline, "2026-03-11"))
      verdicts.push(...circuits.map(({ verdict }) => verdict.verdict));
    return verdicts;
  };
  const strict = join(folder, "strict.json");
  writeFileSync(strict, JSON.stringify(requirementsWith({ waterPpmMax: 100 })));
  expect(await judgedBy({})).toEqual(["circulate", "fit"]);
  expect(await judgedBy({ requirement: strict })).toEqual(["exchange-fluid", "exchange-fluid"]);
  // None of the samples was known then.
  expect(await judgedBy({ asOf: "2026-03-08" })).toEqual(["resample", "resample"]);
});

describe("a verdict that was not made by judging this book", () => {
  const forged = (on: string): Promise<VerdictRecord> =>
    withBook(path, (book) => {
      const last = book.verdicts({ cart: "C-1" }).at(-1);
      const { inputs } = book.evidence(last?.id as number);
      const clean = book.recompute(1);
      if (clean.kind !== "same") throw new Error("verdict 1 is not as it was");
      return {
        inputs: inputs.map((own) =>
          own.role === "case" ? { ...own, text: canonicalJson({ ...JSON.parse(own.text), on }) } : own,
        ),
        verdict: canonicalJson({ ...(JSON.parse(clean.text) as Verdict), on }),
        judgedBy: { document: last?.document as string, revision: last?.revision as string },
        version: last?.version as string,
      };
    });

  test("one that a program keeps is found, and the next morning does not go by it", async () => {
    const record = await forged("2026-03-11");
    await withBook(path, (book) => book.keepVerdicts([record]));
    const { stands, read } = await judgedFleet(path, "2026-03-12");
    expect([stands, read]).toEqual([DIRTY, 1]);
    expect((await verified()).misfits.map(({ message }) => message).join()).toMatch(/comes out otherwise/);
  });

  test("one of another version is not gone by", async () => {
    const record = { ...(await forged("2026-03-11")), version: "0.0.1" };
    await withBook(path, (book) => book.keepPacked(book.packVerdicts([record]), book.lastChange().number));
    expect(await judgedFleet(path, "2026-03-12")).toMatchObject({ stands: DIRTY, read: 1 });
  });

  test("results that come in while a fleet is judged are not in its verdicts: their carts are judged again", async () => {
    const before = readFleetOutline(path, { on: "2026-03-11" });
    await bringIn(path, row("S-4", "C-2", "10", 9000));
    for await (const _ of judgeBook(path, before, "2026-03-11"));
    await withBook(path, (book) =>
      expect(book.entries().at(-1)?.subject).toMatch(/^judged from entry \d+: verdicts up to 6,/),
    );
    const { stands, read } = await judgedFleet(path, "2026-03-12");
    expect([stands, read]).toEqual([{ ...DIRTY, "C-2 fore": "circulate" }, 1]);
    expect((await judgedFleet(path, "2026-03-13")).read).toBe(0);
  });

  test("a fleet that was judged in full, without looking at the last verdicts, is judged in full again", async () => {
    expect(inFull(readFleetOutline(path, { on: "2026-03-11" }))).not.toHaveProperty("lastChange");
    expect((await judgedFleet(path, "2026-03-11", true)).read).toBe(2);
    expect((await judgedFleet(path, "2026-03-12")).read).toBe(2);
    expect((await judgedFleet(path, "2026-03-13")).read).toBe(0);
  });
});
