import { describe, expect, test } from "vitest";
import {
  answerCirculation,
  type CirculationQuestion,
  minutesUp,
  startOfCode,
  withCustomaryValues,
} from "../../src/circulation/index.js";
import { limitsOfTarget, parseIso4406, parseTarget } from "../../src/cleanliness/index.js";
import { cumulativeCounts } from "../../src/counts/index.js";

/** One channel: 20000 to 1300 per mL with β = 10 is ln(20000/1300)/0.9 = 3.037 passes of 4 minutes. */
const ONE_CHANNEL: CirculationQuestion = {
  circuit: {
    volumeL: 60,
    flowLpm: 15,
    betas: [{ sizeUmC: 4, beta: 10 }],
    limits: [{ channel: "4", fromUm: 4, limit: 1300, volumeMl: 1 }],
  },
  start: {
    counts: cumulativeCounts([{ sizeUm: 4, count: 20000 }], 1),
    assumptions: [],
  },
};
/** The same with nothing left to custom. */
const ALL_STATED: CirculationQuestion = {
  ...ONE_CHANNEL,
  circuit: { ...ONE_CHANNEL.circuit, mixing: { kind: "well-mixed" }, ingress: [], bypass: 0 },
};
const EXACT = { volume: 0, flow: 0, beta: 0, ingress: 0, slowZone: 0, laboratory: 0 };

const MINUTES = (4 * Math.log(20000 / 1300)) / 0.9;

const codes = ({ assumptions }: { readonly assumptions: readonly { readonly code: string }[] }) =>
  assumptions.map(({ code }) => code);

describe("the time to go by", () => {
  test.each([0.5, 0.8, 0.99])("is that of the required confidence, here %f", (confidence) => {
    // A flow that is known to 5 %: the minutes are log-normal about the stated ones, with √ln(1 + 0.05²) = 0.04997.
    const { goBy } = answerCirculation({
      ...ALL_STATED,
      confidence: { confidence, uncertainty: { ...EXACT, flow: 0.05 }, draws: 20_000 },
    });
    const z = { 0.5: 0, 0.8: 0.8416, 0.99: 2.3263 }[confidence] as number;
    expect(goBy).toMatchObject({
      confidence,
      governs: "acceptance",
      minutes: expect.closeTo(MINUTES * Math.exp(0.04997 * z), 1),
    });
  });

  test("is that of 95 % within usual uncertainties, and says so, where nothing is stated of them", () => {
    const answer = answerCirculation(ONE_CHANNEL);
    expect(answer.required).toMatchObject({ confidence: 0.95, seed: 1, draws: 1000 });
    expect(answer.goBy.confidence).toBe(0.95);
    expect(codes(answer)).toEqual(
      expect.arrayContaining(["typical-uncertainty", "customary-mixing", "customary-ingress"]),
    );
    const stated = codes(
      answerCirculation({ ...ALL_STATED, confidence: { uncertainty: { ...EXACT, countedMl: 20 } } }),
    );
    expect(stated.filter((code) => /typical|customary/.test(code))).toEqual([]);
  });

  test("is absent, and all is not well, where circulating cannot get there", () => {
    const { goBy, steps, remedies, allWell } = answerCirculation({
      ...ONE_CHANNEL,
      circuit: { ...ONE_CHANNEL.circuit, betas: [{ sizeUmC: 4, beta: 1 }] },
    });
    expect([goBy.kind, steps, allWell]).toEqual(["no-time", undefined, false]);
    expect(remedies).toBeDefined();
  });
});

test("the usual uncertainties are said with their numbers", () => {
  const { assumptions } = withCustomaryValues({ ...ONE_CHANNEL.circuit, start: ONE_CHANNEL.start.counts });
  expect(assumptions[0]?.message).toContain(
    "volume 10 %, flow 5 %, β 30 %, ingress 100 %, slow zone 50 %, hoses up to 15 %, leakage past the seal up to 10 %, laboratory 20 %, 20 mL counted",
  );
});

test("a code starts from the most particles that it allows, and the answer says so", () => {
  const start = startOfCode(parseIso4406("21/19/16"));
  // The upper ends of scale numbers 21, 19 and 16 (ISO 4406:2021, table 1).
  expect(start.counts.counts.map(({ count }) => count)).toEqual([20000, 5000, 640]);
  expect(start.lowerEdges?.map(({ moreThanPerMl }) => moreThanPerMl)).toEqual([10000, 2500, 320]);
  const answer = answerCirculation({
    start,
    circuit: {
      volumeL: 60,
      flowLpm: 15,
      betas: [{ sizeUmC: 4, beta: 10 }],
      limits: limitsOfTarget(parseTarget("17/15/12")),
    },
  });
  expect(codes(answer)).toContain("start-at-upper-end");
});

describe("heat", () => {
  const GO_BY = answerCirculation(ONE_CHANNEL).goBy;
  const RUN = GO_BY.kind === "minutes" ? minutesUp(GO_BY.minutes) : Number.NaN;
  const HEAT = { dropBar: 100, startC: 20, limitC: 120 };
  // 100 bar · 15 L/min / 600 is 2.5 kW; 60 L of 850 kg/m³ and 2 kJ/(kg K) take 102 kJ/K.
  const END_C = 20 + (2.5 * 60 * RUN) / 102;

  test("of a pump that loses nothing, without cooling, unless they are given; for as long as the steps say", () => {
    const { heat } = answerCirculation({
      ...ONE_CHANNEL,
      heat: { ...HEAT, densityKgPerM3: 850, specificHeatKjPerKgK: 2 },
    });
    expect(heat).toMatchObject({ kind: "one-run", endC: expect.closeTo(END_C, 9) });
    expect(codes(heat as NonNullable<typeof heat>)).not.toContain("fluid-data-from-memory");
  });

  test("of a named fluid rests on data from memory, and a given value goes before them", () => {
    const named = answerCirculation({ ...ONE_CHANNEL, heat: { ...HEAT, fluid: "MIL-PRF-83282" } });
    expect(named.heat).toMatchObject({ kind: "one-run", endC: expect.closeTo(END_C, 9) });
    expect(codes(named)).toContain("fluid-data-from-memory");
    const heavier = answerCirculation({
      ...ONE_CHANNEL,
      heat: { ...HEAT, fluid: "MIL-PRF-83282", densityKgPerM3: 1700 },
    });
    expect(heavier.heat).toMatchObject({ endC: expect.closeTo(20 + (END_C - 20) / 2, 9) });
  });

  test("without a fluid or its data is refused", () => {
    expect(() => answerCirculation({ ...ONE_CHANNEL, heat: HEAT })).toThrow(RangeError);
  });

  test("that is refused makes not all well", () => {
    const { allWell } = answerCirculation({
      ...ONE_CHANNEL,
      heat: { ...HEAT, startC: 120, fluid: "MIL-PRF-83282" },
    });
    expect(allWell).toBe(false);
  });
});

test("an element is new, and its dust quartz spheres, unless the question says otherwise", () => {
  const asked = (element: NonNullable<CirculationQuestion["element"]>) =>
    answerCirculation({ ...ONE_CHANNEL, element }).loading;
  const plain = asked({ capacityG: 80 });
  expect(plain?.retainedBeforeG).toBe(0);
  expect(asked({ capacityG: 80, densityGPerCm3: 2.65, shapeFactor: 1 })).toEqual(plain);
  expect(asked({ capacityG: 80, densityGPerCm3: 5.3 })?.addedG).toBeCloseTo(
    2 * (plain?.addedG as number),
    12,
  );
});

test("an indicator is rated at the flow of the circuit unless another is given", () => {
  const asked = (rated: { flowLpm?: number }) =>
    answerCirculation({
      ...ONE_CHANNEL,
      indicator: {
        rated: { elementBar: 1, mm2PerS: 14, ...rated },
        viscosity: "MIL-PRF-83282",
        temperatureC: 40,
        indicatorBar: 5,
      },
    }).indicator;
  // The fluid has 14 mm²/s at 40 °C, as in the rating.
  expect(asked({})?.cleanDropBar).toBeCloseTo(1, 9);
  expect(asked({ flowLpm: 30 })?.cleanDropBar).toBeCloseTo(0.5, 9);
});
