import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { beforeAll, describe, expect, test } from "vitest";
import writeSheet from "write-excel-file/node";
import { evidenceFromBook, verifyEvidence } from "../../src/evidence/index.js";
import { circuitNamed, requirementsWith } from "../support/book/main-system.js";
import { textIn } from "../support/edited-packs.js";
import { run } from "../support/run-cli.js";
import { temporaryFolder } from "../support/temporary-folder.js";

const folder = temporaryFolder();
const book = join(folder, "kinds.siltbook");
const at = (name: string, content: string | Uint8Array) => {
  writeFileSync(join(folder, name), content);
  return join(folder, name);
};

const TITLES = [
  "sample",
  "cart",
  "circuit",
  "drawn on",
  "4 µm(c) per mL",
  "6 µm(c) per mL",
  "14 µm(c) per mL",
  "water (mg/kg)",
];
const cellsOf = (cart: string) => [`S-${cart}`, cart, "main", "2026-03-04", 900, 300, 30, 150];
const table = (cart: string, separator: string) =>
  [TITLES, cellsOf(cart)].map((cells) => cells.join(separator));

/** One file of each kind, with one sample of a cart of its own. */
const KINDS: readonly {
  readonly kind: string;
  readonly cart: string;
  readonly file: string;
  readonly content: (cart: string) => string | Uint8Array | Promise<Uint8Array>;
  /** What is read again from the kept rows alone. */
  readonly fromRows: { readonly result: string; readonly isAsDelivered: boolean };
}[] = [
  {
    kind: "lines ended by a line feed",
    cart: "C-1",
    file: "feed.csv",
    content: (cart) => `${table(cart, ",").join("\n")}\n`,
    fromRows: { result: "same", isAsDelivered: true },
  },
  {
    kind: "lines ended by carriage return and line feed, the last one not, after a mark of UTF-8",
    cart: "C-2",
    file: "return.csv",
    content: (cart) => `\ufeff${table(cart, ";").join("\r\n")}`,
    fromRows: { result: "same", isAsDelivered: true },
  },
  {
    kind: "an encoding of one byte a character",
    cart: "C-3",
    file: "latin.csv",
    content: (cart) => Buffer.from(`${table(cart, ";").join("\r\n")}\r\n`, "latin1"),
    fromRows: { result: "same", isAsDelivered: false },
  },
  {
    kind: "a cell of two lines, blank lines and a footer",
    cart: "C-4",
    file: "footer.csv",
    content: (cart) =>
      `Laboratory report\n\n${TITLES.join(",")},remark\n${cellsOf(cart).join(",")},"one\ntwo"\n\nEnd of report\n`,
    fromRows: { result: "same", isAsDelivered: true },
  },
  {
    kind: "JSON Lines",
    cart: "C-5",
    file: "lines.jsonl",
    content: (cart) =>
      `${JSON.stringify(Object.fromEntries(TITLES.map((title, index) => [title, cellsOf(cart)[index]])))}\n`,
    fromRows: { result: "same", isAsDelivered: true },
  },
  {
    kind: "a JSON document",
    cart: "C-6",
    file: "list.json",
    content: (cart) =>
      JSON.stringify(
        [Object.fromEntries(TITLES.map((title, index) => [title, cellsOf(cart)[index]]))],
        null,
        1,
      ),
    fromRows: { result: "same", isAsDelivered: false },
  },
  {
    kind: "samples in columns",
    cart: "C-7",
    file: "across.csv",
    content: (cart) =>
      `${TITLES.map((title, at) => `${title},${cellsOf(cart)[at]},${cellsOf(`${cart}b`)[at]}`).join("\n")}\n`,
    fromRows: { result: "not at hand", isAsDelivered: false },
  },
  {
    kind: "a workbook",
    cart: "C-8",
    file: "book one.xlsx",
    content: async (cart) =>
      writeSheet([TITLES, cellsOf(cart)].map((cells) => cells.map((value) => ({ value })))).toBuffer(),
    fromRows: { result: "not at hand", isAsDelivered: false },
  },
];

beforeAll(async () => {
  const names = [...KINDS.map(({ cart }) => cart), "C-7b", "C-9", "C-10", "C-11"];
  const carts = at(
    "carts.json",
    JSON.stringify({ carts: names.map((cart) => ({ cart, circuits: [circuitNamed("main")] })) }),
  );
  const requirement = at(
    "requirement.json",
    JSON.stringify(requirementsWith({ acidMgKohPerGMax: "not-limited" })),
  );
  const files = await Promise.all(
    KINDS.map(async ({ file, cart, content }) => at(file, await content(cart))),
  );
  const reported = (water: number, day: string) =>
    `${TITLES.join(",")},reported on\n${cellsOf("C-9").slice(0, -1).join(",")},${water},${day}\n`;
  files.push(at("early.csv", reported(150, "2026-03-05")), at("late.csv", reported(160, "2026-03-07")));
  const imported = await run(
    "import",
    "--book",
    book,
    "--carts",
    carts,
    "--requirement",
    requirement,
    "--on",
    "2026-03-10",
    ...files,
  );
  expect(imported.err).toBe("");
  const odd = at(
    "odd.csv",
    `${TITLES.join(",").replace("water (mg/kg)", "wet")}\n${cellsOf("C-10").join(",")}\n`,
  );
  const map = at(
    "map.json",
    JSON.stringify({
      siltbookColumnMap: 1,
      name: "old counter",
      columns: { wet: { holds: "water", unit: "ppm by mass" } },
    }),
  );
  const mapped = await run("import", "--book", book, "--map", map, "--on", "2026-03-10", odd);
  expect(mapped).toMatchObject({ code: 0, err: "" });
  const judged = await run("judge", "--book", book, "--on", "2026-03-10");
  expect(judged).toMatchObject({ err: "" });
});

describe("the laboratory's files of a pack", () => {
  test.each(KINDS)("$kind: what the kept rows alone say", async ({ cart, fromRows }) => {
    const { files } = await evidenceFromBook(book, { cart });
    const found = await verifyEvidence(files);
    expect(found.misfits).toEqual([]);
    expect(found.samples).toMatchObject([{ sample: `S-${cart}`, ...fromRows }]);
    expect(textIn(files, "rows.csv")).toContain(`S-${cart}`);
  });

  test.each(KINDS)(
    "$kind: with the file as it was delivered, the sample is read again",
    async ({ cart, file }) => {
      const originals = [{ file, bytes: readFileSync(join(folder, file)) }];
      const { files } = await evidenceFromBook(book, { cart }, { originals });
      const found = await verifyEvidence(files);
      expect(found.misfits).toEqual([]);
      expect(found.samples).toMatchObject([{ result: "same", isAsDelivered: true }]);
    },
  );

  test("a corrected sample is read again from all of its reports", async () => {
    const { files } = await evidenceFromBook(book, { cart: "C-9" });
    const found = await verifyEvidence(files);
    expect(found.misfits).toEqual([]);
    expect(found.samples).toEqual([
      { sample: "S-C-9", files: ["late.csv", "early.csv"], result: "same", isAsDelivered: true },
    ]);
    expect(textIn(files, "samples.csv")).toContain("yes");
  });

  test("a column map is in the pack, and the file is read again with it", async () => {
    const { files } = await evidenceFromBook(book, { cart: "C-10" });
    const found = await verifyEvidence(files);
    expect(found.misfits).toEqual([]);
    expect(found.samples).toMatchObject([{ result: "same" }]);
    expect(found.covered.map(({ what }) => what)).toContain("the column map");
    expect(JSON.parse(textIn(files, "reading.json"))[0].columnMap).toMatchObject({ name: "old counter" });
  });

  test("a verdict without any sample has evidence too", async () => {
    const found = await verifyEvidence((await evidenceFromBook(book, { cart: "C-11" })).files);
    expect(found).toMatchObject({ fits: true, samples: [], verdict: { cart: "C-11", verdict: "resample" } });
  });

  test("a sample whose file was taken back keeps the evidence of the verdicts before", async () => {
    const before = new Set((await evidenceFromBook(book, { cart: "C-1" })).files.map(({ path }) => path));
    await run("withdraw", "--book", book, "feed.csv", "--by", "A. Person", "--reason", "of another base");
    const { files } = await evidenceFromBook(book, { cart: "C-1" });
    const found = await verifyEvidence(files);
    expect(found).toMatchObject({ fits: true, samples: [{ sample: "S-C-1", result: "same" }] });
    expect(new Set(files.map(({ path }) => path))).toEqual(before);
  });

  test("a decision that holds the circuit is on the sheet of the pack", async () => {
    const stop = [
      "--cart",
      "C-2",
      "--circuit",
      "main",
      "--decision",
      "do-not-connect",
      "--person",
      "A. Person",
    ];
    await run("override", "--book", book, ...stop, "--reason", "hose found cut");
    const { files } = await evidenceFromBook(book, { cart: "C-2" });
    expect(textIn(files, "sheet.html")).toContain("hose found cut");
    expect((await verifyEvidence(files)).fits).toBe(true);
  });
});
