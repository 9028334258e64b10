import { describe, expect, test } from "vitest";
import { parseTarget } from "../../src/cleanliness/index.js";
import { followingOfCircuit } from "../../src/fitness/index.js";
import { circuitSchema, requirementSchema } from "../../src/samples/index.js";

const circuit = circuitSchema.parse({
  circuit: "main",
  serves: "main system",
  fluid: "MIL-PRF-83282",
  volume: "60 L",
  flow: "45 L/min",
  hoses: [{ boreMm: 25, lengthM: 8, count: 2 }],
  element: { position: "pressure", betas: [{ sizeUmC: 4, beta: 100 }] },
  events: [],
});
const requirementWith = (more: object) =>
  requirementSchema.parse({
    system: "main system",
    fluids: ["MIL-PRF-83282"],
    cleanliness: ["17/15/12"],
    waterPpmMax: 200,
    acidMgKohPerGMax: 0.2,
    sampleAgeDaysMax: 30,
    ...more,
  });

describe("a counter in the line of a circuit", () => {
  test("is followed towards the target of its requirement, in the volume with its hoses", () => {
    const found = followingOfCircuit({ circuit, requirement: requirementWith({}) }, {}, "upstream");
    // Two hoses of 8 m and 25 mm hold 16 m × π/4 × (25 mm)² = 7.85 L.
    expect(found).toMatchObject({
      kind: "settings",
      target: "ISO 4406 17/15/12",
      settings: { confidence: 0.95, circuit: { flowLpm: 45, port: "upstream" } },
    });
    expect(found.kind === "settings" && found.settings.circuit?.volumeL).toBeCloseTo(67.85, 2);
  });

  test.each([
    ["that of the requirement", undefined, 0.9],
    ["the one that is typed", 0.99, 0.99],
  ])("its confidence is %s", (_, typed, expected) => {
    const requirement = requirementWith({ confidence: { probability: 0.9 } });
    const found = followingOfCircuit(
      { circuit, requirement },
      typed === undefined ? {} : { confidence: typed },
      "upstream",
    );
    expect(found).toMatchObject({ settings: { confidence: expected } });
  });

  const patch = requirementWith({
    cleanliness: [],
    patchTest: { standard: "NAS 1638", classMax: 7 },
  });
  test.each([
    ["without a flow of its own", { ...circuit, flowLpm: undefined }, requirementWith({}), "only delivers"],
    ["without a requirement", circuit, undefined, 'no requirement is named "main system"'],
  ] as const)("cannot be followed %s", (_, one, requirement, why) => {
    const found = followingOfCircuit(
      { circuit: one as typeof circuit, ...(requirement && { requirement }) },
      {},
      "upstream",
    );
    expect(found).toMatchObject({ kind: "none" });
    expect(found.kind === "none" && found.why).toContain(why);
  });

  test("cannot be followed towards a patch, and can towards a target that is typed", () => {
    expect(followingOfCircuit({ circuit, requirement: patch }, {}, "upstream")).toEqual({
      kind: "none",
      why: "the requirement of main system limits particles by a patch alone, which a counter does not show",
    });
    expect(followingOfCircuit({ circuit }, {}, "upstream", parseTarget("NAS 1638 7")).kind).toBe("settings");
    const target = parseTarget("NAS 1638 7");
    expect(followingOfCircuit({ circuit, requirement: patch }, {}, "upstream", target)).toMatchObject({
      target: "NAS 1638 7",
    });
  });
});
