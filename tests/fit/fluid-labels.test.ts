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
