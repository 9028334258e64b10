// Logs of invented counters in the line: a row of titles, and a row for each moment.
import { describe, expect, test } from "vitest";
import {
  bytesInMemory,
  type CounterLog,
  describeIssue,
  parseLogMap,
  readCounterLogFile,
} from "../../../src/intake/index.js";
import { meanOfMinute } from "../../../src/online/index.js";

const read = (text: string, map?: object): Promise<CounterLog> =>
  readCounterLogFile(
    bytesInMemory("log.csv", new TextEncoder().encode(text)),
    map && parseLogMap("map.json", JSON.stringify({ siltbookColumnMap: 1, name: "counter", ...map })),
  );
const COUNTS = "> 4 µm(c) per mL;> 6 µm(c) per mL;> 14 µm(c) per mL";
const AT_0730 = Date.UTC(2026, 10, 20, 7, 30);

/** What the first row shows, as one minute. */
async function firstOf(text: string, map?: object) {
  const [row] = (await read(text, map)).rows;
  if (row?.kind !== "readings") throw new Error(`set aside: ${JSON.stringify(row)}`);
  const { minute, readings: _number, ...values } = meanOfMinute(row.readings);
  return { at: row.readings[0]?.at, ...values };
}

describe("what instruments write", () => {
  const counts = [
    { sizeUmC: 4, perMl: 900 },
    { sizeUmC: 6, perMl: 200 },
    { sizeUmC: 14, perMl: 20.5 },
  ];
  test.each<[string, string, object]>([
    [
      "all values, with units in the titles and a decimal comma",
      `Time stamp;${COUNTS};Temp [°C];Flow (L/min);RH (%);dP (bar)\n20.11.2026 07:30:00;900;200;20,5;41,5;75;40;1,2`,
      { counts, temperatureC: 41.5, flowLpm: 75, waterSaturation: 0.4, pressureDropBar: 1.2 },
    ],
    [
      "counts per 100 mL, °F, US gallons, psi and a fraction of saturation",
      "date/time,> 4 µm(c)/100 mL,> 6 µm(c)/100 mL,> 14 µm(c)/100 mL,oil temperature (°F),return flow (gpm),aw,differential pressure (psi)\n2026-11-20T07:30:00,90000,20000,2050,104,10,0.4,14.5038",
      // 10 US gallons are 37.85 L, 14.5038 psi are 1 bar, 104 °F are 40 °C.
      {
        counts,
        temperatureC: expect.closeTo(40, 6),
        flowLpm: expect.closeTo(37.854, 3),
        waterSaturation: 0.4,
        pressureDropBar: expect.closeTo(1, 4),
      },
    ],
    [
      "units in a row below the titles",
      "Zeit;4 µm(c);6 µm(c);14 µm(c);Temperatur\n;1/ml;1/ml;1/ml;°C\n20.11.2026 07:30;900;200;20,5;41",
      { counts, temperatureC: 41 },
    ],
    [
      // The upper edges of scale numbers 17, 15 and 12 are 1300, 320 and 40 per mL (ISO 4406).
      "a code, and day and time in two columns",
      "Date,Time,ISO 4406\n11/20/2026,7:30 AM,17/15/12",
      {
        isClass: true,
        counts: [
          { sizeUmC: 4, perMl: 1300 },
          { sizeUmC: 6, perMl: 320 },
          { sizeUmC: 14, perMl: 40 },
        ],
      },
    ],
    [
      "a drop in whole thousandths, whose decimal mark is that of a flow",
      `time;${COUNTS};flow (L/min);dP (bar)\n2026-11-20 07:30;900;200;20;44.9;2.571`,
      { counts: [...counts.slice(0, 2), { sizeUmC: 14, perMl: 20 }], flowLpm: 44.9, pressureDropBar: 2.571 },
    ],
    ["a count below a limit is that limit", `time;${COUNTS}\n2026-11-20 07:30;900;200;< 20,5`, { counts }],
  ])("%s", async (_, text, values) => {
    expect(await firstOf(text)).toEqual({ at: AT_0730, ...values });
  });

  test("columns of any name, by a column map", async () => {
    const holds = (fromUm: number) => ({ holds: "count", fromUm, scale: "um(c)", volumeMl: 1 });
    const columns = {
      when: { holds: "time" },
      ...{ p4: holds(4), p6: holds(6), p14: holds(14) },
      m: { holds: "saturation", unit: "%" },
      q: { holds: "flow", unit: "L/min" },
      d: { holds: "pressure-drop", unit: "bar" },
      t: { holds: "temperature", unit: "°C" },
    };
    const text = "when;p4;p6;p14;m;q;d;t\n2026-11-20 07:30;900;200;20.5;40;75;1.2;41.5";
    expect(await firstOf(text, { columns })).toEqual({
      at: AT_0730,
      counts,
      ...{ temperatureC: 41.5, flowLpm: 75, waterSaturation: 0.4, pressureDropBar: 1.2 },
    });
  });
});

describe("the time of a row", () => {
  const at = async (times: readonly string[], map?: object) => {
    const { rows, assumptions } = await read(
      ["time;> 4 µm(c) per mL;ISO 4406", ...times.map((time) => `${time};900;`)].join("\n"),
      map,
    );
    return {
      minutes: rows.map((row) => (row.kind === "readings" ? (row.readings[0]?.at as number) / 60_000 : null)),
      codes: assumptions.map(({ code }) => code),
    };
  };
  const [zero, day] = [AT_0730 / 60_000, 24 * 60];

  test.each<[string, string[], number[], string[]]>([
    ["with a zone", ["2026-11-20 08:30+01:00"], [zero], []],
    ["without a zone as it stands, and that is said", ["2026-11-20 07:30"], [zero], ["log-without-zone"]],
    ["midnight", ["2026-11-20 00:00"], [zero - 450], ["log-without-zone"]],
    [
      "times alone go on past midnight",
      ["23:59", "00:01"],
      [day - 1, day + 1],
      ["log-without-days", "log-without-zone"],
    ],
    [
      "a log whose newest row stands first is read from its end",
      ["2026-11-20 07:32", "2026-11-20 07:30"],
      [zero, zero + 2],
      ["log-without-zone", "log-newest-first"],
    ],
  ])("%s", async (_, times, minutes, codes) => {
    expect(await at(times)).toEqual({ minutes, codes });
  });

  test("the zone of a column map", async () => {
    expect(await at(["2026-11-20 08:30"], { zone: "+01:00" })).toEqual({ minutes: [zero], codes: [] });
  });

  test("time since the start", async () => {
    const { rows } = await read("elapsed (s),> 4 µm(c)/mL,> 6 µm(c)/mL\n0,900,200\n90,890,190");
    expect(rows.map((row) => row.kind === "readings" && row.readings[0]?.at)).toEqual([0, 90_000]);
  });
});

describe("nothing is lost, and nothing is guessed", () => {
  test.each<[string, string, string]>([
    [
      "a cell that is no number",
      "2026-11-20 07:30;N/A?;200;20",
      'log.csv row 2, column "> 4 µm(c) per mL": expected a number of 0 or more, found "N/A?"',
    ],
    [
      "too many to count",
      "2026-11-20 07:30;TNTC;200;20",
      'log.csv row 2, column "> 4 µm(c) per mL": expected a number, found "TNTC"',
    ],
    ["more than a limit", "2026-11-20 07:30;> 20000;200;20", 'expected a number, found "> 20000"'],
    ["a day without a time", "2026-11-20;900;200;20", 'column "time": expected a day with a time'],
    [
      "a day with two readings",
      "03/04/2026 07:30;900;200;20",
      "expected a day written like the others of the file, such as 2026-03-14",
    ],
    [
      "a row that is longer than its titles",
      "2026-11-20 07:30;900;200;20;7",
      'expected at most 4 cells, found "7"',
    ],
  ])("%s", async (_, row, said) => {
    const { rows } = await read(`time;${COUNTS}\n${row}\n2026-11-20 07:31;890;190;19`);
    expect(rows.map(({ kind }) => kind)).toEqual(["set-aside", "readings"]);
    const [first] = rows;
    expect(first?.kind === "set-aside" && describeIssue(first.issue)).toContain(said);
  });

  test.each<[string, string, string]>([
    [
      "sizes of the older scale",
      "time;> 5 µm (ISO 4402) per mL;> 15 µm (ISO 4402) per mL",
      "expected in µm(c)",
    ],
    ["a range of sizes", "time;4-6 µm(c) per mL;> 6 µm(c) per mL", "a range of sizes is not followed"],
    ["a count without its volume", "time;> 4 µm(c);ISO 4406", "do the counts stand for 1 mL or for 100 mL?"],
    ["a flow without its unit", `time;${COUNTS};flow`, "in which unit is it?"],
    ["no time", `bottle;${COUNTS}`, "expected a column of the time"],
    [
      "no counts",
      "time;temperature (°C);saturation (%)",
      "expected a header with columns for the time and for counts",
    ],
  ])("%s needs a column map or another log", async (_, titles, said) => {
    await expect(read(`${titles}\n2026-11-20 07:30;1;2;3;4`)).rejects.toThrow(said);
  });

  test("columns that are not used are named; a limit, the surroundings and the counter's own flow are none", async () => {
    const titles = `time;${COUNTS};ambient temperature (°C);flow alarm limit (L/min);sample flow (mL/min);serial`;
    const { notUsed } = await read(`${titles}\n2026-11-20 07:30;900;200;20;5;10;25;X`);
    expect(notUsed).toEqual([
      "ambient temperature (°C)",
      "flow alarm limit (L/min)",
      "sample flow (mL/min)",
      "serial",
    ]);
  });
});
