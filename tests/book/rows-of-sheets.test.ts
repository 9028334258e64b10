import { strToU8, zipSync } from "fflate";
import { expect, test } from "vitest";
import { Book, type RowFate } from "../../src/book/index.js";
import { bytesInMemory, unreadResults } from "../../src/intake/index.js";
import { CARTS } from "../support/one-circuit.js";

const TITLES = ["sample", "cart", "circuit", "drawn on", "water (mg/kg)"];
const row = (sample: string, water: string, cart = "C-1") => [sample, cart, "1", "2026-03-04", water];
type Sheets = Readonly<Record<string, readonly (readonly string[])[]>>;

const SPREADSHEET = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
const RELATIONSHIPS = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
const PACKAGE = "http://schemas.openxmlformats.org/package/2006/relationships";

/** A workbook of texts alone, in the fewest parts (ECMA-376): a library that writes any workbook takes longer to load. */
function workbook(name: string, sheets: Sheets) {
  const titles = Object.keys(sheets);
  const each = (text: (title: string, number: number) => string) =>
    titles.map((title, index) => text(title, index + 1)).join("");
  const cellOf = (text: string, column: number, number: number) =>
    `<c r="${"ABCDE"[column]}${number}" t="inlineStr"><is><t>${text}</t></is></c>`;
  const rowsOf = (rows: readonly (readonly string[])[]) =>
    rows.map(
      (cells, at) =>
        `<row r="${at + 1}">${cells.map((cell, column) => cellOf(cell, column, at + 1)).join("")}</row>`,
    );
  const parts = {
    "_rels/.rels": `<Relationships xmlns="${PACKAGE}"><Relationship Id="r" Type="${RELATIONSHIPS}/officeDocument" Target="xl/workbook.xml"/></Relationships>`,
    "xl/workbook.xml": `<workbook xmlns="${SPREADSHEET}" xmlns:r="${RELATIONSHIPS}"><sheets>${each(
      (title, number) => `<sheet name="${title}" sheetId="${number}" r:id="s${number}"/>`,
    )}</sheets></workbook>`,
    "xl/_rels/workbook.xml.rels": `<Relationships xmlns="${PACKAGE}">${each(
      (_, number) =>
        `<Relationship Id="s${number}" Type="${RELATIONSHIPS}/worksheet" Target="worksheets/${number}.xml"/>`,
    )}</Relationships>`,
    ...Object.fromEntries(
      titles.map((title, index) => [
        `xl/worksheets/${index + 1}.xml`,
        `<worksheet xmlns="${SPREADSHEET}"><sheetData>${rowsOf([TITLES, ...(sheets[title] ?? [])]).join("")}</sheetData></worksheet>`,
      ]),
    ),
  };
  const bytes = Object.entries(parts).map(([part, xml]) => [part, strToU8(xml)] as const);
  return bytesInMemory(name, zipSync(Object.fromEntries(bytes)));
}

// Rows 2 to 4 of either sheet: one is taken, one waits; the third contradicts itself across the sheets.
const MARCH = {
  Fore: [row("S-1", "91"), row("S-2", "1O"), row("S-3", "93")],
  Aft: [row("S-4", "94"), row("S-5", "2O"), row("S-3", "83")],
};
const files = {
  march: workbook("march.xlsx", MARCH),
  fore: workbook("fore.xlsx", { Fore: [row("S-2", "92")] }),
  aft: workbook("aft.xlsx", { Aft: [row("S-5", "95")] }),
};

const TODAY = { today: "2026-12-31" };
const by = { person: "A. Person", reason: "bottle was broken" };
const FATES = [
  "Aft 1 not a sample",
  "Aft 2 taken",
  "Aft 3 quarantined",
  "Aft 4 quarantined",
  "Fore 1 not a sample",
  "Fore 2 taken",
  "Fore 3 quarantined",
  "Fore 4 quarantined",
];

async function withBook(knowsCarts: boolean, use: (book: Book) => Promise<unknown> | unknown) {
  const book = Book.open(":memory:", { create: true });
  try {
    if (knowsCarts) book.keepCarts("carts.json", JSON.stringify(CARTS));
    await use(book);
  } finally {
    book.close();
  }
}
const inBrief = ({ sheet, row: at, fate, settled }: RowFate) =>
  `${sheet} ${at} ${fate}${settled ? ", settled" : ""}`;
const fatesIn = (book: Book) => [...book.rows(book.files()[0]?.sha256 ?? "")].map(inBrief);
const waiting = (book: Book) => book.quarantine().map(({ sheet, row: at, text }) => `${sheet} ${at} ${text}`);
const idOf = (book: Book, sheet: string, at: number) =>
  [...book.quarantine(), ...book.settledRows()].find((one) => one.sheet === sheet && one.row === at)?.id ??
  "";

test("rows of one number in two sheets have each their own fate, text and place", async () => {
  await withBook(true, async (book) => {
    const { taken, known, amended, quarantined, notSamples, rows, quarantine } = await book.takeIn(
      files.march,
      TODAY,
    );
    expect([taken, known, amended, quarantined, notSamples, rows]).toEqual([2, 0, 0, 4, 2, 8]);
    expect(fatesIn(book)).toEqual(FATES);
    expect(waiting(book)).toEqual([
      "Aft 3 S-5\tC-1\t1\t2026-03-04\t2O",
      "Aft 4 S-3\tC-1\t1\t2026-03-04\t83",
      "Fore 3 S-2\tC-1\t1\t2026-03-04\t1O",
      "Fore 4 S-3\tC-1\t1\t2026-03-04\t93",
    ]);
    for (const one of quarantine)
      for (const issue of one.issues) expect([issue.sheet, issue.row]).toEqual([one.sheet, one.row]);
    await book.takeIn(files.march, TODAY);
    expect(fatesIn(book)).toEqual(FATES);
  });
});

test("the rows of a cart are those of its sheet, and verdicts name the sheet", async () => {
  await withBook(true, async (book) => {
    const march = {
      Fore: [row("S-1", "91"), row("S-2", "1O")],
      Aft: [row("S-4", "94"), row("S-5", "2O", "X-9")],
    };
    await book.takeIn(workbook("march.xlsx", march), TODAY);
    expect(book.quarantine({ cart: "C-1" }).map(({ sheet, row: at }) => [sheet, at])).toEqual([["Fore", 3]]);
    expect(unreadResults(book.quarantine()).map(({ where }) => where)).toEqual([
      'march.xlsx sheet "Aft" row 3',
      'march.xlsx sheet "Fore" row 3',
    ]);
    book.decideRows([idOf(book, "Fore", 3)], { decision: "discarded", ...by });
    expect(book.lastChange().subject).toBe('discarded: march.xlsx sheet "Fore" row 3');
  });
});

test("a row that is taken back keeps its own day", async () => {
  await withBook(true, async (book) => {
    const [first, other] = [row("S-1", "91"), row("S-1", "91")];
    const march = { Fore: [first], Aft: [other.with(3, "2026-03-05")] };
    await book.takeIn(workbook("march.xlsx", march), TODAY);
    expect(
      book.quarantine().map(({ sheet, drawnOn, text }) => [sheet, drawnOn, text.split("\t")[3]]),
    ).toEqual([
      ["Aft", "2026-03-05", "2026-03-05"],
      ["Fore", "2026-03-04", "2026-03-04"],
    ]);
  });
});

test("a decision about a row of a sheet is about that sheet, also when the file is read again", async () => {
  await withBook(true, async (book) => {
    await book.takeIn(files.march, TODAY);
    book.decideRows([idOf(book, "Aft", 3)], { decision: "discarded", ...by });
    const decided = FATES.map((fate) => (fate.startsWith("Aft 3") ? `${fate}, settled` : fate));
    expect(fatesIn(book)).toEqual(decided);
    const { known, quarantined } = await book.takeIn(files.march, TODAY);
    expect([known, quarantined]).toEqual([3, 3]);
    expect(fatesIn(book)).toEqual(decided);
    book.decideRows([idOf(book, "Aft", 3)], { decision: "reopened", ...by });
    expect(fatesIn(book)).toEqual(FATES);
  });
});

test("a file that replaces a row of a sheet leaves that of the other sheet waiting, and gives it back", async () => {
  await withBook(true, async (book) => {
    await book.takeIn(files.march, TODAY);
    await book.takeIn(files.aft, TODAY);
    expect(waiting(book).map((text) => text.slice(0, 6))).toEqual(["Aft 4 ", "Fore 3", "Fore 4"]);
    expect((await book.takeIn(files.march, TODAY)).quarantined).toBe(3);
    book.decideRows([idOf(book, "Aft", 3)], { decision: "reopened", ...by });
    expect(waiting(book)).toHaveLength(4);
    await book.takeIn(files.fore, TODAY);
    const fore = book.files().find(({ file }) => file === "fore.xlsx");
    expect(waiting(book)).toHaveLength(3);
    book.withdraw(fore as NonNullable<typeof fore>, by);
    expect(waiting(book)).toHaveLength(4);
  });
});

test("a row that comes back corrected, or marked as no result, is that of its sheet", async () => {
  await withBook(true, async (book) => {
    const { sha256 } = await book.takeIn(files.march, TODAY);
    const titles = ["quarantine place", "quarantine accepted", ...TITLES];
    const place = (sheet: string) => `"march.xlsx sheet ""${sheet}"" row 3 #${sha256.slice(0, 12)}"`;
    const back = (sheet: string, accepted: string, cells: readonly string[]) =>
      book.takeIn(
        bytesInMemory(`${sheet}.csv`, strToU8(`${titles}\n${[place(sheet), accepted, ...cells]}`)),
        TODAY,
      );
    await back("Fore", "", row("S-2", "92"));
    const settled = (sheet: string) => book.settledRows().some((one) => one.sheet === sheet && one.row === 3);
    expect([settled("Fore"), settled("Aft")]).toEqual([true, false]);
    await back("Aft", "discard", row("S-5", "2O"));
    expect([settled("Fore"), settled("Aft")]).toEqual([true, true]);
    expect(waiting(book).map((text) => text.slice(0, 6))).toEqual(["Aft 4 ", "Fore 4"]);
  });
});

test("samples that came before the carts did are set aside with their sheet", async () => {
  await withBook(false, async (book) => {
    const other = { Fore: [row("S-1", "91", "C-9")], Aft: [row("S-4", "94", "C-9"), row("S-5", "95")] };
    await book.takeIn(workbook("march.xlsx", other), TODAY);
    const { setAside } = book.keepCarts("carts.json", JSON.stringify(CARTS));
    expect(setAside.map(({ sheet, row: at, text }) => [sheet, at, text.split("\t")[0]])).toEqual([
      ["Fore", 2, "S-1"],
      ["Aft", 2, "S-4"],
    ]);
    expect(fatesIn(book)).toEqual([
      ...["Aft 1 not a sample", "Aft 2 quarantined", "Aft 3 taken"],
      ...["Fore 1 not a sample", "Fore 2 quarantined"],
    ]);
  });
});
