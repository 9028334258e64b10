import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, test } from "vitest";
import { judgeCircuit } from "../../src/fitness/index.js";
import {
  parseCartsFile,
  parseColumnMap,
  parseRequirementsFile,
  readLabFile,
} from "../../src/intake/index.js";
import { CIRCUIT, CLEAN, caseOf, REQUIREMENT } from "../support/fitness/bases.js";
import { judgeCase } from "../support/one-cart.js";

function reasonsOf(fluid: string) {
  const { verdict, reasons } = judgeCircuit(caseOf({ samples: [{ ...CLEAN, fluid }] }));
  return [verdict, ...reasons.filter(({ callsFor }) => callsFor !== "fit").map(({ code }) => code)];
}

describe("a label is read as a person reads it, and no further", () => {
  test.each([
    "MIL PRF 83282",
    "MIL-PRF-83282D batch 12",
    "Hydraulic fluid MIL-H-83282",
    "83282",
    "MIL-PRF-83282D, hydraulic fluid, fire resistant, synthetic hydrocarbon base",
  ])("%j sends nobody away", (fluid) => {
    expect(reasonsOf(fluid)).toEqual(["fit"]);
  });

  test.each(["MIL-PRF-83282 / MIL-PRF-5606", "MIL-PRF-83282?", "waste MIL-PRF-83282", "batch 83282"])(
    "%j asks",
    (fluid) => {
      expect(reasonsOf(fluid)).toEqual(["resample", "fluid-label-not-recognised"]);
    },
  );

  test.each(["MIL PRF 5606 lot 3", "Type IV", "MIL-PRF-6083E", "MIL-PRF-46170 type II"])(
    "%j stops",
    (fluid) => {
      expect(reasonsOf(fluid)).toEqual(["do-not-connect", "fluid-contradicts-label"]);
    },
  );
});

describe("a fluid that preserves stands is known, and never for an aircraft", () => {
  test.each(["MIL-PRF-6083", "MIL-PRF-46170"] as const)("%s in a circuit", (fluid) => {
    const { verdict, reasons } = judgeCircuit(
      caseOf({ circuit: { ...CIRCUIT, fluid }, samples: [{ ...CLEAN, fluid }] }),
    );
    expect(verdict).toBe("do-not-connect");
    expect(reasons.find(({ code }) => code === "fluid-not-allowed")?.message).toContain(
      "never for an aircraft",
    );
  });

  test("no requirement can ask for one", () => {
    const { acidMgKohPerGMax, sampleAgeDaysMax, waterPpmMax } = REQUIREMENT;
    const system = {
      system: "main system",
      fluids: ["MIL-PRF-6083"],
      cleanliness: ["17/15/12"],
      ...{ acidMgKohPerGMax, sampleAgeDaysMax, waterPpmMax },
    };
    const text = JSON.stringify({ document: "D", revision: "1", systems: [system] });
    expect(() => parseRequirementsFile("requirement.json", text)).toThrow(
      /fluids.*MIL-PRF-83282.*found "MIL-PRF-6083"/,
    );
  });
});

test("carts and requirements may write a fluid as labels do", () => {
  const carts = parseCartsFile(
    "carts.json",
    JSON.stringify({
      carts: [
        {
          cart: "C-1",
          circuits: [
            {
              circuit: "1",
              serves: "main",
              fluid: "MIL PRF 83282D",
              volume: "60 L",
              flow: "40 L/min",
              element: { position: "pressure", betas: [{ sizeUmC: 6, beta: 100 }] },
            },
          ],
        },
      ],
    }),
  );
  expect(carts.carts[0]?.circuits[0]?.fluid).toBe("MIL-PRF-83282");
});

describe("a column map says once what a laboratory's own names mean", () => {
  const map = (more: object) =>
    parseColumnMap("lab.map.json", JSON.stringify({ siltbookColumnMap: 1, name: "laboratory", ...more }));
  const read = (row: string, more: object) =>
    readLabFile(
      "lab.csv",
      new TextEncoder().encode(`sample,cart,circuit,drawn on,fluid,water (mg/kg)\n${row}\n`),
      { map: map(more) },
    );

  test("of carts, circuits and fluids, in any case and with any spaces", async () => {
    const { samples, assumptions } = await read("S-1,4711,System  1,2026-03-04,Red Synthetic,120", {
      carts: { "4711": "C-1" },
      circuits: { "system 1": "fore" },
      fluids: { "red synthetic": "MIL PRF 83282" },
    });
    expect(samples).toMatchObject([{ cart: "C-1", circuit: "fore", fluid: "MIL-PRF-83282" }]);
    expect(assumptions.map(({ message }) => message)).toEqual(
      expect.arrayContaining([
        'the cart "4711" was read as C-1, as the column map says',
        'the circuit "System 1" was read as fore, as the column map says',
        'the fluid "Red Synthetic" was read as MIL-PRF-83282, as the column map says',
      ]),
    );
  });

  test("a name that the map does not know stays as it is written", async () => {
    const { samples } = await read("S-1,4712,fore,2026-03-04,red mineral,120", {
      carts: { "4711": "C-1" },
      fluids: { "red synthetic": "MIL-PRF-83282" },
    });
    expect(samples).toMatchObject([{ cart: "4712", fluid: "red mineral" }]);
  });

  test.each([
    [{ fluids: { "red synthetic": "purple" } }, /fluids.red synthetic/],
    [{ fluids: { "MIL-PRF-5606": "MIL-PRF-83282" } }, /specification of another fluid/],
    [{ carts: { "4711": "" } }, /carts.4711/],
  ])("%j is refused", (more, message) => {
    expect(() => map(more)).toThrow(message);
  });
});

describe("two reports of one bottle may write its fluid in two ways", () => {
  const folder = mkdtempSync(join(tmpdir(), "siltbook-labels-"));
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  let next = 0;
  /** The counts of the bottle in one file, its water and acid in another. */
  const judge = (way: "files" | "book", other: string) =>
    judgeCase(join(folder, String(++next)), way, {
      files: [
        ["S-1,C-1,main,2026-03-04,MIL-PRF-83282,600,150,20,,"],
        [`S-1,C-1,main,2026-03-04,${other},,,,120,0.05`],
      ],
      on: "2026-03-14",
    });

  describe.each(["files", "book"] as const)("from %s", (way) => {
    test.each(["MIL-PRF-83282D", "MIL PRF 83282", "MIL-PRF-83282 batch 12"])("%s", async (other) => {
      expect(await judge(way, other)).toMatchObject({ verdict: "fit", quarantine: [] });
    });

    test.each(["MIL-PRF-5606H", "MIL-PRF-83282?"])("another fluid contradicts it: %s", async (other) => {
      const { verdict, quarantine } = await judge(way, other);
      expect({ verdict, isSetAside: quarantine.length > 0 }).toEqual({
        verdict: "resample",
        isSetAside: true,
      });
    });
  });
});

describe("a report that names another fluid anywhere is asked about", () => {
  const COUNTS = "4 µm(c)/mL,6 µm(c)/mL,14 µm(c)/mL,Water ppm by mass,Acid mg KOH/g";
  const ROW = "S-9,C-1,fore,2026-03-10";
  const RESULTS = "900,250,20,80,0.1";

  async function fluidsOf(text: string) {
    const { samples } = await readLabFile("lab.csv", Buffer.from(text));
    const [sample] = samples;
    expect(samples).toHaveLength(1);
    const { verdict, reasons } = judgeCircuit(
      caseOf({ samples: [{ ...CLEAN, ...sample, counts: CLEAN.counts as never }] }),
    );
    return verdict === "fit"
      ? "fit"
      : reasons.filter(({ callsFor }) => callsFor !== "fit").map(({ code }) => code);
  }
  const inColumn = (title: string, cell: string) =>
    fluidsOf(`Sample,Cart,Circuit,Drawn,${title},${COUNTS}\n${ROW},"${cell}",${RESULTS}\n`);
  const inLine = (line: string) =>
    fluidsOf(`${line}\n\nSample,Cart,Circuit,Drawn,${COUNTS}\n${ROW},${RESULTS}\n`);

  test.each([
    ["Lubricant", "MIL-PRF-5606"],
    ["Medium", "AS1241 Type IV"],
    ["Sample description", "hydraulic fluid MIL-H-5606"],
    ["Spec", "MIL-PRF-5606"],
    ["Oil", "5606"],
    ["Lubricant", "Type V"],
    ["Schmierstoff", "5606"],
    ["Oil", "engine oil"],
    ["Material", "15W-40"],
    ["Lubricant", "HLP 46"],
    ["Lubricant", "ISO VG 32"],
    ["Product", "MIL-PRF-23699"],
    ["Oil", "NATO H-515"],
    ["Cart fluid", "MIL-PRF-5606"],
    ["Remarks", "smells of jet fuel"],
  ])("column %j: %j", async (title, cell) => {
    expect(await inColumn(title, cell)).toEqual(["identity-in-doubt"]);
  });

  test.each([
    ["Lubricant", "MIL-PRF-83282"],
    ["Oil", "83282"],
    ["Oil", "clear"],
    ["Lubricant", "ISO VG 15"],
    ["Batch", "5606"],
    ["Sampled by", "5606"],
    ["Remarks", "counter calibrated with test dust in MIL-PRF-5606"],
    ["Calibration fluid", "MIL-PRF-5606"],
    ["Method", "ASTM D974 for turbine oil"],
    ["Remarks", "no engine oil found"],
    ["Cart description", "MIL-PRF-83282 and AS1241 Type IV"],
    ["Remarks", "MIL-STD-1246 level 100"],
    ["Note", "drawn from the engine driven cart"],
  ])("column %j: %j sends nobody away", async (title, cell) => {
    expect(await inColumn(title, cell)).toBe("fit");
  });

  test.each([
    ["Fluid: MIL-PRF-5606", "fluid-contradicts-label"],
    ["Fluid,MIL-PRF-5606,Laboratory,ours", "fluid-contradicts-label"],
    ["Lubricant: MIL-PRF-5606", "fluid-contradicts-label"],
    ["Hydraulic fluid MIL-PRF-5606", "fluid-contradicts-label"],
    ["Schmierstoff: 5606", "fluid-contradicts-label"],
    ["Material tested: engine oil", "fluid-label-not-recognised"],
    ["Fluid: Castle 500", "fluid-label-not-recognised"],
  ])("a line above the table: %s", async (line, code) => {
    expect(await inLine(line)).toEqual([code]);
  });

  test.each([
    "Fluid: MIL-PRF-83282",
    "Fluid: see column",
    "Fluid 2026-114",
    "Fluid analysis report 2026",
    "Fluid temperature: 40 °C",
    "Limits: MIL-PRF-5606",
    "Calibration: MIL-PRF-5606",
    "Laboratory: Turbine oil analysis centre",
    "Fluids: MIL-PRF-83282 and AS1241 Type IV",
    "Sampling point: see procedure 12",
    "Sampling point: pressure port",
  ])("a line above the table that names no other fluid: %s", async (line) => {
    expect(await inLine(line)).toBe("fit");
  });

  test.each(["Sampling point: reservoir drain", "Fluid flowing: no"])(
    "a line above the table says how the bottles were filled: %s",
    async (line) => {
      expect(await inLine(line)).not.toBe("fit");
    },
  );
});
