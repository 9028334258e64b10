import { parse } from "csv-parse/sync";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { Book } from "../../src/book/index.js";
import {
  bytesInMemory,
  openLabFile,
  quarantineFilesOf,
  readLabFile,
  sha256Of,
} from "../../src/intake/index.js";

const TITLES = "sample,cart,circuit,drawn on,fluid,4 µm(c) per mL,fluid temperature (°C),water (mg/kg)";
const encode = (text: string) => new TextEncoder().encode(text);
const quoted = (text: string) => `"${text.replaceAll('"', '""')}"`;
const DAY = { today: "2026-12-31" };

/** Beginnings that make a spreadsheet run a cell, and texts that only look like them. */
const FORMULAS = [
  "=1+1",
  "+1+1",
  "-1+1",
  "@SUM(1)",
  '=HYPERLINK("http://siltbook.invalid","x")',
  "=cmd|' /C calc'!A0",
  "-2+3+cmd|' /C calc'!A0",
  "＝1+1",
  "＋1",
  "－1+1",
  "＠SUM(1)",
  "'=1+1",
  "''=1+1",
  "x;=1+1",
  "x;'=1+1;@y",
];
const PLAIN = ["S-1", "'S-1", "O'Hara", "a=b", "a-b", "-", "--", "x; y"];

/** What a spreadsheet would run: the first character, unchanged or behind another separator. */
function runs(cell: string): boolean {
  return cell
    .split(";")
    .some((part) => /^\s*[=+\-@＝＋－＠]/u.test(part) && !/^(-|[+-][\d.,]+)$/.test(part.trim()));
}

let book: Book;
beforeEach(() => {
  book = Book.open(":memory:", { create: true });
});
afterEach(() => book.close());

function fileOf(names: readonly string[]): Uint8Array {
  const lines = names.map((name, index) =>
    [
      quoted(`${index} ${name}`),
      quoted(name),
      quoted(name),
      "2026-03-04",
      quoted(name),
      "1300",
      "-5",
      "120",
    ].join(","),
  );
  return encode([TITLES, ...lines].join("\n"));
}

describe("exported cells that a spreadsheet would run", () => {
  test.each(FORMULAS)("%j in a name does not run, and comes back as the very same text", async (name) => {
    await book.takeIn(bytesInMemory("lab.csv", fileOf([name])), DAY);
    const csv = [...book.csv()].join("");
    for (const row of parse(csv) as string[][]) for (const cell of row) expect(runs(cell)).toBe(false);
    const back = await readLabFile("export.csv", encode(csv));
    expect(back.samples).toMatchObject([{ sample: `0 ${name}`, cart: name, circuit: name, fluid: name }]);
    expect(back.samples[0]?.fluidTemperatureC).toBe(-5);
  });

  test("all of them in one file, with plain names between them: a second export is the first, to the byte", async () => {
    const names = [...FORMULAS, ...PLAIN];
    const report = await book.takeIn(bytesInMemory("lab.csv", fileOf(names)), DAY);
    expect(report.taken).toBe(names.length);
    const csv = [...book.csv()].join("");
    const other = Book.open(":memory:", { create: true });
    await other.takeIn(bytesInMemory("export.csv", encode(csv)), DAY);
    expect([...other.csv()].join("")).toBe(csv);
    expect([...other.samples()].map(({ cart }) => cart)).toEqual([...book.samples()].map(({ cart }) => cart));
    other.close();
  });

  test("an export without such names has no apostrophe and no column for them", async () => {
    await book.takeIn(bytesInMemory("lab.csv", fileOf(["C-1"])), DAY);
    expect([...book.csv()].join("")).not.toContain("apostrophe");
  });

  test("a laboratory's own apostrophe before an equals sign is a part of its text and stays", async () => {
    const { samples } = await readLabFile("lab.csv", fileOf(["'=x"]));
    expect(samples[0]?.cart).toBe("'=x");
  });
});

describe("quarantine files", () => {
  /** The row comes back through its quarantine file, with one cell corrected. */
  async function backFromQuarantine(name: string, damp: string) {
    const bytes = encode(
      `${TITLES}\n${[quoted(name), quoted(name), "fore", "2026-03-04", quoted(name), "1300", "-", quoted(damp)].join(",")}`,
    );
    const source = bytesInMemory("lab.csv", bytes);
    const opened = await openLabFile(source, DAY);
    const rows = [...opened.fates()].flatMap((fate) => (fate.kind === "quarantined" ? [fate.row] : []));
    const [table] = opened.tables;
    const file = table && quarantineFilesOf(table, rows, sha256Of(source), undefined)[0];
    if (file === undefined) throw new Error("nothing was set aside");
    return { csv: file.csv, map: file.map, original: parse(new TextDecoder().decode(bytes)) as string[][] };
  }

  test.each(FORMULAS)(
    "%j in a name and in a result does not run, and comes back as the very same text",
    async (text) => {
      const { csv, map, original } = await backFromQuarantine(text, text);
      for (const row of parse(csv, { bom: true }) as string[][]) {
        for (const cell of row) expect(runs(cell)).toBe(false);
      }
      const again = await openLabFile(bytesInMemory("lab.csv.quarantine.csv", encode(csv)), { map, ...DAY });
      const cells = [...(again.tables[0]?.source.rows() ?? [])][1]?.cells.slice(3);
      expect(cells).toEqual(original[1]);
    },
  );

  test("a cell with a dash for not measured comes back as a dash, so that the corrected row is taken", async () => {
    const { csv, map } = await backFromQuarantine("S-1", "damp");
    const corrected = csv.replace(/damp(?!"")(\s*)$/, "120$1");
    const { samples, quarantine } = await readLabFile("q.csv", encode(corrected), { map, ...DAY });
    expect(quarantine).toEqual([]);
    expect(samples).toMatchObject([{ sample: "S-1", waterPpm: { value: 120 } }]);
  });

  test.each(["\t=1+1", "\r=1+1", "\n=1+1"])("%j does not run either", async (text) => {
    const { csv } = await backFromQuarantine("S-1", `${text}x`);
    for (const row of parse(csv, { bom: true }) as string[][]) {
      for (const cell of row) expect(runs(cell)).toBe(false);
    }
  });

  test("a title that is a formula does not run, and the column map still knows it", async () => {
    const text = TITLES.replace("fluid,", "=1+1,");
    const map = {
      siltbookColumnMap: 1 as const,
      name: "lab",
      columns: { "=1+1": { holds: "fluid" as const } },
    };
    const source = bytesInMemory("lab.csv", encode(`${text}\nS-1,C-1,fore,2026-03-04,oil,1300,20,damp`));
    const opened = await openLabFile(source, { map, ...DAY });
    const rows = [...opened.fates()].flatMap((fate) => (fate.kind === "quarantined" ? [fate.row] : []));
    const file = opened.tables[0] && quarantineFilesOf(opened.tables[0], rows, sha256Of(source), map)[0];
    expect(file?.csv).toContain("'=1+1");
    const corrected = file?.csv.replace(/damp(?!"")(\s*)$/, "120$1") ?? "";
    const back = await readLabFile("q.csv", encode(corrected), { ...(file && { map: file.map }), ...DAY });
    expect(back.samples).toMatchObject([{ sample: "S-1", fluid: "oil", waterPpm: { value: 120 } }]);
  });
});
