import { describe, expect, test } from "vitest";
import {
  type CirculationInput,
  channelLevel,
  circulationSteps,
  formatMinutes,
  formatPasses,
  planCirculation,
  portLevel,
  reboundOf,
  type StepsInput,
} from "../../src/circulation/index.js";
import { cumulativeCounts } from "../../src/counts/index.js";

// V/Q = 4 min a pass and β = 10: 0.9 of the particles go in each.
const demo: CirculationInput = {
  volumeL: 60,
  flowLpm: 15,
  betas: [{ sizeUmC: 4, beta: 10 }],
  start: cumulativeCounts([{ sizeUm: 4, count: 20_000 }], 1),
  limits: [{ channel: "4", fromUm: 4, limit: 1300, volumeMl: 1 }],
};
const plan = planCirculation(demo);
const stepsOf = (more: Partial<StepsInput> = {}) => circulationSteps({ plan, minutes: 16, ...more });

describe("the steps of a circulation", () => {
  test("begin with the manuals and a unit without pressure, and end before the cart is connected, each with its caution", () => {
    const steps = stepsOf();
    expect(steps.map(({ step }) => step.split(/[,;.]/)[0])).toEqual([
      "Take the cart's instructions and the aircraft maintenance manual",
      "With the unit off and without pressure",
      "Open the bypass valves",
      "Count the minutes from 29 °C (85 °F) on",
      "After 16 minutes of circulating",
      "Open the bypass valves",
    ]);
    const cautions = steps.map(({ caution }) => caution ?? "");
    expect(cautions[0]).toContain(
      "they come first. Circulate each circuit by itself; the two fluids never meet",
    );
    expect(cautions[1]).toContain("Remove all pressure and discharge stored energy before opening a line");
    expect(cautions[2]).toContain("Have the bypass valves open whenever the unit starts or stops");
    expect(cautions[2]).toContain("never by hand");
    expect(cautions[2]).toMatch(
      /Air that the start stirs in counts as particles, .* rise at first: draw no sample before both are over\.$/,
    );
    expect(cautions[3]).toContain("Stop at an indication");
    expect(cautions[4]).toContain("only the sample shows that the fluid is clean");
    expect(cautions[5]).toContain("Do not connect the cart until the verifying sample is in");
    expect(new Set(steps.map(({ source }) => source))).toEqual(
      new Set(["PRACTICE", "NAVEDTRA-14018-CIRCULATION"]),
    );
  });

  test("say the counts to expect at the start, at the interim sample and at the end, by hand", () => {
    const steps = stepsOf({ interimMinutes: 8.123 });
    const counts = steps.flatMap(({ expected }) => expected ?? []);
    expect(counts.map(({ channel }) => channel)).toEqual(["4", "4", "4"]);
    // Of the time that the step says, which is rounded up.
    const byHand = [0, 8.2, 16].map((minutes) => 20_000 * Math.exp((-0.9 * minutes) / 4));
    for (const [index, { perMl }] of counts.entries()) expect(perMl).toBeCloseTo(byHand[index] as number, 6);
    const interim = steps.find(({ step }) => step.startsWith("After 8.2 minutes"));
    expect(interim?.step).toContain("draw the interim sample while the fluid is flowing");
    expect(interim?.caution).toContain("without stopping the flow");
    expect(interim?.caution).not.toContain("depends on what it shows");
    expect(interim?.source).toBe("PRACTICE");
  });

  test("while the verifying sample depends on the interim one, only that is ordered, and why is said", () => {
    const drawn = (input: Partial<StepsInput>) =>
      circulationSteps({ plan, ...input }).filter(({ step }) => step.includes("sample"));
    const [interim, ...more] = drawn({ interimMinutes: 8 });
    expect(more).toEqual([]);
    expect(interim?.step).toMatch(/^After 8 minutes of circulating, .* draw the interim sample/);
    expect(interim?.caution).toMatch(/ The time of the verifying sample depends on what it shows\.$/);
    expect(drawn({})).toEqual([]);
  });

  test("at a port downstream of the element expect what it lets pass", () => {
    const delivered = plan.channels.map(({ portModes }) =>
      portModes.map((mode) => ({ ...mode, start: mode.start / 10 })),
    );
    const counts = stepsOf({ delivered }).flatMap(({ expected }) => expected ?? []);
    const byHand = [0, 16].map((minutes) => 2000 * Math.exp((-0.9 * minutes) / 4));
    for (const [index, { perMl }] of counts.entries()) expect(perMl).toBeCloseTo(byHand[index] as number, 6);
    expect(counts).toHaveLength(2);
  });

  test("say no time before the planned one", () => {
    const times = [4.01, 9.301, 10.04, 16.2].map((minutes) =>
      stepsOf({ minutes }).find(({ step }) => step.startsWith("After")),
    );
    expect(times.map((entry) => entry?.step.split(" of ")[0])).toEqual([
      "After 4.1 minutes",
      "After 9.4 minutes",
      "After 11 minutes",
      "After 17 minutes",
    ]);
    expect(times[2]?.expected?.[0]?.perMl).toBeCloseTo(20_000 * Math.exp((-0.9 * 11) / 4), 6);
  });

  test("have no interim sample that would come no earlier than the verifying one", () => {
    for (const interimMinutes of [16, 17]) expect(stepsOf({ interimMinutes })).toEqual(stepsOf());
  });

  test.each([
    [
      { kind: "one-run", endC: 51.6 },
      "Circulate in one run; the fluid is expected to end at 52 °C.",
      /^Stop before the high-temperature limit/,
    ],
    [
      { kind: "runs-with-pauses", firstRunMin: 12.96, pauseMin: 20, runMin: 6.599, pauses: 1, totalMin: 60 },
      "Circulate in runs: the first 12.9 minutes, then a pause of 20 minutes, then runs of at most 6.59 minutes with the same pause, 1 pause and 60 minutes in all. Pauses do not count as circulating.",
      /with the bypass valves open\.$/,
    ],
    [
      { kind: "runs-with-pauses", firstRunMin: 12, pauseMin: 20, runMin: 6.5, pauses: 2, totalMin: 80 },
      "Circulate in runs: the first 12 minutes, then a pause of 20 minutes, then runs of at most 6.5 minutes with the same pause, 2 pauses and 80 minutes in all. Pauses do not count as circulating.",
      /with the bypass valves open\.$/,
    ],
  ])("say how the heat is kept in bounds: %o", (heat, step, caution) => {
    const steps = stepsOf({ heat: heat as NonNullable<StepsInput["heat"]> });
    expect(steps).toHaveLength(7);
    expect(steps[4]).toMatchObject({ step, source: "FIRST-ORDER" });
    expect(steps[4]?.caution).toMatch(caution);
  });
});

describe("a slow zone makes the counts rise again", () => {
  const slowPlan = (more: Partial<CirculationInput> = {}) =>
    planCirculation({
      ...demo,
      start: cumulativeCounts(
        [
          { sizeUm: 4, count: 20_000 },
          { sizeUm: 14, count: 600 },
        ],
        1,
      ),
      betas: [
        { sizeUmC: 4, beta: 2 },
        { sizeUmC: 14, beta: 1000 },
      ],
      limits: [
        { channel: "4", fromUm: 4, limit: 1300, volumeMl: 1 },
        { channel: "14", fromUm: 14, limit: 40, volumeMl: 1 },
      ],
      mixing: { kind: "two-zone", slowFraction: 0.3, exchangePerPass: 0.1 },
      ...more,
    });
  const slow = slowPlan();
  const riseOf = (input: StepsInput) =>
    circulationSteps(input).find(({ source }) => source === "TWO-ZONE") as ReturnType<
      typeof circulationSteps
    >[number];

  test("from what the port shows to what the circuit holds at those minutes, and a sample at the port shows less", () => {
    for (const channel of slow.channels) {
      // 16 min are 4 passes.
      const [port, circuit] = [portLevel(slow, channel, 4), channelLevel(slow, channel, 4)];
      expect(reboundOf(slow, channel, 16)).toMatchObject({ port, circuit, factor: circuit / port });
      expect(circuit).toBeGreaterThan(port);
    }
    const { step, caution } = riseOf({ plan: slow, minutes: 16 });
    const [{ port, circuit }] = slow.channels.slice(1).map((channel) => reboundOf(slow, channel, 16)) as [
      ReturnType<typeof reboundOf>,
    ];
    expect(step).toContain(
      `mixes in: in channel 14 from ${Number(port.toPrecision(3))} to ${Number(circuit.toPrecision(3))} per mL`,
    );
    expect(caution).toMatch(/^A sample at the port looks cleaner than the circuit/);
    expect(stepsOf().some(({ source }) => source === "TWO-ZONE")).toBe(false);
  });

  test.each([
    ["14, which is held back best", 0, "14"],
    // 8·10^6 a minute into 15 L/min keep 533 per mL of the 600 above 14 µm(c).
    ["4, where ingress keeps the large ones up at the port too", 8e6, "4"],
  ])("in the channel where they rise most: %s", (_, particlesPerMin, channel) => {
    const ingress = [4, 14].map((sizeUmC) => ({ sizeUmC, particlesPerMin }));
    const limits = [4, 14].map((fromUm) => ({ channel: `${fromUm}`, fromUm, limit: 6000, volumeMl: 1 }));
    const { step } = riseOf({ plan: slowPlan({ ingress, limits }), minutes: 16 });
    expect(step).toContain(`in channel ${channel} from`);
  });

  test("upstream of the element, where samples are drawn downstream of it", () => {
    const delivered = slow.channels.map(({ portModes }) => portModes);
    expect(riseOf({ plan: slow, minutes: 16, delivered }).step).toContain(
      "mixes in: upstream of the element in channel 14",
    );
  });

  test("of no channel without particles", () => {
    const clean = slowPlan({
      start: cumulativeCounts(
        [
          { sizeUm: 4, count: 0 },
          { sizeUm: 14, count: 0 },
        ],
        1,
      ),
    });
    for (const channel of clean.channels) expect(reboundOf(clean, channel, 16).factor).toBe(1);
  });
});

test.each([Number.NaN, Number.POSITIVE_INFINITY])("no step is worded with %d minutes", (value) => {
  for (const name of ["minutes", "interimMinutes", "lastDrawnMinutes", "countFromC"])
    expect(() => stepsOf({ [name]: value })).toThrow(`${name} must be a finite number, not ${value}`);
  expect(() => formatMinutes(value)).toThrow(`minutes must be a finite number, not ${value}`);
  expect(() => formatPasses(value)).toThrow(`passes must be a finite number, not ${value}`);
});
