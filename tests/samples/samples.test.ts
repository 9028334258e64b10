import { readFile } from "node:fs/promises";
import { describe, expect, test } from "vitest";
import * as z from "zod";
import {
  cartsFileSchema,
  cartsJsonSchema,
  circuitSchema,
  compareWithMaximum,
  compareWithRange,
  countSetSchema,
  formatMeasured,
  requirementsFileSchema,
  requirementsJsonSchema,
  resultsOf,
  type Sample,
  sampleSchema,
} from "../../src/samples/index.js";

const circuit = {
  circuit: "1",
  serves: "main system",
  fluid: "MIL-PRF-83282",
  volume: "16 US gal",
  flow: "45 L/min",
  element: { position: "pressure", betas: [{ sizeUmC: 6, beta: 100 }] },
};

function messagesOf(result: { success: boolean; error?: { issues: { message: string }[] } }): string[] {
  return result.error?.issues.map((issue) => issue.message) ?? [];
}

describe("carts file", () => {
  test("quantities are read once, at the border, into numbers with the unit in the name", () => {
    const file = cartsFileSchema.parse({ carts: [{ cart: "C-1", circuits: [circuit] }] });
    expect(file.carts[0]?.circuits[0]).toMatchObject({
      volumeL: expect.closeTo(60.5666, 4),
      flowLpm: 45,
      events: [],
    });
  });

  test.each([
    [{ volume: "60" }, /^expected a number with one of the units L, /],
    [{ volume: "0 L" }, /^expected a value above 0, found "0 L"/],
    [{ element: { position: "pressure", rating: "3 µm" } }, /^expected a rating such as .*, found "3 µm"/],
    [{ units: "imperial" }, /Invalid option: expected one of "metric"\|"us"/],
    [{ fluid: "hydraulic oil" }, /Invalid option/],
    [{ element: { position: "pressure", betas: [{ sizeUmC: 6, beta: 0.9 }] } }, />=1/],
    [{ colour: "any" }, /Unrecognized key: "colour"/],
  ])("a circuit with %j is refused", (change, message) => {
    const result = cartsFileSchema.safeParse({
      carts: [{ cart: "C-1", circuits: [{ ...circuit, ...change }] }],
    });
    expect(messagesOf(result).join("; ")).toMatch(message);
  });

  test.each([
    [{ flow: "80 L/min" }, { flowLpm: 80 }],
    [
      { flow: "20 US gal/min", returns: false },
      { flowLpm: expect.closeTo(75.708, 3), returns: false },
    ],
    [{ element: circuit.element }, { element: circuit.element }],
  ])("a circuit that gives fluid to an aircraft by %j", (delivery, read) => {
    expect(circuitSchema.parse({ ...circuit, delivery }).delivery).toEqual(read);
  });

  test.each([
    [{}, /^says nothing: expected flow, returns or an element/],
    [{ flow: "80" }, /^expected a number with one of the units/],
    [{ flow: "0 L/min" }, /^expected a value above 0/],
    [{ returns: "no" }, /Invalid input/],
    [{ element: { position: "service", betas: [] } }, />=1/],
    [{ pump: "hand" }, /Unrecognized key/],
  ])("a delivery of %j is refused", (delivery, message) => {
    expect(messagesOf(circuitSchema.safeParse({ ...circuit, delivery })).join("; ")).toMatch(message);
  });

  test("the published JSON Schema is the one the code checks by", async () => {
    const published = await readFile("docs/carts.schema.json", "utf8");
    expect(JSON.parse(published), "npm run schemas writes it").toEqual(
      JSON.parse(JSON.stringify(cartsJsonSchema())),
    );
  });

  test("a cart or a circuit listed twice is refused by name", () => {
    const cart = { cart: "C-1", circuits: [circuit, circuit] };
    expect(messagesOf(cartsFileSchema.safeParse({ carts: [cart, cart] }))).toEqual([
      'the cart "C-1" is listed twice',
      'the circuit "1" of cart "C-1" is listed twice',
      'the circuit "1" of cart "C-1" is listed twice',
    ]);
  });
});

describe("requirements file", () => {
  const system = {
    system: "main system",
    fluids: ["MIL-PRF-83282"],
    cleanliness: ["17/15/12", "AS4059 cumulative 7A-F", "NAS 1638 7"],
    waterPpmMax: 200,
    acidMgKohPerGMax: 0.2,
    sampleAgeDaysMax: 90,
  };

  test("targets are read into limits, each with its standard", () => {
    const file = requirementsFileSchema.parse({ document: "example", revision: "1", systems: [system] });
    expect(file.systems[0]?.cleanliness.map((target) => target.standard)).toEqual([
      "ISO 4406",
      "AS4059 cumulative",
      "NAS 1638",
    ]);
  });

  test("document and revision are required: a limit without its source is not taken", () => {
    expect(messagesOf(requirementsFileSchema.safeParse({ systems: [system] }))).toHaveLength(2);
  });

  test.each([["AS4059 7"], ["NAS 1638 13"], ["17/15"], [">28/15/12"], ["AS4059 cumulative 7A/6A"]])(
    "the target %j is refused and named",
    (target) => {
      const result = requirementsFileSchema.safeParse({
        document: "example",
        revision: "1",
        systems: [{ ...system, cleanliness: [target] }],
      });
      expect(result.success).toBe(false);
      expect(messagesOf(result).join()).toMatch(/7A|AS4059 7|NAS 1638 13|17\/15|>28/);
    },
  );
});

describe("samples", () => {
  const sample: Sample = {
    sample: "S-1",
    cart: "C-1",
    circuit: "1",
    drawnOn: "2026-03-14",
    origin: [{ file: "a.csv", rows: [2] }],
  };

  test("counts that rise with size never become a sample", () => {
    const counts = {
      scale: "um(c)",
      form: "cumulative",
      volumeMl: 1,
      counts: [
        { sizeUm: 4, count: 10 },
        { sizeUm: 6, count: 11 },
      ],
    };
    const result = sampleSchema.safeParse({ ...sample, counts });
    expect(messagesOf(result)).toEqual([
      "cumulative counts cannot rise with size: 11 at 6 µm is more than 10 at 4 µm",
    ]);
  });

  test("31 February is no day", () => {
    expect(sampleSchema.safeParse({ ...sample, drawnOn: "2026-02-31" }).success).toBe(false);
  });

  test("the same results per mL and per 100 mL are the same, whatever file they came from", () => {
    const per = (volumeMl: number, counts: number[]) =>
      sampleSchema.parse({
        ...sample,
        origin: [{ file: `${volumeMl}.csv`, rows: [volumeMl] }],
        counts: {
          scale: "um(c)",
          form: "cumulative",
          volumeMl,
          counts: counts.map((count, index) => ({ sizeUm: [4, 6, 14][index], count })),
        },
      });
    expect(resultsOf(per(1, [1503.27, 120.5, 7.01]))).toEqual(resultsOf(per(100, [150327, 12050, 701])));
    expect(resultsOf(per(1, [1503.27, 120.5, 7.02]))).not.toEqual(resultsOf(per(100, [150327, 12050, 701])));
  });
});

describe("a limit value against a maximum", () => {
  test.each([
    [{ value: 200 }, "inside"],
    [{ value: 200.001 }, "outside"],
    [{ value: 200, limit: "below" }, "inside"],
    [{ value: 250, limit: "below" }, "not-known"],
    [{ value: 200, limit: "above" }, "outside"],
    [{ value: 150, limit: "above" }, "not-known"],
    [{ value: Number.NaN }, "outside"],
  ] as const)("%j against 200 is %s", (measured, outcome) => {
    expect(compareWithMaximum(measured, 200)).toBe(outcome);
  });

  test("it is written with its sign", () => {
    expect([{ value: 50, limit: "below" } as const, { value: 7 }].map(formatMeasured)).toEqual(["< 50", "7"]);
  });
});

describe("requirements", () => {
  const file = (system: object) => ({
    document: "limits",
    revision: "1",
    systems: [
      {
        system: "main system",
        fluids: ["MIL-PRF-83282"],
        cleanliness: ["17/15/12"],
        waterPpmMax: 200,
        acidMgKohPerGMax: 0.2,
        sampleAgeDaysMax: 30,
        ...system,
      },
    ],
  });
  const problems = (system: object) =>
    requirementsFileSchema.safeParse(file(system)).error?.issues.map(({ message }) => message) ?? [];

  test("the published JSON Schema is the one the code checks by", async () => {
    const published = await readFile("docs/requirements.schema.json", "utf8");
    expect(JSON.parse(published), "npm run schemas makes it anew").toEqual(
      JSON.parse(JSON.stringify(requirementsJsonSchema())),
    );
  });

  describe("the JSON Schema of a carts file", () => {
    const checker = () => z.fromJSONSchema(cartsJsonSchema() as Parameters<typeof z.fromJSONSchema>[0]);

    test("is published as the code checks by it", async () => {
      const published = await readFile("docs/carts.schema.json", "utf8");
      expect(JSON.parse(published), "npm run schemas writes it").toEqual(
        JSON.parse(JSON.stringify(cartsJsonSchema())),
      );
    });

    test("takes the carts of the demo", async () => {
      const demo = JSON.parse(await readFile("datasets/demo/carts.json", "utf8"));
      expect(checker().safeParse(demo).success).toBe(true);
    });

    const circuit = {
      circuit: "1",
      serves: "main",
      fluid: "MIL-PRF-83282",
      volume: "60 L",
      flow: "45 L/min",
      element: { position: "pressure", betas: [{ sizeUmC: 4, beta: 20 }] },
    };
    test.each<[string, object, boolean]>([
      ["the least that is needed", {}, true],
      ["an event with its time", { events: [{ on: "2026-03-04", kind: "hookup", at: "08:40" }] }, true],
      ["a kind of event that is not known", { events: [{ on: "2026-03-04", kind: "wash" }] }, false],
      ["a volume without its unit", { volume: 60 }, false],
      ["a field that is not known", { colour: "red" }, false],
      // A path that only delivers has none; whether this is one is looked at when the file is read.
      ["no element", { element: undefined }, true],
      // It is taken as the least that a working one does, and the answer says so.
      ["an element without betas", { element: { position: "pressure" } }, true],
      ["an element without a position", { element: { betas: [{ sizeUmC: 4, beta: 40 }] } }, false],
      ["a share of a drain beyond all of it", { drained: 1.5 }, false],
    ])("%s", (_, change, isTaken) => {
      const file = { carts: [{ cart: "C-1", circuits: [{ ...circuit, ...change }] }] };
      expect(checker().safeParse(JSON.parse(JSON.stringify(file))).success).toBe(isTaken);
    });
  });

  test("the illustrative example is valid, says whose limits to use, and names the source of every limit", async () => {
    const text = await readFile("datasets/requirements/illustrative.json", "utf8");
    const { note, systems } = requirementsFileSchema.parse(JSON.parse(text));
    expect(note).toContain("Use the limits of your aircraft's manual");
    for (const { from = {}, ...system } of systems) {
      const limits = Object.keys(system).filter((field) => !["system", "fluids", "aircraft"].includes(field));
      expect(Object.keys(from).sort(), system.system).toEqual(limits.sort());
    }
  });

  test("a document and its revision are required", () => {
    for (const missing of ["document", "revision"]) {
      const { [missing]: _gone, ...rest } = file({}) as Record<string, unknown>;
      expect(requirementsFileSchema.safeParse(rest).success, missing).toBe(false);
    }
  });

  test.each([
    ["a range without ends", { viscosity40Mm2PerS: {} }, "min, max or both are needed"],
    ["a range upside down", { viscosity40Mm2PerS: { min: 15, max: 12 } }, "min must be less than max"],
    ["a source for what is no field", { from: { water: "PRACTICE" } }, "is no field of a requirement"],
    [
      "an event listed twice",
      {
        after: [
          { event: "hookup", sample: true },
          { event: "hookup", sample: false },
        ],
      },
      "hookup is listed twice",
    ],
    [
      "saturation of a phosphate ester",
      {
        fluids: ["AS1241 Type IV"],
        waterSaturation: {
          shareMax: 0.5,
          lowestTemperatureC: 20,
          measured: [
            { temperatureC: 20, waterPpm: 300 },
            { temperatureC: 60, waterPpm: 900 },
          ],
        },
      },
      "AS1241 Type IV dissolves far more water than it may hold; ask for waterPpmMax alone",
    ],
  ])("%s is refused", (_name, system, message) => {
    expect(problems(system)).toContain(message);
  });

  test("a confidence of one half or less, or of certainty, is refused; 95 % is taken when none is said", () => {
    for (const probability of [0.5, 1]) expect(problems({ confidence: { probability } })).not.toEqual([]);
    expect(requirementsFileSchema.parse(file({ confidence: {} })).systems[0]?.confidence?.probability).toBe(
      0.95,
    );
  });

  test("a system listed twice is refused, because which of the two holds would be a guess", () => {
    const twice = { ...file({}), systems: [...file({}).systems, ...file({}).systems] };
    expect(requirementsFileSchema.safeParse(twice).error?.issues[0]?.message).toBe(
      'the system "main system" is listed twice',
    );
  });
});

describe("counts of a sample", () => {
  test("keep the counted volume, what was estimated and what was subtracted", () => {
    const counts = {
      scale: "um(c)",
      form: "cumulative",
      volumeMl: 1,
      counting: { countedMl: 10, dilution: 2 },
      counts: [
        { sizeUm: 4, count: 100, blank: 1 },
        { sizeUm: 6, count: 20, basis: "estimated" },
      ],
    };
    expect(countSetSchema.parse(counts)).toEqual(counts);
  });
});

describe("a value between two limits", () => {
  test.each([
    [{ value: 12 }, "inside"],
    [{ value: 15 }, "inside"],
    [{ value: 11.9 }, "outside"],
    [{ value: 15.1 }, "outside"],
    [{ value: Number.NaN }, "outside"],
    [{ value: 12, limit: "below" }, "outside"],
    [{ value: 13, limit: "below" }, "not-known"],
    [{ value: 11, limit: "at-most" }, "outside"],
    [{ value: 12, limit: "at-most" }, "not-known"],
    [{ value: 15, limit: "above" }, "outside"],
    [{ value: 13, limit: "at-least" }, "not-known"],
    [{ value: 16, limit: "at-least" }, "outside"],
  ] as const)("%o of 12 to 15 is %s", (measured, outcome) => {
    expect(compareWithRange(measured, { min: 12, max: 15 })).toBe(outcome);
  });

  test("without any limit nothing is inside", () => {
    expect(compareWithRange({ value: 1 }, {})).toBe("not-known");
  });
});
