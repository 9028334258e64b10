// Samples as Parquet, a file for each cart in folders that name base and cart; read back by another program than the one that
// wrote them. Names of folders: percent-encoding of RFC 3986, 2.1, as readers of such folders decode it.
import { mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import fc from "fast-check";
import { parquetReadObjects } from "hyparquet";
import { beforeAll, describe, expect, test } from "vitest";
import { classify, formatIso4406 } from "../../src/cleanliness/index.js";
import { cumulativeCounts } from "../../src/counts/index.js";
import { partitionName } from "../../src/tables/index.js";
import { run, runJson } from "../support/run-cli.js";
import { temporaryFolder } from "../support/temporary-folder.js";

const folder = temporaryFolder();
const at = (name: string) => join(folder, name);
const TITLES =
  "sample,cart,circuit,drawn on,fluid,4 µm(c) per mL,6 µm(c) per mL,14 µm(c) per mL,21 µm(c) per mL,water (mg/kg)";

describe("the name of a folder", () => {
  test.each([
    ["C-1", "cart=C-1"],
    ["007", "cart=007"],
    ["TX 1/2", "cart=TX%201%2F2"],
    ["..", "cart=%2E%2E"],
    ["a=b", "cart=a%3Db"],
    ["%2F", "cart=%252F"],
    ["Ü", "cart=%C3%9C"],
    ['a\\b:c*?"<>|', "cart=a%5Cb%3Ac%2A%3F%22%3C%3E%7C"],
  ])("of %j is %s", (value, name) => {
    expect(partitionName("cart", value)).toBe(name);
  });

  test("gives the value back, and leaves no folder", () => {
    fc.assert(
      fc.property(fc.string({ unit: "grapheme" }), (value) => {
        const name = partitionName("base", value);
        expect(name).toMatch(/^base=[A-Za-z0-9_%-]*$/);
        expect(decodeURIComponent(name.slice("base=".length))).toBe(value);
      }),
    );
  });
});

/** The rows of a file. */
async function rowsIn(path: string): Promise<Record<string, unknown>[]> {
  const bytes = readFileSync(path);
  const file = bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength) as ArrayBuffer;
  return (await parquetReadObjects({ file })) as Record<string, unknown>[];
}

const filesIn = (path: string) =>
  readdirSync(path, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name).slice(path.length + 1))
    .sort();

const importLab = (book: string, ...rows: string[]) => {
  writeFileSync(at("lab.csv"), [TITLES, ...rows].join("\n"));
  return run("import", "--book", book, at("lab.csv"));
};
const NORTH = at("north.siltbook");
const LAKE = at("lake");

beforeAll(async () => {
  await importLab(
    NORTH,
    "S-1,007,fore,2026-03-01,MIL-PRF-83282,1300,320,40,,150",
    "S-2,007,aft,2026-03-02,MIL-PRF-83282,1300,320,40,9,160",
    "S-3,TX 1/2,fore,2026-03-03,MIL-PRF-83282,5000,1200,160,,170",
  );
  await importLab(at("south.siltbook"), "S-1,007,fore,2026-03-01,MIL-PRF-83282,900,300,30,,80");
  await run("export", "--book", NORTH, "--to", LAKE, "--base", "North field");
  await run("export", "--book", at("south.siltbook"), "--to", LAKE, "--base", "south");
});

describe("siltbook export --base", () => {
  test("writes a file for each cart of each base, and nothing else is left", () => {
    expect(filesIn(LAKE)).toEqual([
      "base=North%20field/cart=007/samples.parquet",
      "base=North%20field/cart=TX%201%2F2/samples.parquet",
      "base=south/cart=007/samples.parquet",
    ]);
    expect(readdirSync(folder).filter((name) => /\.(part|old)$/.test(name))).toEqual([]);
  });

  test("every sample is in one file with base, cart, values, class and where it came from", async () => {
    const rows = (await Promise.all(filesIn(LAKE).map((name) => rowsIn(join(LAKE, name))))).flat();
    expect(rows.map(({ base, cart, circuit, sample }) => [base, cart, circuit, sample])).toEqual([
      ["North field", "007", "aft", "S-2"],
      ["North field", "007", "fore", "S-1"],
      ["North field", "TX 1/2", "fore", "S-3"],
      ["south", "007", "fore", "S-1"],
    ]);
    const [, , third] = rows;
    const counts = cumulativeCounts(
      [
        { sizeUm: 4, count: 5000 },
        { sizeUm: 6, count: 1200 },
        { sizeUm: 14, count: 160 },
      ],
      1,
    );
    const code = classify(counts).iso4406;
    expect(third).toMatchObject({
      count4UmC: 5000,
      waterPpm: 170,
      iso4406: code && formatIso4406(code),
      originFile: "lab.csv",
      originRows: "4",
      amended: "no",
    });
    expect(third?.iso4406).toBe("19/17/14");
  });

  test("all files of a base have the same columns: a size that one bottle alone was counted at is everywhere", async () => {
    const columns = await Promise.all(
      filesIn(LAKE).map(async (name) => Object.keys((await rowsIn(join(LAKE, name)))[0] ?? {})),
    );
    expect(columns[0]).toContain("count21UmC");
    expect(columns[1]).toEqual(columns[0]);
    expect(columns[2]).not.toContain("count21UmC");
  });

  test("written again, a cart that is in the book no more has no file, and the other base keeps its own", async () => {
    const [book, lake] = [at("again.siltbook"), at("lake-2")];
    await importLab(book, "S-1,A,fore,2026-03-01,MIL-PRF-83282,1300,320,40,,150");
    await importLab(book, "S-2,B,fore,2026-03-01,MIL-PRF-83282,1300,320,40,,150");
    await run("export", "--book", at("south.siltbook"), "--to", lake, "--base", "south");
    const export_ = () => runJson("export", "--book", book, "--to", lake, "--base", "n");
    expect((await export_()).json).toMatchObject({ to: lake, base: "n", carts: 2, samples: 2 });
    const by = ["--by", "A. Person", "--reason", "report of another base"];
    writeFileSync(at("lab.csv"), "");
    const { json } = await runJson("list", "files", "--book", book);
    await run("withdraw", json.files[1].sha256, "--book", book, ...by);
    expect((await export_()).json).toMatchObject({ carts: 1, samples: 1 });
    expect(filesIn(lake)).toEqual(["base=n/cart=A/samples.parquet", "base=south/cart=007/samples.parquet"]);
  });

  test("what siltbook did not write is never removed", async () => {
    mkdirSync(at("mine/base=south/cart=007"), { recursive: true });
    writeFileSync(at("mine/base=south/cart=007/notes.txt"), "keep me");
    const { code, err } = await run(
      ...["export", "--book", at("south.siltbook"), "--to", at("mine"), "--base", "south"],
    );
    expect(code).toBe(2);
    expect(err).toContain("holds what siltbook did not write there, such as cart=007/notes.txt");
    expect(filesIn(at("mine"))).toEqual(["base=south/cart=007/notes.txt"]);
  });

  test.each([
    [["--to", at("x"), "--base", " "], "--base: expected the name"],
    [["--to", at("x"), "--base", "n", "--table", "verdicts"], "--table: with --base samples are written"],
    [["--to", "", "--base", "n"], "--to: expected a folder"],
    [["--to", NORTH, "--base", "n"], "there is a file of that name"],
  ])("%j ends with 2", async (options, words) => {
    const { code, err } = await run("export", "--book", NORTH, ...options);
    expect(code).toBe(2);
    expect(err).toContain(words);
  });
});
