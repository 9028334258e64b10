import { describe, expect, test } from "vitest";
import { decoded, encodingOf } from "../../src/intake/bytes/encoding.js";
import { bytesInMemory, describeIssue, readLabFile } from "../../src/intake/index.js";

const TITLES =
  "sample,cart,circuit,drawn on,> 4 µm(c) per mL,viscosity at 40 °C (mm²/s),density at 15 °C (kg/m³),Bemerkung";
const ROW = "S-1,QB-01,1,2026-03-04,900,14.1,849,geprüft";
const TEXT = `${TITLES}\n${ROW}\n`;

/** Bytes of the signs of {@link TEXT}, as the tables of the codes print them. */
const CODES = {
  "Windows-1252": { µ: 0xb5, "°": 0xb0, "²": 0xb2, "³": 0xb3, ü: 0xfc },
  "code page 850": { µ: 0xe6, "°": 0xf8, "²": 0xfd, "³": 0xfc, ü: 0x81 },
  // This code has no third power; "≥" is in no other.
  "code page 437": { µ: 0xe6, "°": 0xf8, "²": 0xfd, "³": 0x33, ü: 0x81, ">": 0xf2 },
} as const;

function inCode(text: string, code: Readonly<Record<string, number>>): Uint8Array {
  return Uint8Array.from(text, (character) => code[character] ?? character.charCodeAt(0));
}

const READ = {
  counts: [900],
  viscosity: 14.1,
  density: 849,
  says: [{ column: "Bemerkung", text: "geprüft" }],
};

async function read(bytes: Uint8Array) {
  const file = await readLabFile("lab.csv", bytes);
  const [sample] = file.samples;
  const results = {
    counts: sample?.counts?.counts.map(({ count }) => count),
    viscosity: sample?.viscosity40Mm2PerS?.value,
    density: sample?.density15KgPerM3?.value,
    says: sample?.laboratorySays,
  };
  return { file, results, said: file.assumptions.map(({ code, message }) => `${code}: ${message}`) };
}

describe("a file in the code of an older computer is read in that code, and the reading says so", () => {
  test.each(Object.entries(CODES))("%s", async (name, code) => {
    const { file, results, said } = await read(inCode(TEXT, code));
    expect(results).toEqual(READ);
    expect(file.readAs).toBe(`text, ${name}, comma between cells`);
    expect(said).toContainEqual(expect.stringMatching(new RegExp(`^encoding: .* read as ${name}$`)));
  });

  test("a file without any such sign needs no code", async () => {
    const { file, said } = await read(
      inCode("sample,cart,circuit,drawn on,water (mg/kg)\nS-1,QB-01,1,2026-03-04,90\n", {}),
    );
    expect([file.readAs, said]).toEqual(["text, UTF-8, comma between cells", []]);
  });
});

describe("UTF-8 that was taken for another code and written again", () => {
  test("reads as it was before", async () => {
    const twice = Buffer.from(TEXT, "utf8").toString("latin1");
    const { results, said } = await read(new TextEncoder().encode(twice));
    expect(results).toEqual(READ);
    expect(said).toEqual([expect.stringContaining("encoded twice")]);
  });

  test("reads the same when a pair of characters stands across two pieces of the file", () => {
    const twice = (text: string) => Buffer.from(text, "utf8").toString("latin1");
    const text = `µ${"x".repeat(256 * 1024 - 6)}ü`;
    const source = bytesInMemory("lab.csv", new TextEncoder().encode(twice(text)));
    expect([...source.chunks()].map(({ length }) => length)).toEqual([256 * 1024, 2]);
    expect([...decoded(source, encodingOf(source))].join("")).toBe(text);
  });

  test("French and Portuguese text is no such file", async () => {
    const remark = "état neuf, Âge inconnu, et ação Ã";
    const { results } = await read(new TextEncoder().encode(TEXT.replace("geprüft", `"${remark}"`)));
    expect(results.says).toEqual([{ column: "Bemerkung", text: remark }]);
  });
});

describe("one byte that is not UTF-8", () => {
  const withByte = (before: string, byte: number, after: string) =>
    Buffer.concat([Buffer.from(before), Buffer.of(byte), Buffer.from(after)]);

  test("does not change how the others are read, and its line is named", async () => {
    const bytes = withByte(`${TEXT}S-2,QB-01,1,2026-03-05,900,14.1,849,gepr`, 0xfc, "ft\n");
    const { file, results, said } = await read(bytes);
    expect(results).toEqual(READ);
    expect(file.samples[1]?.laboratorySays).toEqual(READ.says);
    expect(said).toEqual([expect.stringContaining('in line 3 ("ü")')]);
  });

  test("in a number puts its row in quarantine", async () => {
    const { file } = await read(withByte(`${TEXT}S-2,QB-01,1,2026-03-05,9`, 0x96, "00,14.1,849,\n"));
    expect(file.quarantine.flatMap(({ issues }) => issues.map(describeIssue))).toEqual([
      expect.stringContaining('row 3, column "> 4 µm(c) per mL": expected a number'),
    ]);
  });

  test("many are named up to the fifth", async () => {
    const row = withByte("S-2,QB-01,1,2026-03-05,900,14.1,849,gepr", 0xfc, "ft\n");
    const many = Buffer.concat([Buffer.from(`${TEXT}${ROW}\n`), ...Array.from({ length: 7 }, () => row)]);
    expect((await read(many)).said).toContainEqual(
      expect.stringMatching(/in line 4 .*8 \("ü"\), and 2 more$/),
    );
  });
});

describe("a title that has lost its µ is read, and the reading says so", () => {
  test.each([
    "> 4 æm(c) per mL",
    "> 4 ?m(c) per mL",
    "> 4 \ufffdm(c) per mL",
    "> 4 m(c) per mL",
    "> 4 mm (c) per mL",
  ])("%s", async (title) => {
    const { results, said } = await read(new TextEncoder().encode(TEXT.replace("> 4 µm(c) per mL", title)));
    expect(results).toEqual(READ);
    expect(said).toEqual([
      `lost-sign: titles such as "${title}" were read with "µm", whose "µ" the file has lost`,
    ]);
  });

  test.each([
    ["> 4 æm per mL", "µm\\(c\\) of ISO 11171"],
    ["> 4 ?m per mL", "µm\\(c\\) of ISO 11171"],
  ])("%s is questioned like any size without its scale", async (title, question) => {
    await expect(read(new TextEncoder().encode(TEXT.replace("> 4 µm(c) per mL", title)))).rejects.toThrow(
      new RegExp(question),
    );
  });

  test("a degree sign may be lost too", async () => {
    const { results } = await read(
      new TextEncoder().encode(TEXT.replace("40 °C", "40 ?C").replace("15 °C", "15 øC")),
    );
    expect(results).toEqual(READ);
  });
});
