import { describe, expect, test } from "vitest";
import { readLabFile } from "../../src/intake/index.js";

const HEADER =
  "sample,cart,circuit,drawn on,received on,reported on,4 µm(c) per mL,6 µm(c) per mL,14 µm(c) per mL,ISO 4406,NAS 1638,water (mg/kg)";
const SOUND = [
  "S-1",
  "C-1",
  "1",
  "2026-03-04",
  "2026-03-06",
  "2026-03-09",
  "15000",
  "1200",
  "75",
  "21/17/13",
  "",
  "120",
];

async function issuesOf(change: Record<number, string>, today = "2026-03-14", header = HEADER) {
  const cells = SOUND.map((cell, index) => change[index] ?? cell);
  const bytes = new TextEncoder().encode(`${header}\n${cells.join(",")}`);
  const { quarantine } = await readLabFile("march.csv", bytes, { today });
  return quarantine.flatMap(({ issues }) => issues.map(({ code, column, value }) => [code, column, value]));
}

test("a sound sample passes every check", async () => {
  expect(await issuesOf({})).toEqual([]);
});

describe("each check sets aside what cannot be true, and names the cell", () => {
  test.each([
    ["cumulative counts that rise with size", { 7: "16000", 9: "" }, "counts-break-a-rule", "6 µm(c) per mL"],
    ["a class that is not that of the counts", { 9: "20/17/13" }, "class-differs-from-counts", "ISO 4406"],
    ["a class that cannot be read", { 9: "clean" }, "class-cannot-be", "ISO 4406"],
    ["drawn after received", { 3: "2026-03-07" }, "drawn-after-received", "drawn on"],
    ["received after reported", { 5: "2026-03-05" }, "received-after-reported", "reported on"],
    ["a day in the future", { 5: "2026-03-16" }, "date-in-the-future", "reported on"],
    ["water in per cent read as ppm", { 11: "0.05" }, "water-per-cent-as-ppm", "water (mg/kg)"],
    ["no water at all", { 11: "0" }, "water-zero", "water (mg/kg)"],
    ["less water than none", { 11: "<0" }, "water-zero", "water (mg/kg)"],
  ])("%s", async (_, change, code, column) => {
    const index = HEADER.split(",").indexOf(column);
    expect(await issuesOf(change)).toEqual([[code, column, (change as Record<number, string>)[index]]]);
  });

  test("water in ppm read as per cent", async () => {
    const header = HEADER.replace("water (mg/kg)", "water (% m/m)");
    expect(await issuesOf({ 11: "120" }, "2026-03-14", header)).toEqual([
      ["water-ppm-as-per-cent", "water (% m/m)", "120"],
    ]);
  });
});

describe("a code without counts that allows fewer than 5 particles in 100 mL is of no bottle of fluid", () => {
  const without = { 6: "", 7: "", 8: "" };
  // Scale number 2 ends at 0.04 per mL, 4 in 100 mL; 3 ends at 0.08.
  test.each(["0/0/0", "2/1/0", "ISO 4406 1/0/0", "-/0/0"])("%s", async (stated) => {
    expect(await issuesOf({ ...without, 9: stated })).toEqual([["counts-all-zero", "ISO 4406", stated]]);
  });

  test.each(["3/2/1", "10/8/5", "-/3/0", "-/-/0"])("%s may be", async (stated) => {
    expect(await issuesOf({ ...without, 9: stated })).toEqual([]);
  });
});

describe("a check does not take a true result for a false one", () => {
  test.each([
    ["a class with a place that was not counted", { 9: "-/17/13" }],
    ["a class with the sign for few particles", { 9: "21/17/≥13" }],
    ["a class with its standard's name", { 9: "ISO 21/17/13" }],
    ["no class", { 9: "" }],
    ["water below a limit of detection", { 11: "< 5" }],
    ["drawn, received and reported on one day", { 4: "2026-03-04", 5: "2026-03-04" }],
    ["a day that is tomorrow here and today further east", { 3: "2026-03-15", 4: "", 5: "" }],
  ])("%s", async (_, change) => {
    expect(await issuesOf(change)).toEqual([]);
  });

  // 1200 − 75 = 1125 per mL between 6 and 14 µm(c), read as 5-15 µm: 112 500 per 100 mL lies between the limits of class 8
  // (64 000) and class 9 (128 000). Source: NAS-1638, table I.
  test("a NAS class is held against the class of the counts, in its own column", async () => {
    expect(await issuesOf({ 10: "9" })).toEqual([]);
    expect(await issuesOf({ 10: "8" })).toEqual([["class-differs-from-counts", "NAS 1638", "8"]]);
  });
});

describe("a result that no method can have", () => {
  const extended = `${HEADER},acid number (mg KOH/g),viscosity at 40 °C (mm²/s),density at 15 °C (kg/m³),iron (ppm)`;
  test.each([
    [{ 12: "0" }, [["acid-zero", "acid number (mg KOH/g)", "0"]]],
    [{ 12: "<0" }, [["acid-zero", "acid number (mg KOH/g)", "<0"]]],
    [{ 12: "<0.05" }, []],
    [{ 13: "0" }, [["property-zero", "viscosity at 40 °C (mm²/s)", "0"]]],
    [{ 13: "<0.0" }, [["property-zero", "viscosity at 40 °C (mm²/s)", "<0.0"]]],
    [{ 13: ">0" }, []],
    [{ 14: "0" }, [["property-zero", "density at 15 °C (kg/m³)", "0"]]],
    [{ 13: "14.1", 14: "849" }, []],
    // Fluid without iron is nothing unusual.
    [{ 15: "0" }, []],
  ])("%j: %j", async (change, expected) => {
    const cells = [...SOUND, "", "", "", ""].map(
      (cell, index) => change[index as keyof typeof change] ?? cell,
    );
    const bytes = new TextEncoder().encode(`${extended}\n${cells.join(",")}`);
    const { quarantine } = await readLabFile("march.csv", bytes);
    expect(
      quarantine.flatMap(({ issues }) => issues.map(({ code, column, value }) => [code, column, value])),
    ).toEqual(expected);
  });
});
