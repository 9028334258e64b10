import { describe, expect, test } from "vitest";
import { SensorLines } from "../../src/online/index.js";

const NOW = Date.UTC(2026, 2, 14, 12);
const read = (...lines: unknown[]) => {
  const sensor = new SensorLines();
  return lines.map((line) => sensor.read(typeof line === "string" ? line : JSON.stringify(line), NOW)).at(-1);
};
const senml = (n: string, u: string, v: unknown, t = 1_773_500_000) => ({
  n,
  u,
  [typeof v === "string" ? "vs" : "v"]: v,
  t,
});
const AT = 1_773_500_000_000;

describe("records of SenML", () => {
  test.each([
    [senml("particles > 4 µm(c)", "1/mL", 900), { at: AT, counts: [{ sizeUmC: 4, perMl: 900 }] }],
    [senml("particles > 14 um(c)", "1/(100.mL)", 4000), { at: AT, counts: [{ sizeUmC: 14, perMl: 40 }] }],
    [senml("temperature", "Cel", 41.5), { at: AT, temperatureC: 41.5 }],
    [senml("oil temperature", "K", 313.15), { at: AT, temperatureC: 40 }],
    [senml("water saturation", "%RH", 35), { at: AT, waterSaturation: 0.35 }],
    [senml("water saturation", "/", 0.35), { at: AT, waterSaturation: 0.35 }],
    [senml("flow", "l/s", 0.5), { at: AT, flowLpm: 30 }],
    [senml("pressure drop", "Pa", 120_000), { at: AT, pressureDropBar: 1.2 }],
    // 18 is up to 2,500, 16 up to 640, 13 up to 80 particles per mL (ISO 4406).
    [
      senml("ISO 4406", "", "18/16/13"),
      { at: AT, counts: [2500, 640, 80].map((perMl, index) => ({ sizeUmC: [4, 6, 14][index], perMl })) },
    ],
    [senml("door", "", 1), { at: AT }],
  ])("%j", (record, reading) => {
    expect(read(record)).toMatchObject({ kind: "readings", readings: [reading] });
  });

  // RFC 8428, 4.1 and 4.5.3: base values hold for the records after them; times below 2^28 are relative to now.
  test("base name, time and unit hold for the lines after them", () => {
    const base = { bn: "cart/", bt: 1_773_500_000, bu: "1/mL" };
    expect(read(base, { n: "particles > 6 µm(c)", v: 7, t: 60 })).toEqual({
      kind: "readings",
      readings: [{ at: AT + 60_000, name: "cart/particles > 6 µm(c)", counts: [{ sizeUmC: 6, perMl: 7 }] }],
    });
  });

  // RFC 8428, 4.1: the base value is added to the value of a record.
  test("a base value is added", () => {
    expect(
      read({ bn: "cart/", bu: "1/mL", bv: 5000 }, { ...senml("particles > 4 µm(c)", "1/mL", 20) }),
    ).toMatchObject({
      readings: [{ counts: [{ sizeUmC: 4, perMl: 5020 }] }],
    });
  });

  test("a time that is relative is relative to now, and several records may stand in one line", () => {
    const two = [senml("temperature", "Cel", 40, -5), senml("temperature", "Cel", 41, 0)];
    expect(read(two)).toEqual({
      kind: "readings",
      readings: [
        { at: NOW - 5000, name: "temperature", temperatureC: 40 },
        { at: NOW, name: "temperature", temperatureC: 41 },
      ],
    });
  });
});

test("an Observation of OGC SensorThings is read at the end of its span", () => {
  const Datastream = { name: "particles > 4 µm(c)", unitOfMeasurement: { name: "per mL", symbol: "1/mL" } };
  const phenomenonTime = "2026-03-14T14:52:20Z/2026-03-14T14:53:20Z";
  expect(read({ phenomenonTime, result: 900, Datastream })).toEqual({
    kind: "readings",
    readings: [{ at: AT, name: "particles > 4 µm(c)", counts: [{ sizeUmC: 4, perMl: 900 }] }],
  });
});

describe("what cannot be read says what was expected", () => {
  test.each([
    ["no JSON", /an Observation of OGC SensorThings/],
    [7, /an Observation/],
    [{ n: "temperature" }, /an Observation/],
    [senml("particles > 4 µm", "1/mL", 900), /a size in µm\(c\)/],
    [senml("particles > 4 µm(c)", "", 900), /the unit "1\/mL"/],
    [senml("particles > 4 µm(c)", "1/mL", -1), /0 particles or more/],
    [senml("particles 4-6 µm(c)", "1/mL", 900), /particles above one size/],
    [senml("particles 6 µm(c) to 14 µm(c)", "1/mL", 900), /particles above one size/],
    [senml("particles < 4 µm(c)", "1/mL", 900), /particles above one size/],
    [senml("particles > 4 µm(c) per 100 mL", "1/mL", 90_000), /particles above one size/],
    [senml("temperature", "", 40), /a number with one of the units °C/],
    [senml("water saturation", "ppm", 200), /a saturation/],
    [senml("water saturation", "%", 350), /a saturation/],
    [senml("ISO 4406", "", "eighteen"), /an ISO 4406 code/],
    [senml("temperature", "Cel", 40, -1e300), /a moment that a calendar has/],
    [senml("temperature", "Cel", "warm"), /a number, or an ISO 4406 code/],
    // RFC 8428, 4.1: times and values are numbers. A text was taken as the present moment.
    [{ n: "temperature", u: "Cel", v: 40, t: "1773500000" }, /an Observation/],
    [{ n: "temperature", u: "Cel", v: 40, t: null }, /an Observation/],
    [{ n: "temperature", u: "Cel", v: 40, bt: "1773500000", t: 5 }, /an Observation/],
    [{ n: 7, u: "Cel", v: 40, t: 1_773_500_000 }, /an Observation/],
    [{ n: "temperature", u: 1, v: 40, t: 1_773_500_000 }, /an Observation/],
  ])("%j", (line, expected) => {
    const said = read(line);
    expect(said).toMatchObject({ kind: "not-read", expected: expect.stringMatching(expected) });
  });
});
