import { describe, expect, test } from "vitest";
import { bytesInMemory, columnMapSchema, openLabFile, readLabFile } from "../../src/intake/index.js";

const bytesOf = (lines: readonly string[]) => new TextEncoder().encode(lines.join("\n"));
const WIDE = "sample,cart,circuit,drawn on,4 µm(c) per mL,water (mg/kg)";
const LONG = "sample,cart,circuit,drawn on,measurand,value,unit";
const NAMES = "S-1,C-1,1,2026-03-04";

/** What becomes of each row, in a word, with what the sample rests on or why it waits. */
async function fatesOf(lines: readonly string[], map?: object) {
  const settled = map && columnMapSchema.parse({ siltbookColumnMap: 1, name: "lab", ...map });
  const source = bytesInMemory("lab.csv", bytesOf(lines));
  const { fates } = await openLabFile(source, { today: "2026-12-31", ...(settled && { map: settled }) });
  return [...fates()].map((fate) => {
    if (fate.kind === "sample") {
      const { rows, accepted, settles, sample, assumptions } = fate.fate;
      return {
        rows: rows.map(({ row }) => row),
        ...(accepted.length > 0 && { accepted, kept: sample.acceptedChecks }),
        ...(settles.length > 0 && { settles }),
        ...(assumptions.length > 0 && { rests: assumptions.map(({ code }) => code) }),
      };
    }
    if (fate.kind === "not-a-sample") {
      const { row, why } = fate.row;
      return { row, why, ...(fate.discards && { discards: fate.discards }) };
    }
    const { row, issues, cameFrom } = fate.row;
    return { row, waits: issues.map(({ code }) => code), ...(cameFrom && { cameFrom }) };
  });
}

describe("what a person writes next to a row of the quarantine", () => {
  const PLACE = "march.csv row 41 #3f2a9c1b2d3e";
  const place = { sha256Start: "3f2a9c1b2d3e", rows: [41] };
  const come = async (accepted: string, water: string, from = PLACE) =>
    (
      await fatesOf([
        `quarantine place,quarantine accepted,${WIDE}`,
        `${from},${accepted},${NAMES},900,${water}`,
      ])
    ).slice(1);

  test.each<[string, string, object]>([
    ["", "90", { rows: [2], settles: [place] }],
    ["", "0", { row: 2, waits: ["water-zero"], cameFrom: place }],
    [
      "water-zero",
      "0",
      {
        ...{ rows: [2], accepted: ["water-zero"], kept: ["water-zero"] },
        ...{ settles: [place], rests: ["check-accepted"] },
      },
    ],
    // A check that is not the one that failed lets nothing through.
    ["acid-zero", "0", { row: 2, waits: ["water-zero"], cameFrom: place }],
    ["yes", "0", { row: 2, waits: ["water-zero"], cameFrom: place }],
    [
      "acid-zero;  water-zero",
      "0",
      {
        ...{ rows: [2], accepted: ["acid-zero", "water-zero"], kept: ["acid-zero", "water-zero"] },
        ...{ settles: [place], rests: ["check-accepted", "check-accepted"] },
      },
    ],
    ["discard", "low", { row: 2, why: "discarded by a person", discards: place }],
    [" Discard ", "90", { row: 2, why: "discarded by a person", discards: place }],
  ])("%j with water %s: %j", async (accepted, water, expected) => {
    expect(await come(accepted, water)).toMatchObject([expected]);
  });

  test.each([
    ["", "90", { rows: [2] }],
    ["discard", "90", { row: 2, why: "discarded by a person" }],
    ["", "0", { row: 2, waits: ["water-zero"] }],
  ])("a place that is none settles nothing: %j with water %s", async (accepted, water, expected) => {
    expect(await come(accepted, water, "somewhere")).toEqual([expected]);
  });
});

describe("a row of a measurand", () => {
  const one = async (measurand: string, value: string, unit = "") => {
    const lines = [LONG, `${NAMES},water,90,mg/kg`, `${NAMES},${measurand},${value},${unit}`];
    const { samples, quarantine } = await readLabFile("lab.csv", bytesOf(lines));
    // What names a sample, as its fluid does, makes a report of its own; a collection puts the reports together.
    const {
      sample: _,
      cart: __,
      circuit: ___,
      drawnOn: ____,
      waterPpm,
      origin: _____,
      ...says
    } = Object.assign({}, ...samples) as (typeof samples)[number];
    expect(waterPpm).toEqual({ value: 90 });
    const rows = samples.flatMap(({ origin }) => origin[0]?.rows);
    return { says, rows, waits: quarantine.map(({ issues }) => issues[0]?.expected) };
  };

  test.each<[string, string, object]>([
    ["fluid", "MIL-PRF-5606", { fluid: "MIL-PRF-5606" }],
    ["received on", "2026-03-05", { receivedOn: "2026-03-05" }],
    ["reported on", "2026-03-06", { reportedOn: "2026-03-06" }],
    ["calibration due", "2026-09-30", { calibrationDueOn: "2026-09-30" }],
    ["time drawn", "09:30Z", { drawnTime: "09:30Z" }],
    ["sample point", "drain", { samplePoint: "drain" }],
    ["remarks", "reject", { laboratorySays: [{ column: "remarks", text: "reject" }] }],
    ["4 µm(c) per mL", "", {}],
  ])("may say something of the sample: %s %s", async (measurand, value, says) => {
    expect(await one(measurand, value)).toEqual({ says, rows: [2, 3], waits: [] });
  });

  test.each([
    ["sparkle", "1", 'a measurand with its unit, such as "4 µm(c)" with "1/mL"'],
    ["4 µm(c)", "900", "a column map that settles: do the counts stand for 1 mL or for 100 mL?"],
  ])("that is not certain waits, and says what settles it: %s %s", async (measurand, value, expected) => {
    const { rows, waits } = await one(measurand, value);
    expect([rows, waits]).toEqual([[2], [expect.stringContaining(expected.slice(0, 40))]]);
  });

  test.each([
    ["2", "100 mL", 100],
    ["2", "1", 1],
  ])("has the volume of its own column: %s per %s", async (count, per, volumeMl) => {
    const { samples } = await readLabFile(
      "lab.csv",
      bytesOf([`${LONG},counts per (mL)`, `${NAMES},6 µm(c),${count}00,,${per}`]),
    );
    expect(samples[0]?.counts).toMatchObject({ volumeMl, counts: [{ sizeUm: 6, count: 200 }] });
  });
});

describe("rows of one bottle and of others", () => {
  test("runs of two reports are two samples, and the row of a bottle waits with its own issue", async () => {
    const runs = `${WIDE},run,reported on`;
    expect(
      await fatesOf([
        runs,
        `${NAMES},900,,1,2026-03-05`,
        `${NAMES},910,,2,2026-03-05`,
        `${NAMES},905,,1,2026-03-09`,
        "S-2,C-1,1,2026-03-05,9x0,,1,2026-03-05",
        "S-2,C-1,1,2026-03-05,800,,2,2026-03-05",
      ]),
    ).toMatchObject([
      { row: 1, why: "header" },
      { rows: [2, 3] },
      { rows: [4] },
      { row: 5, waits: ["cell-not-read"] },
      { row: 6, waits: ["cell-not-read"] },
    ]);
  });

  test("each row of a sample waits for what is wrong in it, or for what is wrong in the others", async () => {
    const text = [
      LONG,
      `${NAMES},4 µm(c),900,1/mL`,
      `${NAMES},6 µm(c),1200,1/mL`,
      `${NAMES},water,low,mg/kg`,
    ];
    const { quarantine } = await readLabFile("lab.csv", bytesOf(text));
    expect(quarantine.map(({ row, issues }) => [row, issues.map((issue) => issue.row)])).toEqual([
      [2, [2]],
      [3, [3]],
      [4, [4]],
    ]);
    expect(quarantine.map(({ reported }) => reported)).toEqual(
      [
        { "count above 4 µm(c)": { perMl: 900 } },
        { "count above 6 µm(c)": { perMl: 1200 } },
        { waterPpm: null },
      ].map((result) => ({ drawnOn: "2026-03-04", ...result })),
    );
  });
});

test("what a line below a table with its samples across says is of all of them", async () => {
  const lines = ["sample,S-1,S-2", "cart,C-1,C-1", "circuit,1,1", "drawn on,2026-03-04,2026-03-05"];
  const { samples } = await readLabFile(
    "lab.csv",
    bytesOf([...lines, "water (mg/kg),80,90", "", "Fluid: MIL-PRF-5606", "Sampling point: drain"]),
  );
  expect(samples.map(({ fluid, samplePoint }) => [fluid, samplePoint])).toEqual([
    ["MIL-PRF-5606", "drain"],
    ["MIL-PRF-5606", "drain"],
  ]);
});
