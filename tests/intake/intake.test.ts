import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import {
  collectSamples,
  describeIssue,
  IntakeError,
  parseCartsFile,
  readLabFile,
  textOnDisk,
} from "../../src/intake/index.js";
import { resultsOf } from "../../src/samples/index.js";

const read = (text: string, file = "march.csv") => readLabFile(file, new TextEncoder().encode(text));

const WIDE =
  "sample,cart,circuit,drawn on,fluid,4 µm(c) per mL,6 µm(c) per mL,14 µm(c) per mL,water (ppm),acid number (mg KOH/g)";
const row = (number: number, change: Record<number, string> = {}) => {
  const cells = [
    `S-${number}`,
    "C-1",
    "1",
    "2026-03-04",
    "MIL-PRF-83282",
    "1503.27",
    "320.5",
    "40",
    "< 50",
    "0.12",
  ];
  return cells.map((cell, index) => change[index] ?? cell).join(",");
};

const carts = [{ cart: "C-1", circuits: [] as never[] }];

describe("one sample in three kinds of file", async () => {
  const tidy = await read(`${WIDE}\n${row(1)}\n`);
  const semicolon = await read(
    "Sample No.;Equipment;Circuit;Date drawn;Fluid;> 4 µm(c) /100 mL;> 6 µm(c) /100 mL;> 14 µm(c) /100 mL;Water (mg/kg);TAN (mg KOH/g)\r\n" +
      "S-1;C-1;1;04.03.2026;MIL-PRF-83282;150327;32050;4000;<50;0,12\r\n",
    "semicolon.csv",
  );
  const long = await read(
    [
      "sample,cart,circuit,drawn,fluid,measurand,value,unit",
      ...[
        ["4 µm(c)", "1503.27", "1/mL"],
        ["6 µm(c)", "320.5", "1/mL"],
        ["14 µm(c)", "40", "1/mL"],
        ["water", "<50", "mg/kg"],
        ["acid number", "0.12", "mg KOH/g"],
      ].map((result) => ["S-1", "C-1", "1", "2026-03-04", "MIL-PRF-83282", ...result].join(",")),
    ].join("\n"),
    "long.csv",
  );

  test("gives the same results, and each says where it stands", () => {
    const [a, b, c] = [tidy, semicolon, long].map((file) => file.samples[0]);
    expect([tidy, semicolon, long].map((file) => file.shape)).toEqual(["wide", "wide", "long"]);
    if (a === undefined || b === undefined || c === undefined) throw new Error("a sample is missing");
    expect(resultsOf(b)).toEqual(resultsOf(a));
    expect(resultsOf(c)).toEqual(resultsOf(a));
    expect(c.origin).toEqual([{ file: "long.csv", rows: [2, 3, 4, 5, 6] }]);
    expect(a.waterPpm).toEqual({ value: 50, limit: "below" });
  });

  test("counts are kept as reported, with the volume they stand for", () => {
    expect(semicolon.samples[0]?.counts).toMatchObject({
      volumeMl: 100,
      counts: [{ count: 150327 }, {}, {}],
    });
    expect(tidy.samples[0]?.counts).toMatchObject({ volumeMl: 1, counts: [{ count: 1503.27 }, {}, {}] });
  });

  test("ppm without a basis is taken by mass, and the file says so", () => {
    expect(tidy.assumptions.map((entry) => entry.message)).toEqual(["ppm of water was read as ppm by mass"]);
    expect(semicolon.assumptions).toEqual([]);
  });
});

describe("broken rows", async () => {
  const changes: Record<number, Record<number, string>> = {
    7: { 5: "N/A?" },
    23: { 3: "31.02.2026" },
    41: { 6: "2000" },
    66: { 1: "" },
    90: { 9: "0.12.3" },
  };
  const file = await read(
    [WIDE, ...Array.from({ length: 100 }, (_, index) => row(index + 2, changes[index + 2]))].join("\n"),
  );

  test("5 broken rows among 100 import 95 and report 5 with row, column, value and what was expected", () => {
    expect(file.rows).toBe(100);
    expect(file.samples).toHaveLength(95);
    expect(file.quarantine.flatMap((entry) => entry.issues.map(describeIssue))).toEqual([
      'march.csv row 7, column "4 µm(c) per mL": expected a number of 0 or more with "." as decimal mark, found "N/A?"',
      'march.csv row 23, column "drawn on": expected a day of the calendar since 1900, written as 2026-03-14 or 14.03.2026, found "31.02.2026"',
      'march.csv row 41, column "6 µm(c) per mL": expected counts that can be true (cumulative counts cannot rise with size: ' +
        '2000 at 6 µm is more than 1503.27 at 4 µm), found "2000"',
      'march.csv row 66, column "cart": expected the cart, found ""',
      'march.csv row 90, column "acid number (mg KOH/g)": expected a number of 0 or more with "." as decimal mark, found "0.12.3"',
    ]);
  });

  test("a quarantined row keeps its text as it is in the file", () => {
    expect(file.quarantine[0]?.text).toBe(row(7, changes[7]));
  });

  test("a row with a cell too few or too many is quarantined, not shifted", async () => {
    const ragged = await read(
      `${WIDE}\n${row(1)},extra\n${row(2).split(",").slice(0, 8).join(",")}\n${row(3)}`,
    );
    expect(ragged.samples.map((sample) => sample.sample)).toEqual(["S-3"]);
    expect(ragged.quarantine.map((entry) => entry.issues[0]?.code)).toEqual([
      "row-of-wrong-length",
      "row-of-wrong-length",
    ]);
  });

  test("in a long file only the unreadable row is set aside; counts that break a rule are set aside together", async () => {
    const line = (measurand: string, value: string, unit: string) =>
      `S-1,C-1,1,2026-03-04,${measurand},${value},${unit}`;
    const long = await read(
      [
        "sample,cart,circuit,drawn,measurand,value,unit",
        line("4 µm(c)", "100", "1/mL"),
        line("6 µm(c)", "200", "1/mL"),
        line("water", "dry", "mg/kg"),
        line("acid number", "0.12", "mg KOH/g"),
        line("sparkle", "1", "1"),
      ].join("\n"),
    );
    expect(long.samples[0]).toMatchObject({ acidMgKohPerG: { value: 0.12 }, origin: [{ rows: [5] }] });
    expect(long.samples[0]?.counts).toBeUndefined();
    expect(long.quarantine.map((entry) => [entry.row, entry.issues[0]?.code])).toEqual([
      [2, "counts-break-a-rule"],
      [3, "counts-break-a-rule"],
      [4, "cell-not-read"],
      [6, "measurand-not-known"],
    ]);
  });
});

describe("a column next to measurands and their values", () => {
  const beside = (title: string, first: string, second: string) =>
    read(
      [
        `sample,cart,circuit,drawn on,${title},measurand,value,unit`,
        `S-1,C-1,1,2026-03-04,${first},4 µm(c),900,1/mL`,
        `S-1,C-1,1,2026-03-04,${second},6 µm(c),120,1/mL`,
      ].join("\n"),
    );
  test.each<[string, string, string, object]>([
    ["sample point", "drum", "drum", { samplePoint: "supply-container" }],
    ["flowing", "no", "", { flowing: false }],
    ["appearance", "", "free water", { appearance: ["free-water"] }],
    ["crackle test", "positive", "positive", { crackle: "crackles" }],
    ["water (mg/kg)", "450", "", { waterPpm: { value: 450 } }],
  ])("says it of the bottle: %s %s %s", async (title, first, second, expected) => {
    const { samples, quarantine, unusedColumns } = await beside(title, first, second);
    expect([samples, quarantine, unusedColumns]).toMatchObject([
      [{ ...expected, origin: [{ rows: [2, 3] }] }],
      [],
      [],
    ]);
  });

  test("that says two things of one bottle sets its rows aside", async () => {
    const { samples, quarantine } = await beside("appearance", "clear", "free water");
    expect([samples, quarantine.map(({ row }) => row)]).toEqual([[], [2, 3]]);
  });

  // Laboratories write the scale number of each size next to its count.
  test.each([
    ["ISO 4406", "17", "14"],
    ["14 µm(c) per mL", "900", "120"],
  ])("that may be of one size alone is not used, which is said: %s", async (title, first, second) => {
    const { samples, quarantine, unusedColumns } = await beside(title, first, second);
    expect([samples.map(({ counts }) => counts?.counts.length), quarantine, unusedColumns]).toEqual([
      [2],
      [],
      [title],
    ]);
  });
});

test("a carts file without a field says that it is missing", () => {
  expect(() => parseCartsFile("carts.json", '{"carts":[{"circuits":[]}]}')).toThrow(
    "carts.json: carts.0.cart: is missing, expected a text",
  );
});

describe("a file of JSON that is none", () => {
  test.each([
    ['{"carts": [\n  {"cart": "C-1"\n', "carts.json: expected JSON, line 3: Expected ',' or '}'"],
    ['{\n"carts":\n 01}', "carts.json: expected JSON, line 3: Unexpected number"],
    ["", "carts.json: expected JSON, found an empty file"],
    [" \n", "carts.json: expected JSON, found an empty file"],
    ['{"carts": [],,\n\n\n}', "carts.json: expected JSON, line 1: "],
    [`[${'"x",\n'.repeat(20)},]`, "carts.json: expected JSON, Unexpected token ','"],
  ])("%j is refused in one line", (text, message) => {
    expect(() => parseCartsFile("carts.json", text)).toThrow(message);
    expect(() => parseCartsFile("carts.json", text)).toThrow(/^[^\n]*$/);
  });

  test("is not one that an editor saved as UTF-16; one in an older code is refused and not read with holes", async () => {
    const folder = await mkdtemp(join(tmpdir(), "siltbook-json-"));
    const path = join(folder, "carts.json");
    await writeFile(path, '\ufeff{"note":"für"}', "utf16le");
    expect(textOnDisk(path)).toBe('{"note":"für"}');
    await writeFile(path, '{"note":"für"}', "latin1");
    expect(() => textOnDisk(path)).toThrow(`${path}: expected text in UTF-8, found bytes that are none`);
    const sample =
      '[{"sample":"S-1","cart":"Größe","circuit":"1","drawn on":"2026-03-04","water (mg/kg)":120}]';
    for (const encoding of ["utf8", "utf16le", "latin1"] as const) {
      const { samples, assumptions } = await readLabFile("lab.json", Buffer.from(sample, encoding));
      expect([encoding, samples.map(({ cart }) => cart)]).toEqual([encoding, ["Größe"]]);
      expect(assumptions.some(({ message }) => message.includes("Windows-1252"))).toBe(encoding === "latin1");
    }
    await rm(folder, { recursive: true });
  });
});

test("a file without a column for the day says so in words", async () => {
  await expect(read("sample,cart,circuit,water (mg/kg)\nS-1,C-1,1,120")).rejects.toThrow(
    "expected columns for sample, cart, circuit and day drawn; missing day drawn; found",
  );
});

describe("what cannot be read in only one way is not guessed", () => {
  test("a fluid temperature of < 20 °C is no temperature that anything can be judged by", async () => {
    const read20 = (cell: string) =>
      read(
        `sample,cart,circuit,drawn on,water (mg/kg),Oil temperature (°C)\nS-1,C-1,1,2026-03-04,120,${cell}`,
      );
    const { quarantine } = await read20("< 20");
    expect(quarantine.flatMap(({ issues }) => issues.map(describeIssue))).toEqual([
      'march.csv row 2, column "Oil temperature (°C)": expected a fluid temperature, not a limit of one, found "< 20"',
    ]);
    expect((await read20("-5")).samples[0]?.fluidTemperatureC).toBe(-5);
  });

  test.each(["03/04/2026", "4.3.26", "3‑4‑2026", "yesterday"])("the day %j is quarantined", async (day) => {
    const { quarantine } = await read(`${WIDE}\n${row(1, { 3: day })}`);
    expect(quarantine[0]?.issues[0]?.code).toMatch(/^cell-(ambiguous|not-read)$/);
  });

  test('"1,500" alone may be one and a half or fifteen hundred, so it is quarantined', async () => {
    const header = WIDE.replaceAll(",", ";");
    const cells = (count: string) =>
      row(1, { 5: count, 6: "1", 7: "0", 8: "50", 9: "1" }).replaceAll(",", ";").replace("#", ",");
    expect((await read(`${header}\n${cells("1#500")}`)).quarantine[0]?.issues[0]?.code).toBe(
      "cell-ambiguous",
    );
    expect((await read(`${header}\n${cells("1#50")}`)).samples[0]?.counts?.counts[0]?.count).toBe(1.5);
  });

  test.each([
    ["4 µm(c)", '"4 µm(c)": do the counts stand for 1 mL or for 100 mL?'],
    ["4 µm per mL", '"4 µm per mL": is the size µm(c) of ISO 11171'],
  ])("a count column titled %j is not certain, so a column map is required", async (title, message) => {
    const file = read(`${WIDE.replace("4 µm(c) per mL", title)}\n${row(1)}`);
    await expect(file).rejects.toThrow(`march.csv row 1: a column map has to settle ${message}`);
  });

  test.each([
    ["", "expected a header"],
    ["sample,cart\nS-1,C-1", "missing circuit, day drawn"],
    ["sample,cart,circuit,drawn\nS-1,C-1,1,2026-03-04", "expected columns of results"],
    [`${WIDE},water (mg/kg),water (mg/kg)\n`, "two columns hold the same thing: water"],
  ])("a file that starts %j is refused by name", async (text, message) => {
    await expect(read(text)).rejects.toThrow(IntakeError);
    await expect(read(text)).rejects.toThrow(message);
  });

  test("bytes that are not UTF-8 are read as Windows-1252, and the file says so", async () => {
    const bytes = Uint8Array.from(`${WIDE}\n${row(1)}`, (letter) => letter.charCodeAt(0));
    const file = await readLabFile("old.csv", bytes);
    expect(file.samples[0]?.counts?.counts[0]).toEqual({ sizeUm: 4, count: 1503.27 });
    expect(file.assumptions.map(({ code }) => code)).toContain("encoding");
  });
});

test("a sample of a circuit that no cart has is quarantined and names the known ones", async () => {
  const collection = collectSamples([await read(`${WIDE}\n${row(1)}`)], carts);
  expect(collection.samples).toEqual([]);
  expect(collection.quarantine[0]?.issues[0]).toMatchObject({
    code: "circuit-not-known",
    row: 2,
    value: "C-1 / 1",
  });
});
