import ExcelJS from "exceljs";
import { describe, expect, test } from "vitest";
import { describeIssue, readLabFile } from "../../src/intake/index.js";
import { describePlaces, placeOfColumn } from "../../src/provenance/index.js";
import { briefOf, readBriefly } from "../support/intake/brief.js";

type Read = [title: string, samples: string[], lines: string[], map?: object];
type Refused = [title: string, message: RegExp, lines: string[], map?: object];

const READ: Read[] = [
  [
    "comma between cells",
    [
      "S-1 QB-01 fore 2026-08-03 4:900 6:250 14:30 /1 w90 a0.08",
      "S-2 QB-01 aft 2026-08-04 4:700 6:200 14:25 /1 w80 a0.07",
    ],
    [
      "Sample no.,S-1,S-2",
      "Cart,QB-01,QB-01",
      "Circuit,fore,aft",
      "Date drawn,2026-08-03,2026-08-04",
      "≥4 µm(c) per mL,900,700",
      "≥6 µm(c) per mL,250,200",
      "≥14 µm(c) per mL,30,25",
      "Water (ppm),90,80",
      "Acid number (mg KOH/g),0.08,0.07",
    ],
  ],
  [
    "below a title, above a signature, with a decimal comma",
    ["S-1 QB-01 fore 2026-08-03 4:900.5 6:250.1 /1 w90.5", "S-2 QB-01 aft 2026-08-04 4:700 6:200.2 /1 w80.5"],
    [
      "Prüfbericht 17;;",
      ";;",
      "Sample no.;S-1;S-2",
      "Cart;QB-01;QB-01",
      "Circuit;fore;aft",
      "Date drawn;03.08.2026;04.08.2026",
      "> 4 µm(c) /mL;900,5;700,0",
      "> 6 µm(c) /mL;250,1;200,2",
      "Water (mg/kg);90,5;80,5",
      "",
      "Geprüft: A. Muster",
    ],
  ],
  [
    "numbers of the samples in the row of titles, as a column map says",
    ["S-1 QB-01 fore 2026-08-03 4:900 /1 w90", "S-2 QB-01 aft 2026-08-04 4:700 /1 w80"],
    [
      "Parameter,Unit,S-1,S-2",
      "Cart,,QB-01,QB-01",
      "Circuit,,fore,aft",
      "Sampling date,,2026-08-03,2026-08-04",
      "4 µm(c),1/mL,900,700",
      "Water,mg/kg,90,80",
    ],
    { columns: { Parameter: { holds: "sample" } } },
  ],
  [
    "a column of units and one of limits after the samples",
    ["S-1 QB-01 fore 2026-08-03 4:900 /1 w90", "S-2 QB-01 aft 2026-08-04 4:700 /1 w80"],
    [
      "Sample,S-1,S-2,Unit,Limit",
      "Cart,QB-01,QB-01,,",
      "Circuit,fore,aft,,",
      "Sampling date,2026-08-03,2026-08-04,,",
      "4 µm(c),900,700,1/mL,1300",
      "Water,90,80,ppm,200",
    ],
  ],
  [
    "a column of limits before the samples",
    ["S-1 QB-01 fore 2026-08-03 4:900 /1 w90", "S-2 QB-01 aft 2026-08-04 4:700 /1 w80"],
    [
      "Parameter,Limit,S-1,S-2",
      "Sample,,S-1,S-2",
      "Cart,,QB-01,QB-01",
      "Circuit,,fore,aft",
      "Drawn on,,2026-08-03,2026-08-04",
      "4 µm(c) per mL,1300,900,700",
      "Water (ppm),200,90,80",
    ],
  ],
  [
    "blank results",
    [
      "S-1 QB-01 fore 2026-08-03 4:900 /1 w90",
      "S-2 QB-01 aft 2026-08-03 w80",
      "S-3 QB-02 fore 2026-08-03 4:700 /1",
    ],
    [
      "Sample no.,S-1,S-2,S-3",
      "Cart,QB-01,QB-01,QB-02",
      "Circuit,fore,aft,fore",
      "Drawn on,2026-08-03,2026-08-03,2026-08-03",
      "4 µm(c) per mL,900,,700",
      "Water (ppm),90,80,",
    ],
  ],
  [
    "headings above the counts and the chemistry",
    ["S-1 QB-01 fore 2026-08-03 4:900 6:250 /1 w90", "S-2 QB-01 aft 2026-08-04 4:700 6:200 /1 w80"],
    [
      "Sample no.;S-1;S-2",
      "Cart;QB-01;QB-01",
      "Circuit;fore;aft",
      "Drawn on;2026-08-03;2026-08-04",
      "Particle counts per mL;;",
      "> 4 µm(c);900;700",
      "> 6 µm(c);250;200",
      "Chemistry;;",
      "Water (ppm);90;80",
    ],
  ],
  [
    "limits under a heading of their own",
    ["S-1 QB-01 fore 2026-08-03 w90", "S-2 QB-01 aft 2026-08-04 w80"],
    [
      "Sample no.;S-1;S-2",
      "Cart;QB-01;QB-01",
      "Circuit;fore;aft",
      "Drawn on;2026-08-03;2026-08-04",
      "Results;;",
      "Water (ppm);90;80",
      "Limits;;",
      "Water (ppm);200;200",
    ],
  ],
  [
    "a second page below the first",
    [
      "S-1 QB-01 fore 2026-08-03 w90",
      "S-2 QB-01 aft 2026-08-04 w80",
      "S-3 QB-02 fore 2026-08-03 w95",
      "S-4 QB-02 aft 2026-08-04 w85",
    ],
    [
      "Sample no.,S-1,S-2",
      "Cart,QB-01,QB-01",
      "Circuit,fore,aft",
      "Drawn on,2026-08-03,2026-08-04",
      "Water (ppm),90,80",
      "",
      "Page 2,,",
      "Sample no.,S-3,S-4",
      "Cart,QB-02,QB-02",
      "Circuit,fore,aft",
      "Drawn on,2026-08-03,2026-08-04",
      "Water (ppm),95,85",
    ],
  ],
  [
    "the cart in a line above",
    ["S-1 QB-01 fore 2026-08-03 w90", "S-2 QB-01 aft 2026-08-04 w80"],
    [
      "Cart: QB-01,,",
      "Sample no.,S-1,S-2",
      "Circuit,fore,aft",
      "Drawn on,2026-08-03,2026-08-04",
      "Water (ppm),90,80",
    ],
  ],
  [
    "a mean of the samples is none of them",
    ["S-1 QB-01 fore 2026-08-03 w90", "S-2 QB-01 aft 2026-08-03 w80"],
    [
      "Sample no.,S-1,S-2,Mean",
      "Cart,QB-01,QB-01,",
      "Circuit,fore,aft,",
      "Drawn on,2026-08-03,2026-08-03,",
      "Water (ppm),90,80,85",
    ],
  ],
  [
    "runs in rows of their own",
    ["S-1 QB-01 fore 2026-08-03 4:905 /1 2 runs", "S-2 QB-01 aft 2026-08-03 4:710 /1 2 runs"],
    [
      "Sample no.,S-1,S-2",
      "Cart,QB-01,QB-01",
      "Circuit,fore,aft",
      "Drawn on,2026-08-03,2026-08-03",
      "Run 1 4 µm(c) per mL,900,700",
      "Run 2 4 µm(c) per mL,910,720",
    ],
  ],
  [
    "a day that a column map settles",
    ["S-1 QB-01 fore 2026-08-03 w90", "S-2 QB-01 aft 2026-08-03 w80"],
    [
      "Sample no.,S-1,S-2",
      "Cart,QB-01,QB-01",
      "Circuit,fore,aft",
      "Date,2026-08-03,2026-08-03",
      "Water (ppm),90,80",
    ],
    { columns: { Date: { holds: "drawn" } } },
  ],
  [
    "one sample is a block, as ever",
    ["S-1 QB-01 fore 2026-08-03 w90"],
    ["Sample no.,S-1", "Cart,QB-01", "Circuit,fore", "Drawn on,2026-08-03", "Water (ppm),90"],
  ],
  [
    "a row of ordinals above",
    ["S-1 QB-01 fore 2026-08-03 w90", "S-2 QB-01 aft 2026-08-03 w80", "S-3 QB-01 mid 2026-08-04 w85"],
    [
      ",1,2,3",
      "Sample no.,S-1,S-2,S-3",
      "Cart,QB-01,QB-01,QB-01",
      "Circuit,fore,aft,mid",
      "Drawn on,2026-08-03,2026-08-03,2026-08-04",
      "Water (ppm),90,80,85",
    ],
  ],
  [
    "a blank column between the samples",
    ["S-1 QB-01 fore 2026-08-03 w90", "S-2 QB-01 aft 2026-08-03 w80"],
    [
      "Sample no.,S-1,,S-2",
      "Cart,QB-01,,QB-01",
      "Circuit,fore,,aft",
      "Drawn on,2026-08-03,,2026-08-03",
      "Water (ppm),90,,80",
    ],
  ],
  [
    "a cart that a column map gives",
    ["S-1 QB-01 fore 2026-08-03 w90", "S-2 QB-01 aft 2026-08-03 w80"],
    ["Sample no.,S-1,S-2", "Circuit,fore,aft", "Drawn on,2026-08-03,2026-08-03", "Water (ppm),90,80"],
    { fixed: { cart: "QB-01" } },
  ],
  [
    "the verdict of the laboratory",
    ["S-1 QB-01 fore 2026-08-03 w90 remark", "S-2 QB-01 aft 2026-08-03 w80 remark"],
    [
      "Sample no.,S-1,S-2",
      "Cart,QB-01,QB-01",
      "Circuit,fore,aft",
      "Drawn on,2026-08-03,2026-08-03",
      "Water (ppm),90,80",
      "Status,PASS,FAIL",
    ],
  ],
  [
    "a note after the last column",
    ["S-1 QB-01 fore 2026-08-03 w90", "S-2 QB-01 aft 2026-08-03 w80"],
    [
      "Sample no.,S-1,S-2,,see note 3",
      "Cart,QB-01,QB-01,,",
      "Circuit,fore,aft,,",
      "Drawn on,2026-08-03,2026-08-03,,",
      "Water (ppm),90,80,,",
    ],
  ],
  [
    "days whose order another column shows",
    ["S-1 QB-01 fore 2026-08-03 w90", "S-2 QB-01 aft 2026-08-13 w80"],
    [
      "Sample no.,S-1,S-2",
      "Cart,QB-01,QB-01",
      "Circuit,fore,aft",
      "Drawn on,03/08/2026,13/08/2026",
      "Water (ppm),90,80",
    ],
  ],
  [
    "a class that is held against the counts",
    ["S-1 QB-01 fore 2026-08-03 4:900 6:250 14:30 /1", "S-2 QB-01 aft 2026-08-03 4:700 6:200 14:25 /1"],
    [
      "Sample no.,S-1,S-2",
      "Cart,QB-01,QB-01",
      "Circuit,fore,aft",
      "Drawn on,2026-08-03,2026-08-03",
      "4 µm(c) per mL,900,700",
      "6 µm(c) per mL,250,200",
      "14 µm(c) per mL,30,25",
      "ISO 4406,17/15/12,17/15/12",
      "Remarks,,",
    ],
  ],
  [
    "tabs between cells, days in French",
    ["S-1 QB-01 fore 2026-08-03 4:900 /1", "S-2 QB-01 aft 2026-08-04 4:700 /1"],
    [
      "Sample no.\tS-1\tS-2",
      "Cart\tQB-01\tQB-01",
      "Circuit\tfore\taft",
      "Sampling date\t3 août 2026\t4 août 2026",
      "4 µm(c) par mL\t900\t700",
    ],
  ],
  [
    "labels with colons",
    ["S-1 QB-01 fore 2026-08-03 w90", "S-2 QB-01 aft 2026-08-04 w80"],
    [
      "Sample no.:;S-1;S-2",
      "Cart:;QB-01;QB-01",
      "Circuit:;fore;aft",
      "Drawn on:;2026-08-03;2026-08-04",
      "Water (ppm):;90;80",
    ],
  ],
  [
    "names below the results",
    ["S-1 QB-01 fore 2026-08-03 w90", "S-2 QB-01 aft 2026-08-04 w80"],
    [
      "Water (ppm);90;80",
      "Sample no.;S-1;S-2",
      "Cart;QB-01;QB-01",
      "Circuit;fore;aft",
      "Drawn on;2026-08-03;2026-08-04",
    ],
  ],
  [
    "a bottle blank is no sample",
    ["S-1 QB-01 fore 2026-08-03 4:900 /1", "S-2 QB-01 aft 2026-08-04 4:700 /1"],
    [
      "Sample no.;S-1;S-2;Blank",
      "Cart;QB-01;QB-01;",
      "Circuit;fore;aft;",
      "Drawn on;2026-08-03;2026-08-04;",
      "4 µm(c) per mL;900;700;10",
    ],
  ],
  [
    "a check that a person has accepted",
    ["S-1 QB-01 fore 2026-08-03 w1.5", "S-2 QB-01 aft 2026-08-04 w80"],
    [
      "Sample no.;S-1;S-2",
      "Cart;QB-01;QB-01",
      "Circuit;fore;aft",
      "Drawn on;2026-08-03;2026-08-04",
      "Water (ppm);1.5;80",
      "quarantine accepted;water-per-cent-as-ppm;",
    ],
  ],
];

const ASIDE: Read[] = [
  [
    "a number that cannot be read",
    ["S-1 QB-01 fore 2026-08-03 4:900 /1 w90", "S-3 QB-02 fore 2026-08-03 4:700 /1 w70"],
    [
      "Sample no.,S-1,S-2,S-3",
      "Cart,QB-01,QB-01,QB-02",
      "Circuit,fore,aft,fore",
      "Drawn on,2026-08-03,2026-08-03,2026-08-03",
      "4 µm(c) per mL,900,9OO,700",
      "Water (ppm),90,80,70",
    ],
  ],
  [
    "a cart that is written once for two columns",
    ["S-1 QB-01 fore 2026-08-03 w90"],
    [
      "Sample no.,S-1,S-2",
      "Cart,QB-01,",
      "Circuit,fore,aft",
      "Drawn on,2026-08-03,2026-08-03",
      "Water (ppm),90,80",
    ],
  ],
  [
    "a line below that says that a sample failed",
    ["S-1 QB-01 fore 2026-08-03 w90", "S-2 QB-01 aft 2026-08-03 w80"],
    [
      "Sample no.,S-1,S-2",
      "Cart,QB-01,QB-01",
      "Circuit,fore,aft",
      "Drawn on,2026-08-03,2026-08-03",
      "Water (ppm),90,80",
      "Sample S-2 FAILED,,",
    ],
  ],
  [
    "a column without the number of its sample",
    ["S-1 QB-01 fore 2026-08-03 w90", "S-2 QB-01 aft 2026-08-03 w80"],
    [
      "Sample no.,S-1,S-2,",
      "Cart,QB-01,QB-01,QB-01",
      "Circuit,fore,aft,mid",
      "Drawn on,2026-08-03,2026-08-03,2026-08-03",
      "Water (ppm),90,80,85",
    ],
  ],
  [
    "a dilution under a title that is not known",
    ["S-2 QB-01 aft 2026-08-04 4:700 /1"],
    [
      "Sample no.;S-1;S-2",
      "Cart;QB-01;QB-01",
      "Circuit;fore;aft",
      "Drawn on;2026-08-03;2026-08-04",
      "4 µm(c) per mL;900;700",
      "Dilution;1:10;1:1",
    ],
  ],
  [
    "counts that rise",
    ["S-2 QB-01 aft 2026-08-04 4:700 6:200 /1"],
    [
      "Sample no.;S-1;S-2",
      "Cart;QB-01;QB-01",
      "Circuit;fore;aft",
      "Drawn on;2026-08-03;2026-08-04",
      "4 µm(c) per mL;900;700",
      "6 µm(c) per mL;1900;200",
    ],
  ],
];

const REFUSED: Refused[] = [
  [
    "numbers that may be those of samples",
    /"Parameter": does this row of titles hold/,
    [
      "Parameter,Unit,S-1,S-2",
      "Cart,,QB-01,QB-01",
      "Circuit,,fore,aft",
      "Sampling date,,2026-08-03,2026-08-04",
      "4 µm(c),1/mL,900,700",
      "6 µm(c),1/mL,250,200",
      "Water,mg/kg,90,80",
    ],
  ],
  [
    "a line above that contradicts the titles",
    /1 mL or for 100 mL|100 mL or for 1 mL|says both/,
    [
      "All particle counts are per 100 mL,,",
      "Sample no.,S-1,S-2",
      "Cart,QB-01,QB-01",
      "Circuit,fore,aft",
      "Drawn on,2026-08-03,2026-08-04",
      "4 µm(c) per mL,90000,80000",
      "Water (ppm),90,80",
    ],
  ],
  [
    "a line below that contradicts the titles",
    /mL/,
    [
      "Sample no.,S-1,S-2",
      "Cart,QB-01,QB-01",
      "Circuit,fore,aft",
      "Drawn on,2026-08-03,2026-08-04",
      "4 µm(c) per mL,90000,80000",
      "Water (ppm),90,80",
      "All particle counts are per 100 mL,,",
    ],
  ],
  [
    "two rows of one title",
    /two .*hold the same thing/,
    [
      "Sample no.,S-1,S-2",
      "Cart,QB-01,QB-01",
      "Circuit,fore,aft",
      "Drawn on,2026-08-03,2026-08-03",
      "Water (ppm),90,80",
      "Water (ppm),95,85",
    ],
  ],
  [
    "a day of what",
    /Date.*drawn, received or reported/,
    [
      "Sample no.,S-1,S-2",
      "Cart,QB-01,QB-01",
      "Circuit,fore,aft",
      "Date,2026-08-03,2026-08-03",
      "Water (ppm),90,80",
    ],
  ],
  [
    "values in a row without a label",
    /row 6: expected a label in column A/,
    [
      "Sample no.;S-1;S-2",
      "Cart;QB-01;QB-01",
      "Circuit;fore;aft",
      "Drawn on;2026-08-03;2026-08-04",
      "Water (ppm);90;80",
      ";0.08;0.07",
    ],
  ],
  [
    "a unit that contradicts its title",
    /which unit/,
    [
      "Sample no.;Unit;S-1;S-2",
      "Cart;;QB-01;QB-01",
      "Circuit;;fore;aft",
      "Drawn on;;2026-08-03;2026-08-04",
      "Water (ppm);%;0.09;0.08",
    ],
  ],
];

const textOf = (lines: readonly string[]) => `${lines.join("\n")}\n`;

describe("a table with its samples across is read column by column", () => {
  test.each<Read>(READ)("%s", async (_, expected, lines, map) => {
    const { samples, issues } = await readBriefly(textOf(lines), map);
    expect([samples, issues]).toEqual([expected, []]);
  });
});

describe("every place of a table with its samples across has one fate", () => {
  test("a line outside of it is a row, and inside of it each column is a place", async () => {
    const { places, file } = await readBriefly(
      textOf([
        "Report 17;;;;",
        "",
        "Sample no.;Unit;S-1;S-2;S-3;Limit",
        "Cart;;QB-01;QB-01;QB-01;",
        "Circuit;;fore;aft;mid;",
        "Drawn on;;2026-08-03;2026-08-03;2026-08-33;",
        "Chemistry;;;;;",
        "Water;ppm;90;80;70;200",
        "Checked: A. Person;;;;",
      ]),
    );
    const columns = [0, 1, 2, 3, 4, 5].map((column) => placeOfColumn(column, 3));
    expect(places).toEqual([1, 2, 7, 9, ...columns]);
    expect([file.rows, file.shape]).toEqual([3, "across"]);
    expect(file.quarantine.map(({ row, text }) => [describePlaces([row]), text])).toEqual([
      ["column E from row 3", "S-3	QB-01	mid	2026-08-33	70"],
    ]);
  });

  test.each<Read>(READ)("%s: no place has two", async (_, __, lines, map) => {
    const { places } = await readBriefly(textOf(lines), map);
    expect(new Set(places).size).toBe(places.length);
  });
});

describe("a column of a table with its samples across waits for a person, and the others are read", () => {
  test.each<Read>(ASIDE)("%s", async (_, expected, lines, map) => {
    const { samples, aside } = await readBriefly(textOf(lines), map);
    expect([samples, aside.length]).toEqual([expected, 1]);
  });
});

describe("a table with its samples across that has two readings is refused with what to do", () => {
  test.each<Refused>(REFUSED)("%s", async (_, message, lines, map) => {
    await expect(readBriefly(textOf(lines), map)).rejects.toThrow(message);
  });
});

describe("sheets of a workbook", () => {
  const NAMED = [
    ["Sample no.", "S-1", "S-2", "S-3"],
    ["Cart", "QB-01", null, "QB-02"],
    ["Circuit", "fore", "aft", "fore"],
    ["Drawn on", new Date(Date.UTC(2026, 7, 3)), "2026-08-03", "2026-08-03"],
  ];

  test("cells merged over several samples hold for each of them, and blank ones do not", async () => {
    const book = new ExcelJS.Workbook();
    const merged = book.addWorksheet("March");
    for (const row of [...NAMED, ["Water (ppm)", 90, 80, 70]]) merged.addRow(row);
    merged.mergeCells("B2:C2");
    const blank = book.addWorksheet("April");
    for (const row of [...NAMED, ["Acid number (mg KOH/g)", 0.08, 0.07, 0.06]]) blank.addRow(row);
    const file = await readLabFile("lab.xlsx", new Uint8Array(await book.xlsx.writeBuffer()));
    expect(file.samples.map(briefOf)).toEqual([
      "S-1 QB-01 fore 2026-08-03 w90",
      "S-2 QB-01 aft 2026-08-03 w80",
      "S-3 QB-02 fore 2026-08-03 w70",
      "S-1 QB-01 fore 2026-08-03 a0.08",
      "S-3 QB-02 fore 2026-08-03 a0.06",
    ]);
    expect(file.quarantine.flatMap(({ issues }) => issues.map(describeIssue))).toEqual([
      'lab.xlsx sheet "April" column C, row "Cart": expected the cart, found ""',
    ]);
    expect([file.readAs, file.shape]).toEqual(["a workbook of 2 sheets", "across"]);
  });

  test("a table below it on its sheet is read by its own header, on one sheet", async () => {
    const book = new ExcelJS.Workbook();
    const sheet = book.addWorksheet("March");
    for (const row of [...NAMED, ["Water (ppm)", 90, 80, 70], []]) sheet.addRow(row);
    sheet.addRow(["sample", "cart", "circuit", "drawn on", "water (mg/kg)"]);
    sheet.addRow(["S-9", "QB-02", "fore", "2026-08-04", 77]);
    const file = await readLabFile("lab.xlsx", new Uint8Array(await book.xlsx.writeBuffer()));
    expect(file.samples.map(briefOf)).toContain("S-9 QB-02 fore 2026-08-04 w77");
    expect(file.samples.find(({ sample }) => sample === "S-9")?.origin).toMatchObject([
      { sheet: "March", rows: [8] },
    ]);
    expect([file.readAs, file.rows]).toEqual(["a workbook of 1 sheet", 4]);
  });
});

describe("nothing of a table with its samples across is passed over as a limit", () => {
  const table = (heading: string) => [
    `Sample no.;S-1;S-2;${heading}`,
    "Cart;QB-01;QB-01;",
    "Circuit;fore;aft;",
    "Drawn on;2026-08-03;2026-08-03;",
    "Water (ppm);90;80;900",
  ];

  test.each(["Limit", "Max.", "Grenzwert", "Previous"])("%s holds none of a sample", async (heading) => {
    const { file, aside } = await readBriefly(textOf(table(heading)));
    expect(aside).toEqual([]);
    expect(file.assumptions.map(({ message }) => message)).toContain(
      "the samples of columns B, C were read by the titles in column A, and column D was not used",
    );
  });

  test.each(["S-3", "Max-2", "Spec-2", "S-2 new", "3"])(
    "%s may be a sample whose names are missing",
    async (heading) => {
      const { aside } = await readBriefly(textOf(table(heading)));
      expect(aside).toEqual([placeOfColumn(3, 1)]);
    },
  );
});
