import { describe, expect, test } from "vitest";
import { judgeCircuit, SAMPLING_STEPS } from "../src/fitness/index.js";
import type { Sample } from "../src/samples/index.js";
import {
  CIRCUIT,
  CLEAN,
  caseOf,
  counts,
  events,
  inState,
  REQUIREMENT,
  sample,
} from "./support/fitness/bases.js";

const judge = (change: Parameters<typeof caseOf>[0]) => judgeCircuit(caseOf(change));
const texts = ({ next }: ReturnType<typeof judge>) => next.steps.map(({ text }) => text);

describe("what to do next", () => {
  test("circulate: the plan of the circuit's own volume, flow and element, and a verifying sample", () => {
    const verdict = judge(sample({ counts: counts(20000, 5000, 640) }));
    const passes = verdict.circulation?.reachable === true ? verdict.circulation.passes.toFixed(1) : "";
    expect(texts(verdict)[0]).toMatch(
      new RegExp(`^self-circulate ${passes} passes, .* through the pressure element`),
    );
    expect(texts(verdict)[1]).toContain("verifying sample while the fluid is flowing");
  });

  test("exchange fluid: litres by the balance of a mixed volume, from the value of the fresh fluid", () => {
    const verdict = judge({
      ...sample({ waterPpm: { value: 350 } }),
      requirement: { ...REQUIREMENT, freshFluid: { waterPpm: 50 } },
    });
    // By hand: (350 − 200)/(350 − 50) of 60 L is 30 L; fed in, 60·ln(300/150) = 41.6 L.
    expect(verdict.next.exchange[0]).toMatchObject({ quantity: "water", aim: 200, fresh: 50 });
    expect(texts(verdict)[0]).toContain("one drain of 30 L, or 42 L fed in while as much runs out");
  });

  test("exchange fluid under uncertainty aims at where a result would be accepted", () => {
    const verdict = judge({
      ...sample({ waterPpm: { value: 350 } }),
      requirement: {
        ...REQUIREMENT,
        freshFluid: { waterPpm: 50 },
        confidence: { probability: 0.95, water: { sd: 10 } },
      },
    });
    expect(verdict.next.exchange[0]?.aim).toBeCloseTo(183.55, 2);
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
    // 0.7² = 0.49 is below the half that may stay: two drains of 0.3·60 = 18 L.
    expect(texts(verdict)[0]).toContain("2 drains of 18 L");
  });

  test("resample: why, and how to draw it, each step with its source", () => {
    const verdict = judge({ samples: [] });
    expect(texts(verdict)[0]).toBe("why: no sample of this circuit was given");
    for (const step of SAMPLING_STEPS) expect(verdict.next.steps).toContainEqual(step);
    expect(SAMPLING_STEPS.map(({ source }) => source)).toContain("ISO-4021");
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
      "resample when fluid or element is changed, or the circuit is connected to another aircraft",
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
    expect(judge(events({ kind: "hookup", on: "2026-03-05" })).changes[0]?.verdict).toBe("fit");
  });
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
      beside: [{ circuit: other, samples: series(10.5, 0.15) }],
    });
    expect([verdict.verdict, verdict.reasons[0]?.code]).toEqual(["resample", "circuits-may-mix"]);
    expect(
      judge({ samples: series(14.5, 0), beside: [{ circuit: other, samples: series(10.5, 0) }] }).verdict,
    ).toBe("fit");
  });
});
