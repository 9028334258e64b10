import ExcelJS from "exceljs";
import { expect, test } from "vitest";
import {
  bytesInMemory,
  type ColumnMap,
  columnMapSchema,
  openLabFile,
  quarantineFilesOf,
  type Table,
} from "../../src/intake/index.js";
import type { Sample } from "../../src/samples/index.js";

const NAMES = "sample,cart,circuit,drawn on";
const S1 = "S-1,C-1,1,2026-03-04";

/** The samples of a file without their places, and its tables with the rows that wait. */
async function read(name: string, text: string, map?: ColumnMap) {
  const source = bytesInMemory(name, new TextEncoder().encode(text));
  const { tables, fates } = await openLabFile(source, { today: "2026-12-31", ...(map && { map }) });
  const all = [...fates()];
  return {
    tables,
    samples: all.flatMap((fate) => {
      if (fate.kind !== "sample") return [];
      // Two columns of one title have two titles there; what they say decides the same.
      const { origin: _, otherTexts: __, laboratorySays, ...says } = fate.fate.sample as Sample;
      return [
        { ...says, ...(laboratorySays && { laboratorySays: laboratorySays.map(({ text: said }) => said) }) },
      ];
    }),
    waiting: all.flatMap((fate) => (fate.kind === "quarantined" ? [fate.row] : [])),
  };
}

/** Files of many habits whose water "1O" waits, some with what a column map settles. */
const FILES: [string, string, object?][] = [
  ["a wide table", `${NAMES},4 µm(c) per mL,water (mg/kg)\n${S1},900,1O`],
  [
    "decimal commas, and an order of days that another row shows",
    "sample;cart;circuit;drawn on;4 µm(c) per mL;water (mg/kg);acid number (mg KOH/g)\n" +
      "S-0;C-1;1;14/03/2026;800;10,5;0,5\nS-1;C-1;1;03/04/2026;1.500;1O;0,1",
  ],
  [
    "titles that are empty or there twice",
    `${NAMES},,note,note,4 µm(c) per mL,water (mg/kg)\n${S1},x,y,z,900,1O`,
  ],
  ["cells that begin like a formula", `${NAMES},water (mg/kg),note\n${S1.replace("S-1", "=S+1")},1O,-x`],
  [
    "a row of units",
    "sample,cart,circuit,drawn on,> 4 µm(c),water\n,,,,/100 mL,mg/kg\nS-1,C-1,1,2026-03-04,90000,1O",
  ],
  ["a column of volumes", `${NAMES},Counts per,> 4 µm(c),water (mg/kg)\n${S1},100 mL,90000,1O`],
  ["a table with a row for each measurand", `${NAMES},test,result,unit\n${S1},water,1O,mg/kg`],
  [
    "a block of labels",
    "sample,S-1\ncart,C-1\ncircuit,1\ndrawn on,2026-03-04\n4 µm(c) per mL,900\nwater (mg/kg),1O",
  ],
  [
    "samples across",
    "sample,S-1,S-2\ncart,C-1,C-1\ncircuit,1,1\ndrawn on,2026-03-04,2026-03-05\n4 µm(c) per mL,900,800\nwater (mg/kg),1O,90",
  ],
  [
    "JSON",
    JSON.stringify([
      {
        sample: "S-1",
        cart: "C-1",
        circuit: "1",
        "drawn on": "2026-03-04",
        "4 µm(c) per mL": 900.5,
        "water (mg/kg)": "1O",
      },
    ]),
  ],
  ["runs", `${NAMES},run,4 µm(c) per mL,water (mg/kg)\n${S1},1,900,1O\n${S1},2,910,`],
  [
    "the cart in a line above",
    "Cart: C-1\n\nsample,circuit,drawn on,4 µm(c) per mL,water (mg/kg)\nS-1,1,2026-03-04,900,1O",
  ],
  [
    "the fluid and the port in lines above",
    "Fluid: MIL-PRF-5606\nSampling point: drain\nFlowing: no\n\nsample,cart,circuit,drawn on,4 µm(c) per mL,water (mg/kg)\nS-1,C-1,1,2026-03-04,900,1O",
  ],
  [
    "what a document says around its list",
    JSON.stringify({
      status: "preliminary, results may change",
      samples: [
        { sample: "S-1", cart: "C-1", circuit: "1", "drawn on": "2026-03-04", "water (mg/kg)": "1O" },
      ],
    }),
  ],
  [
    "labels in pairs, of which one has no value",
    "sample,S-1,cart,C-1\ncircuit,1,drawn on,2026-03-04\nfluid,,received on,2026-03-05\nremarks,do not use\nwater (mg/kg),1O",
  ],
  [
    "the cart in a column map",
    "sample,circuit,drawn on,4 µm(c) per mL,water (mg/kg)\nS-1,1,2026-03-04,900,1O",
    { fixed: { cart: "C-1" } },
  ],
  [
    "titles that a column map settles",
    "Flasche,Wagen,Kreis,gezogen,4 µm(c) per mL,Wasser\nS-1,C-1,1,2026-03-04,900,1O",
    {
      columns: {
        ...{ Flasche: { holds: "sample" }, Wagen: { holds: "cart" }, Kreis: { holds: "circuit" } },
        ...{ gezogen: { holds: "drawn" }, Wasser: { holds: "water", unit: "mg/kg" } },
      },
    },
  ],
];

test("the fluid and the days that another sheet says of a bottle come back with its row", async () => {
  const book = new ExcelJS.Workbook();
  const register = ["sample", "cart", "circuit", "drawn on", "fluid", "received on"];
  for (const [name, rows] of [
    ["Register", [register, ["S-1", "C-1", "1", "2026-03-04", "MIL-PRF-5606", "2026-03-05"]]],
    [
      "Results",
      [
        [...register.slice(0, 5), "water (mg/kg)"],
        ["S-1", "C-1", "1", "2026-03-04", "", "1O"],
      ],
    ],
  ] as const)
    book.addWorksheet(name).addRows(rows.map((cells) => [...cells]));
  const bytes = new Uint8Array(await book.xlsx.writeBuffer());
  const { tables, fates } = await openLabFile(bytesInMemory("lab.xlsx", bytes));
  const waiting = [...fates()].flatMap((fate) => (fate.kind === "quarantined" ? [fate.row] : []));
  const [file] = tables.flatMap((table) => quarantineFilesOf(table, waiting, "0".repeat(64), undefined));
  const { samples } = await read("back.csv", file?.csv.replaceAll("1O", "10") ?? "", file?.map);
  expect(samples).toMatchObject([
    { fluid: "MIL-PRF-5606", receivedOn: "2026-03-05", waterPpm: { value: 10 } },
  ]);
});

test.each(FILES)(
  "%s: a row that waited and comes back corrected is the sample that it would have been",
  async (_, text, more) => {
    const map = more && columnMapSchema.parse({ siltbookColumnMap: 1, name: "lab", ...more });
    const first = await read("lab.csv", text, map);
    expect(first.waiting.length).toBeGreaterThan(0);
    const files = first.tables.flatMap((table: Table) =>
      quarantineFilesOf(table, first.waiting, "0".repeat(64), map),
    );
    const back: object[] = [...first.samples];
    for (const { csv, map: own } of files)
      back.push(...(await read("back.csv", csv.replaceAll("1O", "10"), own)).samples);
    const byNumber = (all: readonly object[]) =>
      all.toSorted((a, b) => JSON.stringify(a).localeCompare(JSON.stringify(b)));
    expect(byNumber(back)).toEqual(
      byNumber((await read("lab.csv", text.replaceAll("1O", "10"), map)).samples),
    );
  },
);
