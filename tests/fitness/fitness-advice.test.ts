import { describe, expect, test } from "vitest";
import { minutesUp } from "../../src/circulation/index.js";
import { parseTarget } from "../../src/cleanliness/index.js";
import { largestExchange } from "../../src/fitness/advice/next-step.js";
import {
  describeClearing,
  type Exchange,
  exchangeLines,
  judgeCircuit,
  samplingSteps,
  validUntil,
} from "../../src/fitness/index.js";
import {
  circuitSchema,
  type Requirement,
  requirementSchema,
  type Sample,
  sampleSchema,
} from "../../src/samples/index.js";
import { ALL_US } from "../../src/units/index.js";
import {
  asking,
  CIRCUIT,
  CLEAN,
  caseOf,
  countedIn,
  counts,
  events,
  inState,
  REQUIREMENT,
  sample,
} from "../support/fitness/bases.js";

const judge = (change: Parameters<typeof caseOf>[0]) => judgeCircuit(caseOf(change));
const texts = ({ next }: ReturnType<typeof judge>) => next.steps.map(({ text }) => text);

// Saturation 300 ppm at 20 °C and half of it allowed there: 150 ppm.
const SATURATION: Partial<Requirement> = {
  waterSaturation: {
    shareMax: 0.5,
    lowestTemperatureC: 20,
    measured: [
      { temperatureC: 20, waterPpm: 300 },
      { temperatureC: 60, waterPpm: 900 },
    ],
  },
};

describe("what to do next", () => {
  test("circulate: the plan of the circuit's own volume, flow and element, and a verifying sample", () => {
    const verdict = judge(sample({ counts: counts(20000, 5000, 640) }));
    const minutes = verdict.goBy?.kind === "minutes" ? minutesUp(verdict.goBy.minutes) : Number.NaN;
    expect(texts(verdict)[0]).toMatch(
      new RegExp(`^circulate ${minutes} min .*; channel 4 decides; through the pressure element$`),
    );
    // 2.88 passes of 60 L at 45 L/min: see tests/fitness/fitness.test.ts.
    expect(texts(verdict)[1]).toMatch(/95 % of the cases; by the stated values alone 3.9 min \(2.9 passes\)/);
    expect(texts(verdict)[2]).toContain("count the minutes from 29 °C (85 °F) on");
    expect(texts(verdict)[3]).toContain("verifying sample while the fluid is flowing");
  });

  test("exchange fluid: litres by the balance of a mixed volume, from the value of the fresh fluid", () => {
    const verdict = judge({
      ...sample({ waterPpm: { value: 350 } }),
      requirement: { ...REQUIREMENT, freshFluid: { waterPpm: 50 } },
    });
    // By hand, to a fifth below 200: (350 − 160)/(350 − 50) of 60 L is 38 L; fed in, 60·ln(300/110) = 60.2 L.
    expect(verdict.next.exchange[0]).toMatchObject({ quantity: "water", aim: 160, fresh: 50 });
    expect(texts(verdict)[0]).toContain("one drain of 38 L, or 61 L fed in while as much runs out");
  });

  test.each([
    [
      "acid",
      asking({ freshFluid: { acidMgKohPerG: 0.05 } }, { acidMgKohPerG: { value: 0.25 } }),
      0.16,
      0.05,
      27,
    ],
    [
      "chlorine, of which fresh fluid is taken to be free",
      asking({ chlorinePpmMax: 200 }, { chlorinePpm: { value: 300 } }),
      160,
      0,
      28,
    ],
    ["water of saturation", asking(SATURATION, { waterPpm: { value: 175 } }), 125, 100, 40],
    [
      "water so little sure that the guard band ends below the fresh fluid: halfway to the fresh fluid",
      asking(
        { freshFluid: { waterPpm: 120 }, confidence: { probability: 0.95, water: { sd: 50 } } },
        { waterPpm: { value: 280 } },
      ),
      160,
      120,
      45,
    ],
  ])("exchange fluid because of %s", (_, change, aim, fresh, litres) => {
    const [exchange, ...more] = judgeCircuit(caseOf(change)).next.exchange;
    expect(more).toEqual([]);
    expect(exchange).toMatchObject({ aim: expect.closeTo(aim, 9), fresh });
    expect(exchange?.plan.once).toMatchObject({ kind: "litres", litres: expect.closeTo(litres, 9) });
  });

  test.each([
    [
      "viscosity, which does not mix in proportion",
      asking({ viscosity40Mm2PerS: { min: 12, max: 15 } }, { viscosity40Mm2PerS: { value: 16 } }),
    ],
    ["a result that is only known as above", sample({ waterPpm: { value: 300, limit: "above" } })],
    ["a result that is no number", sample({ waterPpm: { value: Number.NaN } })],
    ["a result that is inside", sample({ waterPpm: { value: 199 }, acidMgKohPerG: { value: 0.2 } })],
    [
      "viscosity, whatever the fresh fluid holds of water",
      asking(
        { viscosity40Mm2PerS: { min: 12, max: 15 }, freshFluid: { waterPpm: 5 } },
        { viscosity40Mm2PerS: { value: 16 } },
      ),
    ],
    ["a result without an end", sample({ waterPpm: { value: Number.POSITIVE_INFINITY } })],
  ])("no litres are told for %s", (_, change) => {
    const { next, reasons } = judgeCircuit(caseOf(change));
    expect(next.exchange).toEqual([]);
    expect(reasons.map(({ code }) => code)).not.toContain("cannot-be-judged");
  });

  test.each<[string, Parameters<typeof caseOf>[0], number, RegExp | undefined]>([
    [
      "acid as recalled of new fluid, although that of water is given",
      asking({ freshFluid: { waterPpm: 50 } }, { acidMgKohPerG: { value: 0.4 } }),
      0.1,
      /^the fresh fluid was taken at 0\.1 mg KOH\/g, the recalled limit of new MIL-PRF-83282; have it measured$/,
    ],
    [
      "water as recalled of new fluid, although that of acid is given",
      asking({ freshFluid: { acidMgKohPerG: 0.05 } }, { waterPpm: { value: 350 } }),
      100,
      /^the fresh fluid was taken at 100 ppm by mass, the recalled limit of new MIL-PRF-83282/,
    ],
    [
      "water as it is given",
      asking({ freshFluid: { waterPpm: 50 } }, { waterPpm: { value: 350 } }),
      50,
      undefined,
    ],
    [
      "chlorine of nothing",
      asking({ chlorinePpmMax: 200 }, { chlorinePpm: { value: 300 } }),
      0,
      /^the fresh fluid was taken as free of chlorine; have it measured$/,
    ],
  ])("the fresh fluid is taken at %s, and what is taken is said", (_, change, fresh, said) => {
    const [exchange] = judge(change).next.exchange;
    expect(exchange?.fresh).toBe(fresh);
    const messages = (exchange?.assumptions ?? []).filter(({ code }) => code.startsWith("fresh-fluid"));
    expect(messages.map(({ message }) => message)).toEqual(
      said === undefined ? [] : [expect.stringMatching(said)],
    );
  });

  test("litres are said in the units of the circuit", () => {
    const change = {
      circuit: { ...CIRCUIT, shownIn: ALL_US },
      ...sample({ waterPpm: { value: 350 } }),
    };
    // 45.6 L and 85.4 L are 12.05 and 22.6 US gallons, rounded up.
    expect(texts(judge(change))[0]).toMatch(/one drain of 12\.1 US gal, or 22\.7 US gal fed in/);
  });

  test("no line says litres where something stricter than an exchange comes first", () => {
    const wet = sample({ waterPpm: { value: 350 } });
    expect(exchangeLines(judge(wet).next)).toHaveLength(1);
    const { next } = judge({ ...wet, ...inState({ level: "alarm" }) });
    expect([next.exchange.length, exchangeLines(next)]).toEqual([1, []]);
  });

  test("the largest exchange serves all, and none is said where one of them gets nowhere", () => {
    const exchangeOf = (present: number, fresh = 100, drained?: number) =>
      judge({
        circuit: { ...CIRCUIT, ...(drained !== undefined && { drained }) },
        ...asking({ freshFluid: { waterPpm: fresh } }, { waterPpm: { value: present } }),
      }).next.exchange[0] as Exchange;
    // To 160 ppm: 250/350 − … of 60 L. (250 − 160)/150 is 36 L, (400 − 160)/300 is 48 L.
    const [small, large, never] = [exchangeOf(250), exchangeOf(400), exchangeOf(400, 200)];
    expect(largestExchange([small, large])).toBe("one drain of 48 L");
    expect(largestExchange([large, small])).toBe("one drain of 48 L");
    expect(largestExchange([large, never])).toBeUndefined();
    expect(largestExchange([never])).toBeUndefined();
    expect(largestExchange([])).toBeUndefined();
    // Drains of 30 L halve what is above 100 ppm: 300, 150, 75, and 60 is not reached before 37.5.
    const halves = exchangeOf(400, 100, 0.5);
    expect(largestExchange([halves, large])).toBe("3 drains of 30 L");
    expect(largestExchange([large, halves])).toBe("3 drains of 30 L");
  });

  test("no time that is long enough: no minutes, no element, no bottle to verify them", () => {
    const ingress = [4, 6, 14].map((sizeUmC, index) => ({
      sizeUmC,
      particlesPerMin: 0.9 * ([1300, 320, 40][index] as number) * 45_000 * 0.95,
    }));
    const stuck = judge({
      circuit: { ...CIRCUIT, ingress },
      ...sample({ counts: countedIn(20, 5000, 1200, 160) }),
    });
    const [first, second, third, fourth, ...drawing] = texts(stuck);
    expect(first).toMatch(/^no time of circulating is known to be long enough: .* is required$/);
    expect(second).toMatch(
      /^find and stop what lets dirt in, or state ingress, volume, flow.*; by the stated .* do not go by it$/,
    );
    expect(third).toMatch(/^no minutes are ordered until that is settled; then draw a new sample/);
    expect(fourth).toMatch(/^air in the bottle counts as particles/);
    expect(drawing).toEqual(samplingSteps(CIRCUIT).map(({ text }) => text));
  });

  test.each([
    [25, 30, true],
    [12, 30, false],
  ])("hoses of %d mm at %d °C: whether dirt stays in them is said: %s", (boreMm, coldestC, isSaid) => {
    // v·d/ν = 4·Q/(π·d·ν): 45 L/min in 25 mm of fluid of 20 mm²/s is 1,900.
    const circuit = { ...CIRCUIT, hoses: [{ boreMm, lengthM: 8, count: 2 }], coldestC };
    const { next } = judge({ circuit, ...sample({ counts: counts(20000, 5000, 640) }) });
    const said = next.steps.filter(({ source }) => source === "ISO-23309");
    expect(said.map(({ text }) => text)).toEqual(
      isSaid ? [expect.stringContaining("the flow is laminar")] : [],
    );
  });

  test("a size that was not counted is to be counted in the verifying sample, after circulating and after exchanging", () => {
    for (const change of [{}, { waterPpm: { value: 350 } }]) {
      const { next } = judge(sample({ counts: counts(20000, 5000), ...change }));
      const verify = next.steps.findIndex(({ text }) => text.startsWith("draw a verifying sample"));
      expect(next.steps[verify + 1]).toEqual({
        text: expect.stringMatching(
          /asks for 14, which was not counted; have it counted in the verifying sample$/,
        ),
        source: "PRACTICE",
      });
    }
  });

  test("a circuit that says how much a drain empties is not taken to drain completely", () => {
    const codes = (drained: object) => {
      const circuit = { ...CIRCUIT, ...drained };
      const verdict = judgeCircuit(caseOf({ ...sample({ waterPpm: { value: 300 } }), circuit }));
      return verdict.next.exchange[0]?.assumptions.map(({ code }) => code);
    };
    expect(codes({})).toEqual([
      "fresh-fluid-from-memory",
      "exchange-to-last",
      "drains-completely",
      "exchange-mixed",
    ]);
    expect(codes({ drained: 0.6 })).toEqual([
      "fresh-fluid-from-memory",
      "exchange-to-last",
      "exchange-mixed",
    ]);
  });

  test.each([
    [
      "a doubt about water",
      asking(
        { confidence: { probability: 0.95, water: { sd: 10 } } },
        { counts: countedIn(10, 600, 150, 10), waterPpm: { value: 183.6 } },
      ),
      ["water: the mean of 2 results of different laboratories would settle it"],
    ],
    ["a doubt about nothing", sample({ waterPpm: { value: 250, limit: "below" } }), []],
  ])("draw a new sample: what would settle %s", (_, change, settled) => {
    const { action, steps } = judgeCircuit(caseOf(change)).next;
    expect(action).toBe("resample");
    const reported = steps.filter(({ source }) => source === "JCGM-106").map(({ text }) => text);
    expect(reported.filter((text) => !settled.some((start) => text.startsWith(start)))).toEqual([]);
    if (settled.length > 0) expect(reported.length).toBeGreaterThan(0);
    for (const text of reported) expect(text).toMatch(/would settle it$|any number of results$/);
  });

  test("do not connect yet: circulation that is required since an event is the first step", () => {
    const change = {
      ...asking({ after: [{ event: "element-change", sample: false, circulatedMinutesMin: 15 }] }),
      ...events({ kind: "element-change", on: "2026-03-01", circulatedMinutes: 14 }),
    };
    expect(judgeCircuit(caseOf(change)).next.steps[0]).toEqual({
      text: "the element was changed on 2026-03-01 and 15 min of circulation are required; 14 min since",
      source: "PRACTICE",
    });
  });

  test("exchange fluid under uncertainty aims at where a result would be accepted", () => {
    const verdict = judge({
      ...sample({ waterPpm: { value: 350 } }),
      requirement: {
        ...REQUIREMENT,
        freshFluid: { waterPpm: 50 },
        confidence: { probability: 0.95, water: { sd: 40 } },
      },
    });
    // 200 − 1.645 · 40 is below the 160 that an exchange aims at for it to last.
    expect(verdict.next.exchange[0]?.aim).toBeCloseTo(134.21, 2);
  });

  test("a fresh fluid that is not known is taken at the recalled limit of new fluid, and the verdict says so", () => {
    const verdict = judge(sample({ waterPpm: { value: 350 } }));
    expect(verdict.next.exchange[0]?.fresh).toBe(100);
    expect(verdict.assumptions.map(({ code }) => code)).toContain("fresh-fluid-from-memory");
  });

  test("a fresh fluid that is no better than the limit is said to be of no use", () => {
    const verdict = judge({
      ...sample({ waterPpm: { value: 350 } }),
      requirement: { ...REQUIREMENT, freshFluid: { waterPpm: 200 } },
    });
    expect(texts(verdict)[0]).toContain("the fresh fluid is at 200, not below the limit of 200");
  });

  test("a circuit that drains in part needs several drains", () => {
    const verdict = judge({
      ...sample({ waterPpm: { value: 350 } }),
      circuit: { ...CIRCUIT, drained: 0.3 },
      requirement: { ...REQUIREMENT, freshFluid: { waterPpm: 50 } },
    });
    // To 160 a share of 110/300 = 0.37 may stay: 0.7² = 0.49 is too much, 0.7³ = 0.34 is not. Three drains of 0.3·60 = 18 L.
    expect(texts(verdict)[0]).toContain("3 drains of 18 L");
  });

  test("resample: why, and how to draw it, each step with its source", () => {
    const verdict = judge({ samples: [] });
    expect(texts(verdict)[0]).toBe("why: no sample of this circuit was given");
    for (const step of samplingSteps(CIRCUIT)) expect(verdict.next.steps).toContainEqual(step);
    expect(samplingSteps(CIRCUIT).map(({ source }) => source)).toContain("ISO-4021");
  });

  test("do not connect: stop, find the cause, leave it to licensed staff; nothing about circulating", () => {
    const verdict = judge({
      ...sample({ counts: counts(20000, 5000, 640) }),
      ...inState({ seals: "damaged" }),
    });
    expect(texts(verdict).join(" ")).toMatch(
      /seals are damaged.*find the cause, and leave the decision to licensed staff/,
    );
    expect(texts(verdict).join(" ")).not.toContain("self-circulate");
  });

  test("fit: the manual and the people in charge decide, and when the next sample is due", () => {
    expect(texts(judge({}))).toEqual([
      "connect only if the aircraft's manual and the people in charge say so; watch indicator and temperature",
      "draw the next sample by 2026-04-03",
    ]);
  });
});

describe("what would change a verdict", () => {
  test("for a fit circuit: how far each limit is, and the last day of the sample", () => {
    const { changes } = judge(
      sample({ counts: counts(650, 160, 10), waterPpm: { value: 150 }, acidMgKohPerG: { value: 0.15 } }),
    );
    expect(changes.map(({ verdict, when }) => `${verdict} ${when}`)).toEqual([
      "circulate when particles of channel 4 grow more than 2-fold",
      "exchange-fluid when water rises by more than 50 ppm by mass",
      "exchange-fluid when acid number rises by more than 0.05 mg KOH/g",
      "resample when no newer sample is drawn by 2026-04-03",
      "resample when more than 6 L are topped up",
      "resample when fluid or element is changed, the circuit is opened, or it is connected to a dirty aircraft",
    ]);
  });

  test("between two limits the nearer one is named, with its direction", () => {
    const { changes } = judge({
      requirement: { ...REQUIREMENT, viscosity40Mm2PerS: { min: 12, max: 16 } },
      ...sample({ viscosity40Mm2PerS: { value: 12.5 } }),
    });
    expect(changes.map(({ when }) => when)).toContain("when viscosity at 40 °C falls by more than 0.5 mm²/s");
  });

  test("for another circuit: what has to be cleared, and the verdict that is left by the data at hand", () => {
    const wetAndDirty = sample({ counts: counts(20000, 5000, 640), waterPpm: { value: 900 } });
    expect(judge(wetAndDirty).changes).toEqual([
      { verdict: "circulate", when: "when a sample drawn afterwards is inside" },
    ]);
    expect(judge({ ...wetAndDirty, ...inState({ level: "alarm" }) }).changes).toEqual([
      { verdict: "exchange-fluid", when: "when the cart is put right and a technician has entered it" },
    ]);
    expect(judge(events({ kind: "element-change", on: "2026-03-05" })).changes[0]?.verdict).toBe("fit");
  });

  test.each<[string, Parameters<typeof caseOf>[0], string]>([
    ["an old sample", { on: "2026-06-01" }, "when a sample has been drawn"],
    [
      "an old sample, and an event since, after which it has to be drawn",
      { on: "2026-06-01", ...events({ kind: "element-change", on: "2026-03-05" }) },
      "when a sample has been drawn since",
    ],
    [
      "an old sample from a drain",
      { on: "2026-06-01", ...sample({ samplePoint: "drain" }) },
      "when a sample has been drawn and a sample drawn as required agrees",
    ],
  ])("each thing is said once: %s", (_, change, when) => {
    expect(judge(change).changes).toEqual([{ verdict: "fit", when }]);
  });

  test("without a requirement nothing was compared, so nothing is promised of the other data, be they clean or dirty", () => {
    for (const change of [{}, sample({ counts: counts(20000, 5000, 640) })]) {
      const { requirement: _none, ...input } = caseOf(change);
      expect(judgeCircuit(input).changes).toEqual([
        {
          verdict: "do-not-connect",
          when: "when a requirement bears the name of the system, or the circuit names another one",
        },
      ]);
      expect(judgeCircuit(input).changes.map(describeClearing)).toEqual([
        "when a requirement bears the name of the system, or the circuit names another one, judge again",
      ]);
    }
  });

  test("a count of nothing and one at its limit have no multiple: the limit is said", () => {
    for (const clean of [counts(0, 0, 0), counts(1300, 320, 40)])
      expect(judge(sample({ counts: clean })).changes[0]).toEqual({
        verdict: "circulate",
        when: "when particles of channel 4 are more than 1300 per mL",
      });
  });

  test("any hookup ends it where the requirement asks for a sample after one", () => {
    const asks = judge(asking({ after: [{ event: "hookup", sample: true }] }));
    expect(asks.changes.at(-1)?.when).toMatch(/, or it is connected to an aircraft$/);
  });

  test("nothing is said of data that cannot be judged", () => {
    const { reasons, changes } = judge({
      circuit: { ...CIRCUIT, volumeL: -1 },
      ...sample({ counts: counts(20000, 5000, 640) }),
    });
    expect(reasons.map(({ code }) => code)).toEqual(["cannot-be-judged"]);
    expect(changes).toEqual([]);
  });
});

test("an event of a day to come blocks it, and the reason says that the day may be wrong", () => {
  const verdict = judge(events({ kind: "fluid-change", on: "2027-03-05" }));
  expect(verdict.verdict).toBe("resample");
  expect(verdict.reasons.find(({ code }) => code === "drawn-before-event")?.message).toMatch(
    /; the fluid was changed on 2027-03-05, which is after the day of judging; correct the day, or enter the event once it has happened$/,
  );
});

describe("the outlook", () => {
  /** Water rising by 5 ppm every thirty days, the last of eight samples on 4 March. */
  const rising: Sample[] = Array.from({ length: 8 }, (_, index) => {
    const day = new Date(Date.UTC(2026, 2, 4) - (7 - index) * 30 * 86_400_000).toISOString().slice(0, 10);
    return {
      ...CLEAN,
      sample: `S-${index}`,
      drawnOn: day,
      waterPpm: { value: 160 + 5 * index + (index % 2) * 0.5 },
    };
  });

  test("a limit that the trend crosses before the next sample is due is carried by the verdict, which stays fit", () => {
    // 195.5 on 4 March and 5 ppm in thirty days: the limit of 200 is met within the thirty days to the next sample.
    const verdict = judge({ samples: rising });
    expect(verdict.verdict).toBe("fit");
    expect(verdict.outlook?.crossings[0]).toMatchObject({ measure: "water", beforeNextSample: "expected" });
    expect(verdict.outlook?.because).toBe("trend");
    expect((verdict.outlook?.nextSampleBy ?? "") < "2026-04-03").toBe(true);
  });

  test("samples drawn after the day of judging take no part in it", () => {
    const verdict = judge({ samples: rising, on: "2026-01-10" });
    expect(verdict.outlook?.nextSampleBy).toBe("2026-02-02");
    // With two samples there is no trend, and the interval runs from the first of them.
    const two = judge({ samples: rising.slice(-2), on: "2026-02-10" });
    expect(two.outlook?.nextSampleBy).toBe("2026-03-04");
  });

  test("with too few samples the next one is due after the requirement's interval", () => {
    const verdict = judge({ requirement: { ...REQUIREMENT, sampleEveryDays: 14 } });
    expect(verdict.outlook).toMatchObject({ nextSampleBy: "2026-03-18", because: "interval", crossings: [] });
  });

  test("what has a limit and was not measured of late is due sooner, by its interval; what has none is not", () => {
    const last = rising.length - 1;
    const level = rising.map((sample) => ({ ...sample, waterPpm: { value: 100 } }));
    const without = (field: "waterPpm" | "viscosity40Mm2PerS") =>
      level.map((sample, index) => {
        const { [field]: _left, ...rest } = { viscosity40Mm2PerS: { value: 14 }, ...sample };
        return index === last ? rest : { viscosity40Mm2PerS: { value: 14 }, ...sample };
      });
    // The last but one was drawn on 2 February, and a sample lasts thirty days.
    expect(judge({ samples: without("waterPpm") }).outlook).toMatchObject({
      nextSampleBy: "2026-03-04",
      because: "interval",
    });
    expect(judge({ samples: without("viscosity40Mm2PerS") }).outlook).toMatchObject({
      nextSampleBy: "2026-04-03",
      because: "interval",
    });
  });

  test("nor does a size without a limit that was not counted of late", () => {
    const requirement = { ...REQUIREMENT, cleanliness: [parseTarget("AS4059 cumulative 8A-B")] };
    const counted = rising.map((sample, index) => {
      const all = sample.counts as NonNullable<Sample["counts"]>;
      const fine = { ...all, counts: all.counts.filter(({ sizeUm }) => sizeUm < 14) };
      return { ...sample, waterPpm: { value: 100 }, counts: index === rising.length - 1 ? fine : all };
    });
    expect(judge({ samples: counted, requirement }).outlook).toMatchObject({
      nextSampleBy: "2026-04-03",
      because: "interval",
    });
  });

  test("two circuits whose viscosities draw together call for a sample: they may mix", () => {
    const series = (start: number, step: number): Sample[] =>
      rising.map((one, index) => ({
        ...one,
        waterPpm: { value: 100 },
        viscosity40Mm2PerS: { value: Number((start + step * index + (index % 2) * 0.01).toFixed(2)) },
      }));
    const other = { ...CIRCUIT, circuit: "2", fluid: "AS1241 Type IV" as const };
    const verdict = judge({
      samples: series(14.5, -0.2),
      neighbours: [{ circuit: other, samples: series(10.5, 0.15) }],
    });
    expect([verdict.verdict, verdict.reasons[0]?.code]).toEqual(["resample", "circuits-may-mix"]);
    expect(
      judge({ samples: series(14.5, 0), neighbours: [{ circuit: other, samples: series(10.5, 0) }] }).verdict,
    ).toBe("fit");
  });
});

describe("how long a sample may speak", () => {
  const circuitWith = (...events: { on: string; kind: string; added?: string }[]) =>
    circuitSchema.parse({
      circuit: "1",
      serves: "main",
      fluid: "MIL-PRF-83282",
      volume: "60 L",
      flow: "45 L/min",
      element: { position: "pressure", betas: [{ sizeUmC: 4, beta: 20 }] },
      events,
    });
  const requirement = (more: object = {}) =>
    requirementSchema.parse({
      system: "main",
      fluids: ["MIL-PRF-83282"],
      cleanliness: ["17/15/12"],
      waterPpmMax: 200,
      acidMgKohPerGMax: 0.2,
      sampleAgeDaysMax: 30,
      ...more,
    });
  const sample = sampleSchema.parse({
    sample: "S-1",
    cart: "C-1",
    circuit: "1",
    drawnOn: "2026-03-01",
    origin: [{ file: "a.csv", rows: [1] }],
  });

  test.each([
    ["until it is too old", [], "2026-03-31", "age"],
    [
      "until the fluid is changed",
      [{ on: "2026-03-10", kind: "fluid-change" }],
      "2026-03-10",
      "fluid-change",
    ],
    [
      "not at all after an event of its own day",
      [{ on: "2026-03-01", kind: "element-change" }],
      "2026-03-01",
      "element-change",
    ],
    [
      "until the first of several events",
      [
        { on: "2026-03-20", kind: "hookup" },
        { on: "2026-03-12", kind: "element-change" },
      ],
      "2026-03-12",
      "element-change",
    ],
    ["through an event before it", [{ on: "2026-02-27", kind: "fluid-change" }], "2026-03-31", "age"],
    ["through a small top-up", [{ on: "2026-03-10", kind: "top-up", added: "2 L" }], "2026-03-31", "age"],
    [
      "until top-ups add up to more than a tenth of the volume",
      [
        { on: "2026-03-14", kind: "top-up", added: "3.1 L" },
        { on: "2026-03-10", kind: "top-up", added: "3 L" },
      ],
      "2026-03-14",
      "top-up",
    ],
    [
      "until its age when the event comes later still",
      [{ on: "2026-04-02", kind: "fluid-change" }],
      "2026-03-31",
      "age",
    ],
  ])("%s", (_, events, on, because) => {
    expect(validUntil(circuitWith(...events), requirement(), [sample])).toEqual({ on, because });
  });

  test("a requirement may ask for a sample after a top-up, and none after a hookup", () => {
    const own = requirement({
      after: [
        { event: "top-up", sample: true },
        { event: "hookup", sample: false },
      ],
    });
    const circuit = circuitWith({ on: "2026-03-05", kind: "hookup" }, { on: "2026-03-10", kind: "top-up" });
    expect(validUntil(circuit, own, [sample])).toEqual({ on: "2026-03-10", because: "top-up" });
  });
});

describe("crossings ahead", () => {
  const days = ["2025-11-04", "2025-12-04", "2026-01-03", "2026-02-02", "2026-03-04"];
  /** Results of five months that end at a value, with so much a month and so much scatter. */
  const series = (last: number, perMonth: number, scatter = 0) =>
    days.map((_, index) => last - perMonth * (4 - index) + scatter * ([1, -1, 0.5, 1, 0][index] as number));
  const outlookOf = (water: number[], acid: number[], later: Sample[] = []) =>
    judgeCircuit(
      caseOf({
        samples: [
          ...days.map((drawnOn, index) => ({
            ...CLEAN,
            sample: `S-${index}`,
            drawnOn,
            waterPpm: { value: water[index] as number },
            acidMgKohPerG: { value: acid[index] as number },
          })),
          ...later,
        ],
      }),
    ).outlook;

  test("of several measures are in the order of their days, each distinguished by the next sample", () => {
    // By hand: water has 5 ppm to go at 20 a month, 7.5 days; acid 0.02 mg KOH/g at 0.01 a month, 60 days.
    const outlook = outlookOf(series(195, 20), series(0.18, 0.01));
    expect(outlook?.nextSampleBy).toBe(outlook?.crossings[0]?.on);
    expect(outlook?.crossings.map(({ measure, beforeNextSample }) => [measure, beforeNextSample])).toEqual([
      ["water", "expected"],
      ["acid", "no"],
    ]);
    const [water, acid] = outlook?.crossings ?? [];
    expect(["2026-03-11", "2026-03-12"]).toContain(water?.on);
    expect(["2026-05-02", "2026-05-03"]).toContain(acid?.on);
    const turned = outlookOf(series(180, 10), series(0.195, 0.02));
    expect(turned?.crossings.map(({ measure }) => measure)).toEqual(["acid", "water"]);
  });

  test("that scatter may bring before the next sample are possible, with their earliest day", () => {
    const [water] = outlookOf(series(180, 12, 6), series(0.1, 0))?.crossings ?? [];
    expect(water).toMatchObject({ measure: "water", beforeNextSample: "possible" });
    expect((water?.earliest ?? "") <= "2026-04-03" && (water?.on ?? "") > "2026-04-03").toBe(true);
  });

  test("take no part in samples that are drawn after the day of judging", () => {
    const later = { ...CLEAN, sample: "S-9", drawnOn: "2026-03-20", waterPpm: { value: 20 } };
    const outlook = outlookOf(series(195, 20), series(0.1, 0));
    expect(outlookOf(series(195, 20), series(0.1, 0), [later])?.crossings).toEqual(outlook?.crossings);
  });
});
