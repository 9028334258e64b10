import { describe, expect, test } from "vitest";
import {
  cartsFileSchema,
  compareWithMaximum,
  requirementsFileSchema,
  resultsOf,
  type Sample,
  sampleSchema,
  sayMeasured,
} from "../src/samples/index.js";

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
    [{ volume: "60" }, /^expected a number with one of the units l, /],
    [{ volume: "0 L" }, /^expected a value above 0, found "0 L"/],
    [{ flow: "12 gpm" }, /^expected an unmistakable unit \(gpm was read as US gallons/],
    [{ fluid: "hydraulic oil" }, /Invalid option/],
    [{ element: { position: "pressure", betas: [{ sizeUmC: 6, beta: 0.9 }] } }, />=1/],
    [{ colour: "any" }, /Unrecognized key: "colour"/],
  ])("a circuit with %j is refused", (change, message) => {
    const result = cartsFileSchema.safeParse({
      carts: [{ cart: "C-1", circuits: [{ ...circuit, ...change }] }],
    });
    expect(messagesOf(result).join("; ")).toMatch(message);
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
    expect([{ value: 50, limit: "below" } as const, { value: 7 }].map(sayMeasured)).toEqual(["< 50", "7"]);
  });
});
