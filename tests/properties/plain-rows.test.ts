import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { bytesInMemory, type ColumnMap, IntakeError, openLabFile } from "../../src/intake/index.js";
import { flatFates, flatPieces } from "../support/flat-pieces.js";
import { plainSamples, twelveFiles } from "../support/forty-samples.js";

const TODAY = "2026-12-31";

/** Reads a text in both ways and holds one against the other; says how many samples came in blocks. */
async function readBothWays(text: string | Uint8Array, map?: ColumnMap): Promise<number> {
  const bytes = typeof text === "string" ? new TextEncoder().encode(text) : text;
  const opened = await openLabFile(bytesInMemory("both.csv", bytes), { today: TODAY, ...(map && { map }) });
  const { inBlocks, ...pieces } = flatPieces(opened);
  expect(pieces).toEqual(flatFates(opened));
  return inBlocks;
}

const HEADER =
  "Sample no.,Cart,Circuit,Date drawn,Sampling time,Fluid specification,4 µm(c) per mL,6 µm(c) per mL,14 µm(c) per mL,water (mg/kg),acid number (mg KOH/g),viscosity at 40 °C (mm²/s),Oil temperature (°C),ISO 4406,NAS 1638,Fe (ppm),Chlorine (mg/kg),Density at 15 °C (kg/m³),Colour,Appearance,Sample point,Flowing,Remarks";

const often = <T>(plain: readonly T[], odd: readonly T[]) =>
  fc.oneof(
    { weight: 12, arbitrary: fc.constantFrom(...plain) },
    { weight: 1, arbitrary: fc.constantFrom(...odd) },
  );

const cells = fc
  .tuple(
    often(
      ["S-1", "S-2", "27/14", "A b"],
      [
        "",
        " S-3 ",
        "S  4",
        "S\u00a05",
        '"S-6"',
        '"S,7"',
        '"S ""8"""',
        "Ω-9",
        "S\u0007",
        '"S\n10"',
        "S\r11",
        "Total",
      ],
    ),
    often(["QX-1", "QX-2", '"QX-1"', " QX-1"], ["", "Wägen", "\ufffd", '"Q\nX"', "Cart"]),
    often(["fore", "aft"], ["", "f\u0001", '"fore', "Circuit"]),
    often(
      ["2026-03-14", "2026-03-15", "2026-02-28"],
      [
        "",
        "14.03.2026",
        "03/04/2026",
        "20/04/2026",
        "2026-02-30",
        "2026-03-14 09:30",
        "2026-03-14T25:00",
        "2027-06-01",
        "14 Mar 2026",
        "20260314",
        "2026-3-4",
        "Date drawn",
      ],
    ),
    often(["", "09:30", "10:15Z"], ["9.30", "24:61"]),
    often(["MIL-PRF-83282", "AS1241 Type IV", ""], ["-", "\u00a0"]),
    often(
      ["1500", "1500.27", " 1600 ", "2400.5"],
      [
        "",
        "-",
        "1.500",
        "1,500",
        '"1,5"',
        "<5",
        "1e3",
        "12 (repeat)",
        "999999999999999",
        "9999999999999999",
        "0.1234567890123456",
        "TNTC",
        ".5",
        "5.",
      ],
    ),
    often(["300", "300.5", "310", '"305"'], ["", "2000", "3 00", "300/mL"]),
    often(["20", "20.25", "17"], ["", "0", "-3", "20 ", "abc"]),
    often(
      ["120", "< 50", "<50", "≤ 60", "", "-", ">= 700", "60000"],
      ["2", "0", "120 %", "120 ppm", "n/a", "< 2", "> 90000", "<= 60000", "1.234"],
    ),
    often(["0.12", "0.5", ""], ["0,12", "0.125", "1.125", "12.125", "nd"]),
    often(["14.2", "14", "13.75", ""], ["14.235", "14.2 cSt", "14,2"]),
    often(["", "20", "25.5"], ["-5", "+5", "< 20", "293 K"]),
    often(["", "-", "18/15/11"], ["ISO 18/15/11", "21/17/12", "18/16/12", "-/16/11", "dirty"]),
    often(["", "-"], ["6", "7", "NAS 8", "00"]),
    often(["", "2", "<1", "3.5"], ["nd", "0,5", "-"]),
    often(["", "40"], ["< 20", "41 ppm"]),
    often(["", "996.5"], ["0.9965 g/mL", "996,5"]),
    often(["", "purple", "Pale  Red"], ["L1.5", "-", "not reported", "pourpre foncé"]),
    often(["", "clear and bright", "cloudy; sediment"], ["fine", "No free water", "two layers / debris"]),
    often(["", "reservoir", "Main flow line"], ["tap 3", "--"]),
    often(["", "yes", "No"], ["maybe", "n/a"]),
    often(
      ["", "ok", "two words"],
      ['"a, b"', '"open', "Ωmega", '"x""y"', "\0", '"line\r\nbreak"', 'in "the" middle'],
    ),
  )
  .map((row) => row.join(","));

const line = fc.oneof(
  { weight: 20, arbitrary: cells },
  {
    weight: 1,
    arbitrary: fc.constantFrom(
      "",
      "  ",
      ",,,",
      "End of report",
      "Page 2 of 3",
      HEADER,
      "a,b",
      '"',
      "S-1,QX-1,fore,2026-03-14",
    ),
  },
  { weight: 1, arbitrary: cells.map((row) => `${row},,`) },
  { weight: 1, arbitrary: cells.map((row) => `${row},more`) },
);
const lineBreak = fc.oneof(
  { weight: 20, arbitrary: fc.constant("\n") },
  { weight: 3, arbitrary: fc.constantFrom("\r\n", "\r", "\n\n") },
);
const above = fc.constantFrom("", "Report of a laboratory\n", "\ufeff", "\ufeffTitle,with,cells\n\n");

const text = fc
  .tuple(above, fc.array(fc.tuple(line, lineBreak), { maxLength: 12 }), fc.boolean())
  .map(([top, lines, cut]) => {
    const body = lines.map(([row, end]) => row + end).join("");
    return `${top}${HEADER}\n${cut ? body.replace(/[\r\n]+$/, "") : body}`;
  });

const separator = fc.oneof({ weight: 3, arbitrary: fc.constant(",") }, fc.constantFrom(";", "\t", "|"));

const map = fc.option(
  fc.record(
    {
      decimal: fc.constantFrom(".", ","),
      dates: fc.constantFrom("day-month-year", "month-day-year"),
      zone: fc.constant("+02:00"),
      blanks: fc.constantFrom<string[]>(["n/a"], ["nd", "20"]),
      fixed: fc.constantFrom<NonNullable<ColumnMap["fixed"]>>({ cart: "QX-9" }, { fluid: "MIL-PRF-5606" }),
    },
    { requiredKeys: [] },
  ),
  { nil: undefined },
);

describe("rows read as bytes", () => {
  test("become what they become when they are read one by one, in any file and with any map", async () => {
    await fc.assert(
      fc.asyncProperty(text, separator, map, async (content, mark, settled) => {
        await readBothWays(
          content.replaceAll(",", mark),
          settled && { siltbookColumnMap: 1, name: "any", columns: {}, ...settled },
        );
      }),
      { numRuns: 1500 },
    );
  });

  test("are most rows of a plain file, and agree with the ordinary reader in every kind of file", async () => {
    for (const { file, bytes } of await twelveFiles(plainSamples(40))) {
      const opened = await openLabFile(bytesInMemory(file, bytes), { today: TODAY });
      const { inBlocks: _, ...pieces } = flatPieces(opened);
      expect(pieces, file).toEqual(flatFates(opened));
    }
    const rows = Array.from(
      { length: 9000 },
      (_, index) =>
        `S-${index},QX-${index % 7},fore,2026-03-14,,,${1500 - (index % 90)},300.5,20,120,0.12,14.2,,,,,,,,,,,`,
    );
    expect(await readBothWays(`${HEADER}\n${rows.join("\n")}\n`)).toBe(9000);
  });

  test("agree with the ordinary reader where a block ends in the middle of a cell of several lines", async () => {
    const rows = Array.from({ length: 9000 }, (_, index) => {
      const remark = index % 1500 === 1499 ? `"first\n${"x".repeat(index % 700)}\nlast"` : "";
      return `S-${index},QX-1,fore,2026-03-14,,,1500,300.5,20,120,0.12,14.2,,,,,,,,,,,${remark}`;
    });
    expect(await readBothWays(`${HEADER}\r\n${rows.join("\r\n")}`)).toBe(8994);
  });

  test("with a decimal comma, days written day first and a thousand with three figures are read in blocks too", async () => {
    const rows = Array.from(
      { length: 500 },
      (_, index) =>
        `S-${index};QX-1;fore;${1 + (index % 28)}.03.2026;;;${1500 + index},250;300,5;20;120;0,12;14,235;;;;;;;;;;;`,
    );
    expect(await readBothWays(`${HEADER.replaceAll(",", ";")}\n${rows.join("\n")}`)).toBeGreaterThan(490);
  });

  test("a number in a row whose last quotation mark is never closed shows nothing of the decimal mark", async () => {
    // The head of a file is read by the ordinary reader in any case; what matters stands behind it.
    const rows = "S-1,QX-1,fore,2026-03-14,,,1500,300,20,,,,,,,,,,,,,,\n".repeat(200);
    const open = 'S-2,QX-1,fore,2026-03-14,,,1500,300,"1,5",,,,,,,,,,,,,,"open\n';
    const last = "S-3,QX-1,fore,2026-03-14,,,1500,300,20,,,14.235,,,,,,,,,,,\n";
    await readBothWays(`${HEADER}\n${rows}${open}${last}`);
  });

  test("refuse a line of more than a million characters in the same words", async () => {
    // The head of a file is read by the ordinary reader in any case; the long line stands behind it.
    const rows = "S-1,QX-1,fore,2026-03-14,,,1500,300,20,,,,,,,,,,,,,,\n".repeat(200);
    const long = `S-2,QX-1,fore,2026-03-14,,,${"1".repeat(2_000_000)}\n`;
    const bytes = new TextEncoder().encode(`${HEADER}\n${rows}${long}`);
    const opened = await openLabFile(bytesInMemory("long.csv", bytes), { today: TODAY });
    const said = (act: () => void) => {
      try {
        act();
      } catch (error) {
        return error instanceof IntakeError ? error.message : undefined;
      }
      return undefined;
    };
    expect(said(() => flatPieces(opened))).toBe(said(() => flatFates(opened)));
    expect(said(() => flatPieces(opened))).toContain("long.csv row 202: expected lines of at most");
  });
});
