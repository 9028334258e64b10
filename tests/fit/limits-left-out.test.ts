import { describe, expect, test } from "vitest";
import { judgeCircuit } from "../../src/fitness/index.js";
import { parseRequirementsFile } from "../../src/intake/index.js";
import type { Requirement, Sample } from "../../src/samples/index.js";
import { CIRCUIT, CLEAN, caseOf, REQUIREMENT, without } from "../support/fitness/bases.js";

/** The verdict, the reasons that block it, and which quantities nobody limits. */
function judge(change: Partial<Requirement>, sample: Sample, fluid = CIRCUIT.fluid) {
  const requirement = { ...REQUIREMENT, fluids: [fluid as "MIL-PRF-83282"], ...change };
  const { verdict, reasons, assumptions, assessed } = judgeCircuit(
    caseOf({ circuit: { ...CIRCUIT, fluid }, requirement, samples: [{ ...sample, fluid }] }),
  );
  return {
    verdict,
    codes: reasons.filter(({ callsFor }) => callsFor !== "fit").map(({ code }) => code),
    left: assumptions.flatMap(({ code, message }) =>
      code === "quantity-not-limited" ? [/nobody limits (the acid number|water) /.exec(message)?.[1]] : [],
    ),
    assessed: assessed.map(({ quantity }) => quantity),
  };
}

const NO_ACID = { acidMgKohPerGMax: "not-limited" } as const;
const NO_WATER = { waterPpmMax: "not-limited" } as const;
const SATURATION = {
  waterSaturation: {
    shareMax: 0.5,
    lowestTemperatureC: 20,
    measured: [
      { temperatureC: 20, waterPpm: 300 },
      { temperatureC: 60, waterPpm: 900 },
    ],
  },
} satisfies Partial<Requirement>;

describe("a limit that the document does not set is left out, and the verdict says so", () => {
  test.each<[string, Partial<Requirement>, Sample, string[], string[]]>([
    ["acid not measured", NO_ACID, without(CLEAN, "acidMgKohPerG"), [], ["the acid number"]],
    [
      "acid measured, however much",
      NO_ACID,
      { ...CLEAN, acidMgKohPerG: { value: 9 } },
      [],
      ["the acid number"],
    ],
    ["water not measured", NO_WATER, without(CLEAN, "waterPpm"), [], ["water"]],
    [
      "both",
      { ...NO_ACID, ...NO_WATER },
      without(CLEAN, "waterPpm", "acidMgKohPerG"),
      [],
      ["water", "the acid number"],
    ],
    [
      "acid left out leaves water limited",
      NO_ACID,
      without(CLEAN, "waterPpm"),
      ["water-not-measured"],
      ["the acid number"],
    ],
    ["nothing left out", {}, without(CLEAN, "acidMgKohPerG"), ["acid-not-measured"], []],
    // 150 of 300 ppm at saturation are allowed; the sample has 200.
    [
      "water limited by saturation alone",
      { ...NO_WATER, ...SATURATION },
      CLEAN,
      ["saturation-outside"],
      ["water"],
    ],
    [
      "saturation needs water all the same",
      { ...NO_WATER, ...SATURATION },
      without(CLEAN, "waterPpm"),
      ["water-not-measured"],
      ["water"],
    ],
  ])("%s", (_, change, sample, codes, left) => {
    expect(judge(change, sample)).toMatchObject({ codes, left });
  });

  test("it is assessed as nothing, so it counts for nothing", () => {
    expect(judge(NO_ACID, CLEAN).assessed).toEqual(["particles", "water"]);
  });

  test("with it stands the mildest limit that is known for the fluid", () => {
    const { assumptions } = judgeCircuit(
      caseOf({
        circuit: { ...CIRCUIT, fluid: "AS1241 Type V" },
        requirement: { ...REQUIREMENT, fluids: ["AS1241 Type V"], ...NO_ACID },
      }),
    );
    expect(assumptions.find(({ code }) => code === "quantity-not-limited")?.message).toContain(
      "1.5 mg KOH/g",
    );
  });
});

describe("leaving a limit out has to be said", () => {
  const file = (change: object) =>
    parseRequirementsFile(
      "requirement.json",
      JSON.stringify({
        document: "D",
        revision: "1",
        systems: [{ ...REQUIREMENT, cleanliness: ["17/15/12"], ...change }],
      }),
    );

  test.each(["acidMgKohPerGMax", "waterPpmMax"])(
    "%s that is missing is refused, with the word for it",
    (field) => {
      expect(() => file({ [field]: undefined })).toThrow(/is missing, expected a number.* or "not-limited"/);
    },
  );

  test.each([["none"], [null], [0], [-1], ["not limited"]])("acidMgKohPerGMax: %j is refused", (value) => {
    expect(() => file({ acidMgKohPerGMax: value })).toThrow(/acidMgKohPerGMax/);
  });

  test("a requirement that was read goes through reading again", () => {
    const [system] = file(NO_ACID).systems;
    expect(system?.acidMgKohPerGMax).toBe("not-limited");
  });

  test("particles cannot be left out", () => {
    expect(() => file({ cleanliness: "not-limited" })).toThrow(/cleanliness/);
  });
});
