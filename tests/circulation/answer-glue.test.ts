// What an answer is put together from, and the sentence that comes first. By hand: a pass takes 4 min and β is 10.
import { describe, expect, test } from "vitest";
import {
  answerCirculation,
  type CirculationAnswer,
  type CirculationQuestion,
  describeGoBy,
  describeNext,
  describeWhyThatTime,
  exchangeAim,
  expectAfter,
  heatOfCirculation,
  loadingOfCirculation,
  minutesUp,
  reboundOf,
  startOfCode,
} from "../../src/circulation/index.js";
import { parseIso4406 } from "../../src/cleanliness/index.js";
import { cumulativeCounts } from "../../src/counts/index.js";

const CIRCUIT = {
  ...{ volumeL: 60, flowLpm: 15, betas: [{ sizeUmC: 4, beta: 10 }] },
  limits: [{ channel: "4", fromUm: 4, limit: 1300, volumeMl: 1 }],
};
const START = cumulativeCounts([{ sizeUm: 4, count: 20_000 }], 1);
const ask = (more: Partial<CirculationQuestion> = {}) =>
  answerCirculation({
    ...{ circuit: CIRCUIT, start: { counts: START, assumptions: [] }, confidence: { draws: 100 } },
    ...more,
  });
const minutesOf = ({ goBy }: CirculationAnswer) => (goBy.kind === "minutes" ? goBy.minutes : Number.NaN);
const drawn = (...levels: readonly (readonly [number, number])[]) => ({
  countedMl: 20,
  samples: levels.map(([minutes, value]) => ({ minutes, counts: [{ sizeUmC: 4, perMl: { value } }] })),
});

describe("an answer", () => {
  test("is aimed where the judge accepts, and assumes nothing that nobody asked for", () => {
    const acceptance = {
      countedMl: 20,
      limits: [{ channel: "4", fromUm: 4, limit: 20 * 650, volumeMl: 20 }],
    };
    // Half of the limit is ln 2 later at the least.
    expect(minutesOf(ask({ acceptance })) - minutesOf(ask())).toBeGreaterThan((4 * Math.LN2) / 0.9);
    expect(ask().assumptions.every((one) => typeof one === "object")).toBe(true);
    expect([ask().port, ask({ port: "downstream" }).port]).toEqual(["upstream", "downstream"]);
  });

  test("says what to expect at the end, and after the minutes that were asked for", () => {
    const found = ask({ afterMinutes: 8 });
    expect(found.atEnd).toEqual(expectAfter({ ...CIRCUIT, start: START }, minutesOf(found)));
    expect(found.after?.passes).toBeCloseTo(2, 12);
    expect(ask().after).toBeUndefined();
  });

  test("says the rebound of a slow zone and of nothing else", () => {
    const mixing = { kind: "two-zone", slowFraction: 0.2, exchangePerPass: 0.1 } as const;
    const slow = ask({ circuit: { ...CIRCUIT, mixing } });
    const [channel] = slow.plan.channels;
    expect(slow.rebound).toEqual([reboundOf(slow.plan, channel as never, minutesOf(slow))]);
    expect(ask().rebound).toBeUndefined();
    const stopped = ask({
      circuit: { ...CIRCUIT, mixing },
      interim: drawn([8, 20_000], [16, 20_000], [24, 20_000]),
    });
    expect([stopped.next.kind, stopped.rebound, stopped.atEnd, stopped.steps]).toEqual([
      ...["stop", undefined, undefined, undefined],
    ]);
  });

  test("counts from the last of the samples, and lets none be drawn before a pass of 20 min", () => {
    const found = ask({ interim: drawn([6, 5200], [3, 10_200]) });
    expect(found.lastDrawnMinutes).toBe(6);
    const large = ask({
      circuit: { ...CIRCUIT, volumeL: 300 },
      interim: drawn([1, 900]),
      start: { counts: cumulativeCounts([{ sizeUm: 4, count: 1000 }], 1), assumptions: [] },
    });
    expect(large.next).toEqual({ kind: "verify", minutes: 20 });
  });

  test.each([
    ["that are left at minute 8", 30, { kind: "verify", minutes: 30 }],
    ["that are over at minute 8", 6, { kind: "verify", minutes: 8 }],
  ])(
    "lets no bottle be drawn before the minutes that a requirement asks for, though the sample is inside: %s",
    (_, dueMin, next) => {
      // 20 and 3 per mL: well inside 1300.
      expect(ask({ dueMin, interim: drawn([4, 600], [8, 20]) }).next).toEqual(next);
    },
  );

  test("loads the element for the passes of the time to go by, and warms the fluid in its steps", () => {
    const element = { capacityG: 80 };
    const found = ask({ element, heat: { dropBar: 10, startC: 20, limitC: 90, fluid: "MIL-PRF-83282" } });
    expect(found.loading).toEqual(
      loadingOfCirculation({ ...CIRCUIT, start: START }, element, minutesOf(found) / 4),
    );
    expect(found.steps?.some(({ step }) => step.startsWith("Circulate in one run"))).toBe(true);
    const never = ask({
      circuit: { ...CIRCUIT, betas: [{ sizeUmC: 4, beta: 1 }] },
      ...{ element, heat: { dropBar: 10, startC: 20, limitC: 90, fluid: "MIL-PRF-83282" } },
    });
    expect([never.loading, never.heat, never.allWell]).toEqual([undefined, undefined, false]);
  });

  describe("with ten minutes run since the start", () => {
    const done = { minutes: 10, assumptions: [{ code: "minutes-run-counted", message: "as it was run" }] };
    const whole = minutesOf(ask());
    const heat = { dropBar: 10, startC: 20, limitC: 90, fluid: "MIL-PRF-83282" } as const;
    const found = ask({ done, heat, element: { capacityG: 80 }, afterMinutes: 8 });
    const left = whole - 10;
    const saidUp = minutesUp(left);

    test("orders the rest, and counts on from the start", () => {
      expect(minutesOf(found)).toBeCloseTo(left, 9);
      expect(found.next).toMatchObject({ kind: "verify", minutes: expect.closeTo(whole, 9) });
      expect([found.doneMinutes, ask().doneMinutes]).toEqual([10, 0]);
      expect(describeNext(found).slice(0, 3)).toEqual([
        `Circulate ${saidUp} min (${minutesUp(left / 4)} passes) more; channel 4 decides`,
        ...["A verifying bottle drawn then is accepted in 95 % of the cases", "As it was run"],
      ]);
    });

    test("expects the fluid of all minutes after those that are said", () => {
      const input = { ...CIRCUIT, start: START };
      expect(found.atEnd).toEqual({
        ...expectAfter(input, whole),
        ...{ minutes: expect.closeTo(left, 9), passes: expect.closeTo(left / 4, 9) },
      });
      expect(found.after).toEqual({ ...expectAfter(input, 18), minutes: 8, passes: 2 });
    });

    test("says the minutes of the steps from now on, and all of them after those", () => {
      const inAll = Number((10 + saidUp).toPrecision(12));
      const steps = found.steps ?? [];
      const last = steps.find(({ step }) => step.includes("verifying sample"));
      expect(last?.step).toContain(`After ${saidUp} minutes of circulating (${inAll} in all), flush`);
      expect(last?.expected?.[0]?.perMl).toBeCloseTo(20_000 * Math.exp((-0.9 * inAll) / 4), 6);
      const first = steps.find(({ expected }) => expected !== undefined);
      expect(first?.expected?.[0]?.perMl).toBeCloseTo(20_000 * Math.exp(-0.9 * 2.5), 6);
    });

    test("warms the fluid for the rest only, and loads the element with all since the start", () => {
      expect(found.heat).toEqual(heatOfCirculation(CIRCUIT, heat, saidUp));
      expect(found.loading).toEqual(
        loadingOfCirculation({ ...CIRCUIT, start: START }, { capacityG: 80 }, whole / 4),
      );
    });

    test("draws the bottle at once where all was run, five minutes of flow before it", () => {
      const over = ask({ done: { minutes: 60 } });
      expect(over.next).toEqual({ kind: "verify", minutes: 65 });
      expect(describeNext(over).slice(0, 2)).toEqual([
        "Draw the verifying sample now, after 5 min at full flow",
        "The least that a rule asks for: 5 min at full flow before a bottle is drawn, longer in proportion at a lower flow",
      ]);
    });

    test.each([
      ["of before their end: on from there", [3, 6], 15],
      ["of after it: on from the last of them", [12, 14], 15],
    ] as const)("lets no step lie before them or the samples, %s", (_, moments, earliest) => {
      const samples = moments.map((at) => [at, 20_000 * Math.exp((-0.9 * at) / 4)] as const);
      const again = ask({ done, interim: drawn(...samples) });
      const [first] = describeNext(again);
      if (again.next.kind !== "verify") throw new Error("expected a bottle");
      expect(again.next.minutes).toBeGreaterThanOrEqual(earliest);
      const until = Number((10 + minutesUp(again.next.minutes - 10)).toPrecision(12));
      const more = minutesUp(until - Math.max(10, moments[1]));
      expect(first).toContain(`Circulate on until minute ${until}, ${more} min more`);
      expect(describeNext(again).join(" ")).toContain(
        "taken to include what was circulated before; where the watch was started",
      );
      expect(again.steps?.at(-2)?.step).toContain(`(${until} in all)`);
    });

    test("says how the minutes of samples were taken to count where both are given, and nowhere else", () => {
      const isSaid = (more: Partial<CirculationQuestion>) =>
        ask(more).assumptions.filter(({ message }) => message.includes("where the watch was started again"))
          .length;
      const interim = drawn([4, 8000]);
      expect([{}, { done }, { interim }, { interim, done: { minutes: 0 } }].map(isSaid)).toEqual([
        0, 0, 0, 0,
      ]);
      expect(isSaid({ done, interim })).toBe(1);
    });

    test("and a sample of the old count that is inside lets the bottle be drawn after five minutes of flow", () => {
      const again = ask({ done, interim: drawn([6, 600], [9, 20]) });
      expect(again.next).toEqual({ kind: "verify", minutes: 15 });
      expect(describeNext(again)[0]).toContain("Circulate on until minute 15, 5 min more");
    });
  });

  test("takes the lower edge of a class downstream with its upper one", () => {
    const seen = (edge?: number) => ({
      countedMl: 20,
      samples: [4, 8].map((minutes) => ({
        minutes,
        counts: [
          { sizeUmC: 4, perMl: { value: 640 / minutes }, ...(edge && { moreThanPerMl: edge / minutes }) },
        ],
      })),
    });
    const of = (edge?: number) => ask({ port: "downstream", interim: seen(edge) }).interim?.channels[0]?.fit;
    expect(of(320)).not.toEqual(of());
    expect(of(320)).not.toEqual(of(32));
  });

  test("warms the fluid for as long as the steps say", () => {
    // 15 L/min through 10 bar are 0.25 kW, 15 kJ a minute, into 60 L of 0.85 kg/L and 2 kJ/(kg K): 102 kJ/K.
    const heat = { dropBar: 10, startC: 20, limitC: 90, densityKgPerM3: 850, specificHeatKjPerKgK: 2 };
    const found = ask({ heat });
    const minutes = minutesUp(minutesOf(found));
    expect(found.heat?.assumptions.every((one) => typeof one === "object")).toBe(true);
    expect(found.heat).toMatchObject({ kind: "one-run", endC: expect.closeTo(20 + (15 / 102) * minutes, 9) });
  });

  test("of a code drawn downstream raises both edges by β", () => {
    const start = startOfCode(parseIso4406("17/-/-"));
    const rateOf = (port: "upstream" | "downstream") => {
      const { low, high } =
        ask({ start, port, interim: drawn([8, 300]) }).interim?.channels[0]?.fit.netRate ?? {};
      return [low, high];
    };
    const [low, high] = rateOf("upstream");
    expect(rateOf("downstream")).toEqual([
      expect.closeTo(low as number, 1),
      expect.closeTo(high as number, 1),
    ]);
    // 640 to 1300 per mL at the start and 300 after 8 min, but for what counting and the laboratory leave open.
    expect(low).toBeLessThan(Math.log(640 / 300) / 8);
    expect(high).toBeGreaterThan(Math.log(1300 / 300) / 8);
  });

  test("of a class drawn downstream while circulating raises both of its edges by β", () => {
    // 160 to 320 per mL upstream of β = 10 are 16 to 32 downstream of it.
    const remaining = (port: "upstream" | "downstream", perMl: number) => {
      const counts = [{ sizeUmC: 4, perMl: { value: 2 * perMl }, moreThanPerMl: perMl }];
      const start = {
        counts: cumulativeCounts([{ sizeUm: 4, count: port === "upstream" ? 20_000 : 2000 }], 1),
      };
      const found = ask({
        port,
        start: { ...start, assumptions: [] },
        interim: { samples: [{ minutes: 16, counts }] },
      });
      const { low, high } = found.interim?.channels[0]?.fit.netRate ?? {};
      return [low, high];
    };
    const [low, high] = remaining("upstream", 160);
    expect(remaining("downstream", 16)).toEqual([
      expect.closeTo(low as number, 1),
      expect.closeTo(high as number, 1),
    ]);
    expect(high).toBeGreaterThan(Math.log(20_000 / 160) / 16);
  });

  test("of few particles drawn downstream scatters as those that were counted, not as β times as many", () => {
    // 3 per mL after β = 10 000 are 30,000, but known by 60 particles in 20 mL: 13 % is half a minute at 95 %, and more.
    const circuit = { ...CIRCUIT, betas: [{ sizeUmC: 4, beta: 10_000 }] };
    const nothing = { laboratory: 0, volume: 0, flow: 0, beta: 0, slowZone: 0, hoses: 0, leakage: 0 };
    const minutesFrom = (perMl: number, port: "upstream" | "downstream") =>
      minutesOf(
        ask({
          ...{ circuit, port, confidence: { draws: 1000, uncertainty: { countedMl: 20, ...nothing } } },
          start: { counts: cumulativeCounts([{ sizeUm: 4, count: perMl }], 1), assumptions: [] },
        }),
      );
    expect(minutesFrom(3, "downstream") - minutesFrom(30_000, "upstream")).toBeGreaterThan(0.4);
  });

  test("is well only with a time to go by", () => {
    // The stated values get there; what is customary does not.
    const ingress = [{ sizeUmC: 4, particlesPerMin: 0.85 * 1300 * 15_000 * 0.9 }];
    const found = ask({ circuit: { ...CIRCUIT, ingress } });
    expect([found.plan.reachable, found.goBy.kind, found.allWell]).toEqual([true, "no-time", false]);
    expect(describeNext(found)).toEqual([
      `${describeGoBy(found.goBy).replace(/^n/, "N")}. No minutes are given`,
    ]);
  });
});

describe("the first sentence", () => {
  const said = (change: object, answer = ask()) =>
    describeNext({ ...answer, ...change } as CirculationAnswer);
  const interim = (remaining: object, meaning = "As it is.") => ({ interim: { remaining, meaning } });

  test("is the time to go by and why, or what stands in its way", () => {
    const answer = ask();
    if (answer.goBy.kind !== "minutes") throw new Error(answer.goBy.why);
    const why = describeWhyThatTime(answer.goBy);
    expect(describeNext(answer)).toEqual([
      `C${describeGoBy(answer.goBy).slice(1)}; channel 4 decides`,
      `${why.charAt(0).toUpperCase()}${why.slice(1)}`,
    ]);
    const never = ask({ circuit: { ...CIRCUIT, betas: [{ sizeUmC: 4, beta: 1 }] } });
    expect(describeNext(never)[0]).toMatch(/^Circulating cannot get there: channel 4/);
    expect(said({ next: { kind: "stop" }, ...interim({}) })).toEqual(["No minutes are given: As it is"]);
  });

  test.each([
    [
      { kind: "verify", minutes: 11 },
      "Circulate on until minute 11, 3 min more, then draw the verifying sample",
    ],
    [
      { kind: "verify", minutes: 11.04 },
      "Circulate on until minute 12, 4 min more, then draw the verifying sample",
    ],
    [
      { kind: "verify", minutes: 24, interimMinutes: 14 },
      "Circulate on until minute 24, 16 min more, draw another sample at minute 14, then draw the verifying sample",
    ],
    [
      { kind: "verify", minutes: 8 },
      "Draw the verifying sample now, while the fluid is flowing: the last sample is inside every limit",
    ],
  ])("after a sample at minute 8, %j", (next, words) => {
    expect(said({ next, lastDrawnMinutes: 8, ...interim({ kind: "at-least", minutes: 3 }) })).toEqual([
      words,
    ]);
  });

  test.each([
    [{ kind: "at-least", minutes: 3 }, "by these samples it takes at least 3 min more"],
    [{ kind: "at-least", minutes: 0 }, "these samples do not show yet how much longer it takes"],
    [{ kind: "not-reached", floor: 3 }, "these samples do not show yet how much longer it takes"],
  ])("another sample with %j left", (remaining, words) => {
    const next = { kind: "sample-again", minutes: 12 };
    expect(said({ next, lastDrawnMinutes: 8, ...interim(remaining) })).toEqual([
      `Circulate on until minute 12, 4 min more, and draw another sample: ${words}`,
    ]);
  });

  test("is followed by a warning where the flow does not flush, unless nothing is circulated", () => {
    const flow = { fluid: "MIL-PRF-83282", hoses: [{ boreMm: 25, lengthM: 8, count: 2 }] } as const;
    const laminar = ask({ flow });
    expect(describeNext(laminar)).toHaveLength(3);
    expect(describeNext(laminar)[2]).toContain("laminar");
    expect(said({ flow: { ...laminar.flow, kind: "flushes" } }, laminar)).toHaveLength(2);
    expect(said({ next: { kind: "stop" }, ...interim({}) }, laminar)).toHaveLength(1);
  });
});

test.each([
  [{ limit: 500, fresh: 150 }, 400],
  [{ limit: 500, fresh: 150, guarded: 450 }, 400],
  [{ limit: 500, fresh: 150, guarded: 300 }, 300],
  [{ limit: 500, fresh: 150, guarded: 150 }, 400],
  [{ limit: 500, fresh: 150, guarded: 140 }, 400],
  [{ limit: 500, fresh: 150, rise: 150 }, 350],
  [{ limit: 500, fresh: 150, rise: 200 }, 325],
  [{ limit: 500, fresh: 150, guarded: 450, rise: 90 }, 360],
  [{ limit: 500, fresh: 500 }, 500],
  [{ limit: 500, fresh: 600 }, 500],
])(
  "an exchange aims a fifth below the limit, lower by the rise, no further than halfway to the fresh fluid: %j",
  (asked, aim) => {
    expect(exchangeAim(asked)).toBe(aim);
  },
);
