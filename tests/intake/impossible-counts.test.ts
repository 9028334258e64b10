import { join } from "node:path";
import ExcelJS from "exceljs";
import { strFromU8, strToU8, unzipSync, zipSync } from "fflate";
import { describe, expect, test } from "vitest";
import { judgeCircuit } from "../../src/fitness/index.js";
import { describeIssue, readLabFile } from "../../src/intake/index.js";
import { caseOf, sample } from "../support/fitness/bases.js";
import { type FilesOfCase, HEADER, judgeCase, row } from "../support/one-cart.js";
import { temporaryFolder } from "../support/temporary-folder.js";

const root = temporaryFolder();
let made = 0;
const folder = () => {
  made += 1;
  return join(root, String(made));
};

const judge = (way: "files" | "book", given: FilesOfCase) => judgeCase(folder(), way, given);

/** Both ways lead to one verdict; the answer of the files is given back. */
async function judgeBothWays(given: FilesOfCase) {
  const files = await judge("files", given);
  const book = await judge("book", given);
  expect([book.verdict, files.verdict]).toEqual([files.verdict, book.verdict]);
  return { files, book };
}

// Five samples well inside 17/15/12 (1300, 320 and 40 per mL), a month apart.
const USUAL = [
  row("S-1", "2026-01-05", "600,150,20"),
  row("S-2", "2026-02-05", "640,160,18"),
  row("S-3", "2026-03-05", "580,140,22"),
  row("S-4", "2026-04-05", "610,155,19"),
  row("S-5", "2026-05-05", "590,145,21"),
];
const last = (counts: string, more = "") => row("S-6", "2026-06-05", counts, more);
const ON = "2026-06-10";

describe("counts far from all that the circuit has shown, and nothing that explains it, ask for a sample", () => {
  test.each([
    ["a hundredth, as per mL read for per 100 mL", "6,1.5,0.2"],
    ["a hundredth, with nothing left above 14 µm(c)", "6,1.5,0"],
    ["a hundredth, less alike from size to size", "9,1.2,0.1"],
    ["a fortieth of what was a little more", "15,4,0.5"],
    ["a thousandth", "0.6,0.15,0.02"],
    ["a five-thousandth", "0.12,0.03,0"],
    ["a hundred times", "60000,15000,2000"],
    ["fifty times", "30000,7500,1000"],
    ["ten thousand times", "6000000,1500000,200000"],
  ])("%s", async (_, counts) => {
    const { files, book } = await judgeBothWays({ files: [[...USUAL, last(counts)]], on: ON });
    expect([files.verdict, files.reasons]).toEqual([
      "resample",
      expect.arrayContaining(["counts-unlike-history"]),
    ]);
    expect([book.reasons, book.quarantine]).toEqual([
      expect.arrayContaining(["result-in-quarantine"]),
      ["factor-of-100"],
    ]);
  });

  const odd = last("6,1.5,0.2");
  test.each<[string, readonly (readonly string[])[], readonly object[]]>([
    ["the newest row stands first", [[odd, ...[...USUAL].reverse()]], []],
    ["the newest row is in the middle", [[...USUAL.slice(0, 2), odd, ...USUAL.slice(2)]], []],
    ["the newest file is given first, before there is any history", [[odd], USUAL], []],
    ["the history comes in two files around it", [USUAL.slice(0, 2), [odd], USUAL.slice(2)], []],
    ["fluid was topped up between", [[...USUAL, odd]], [{ on: "2026-05-20", kind: "top-up", added: "6 L" }]],
    ["it was connected to an aircraft between", [[...USUAL, odd]], [{ on: "2026-05-20", kind: "hookup" }]],
    [
      "it was circulated for a minute between, three quarters of a pass",
      [[...USUAL, odd]],
      [{ on: "2026-05-20", kind: "hookup", circulatedMinutes: 1 }],
    ],
    [
      "the element was changed before the last sample that was usual",
      [[...USUAL, odd]],
      [{ on: "2026-04-20", kind: "element-change" }],
    ],
    [
      "the sample before was as odd, and nobody accepted it",
      [[...USUAL, row("S-5b", "2026-05-20", "6,1.5,0.2"), odd]],
      [],
    ],
    [
      "the first sample of the circuit was odd as well",
      [[row("S-0", "2025-12-05", "6,1.5,0.2"), ...USUAL, odd]],
      [],
    ],
    [
      "after a change of fluid: it is a hundredth of the sample after the change as well",
      [[...USUAL, row("S-5b", "2026-05-25", "900,200,30"), odd]],
      [{ on: "2026-05-20", kind: "fluid-change" }],
    ],
  ])("a hundredth stays one where %s", async (_, files, events) => {
    const { files: answer } = await judgeBothWays({ files, events, on: ON });
    expect([answer.verdict, answer.reasons]).toEqual([
      "resample",
      expect.arrayContaining(["counts-unlike-history"]),
    ]);
  });
});

describe("a crew that does everything right is not sent away", () => {
  const clean = last("6,1.5,0.2");
  test.each<[string, readonly (readonly string[])[], readonly object[], string]>([
    ["the same as ever", [[...USUAL, last("600,150,20")]], [], "fit"],
    ["a tenth", [[...USUAL, last("60,15,2")]], [], "fit"],
    ["a twenty-fifth", [[...USUAL, last("24,6,0.8")]], [], "fit"],
    ["a hundredth at the smallest size alone", [[...USUAL, last("160,150,20")]], [], "fit"],
    ["twice as much, inside", [[...USUAL, last("1200,300,40")]], [], "fit"],
    ["twenty times as much is real contamination", [[...USUAL, last("12000,3000,400")]], [], "circulate"],
    [
      "clean again after a sample twenty times dirtier",
      [[...USUAL, row("S-5b", "2026-05-20", "12000,3000,400"), last("600,150,20")]],
      [],
      "fit",
    ],
    [
      "clean again after a sample a hundred times dirtier, which is in question itself",
      [[...USUAL, row("S-5b", "2026-05-20", "60000,15000,2000"), last("600,150,20")]],
      [],
      "fit",
    ],
    ["the fluid was changed", [[...USUAL, clean]], [{ on: "2026-05-20", kind: "fluid-change" }], "fit"],
    ["the element was changed", [[...USUAL, clean]], [{ on: "2026-05-20", kind: "element-change" }], "fit"],
    ["the fluid was dried", [[...USUAL, clean]], [{ on: "2026-05-20", kind: "dehydration" }], "fit"],
    [
      "it was circulated for ten minutes, seven and a half passes",
      [[...USUAL, clean]],
      [{ on: "2026-05-20", kind: "hookup", circulatedMinutes: 10 }],
      "fit",
    ],
    [
      "the second sample after a change of fluid",
      [[...USUAL, row("S-5b", "2026-05-25", "7,1.6,0.2"), clean]],
      [{ on: "2026-05-20", kind: "fluid-change" }],
      "fit",
    ],
    ["two samples of history are too few", [[...USUAL.slice(3), clean]], [], "fit"],
    [
      "samples drawn while a new cart is flushed, each a quarter of the one before",
      [
        [
          row("S-1", "2026-06-01", "40000,10000,1300"),
          row("S-2", "2026-06-02", "10000,2500,320"),
          row("S-3", "2026-06-03", "2500,640,80"),
          row("S-4", "2026-06-04", "640,160,20"),
          row("S-5", "2026-06-05", "160,40,5"),
        ],
      ],
      [],
      "fit",
    ],
    [
      "very clean fluid, in which a ratio is chance",
      [[...USUAL.map((line) => line.replace(/83282,[\d,.]+,120/, "83282,12,3,0.3,120")), last("0.3,0.1,0")]],
      [],
      "fit",
    ],
  ])("%s", async (_, files, events, verdict) => {
    const { files: answer } = await judgeBothWays({ files, events, on: ON });
    expect([answer.verdict, answer.reasons]).toEqual([
      verdict,
      expect.not.arrayContaining(["counts-unlike-history"]),
    ]);
  });

  test("what a person accepted is taken, said with the verdict, and the next sample is like it", async () => {
    const header = `${HEADER},quarantine accepted`;
    const files = [
      [...USUAL.map((line) => `${line},`), last("6,1.5,0.2", ",factor-of-100")],
      [row("S-7", "2026-06-08", "7,1.4,0.2", ",")],
    ];
    for (const given of [files.slice(0, 1), files])
      expect(await judgeBothWays({ files: given, header, on: ON })).toMatchObject({
        files: { verdict: "fit", quarantine: [] },
        book: { verdict: "fit", quarantine: [] },
      });
  });

  test("the verdict says what a person accepted of its sample", () => {
    const { assumptions } = judgeCircuit(caseOf(sample({ acceptedChecks: ["counts-all-equal"] })));
    expect(assumptions.map(({ message }) => message)).toContain(
      'a person accepted the check "counts-all-equal" for sample S-1',
    );
  });

  test("a sample that the book took before its history is accepted by importing it again", async () => {
    const header = `${HEADER},quarantine accepted`;
    const usual = USUAL.map((line) => `${line},`);
    const [odd, accepted] = [last("6,1.5,0.2", ","), last("6,1.5,0.2", ",factor-of-100")];
    const before = await judge("book", { files: [[odd], usual], header, on: ON });
    const after = await judge("book", { files: [[odd], usual, [accepted]], header, on: ON });
    expect([before.verdict, after.verdict]).toEqual(["resample", "fit"]);
  });

  test("what was accepted of some counts does not hold for the counts of a later report", async () => {
    const header = `${HEADER},quarantine accepted`;
    const usual = USUAL.map((line) => `${line},`);
    const files = [usual, [last("12,3,0.4", ",factor-of-100")], [last("6,1.5,0.2", ",")]];
    expect((await judge("book", { files, header, on: ON })).verdict).toBe("resample");
  });
});

describe("counts that no bottle of fluid shows are set aside, and a person may accept them", () => {
  test.each([
    ["nothing at any size", "0,0,0", "counts-all-zero"],
    ["nothing, written with decimals", "0.0,0.00,0.000", "counts-all-zero"],
    ["four particles in 100 mL", "0.04,0,0", "counts-all-zero"],
    ["the same at all sizes", "120,120,120", "counts-all-equal"],
    ["the same at all sizes, few of them", "5,5,5", "counts-all-equal"],
    ["next to the same", "600,599,598", "counts-all-equal"],
    ["the same at the first two sizes and nearly at the third", "300,300,280", "counts-all-equal"],
    ["nothing above 6 µm(c) of 900 above 4", "900,0,0", "counts-break-off"],
    ["nothing above 14 µm(c) of 500 above 6", "2000,500,0", "counts-break-off"],
  ])("%s", async (_, counts, code) => {
    for (const [accepted, answer] of [
      ["", { verdict: "resample", quarantine: [code] }],
      [code, { verdict: "fit", quarantine: [] }],
    ] as const) {
      const given = {
        files: [[last(counts, `,${accepted}`)]],
        header: `${HEADER},quarantine accepted`,
        target: "22/20/17",
        on: ON,
      };
      const { files, book } = await judgeBothWays(given);
      expect([files, book]).toMatchObject([answer, answer]);
    }
  });

  test.each([
    ["five particles in 100 mL", "0.05,0.01,0"],
    ["nothing above 14 µm(c)", "12,3,0"],
    ["nothing above 6 µm(c)", "8,0,0"],
    ["less than half a particle above 14 µm(c), of 499 above 6", "2000,499,0"],
    ["one above 14 µm(c) of 900 above 6", "2000,900,1"],
    ["one particle at each size, by rounding", "1,1,1"],
    ["four particles at each size, by rounding", "4,4,4"],
    ["the same above 4 and 6 µm(c)", "100,100,20"],
    ["the same above 6 and 14 µm(c)", "100,20,20"],
    ["half as many above 14 µm(c)", "100,80,50"],
  ])("%s may be a result", async (_, counts) => {
    const { files } = await judgeBothWays({ files: [[last(counts)]], target: "22/20/17", on: ON });
    expect(files).toMatchObject({ verdict: "fit", quarantine: [] });
  });

  const codesOf = async (file: string, bytes: Uint8Array) => {
    const { samples, quarantine } = await readLabFile(file, bytes);
    return [samples.length, [...new Set(quarantine.flatMap(({ issues }) => issues.map(({ code }) => code)))]];
  };
  const encode = (text: string) => new TextEncoder().encode(text);
  const sizes = [4, 6, 14];
  const SHAPES: readonly [string, (counts: readonly number[]) => Promise<[string, Uint8Array]>][] = [
    ["a row for each sample", async (counts) => ["w.csv", encode(`${HEADER}\n${last(counts.join(","))}`)]],
    [
      "a row for each measurand",
      async (counts) => [
        "l.csv",
        encode(
          [
            "Sample,Cart,Circuit,Date drawn,Parameter,Result,Unit",
            ...sizes.map((size, index) => `S-6,C-1,main,2026-06-05,> ${size} µm(c),${counts[index]},1/mL`),
          ].join("\n"),
        ),
      ],
    ],
    [
      "a block",
      async (counts) => [
        "b.csv",
        encode(
          [
            "Sample,S-6",
            "Cart,C-1",
            "Circuit,main",
            "Date drawn,2026-06-05",
            ...sizes.map((size, index) => `> ${size} µm(c) per mL,${counts[index]}`),
          ].join("\n"),
        ),
      ],
    ],
    ["JSON", async (counts) => ["j.json", encode(JSON.stringify([asObject(counts)]))]],
    ["JSON Lines", async (counts) => ["j.jsonl", encode(`${JSON.stringify(asObject(counts))}\n`)]],
    [
      "a workbook",
      async (counts) => {
        const workbook = new ExcelJS.Workbook();
        workbook
          .addWorksheet("results")
          .addRows([Object.keys(asObject(counts)), Object.values(asObject(counts))]);
        return ["x.xlsx", new Uint8Array(await workbook.xlsx.writeBuffer())];
      },
    ],
  ];
  const asObject = (counts: readonly number[]) => ({
    sample: "S-6",
    cart: "C-1",
    circuit: "main",
    "drawn on": "2026-06-05",
    ...Object.fromEntries(sizes.map((size, index) => [`${size} µm(c) per mL`, counts[index]])),
  });

  test.each(SHAPES)("in the shape of %s", async (_, fileOf) => {
    expect(await codesOf(...(await fileOf([0, 0, 0])))).toEqual([0, ["counts-all-zero"]]);
    expect(await codesOf(...(await fileOf([70, 70, 70])))).toEqual([0, ["counts-all-equal"]]);
    expect(await codesOf(...(await fileOf([70, 20, 0])))).toEqual([1, []]);
  });

  test.each([
    ["per 100 mL, 12 particles in the usual 10 mL", "120,120,120", "", ["counts-all-equal"]],
    ["per 100 mL, 2 particles in the usual 10 mL", "20,20,20", "", []],
    ["per 100 mL, 20 particles in 100 mL", "20,20,20", "100", ["counts-all-equal"]],
    ["per 100 mL, nothing, whatever was counted", "0,0,0", "100", ["counts-all-zero"]],
  ])("%s", async (_, counts, countedMl, codes) => {
    const header = `${HEADER.replaceAll("per mL", "per 100 mL")},counted volume (mL)`;
    const bytes = encode(`${header}\n${last(counts, `,${countedMl}`)}`);
    expect((await codesOf("lab.csv", bytes))[1]).toEqual(codes);
  });

  test("nothing found above large sizes alone is a result", async () => {
    const header = "sample,cart,circuit,drawn on,14 µm(c) per mL,70 µm(c) per mL";
    const bytes = encode(`${header}\nS-6,C-1,main,2026-06-05,0,0`);
    expect(await codesOf("lab.csv", bytes)).toEqual([1, []]);
  });
});

describe("water and acid of nothing are questioned", () => {
  test.each([
    ["0", "0.05", ["water-zero"]],
    ["0.0", "0.05", ["water-zero"]],
    ["≤ 0", "0.05", ["water-zero"]],
    ["120", "0", ["acid-zero"]],
    ["120", "0.00", ["acid-zero"]],
    ["120", "1e-30", ["acid-zero"]],
    ["0", "0", ["water-zero", "acid-zero"]],
    ["< 50", "< 0.05", []],
    ["120", "0.01", []],
    ["120", "-", []],
  ])("water %j and acid %j: %j", async (water, acid, codes) => {
    const line = last("600,150,20").replace("120,0.05", `${water},${acid}`);
    const { quarantine } = await readLabFile("lab.csv", new TextEncoder().encode(`${HEADER}\n${line}`));
    expect(quarantine.flatMap(({ issues }) => issues.map(({ code }) => code))).toEqual(codes);
  });
});

describe("a number that reading turns into 0 is refused as it is written", () => {
  const csv = (cell: string) => `${HEADER}\n${last("600,150,20").replace("20,120", `20,${cell}`)}`;
  const json = (cell: string) =>
    `{"sample":"S-6","cart":"C-1","circuit":"main","drawn on":"2026-06-05","water (mg/kg)":${cell}}`;
  test.each([
    ["lab.csv", csv("1e-400"), "1e-400"],
    ["lab.csv", csv("2.5E-999"), "2.5E-999"],
    ["lab.csv", csv("< 1e-400"), "< 1e-400"],
    ["lab.csv", csv("1e-310"), "1e-310"],
    ["lab.csv", csv("1e-400 ppm"), "1e-400 ppm"],
    ["lab.json", `[${json("1e-400")}]`, "1e-400"],
    ["lab.jsonl", `${json("1e-400")}\n`, "1e-400"],
    ["lab.jsonl", `${json('"1e-400"')}\n`, "1e-400"],
    ["lab.json", `[${json(`0.${"0".repeat(350)}1`)}]`, `0.${"0".repeat(350)}1`],
  ])("%s: %s", async (file, text, written) => {
    const { samples, quarantine } = await readLabFile(file, new TextEncoder().encode(text));
    const said = quarantine.flatMap(({ issues }) => issues.map(({ value }) => value));
    expect([samples.length, said]).toEqual([0, [written]]);
    expect(quarantine.flatMap(({ issues }) => issues.map(describeIssue)).join()).toMatch(
      /expected (0 or )?a number/,
    );
  });

  test("a number of a workbook", async () => {
    const workbook = new ExcelJS.Workbook();
    const [titles, cells] = [HEADER.split(","), last("600,150,20").split(",")];
    workbook.addWorksheet("results").addRows([titles, cells.map((cell) => (cell === "120" ? 777 : cell))]);
    const parts = unzipSync(new Uint8Array(await workbook.xlsx.writeBuffer()));
    const sheet = strFromU8(parts["xl/worksheets/sheet1.xml"] as Uint8Array);
    expect(sheet).toContain("<v>777</v>");
    const changed = sheet.replace("<v>777</v>", "<v>1E-400</v>");
    const bytes = zipSync({ ...parts, "xl/worksheets/sheet1.xml": strToU8(changed) });
    const { samples, quarantine } = await readLabFile("lab.xlsx", bytes);
    expect([samples.length, quarantine[0]?.issues.map(({ value }) => value)]).toEqual([0, ["1E-400"]]);
  });

  test.each(["0.000", "0e-400", "0,0", "1e-200"])("%s is the number it is", async (cell) => {
    const bytes = new TextEncoder().encode(
      `sample;cart;circuit;drawn on;14 µm(c) per mL\nS;C;m;2026-06-05;${cell}`,
    );
    expect((await readLabFile("lab.csv", bytes)).samples[0]?.counts?.counts[0]?.count).toBe(
      cell === "1e-200" ? 1e-200 : 0,
    );
  });
});

describe("so little counted that fluid at the limit would show less than a handful asks for a sample", () => {
  const header = `${HEADER},counted volume (mL)`;
  // Particles at the limit above 14 µm(c): the limit per mL times the volume. Limits: ISO-4406, NAS-1638 and
  // AS4059-CUMULATIVE as printed.
  test.each([
    ["17/15/12", "0.01", "resample", "40 × 0.01 = 0.4"],
    ["17/15/12", "0.1", "resample", "40 × 0.1 = 4"],
    ["17/15/12", "0.125", "fit", "40 × 0.125 = 5"],
    ["17/15/12", "1", "fit", "40 × 1 = 40"],
    ["17/15/12", "25", "fit", "as the methods ask"],
    ["20/18/15", "0.01", "resample", "320 × 0.01 = 3.2"],
    ["22/20/17", "0.01", "fit", "1300 × 0.01 = 13"],
    ["14/12/9", "1", "fit", "5 × 1 = 5"],
    ["13/11/8", "1", "resample", "2.5 × 1 = 2.5"],
    ["12/10/7", "10", "fit", "10 mL are usual"],
    ["AS4059 cumulative 8A-C", "0.01", "resample", "138.49 × 0.01 = 1.4"],
    ["AS4059 cumulative 4A-C", "0.5", "resample", "8.64 × 0.5 = 4.3"],
    ["AS4059 cumulative 4A-C", "1", "fit", "8.64 × 1 = 8.6"],
    ["AS4059 cumulative 00A-C", "10", "fit", "10 mL are usual"],
  ])("%s with %s mL: %s, for %s", async (target, countedMl, verdict) => {
    const given = { files: [[last("3,1,0.1", `,${countedMl}`)]], header, target, on: ON };
    const { files } = await judgeBothWays(given);
    const few = files.reasons.includes("counted-volume-too-small");
    expect([files.verdict, few]).toEqual([verdict, verdict === "resample"]);
  });

  test("fluid that is outside has shown it, however little was counted", async () => {
    const given = { files: [[last("60000,15000,2000", ",0.01")]], header, on: ON };
    expect((await judge("files", given)).verdict).toBe("circulate");
  });

  test("counts given for less than 1 mL were counted in no more", async () => {
    const small = HEADER.replaceAll("per mL", "per 0.01 mL");
    const { verdict, reasons } = await judge("files", {
      files: [[last("6,1,0")]],
      header: small,
      on: ON,
    });
    expect([verdict, reasons]).toEqual(["resample", expect.arrayContaining(["counted-volume-too-small"])]);
  });
});
