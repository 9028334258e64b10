import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, test } from "vitest";
import { judgeCircuit } from "../../src/fitness/index.js";
import type { AircraftFluid } from "../../src/fluids/index.js";
import { parseRequirementsFile } from "../../src/intake/index.js";
import { CIRCUIT, caseOf } from "../support/fitness/bases.js";

const SYSTEM = {
  system: "main system",
  fluids: ["MIL-PRF-83282"],
  cleanliness: ["17/15/12"],
  waterPpmMax: 200,
  acidMgKohPerGMax: 0.2,
  sampleAgeDaysMax: 30,
};

const fileOf = (change: object) =>
  JSON.stringify({ document: "example", revision: "1", systems: [{ ...SYSTEM, ...change }] });

/** What reading the file says, without the name of the file. */
function refusalOf(change: object): string {
  try {
    parseRequirementsFile("requirement.json", fileOf(change));
    return "taken";
  } catch (error) {
    return (error as Error).message.replace(/^requirement\.json: /, "");
  }
}

const WHOSE = ' (system "main system")';
const at = (temperatureC: number, waterPpm: number) => ({ temperatureC, waterPpm });
const saturation = (lowestTemperatureC: number, ...measured: object[]) => ({
  waterSaturation: { shareMax: 0.5, lowestTemperatureC, measured },
});
const outsideOf = (lowest: number) =>
  `systems.0.waterSaturation.lowestTemperatureC: ${lowest} °C is outside the two measured temperatures, 5 and 40 °C; have ` +
  `the saturation measured at or beyond it, or leave waterSaturation out and limit the water by waterPpmMax${WHOSE}`;
const noCurve = (one: string, other: string) =>
  "systems.0.waterSaturation.measured: a saturation curve needs two temperatures with more water dissolved at the higher " +
  `one, not ${one} and ${other}${WHOSE}`;

describe("a requirement that asks for nothing is refused when it is read, with its system and field", () => {
  test.each<[string, object, string]>([
    [
      "an ISO 4406 target without a number",
      { cleanliness: ["-/-/-"] },
      `systems.0.cleanliness.0: "-/-/-" is not a cleanliness target: it limits no size, expected at least one scale number${WHOSE}`,
    ],
    [
      "the same with its standard, beside a sound one",
      { cleanliness: ["17/15/12", "ISO 4406 -/-/-"] },
      `systems.0.cleanliness.1: "ISO 4406 -/-/-" is not a cleanliness target: it limits no size, expected at least one scale number${WHOSE}`,
    ],
    [
      "more water than there is fluid",
      { waterPpmMax: 1_000_001 },
      `systems.0.waterPpmMax: expected a number of at most 1000000, found 1000001${WHOSE}`,
    ],
    [
      "an acid number that no acid has",
      { acidMgKohPerGMax: 1001 },
      `systems.0.acidMgKohPerGMax: expected a number of at most 1000, found 1001${WHOSE}`,
    ],
    [
      "more chlorine than there is fluid",
      { chlorinePpmMax: 2e6 },
      `systems.0.chlorinePpmMax: expected a number of at most 1000000, found 2000000${WHOSE}`,
    ],
    [
      "the same as a sign of the fluid",
      { identity: { chlorinePpmMax: 2e6 } },
      `systems.0.identity.chlorinePpmMax: expected a number of at most 1000000, found 2000000${WHOSE}`,
    ],
    [
      "more of a metal than there is fluid",
      { metalsPpmMax: { sodium: 2e6 } },
      `systems.0.metalsPpmMax.sodium: expected a number of at most 1000000, found 2000000${WHOSE}`,
    ],
    [
      "metals without a metal",
      { metalsPpmMax: {} },
      `systems.0.metalsPpmMax: expected a limit for at least one metal, found an object${WHOSE}`,
    ],
    [
      "identity without a range, limit or colour",
      { identity: {} },
      `systems.0.identity: asks for nothing: expected a range, a limit or colours${WHOSE}`,
    ],
    [
      "a viscosity of 0 or more",
      { viscosity40Mm2PerS: { min: 0 } },
      `systems.0.viscosity40Mm2PerS: a lower limit of 0 alone asks for nothing${WHOSE}`,
    ],
    [
      "a viscosity without an end",
      { identity: { viscosity40Mm2PerS: { max: 1e9 } } },
      `systems.0.identity.viscosity40Mm2PerS.max: expected a number of at most 1000, found 1000000000${WHOSE}`,
    ],
    [
      "a density in g/mL",
      { identity: { density15KgPerM3: { max: 0.87 } } },
      `systems.0.identity.density15KgPerM3.max: expected a number of 500 or more, found 0.87${WHOSE}`,
    ],
    [
      "a density without an end",
      { identity: { density15KgPerM3: { max: 1e6 } } },
      `systems.0.identity.density15KgPerM3.max: expected a number of at most 2000, found 1000000${WHOSE}`,
    ],
    [
      "a colour without a name",
      { identity: { colours: [" - "] } },
      `systems.0.identity.colours.0: expected the name of a colour, found " - "${WHOSE}`,
    ],
    ["saturation below its measured points", saturation(4, at(5, 120), at(40, 380)), outsideOf(4)],
    ["saturation above its measured points", saturation(41, at(5, 120), at(40, 380)), outsideOf(41)],
    ["the two points in the other order", saturation(-20, at(40, 380), at(5, 120)), outsideOf(-20)],
    [
      "two points at one temperature",
      saturation(20, at(20, 120), at(20, 380)),
      noCurve("120 ppm at 20 °C", "380 ppm at 20 °C"),
    ],
    [
      "less water dissolved in warm fluid",
      saturation(20, at(5, 380), at(40, 120)),
      noCurve("380 ppm at 5 °C", "120 ppm at 40 °C"),
    ],
    [
      "as much dissolved at both",
      saturation(20, at(5, 120), at(40, 120)),
      noCurve("120 ppm at 5 °C", "120 ppm at 40 °C"),
    ],
    [
      "a point that is all water and more",
      saturation(20, at(5, 120), at(40, 1_000_001)),
      `systems.0.waterSaturation.measured.1.waterPpm: expected a number of at most 1000000, found 1000001${WHOSE}`,
    ],
    [
      "a point below absolute zero",
      saturation(20, at(-300, 120), at(40, 380)),
      noCurve("120 ppm at -300 °C", "380 ppm at 40 °C"),
    ],
  ])("%s", (_name, change, message) => {
    expect(refusalOf(change)).toBe(message);
  });

  test("a limit without an end", () => {
    const text = fileOf({}).replace('"waterPpmMax":200', '"waterPpmMax":1e999');
    expect(() => parseRequirementsFile("requirement.json", text)).toThrow(/1e999/);
  });

  test.each<[string, object]>([
    ["a target for one size", { cleanliness: ["-/15/-"] }],
    ["all of the fluid as water, which is remarked", { waterPpmMax: 1_000_000 }],
    ["one metal", { metalsPpmMax: { iron: 20 } }],
    ["a viscosity from 0 to an end", { viscosity40Mm2PerS: { min: 0, max: 20 } }],
    ["saturation at its lower point", saturation(5, at(5, 120), at(40, 380))],
    ["saturation at its upper point", saturation(40, at(40, 380), at(5, 120))],
    ["a colour in another script", { identity: { colours: ["красный"] } }],
  ])("its neighbour is taken: %s", (_name, change) => {
    expect(refusalOf(change)).toBe("taken");
  });
});

/** Remarks on a requirement for a circuit of a fluid; no sample is needed for them. */
function remarksOn(fluid: AircraftFluid, change: object): string[] {
  const [requirement] = parseRequirementsFile(
    "requirement.json",
    fileOf({ fluids: [fluid], ...change }),
  ).systems;
  if (requirement === undefined) throw new Error("no system");
  return judgeCircuit(caseOf({ circuit: { ...CIRCUIT, fluid }, requirement, samples: [] }))
    .assumptions.filter(
      ({ code }) => code === "limit-milder-than-published" || code === "system-takes-both-bases",
    )
    .map(({ message }) => message);
}

const ESTER_LIMITS = { waterPpmMax: 8000, acidMgKohPerGMax: 1.5 };

describe("a limit milder than every one known for the fluid is remarked", () => {
  test.each<[AircraftFluid, string, object, RegExp]>([
    [
      "MIL-PRF-83282",
      "water",
      { waterPpmMax: 201 },
      /waterPpmMax allows 201 ppm by mass; .* is 200 \(MIL-PRF-83282, ground/,
    ],
    [
      "MIL-PRF-5606",
      "water",
      { waterPpmMax: 251 },
      /allows 251 .* is 250 \(MIL-PRF-5606, aircraft systems\)/,
    ],
    ["MIL-PRF-87257", "water, by its kin", { waterPpmMax: 2500 }, /allows 2500 .* is 250 \(MIL-PRF-5606/],
    ["AS1241 Type V", "water", { ...ESTER_LIMITS, waterPpmMax: 8001 }, /8001 .* is 8000 .*from memory/],
    [
      "MIL-PRF-83282",
      "acid",
      { acidMgKohPerGMax: 0.31 },
      /acidMgKohPerGMax allows 0\.31 mg KOH\/g; .* is 0\.3 \(0\.2 above new/,
    ],
    ["MIL-PRF-5606", "acid", { acidMgKohPerGMax: 1.5 }, /allows 1\.5 .* is 0\.4/],
    ["AS1241 Type IV", "acid", { ...ESTER_LIMITS, acidMgKohPerGMax: 1.6 }, /allows 1\.6 .* is 1\.5/],
    [
      "AS1241 Type IV",
      "chlorine",
      { ...ESTER_LIMITS, chlorinePpmMax: 201 },
      /chlorinePpmMax allows 201 .* is 200/,
    ],
    [
      "AS1241 Type IV",
      "chlorine as a sign",
      { ...ESTER_LIMITS, identity: { chlorinePpmMax: 999 } },
      /identity\.chlorinePpmMax allows 999/,
    ],
    [
      "AS1241 Type V",
      "sodium",
      { ...ESTER_LIMITS, metalsPpmMax: { sodium: 51 } },
      /metalsPpmMax\.sodium allows 51 .* is 50/,
    ],
    [
      "AS1241 Type V",
      "viscosity too thin",
      { ...ESTER_LIMITS, viscosity40Mm2PerS: { min: 3, max: 12 } },
      /viscosity40Mm2PerS allows 3 to 12 mm²\/s; .* is 5\.7 to 11\.9 \(6 to 12\.5 at 38 °C/,
    ],
    [
      "AS1241 Type V",
      "viscosity without an upper end",
      { ...ESTER_LIMITS, viscosity40Mm2PerS: { min: 6 } },
      /viscosity40Mm2PerS allows 6 to any/,
    ],
    [
      "MIL-PRF-83282",
      "ISO 4406",
      { cleanliness: ["20/18/15"] },
      /ISO 4406 20\/18\/15 allows 10000 per mL in channel 4; .* is 5000 \(19\/18\/15\)/,
    ],
    [
      "MIL-PRF-83282",
      "ISO 4406 at a larger size",
      { cleanliness: ["19/18/16"] },
      /allows 640 per mL in channel 14/,
    ],
    [
      "MIL-PRF-83282",
      "NAS 1638",
      { cleanliness: ["NAS 1638 10"] },
      /allows 2560 per mL in channel 6-14; .* is 1280 \(NAS 1638 9\)/,
    ],
    ["MIL-PRF-83282", "AS4059 differential", { cleanliness: ["AS4059 differential 12"] }, /in channel 6-14/],
    [
      "MIL-PRF-83282",
      "one letter of AS4059",
      { cleanliness: ["AS4059 cumulative 7A/11B/7C"] },
      /in channel B/,
    ],
    [
      "MIL-PRF-83282",
      "large sizes alone",
      { cleanliness: ["AS4059 cumulative 7F"] },
      /limits no particles below 70 µm\(c\)/,
    ],
    ["MIL-PRF-83282", "14 µm(c) alone", { cleanliness: ["-/-/12"] }, /limits no particles below 14 µm\(c\)/],
    [
      "MIL-PRF-83282",
      "both bases",
      { fluids: ["MIL-PRF-83282", "AS1241 Type V"] },
      /takes both AS1241 Type V and MIL-PRF-83282/,
    ],
  ])("%s: %s", (fluid, _name, change, message) => {
    expect(remarksOn(fluid, change)).toEqual([expect.stringMatching(message)]);
  });

  test.each<[AircraftFluid, object]>([
    ["MIL-PRF-83282", { waterPpmMax: 200, acidMgKohPerGMax: 0.3 }],
    ["MIL-PRF-5606", { waterPpmMax: 250, acidMgKohPerGMax: 0.4 }],
    ["MIL-PRF-87257", { waterPpmMax: 250, acidMgKohPerGMax: 0.4 }],
    ["AS1241 Type IV", { ...ESTER_LIMITS, chlorinePpmMax: 200, metalsPpmMax: { calcium: 50, iron: 900 } }],
    ["AS1241 Type V", { ...ESTER_LIMITS, viscosity40Mm2PerS: { min: 6, max: 12.5 } }],
    ["MIL-PRF-83282", { chlorinePpmMax: 200, viscosity40Mm2PerS: { min: 10 } }],
    ["MIL-PRF-83282", { cleanliness: ["19/18/15"] }],
    ["MIL-PRF-83282", { cleanliness: ["NAS 1638 9", "AS4059 cumulative 9A-F"] }],
    ["MIL-PRF-83282", { cleanliness: ["-/18/15"] }],
    // The milder of two targets does no harm where the other is strict at its size.
    ["MIL-PRF-83282", { cleanliness: ["20/18/15", "AS4059 cumulative 7A-F"] }],
  ])("%s with %j is not", (fluid, change) => {
    expect(remarksOn(fluid, change)).toEqual([]);
  });

  test.each(["datasets/demo/requirement.json", "datasets/requirements/illustrative.json"])(
    "nothing in %s is remarked",
    (path) => {
      const { systems } = parseRequirementsFile(path, readFileSync(path, "utf8"));
      for (const requirement of systems)
        for (const fluid of requirement.fluids) {
          const { assumptions } = judgeCircuit(
            caseOf({ circuit: { ...CIRCUIT, fluid }, requirement, samples: [] }),
          );
          const codes = assumptions.map(({ code }) => code);
          expect([requirement.system, fluid, codes]).toEqual([
            requirement.system,
            fluid,
            expect.not.arrayContaining(["limit-milder-than-published"]),
          ]);
        }
    },
  );
});

describe("the same on the command line", () => {
  const folder = mkdtempSync(join(tmpdir(), "siltbook-"));
  afterAll(() => rmSync(folder, { recursive: true }));
  const CARTS = {
    carts: [
      {
        cart: "HG-4",
        circuits: [
          {
            circuit: "fore",
            serves: "main system",
            fluid: "MIL-PRF-83282",
            volume: "60 L",
            flow: "45 L/min",
            element: { position: "pressure filter", betas: [{ sizeUmC: 4, beta: 20 }] },
          },
        ],
      },
    ],
  };

  /** Judges one sound sample with some more columns. */
  function judge(requirement: object, more: Record<string, string> = {}) {
    const [titles, cells] = [Object.keys(more), Object.values(more)].map((list) =>
      list.map((text) => `,"${text}"`).join(""),
    );
    const files = {
      "carts.json": JSON.stringify(CARTS),
      "requirement.json": fileOf(requirement),
      "lab.csv":
        "Sample,Cart,Circuit,Date drawn,Fluid,>4 µm(c) /mL,>6 µm(c) /mL,>14 µm(c) /mL,Water (ppm),TAN (mg KOH/g)" +
        `${titles}\nS-1,HG-4,fore,2026-03-04,MIL-PRF-83282,900,200,20,120,0.1${cells}\n`,
    };
    for (const [name, text] of Object.entries(files)) writeFileSync(join(folder, name), text);
    const words = [
      "judge",
      "--carts",
      "carts.json",
      "--requirement",
      "requirement.json",
      "--on",
      "2026-03-14",
      "lab.csv",
      "--explain",
    ];
    try {
      const main = join(process.cwd(), "dist/cli/main.js");
      const out = execFileSync("node", [main, ...words], { cwd: folder, encoding: "utf8", stdio: "pipe" });
      return { exit: 0, out };
    } catch (error) {
      const { status, stdout, stderr } = error as { status: number; stdout: string; stderr: string };
      return { exit: status, out: `${stdout}${stderr}` };
    }
  }

  test("the right fluid is fit, with colour and density reported", () => {
    const { exit, out } = judge({}, { Colour: "clear red", "Density at 15 °C (kg/m³)": "852" });
    expect([exit, out]).toEqual([0, expect.stringContaining("fit to connect")]);
  });

  test.each<[string, Record<string, string>, RegExp]>([
    [
      "5 % of phosphate ester",
      { "Density at 15 °C (kg/m³)": "857.5" },
      /with about 5 % of a phosphate ester/,
    ],
    ["two colours", { Colour: "red and purple" }, /reported as "red and purple"/],
    ["sodium", { "Sodium (ppm)": "900" }, /sodium is far beyond what this fluid holds: 900 ppm/],
  ])("%s is not", (_name, more, message) => {
    const { exit, out } = judge({}, more);
    expect([exit, out.replace(/\s+/g, " ")]).toEqual([1, expect.stringMatching(message)]);
  });

  test("a mild limit is said beside fit, and a target that asks for nothing ends with the place", () => {
    const mild = judge({ waterPpmMax: 2000 });
    expect([mild.exit, mild.out.replace(/\s+/g, " ")]).toEqual([
      0,
      expect.stringContaining("waterPpmMax allows 2000 ppm by mass; the mildest known in service is 200"),
    ]);
    const empty = judge({ cleanliness: ["-/-/-"] });
    expect(empty.exit).not.toBe(0);
    expect(empty.out).toContain(
      'requirement.json: systems.0.cleanliness.0: "-/-/-" is not a cleanliness target',
    );
  });
});
